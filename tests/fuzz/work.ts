/** How much work something is, counted and not timed: the calls of functions and the runs of blocks in them, so that it is the same on any machine at any load. */
import { Session } from 'node:inspector/promises';

export interface Counter {
  /** Work of the engine's own (a search in a text, a copy of a list) is one call, whatever its length: that takes a clock to see. */
  count(work: () => void): Promise<number>;
  end(): Promise<void>;
}

/** What is loaded before this is counted by its functions alone, what is loaded after it by their blocks, too. */
export async function openCounter(): Promise<Counter> {
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  /** Since it was asked last. */
  const counted = async (): Promise<number> => {
    const { result } = await session.post('Profiler.takePreciseCoverage');
    return result.flatMap(({ functions }) => functions.flatMap(({ ranges }) => ranges)).reduce((sum, { count }) => sum + count, 0);
  };
  return {
    async count(work) {
      await counted();
      work();
      return counted();
    },
    async end() {
      await session.post('Profiler.stopPreciseCoverage');
      session.disconnect();
    },
  };
}
