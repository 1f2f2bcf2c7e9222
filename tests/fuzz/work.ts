/** How much work something is, counted and not timed: the calls of functions and the runs of blocks in them, so that it is the same on any machine at any load. */
import { Session } from 'node:inspector/promises';

export interface Counter {
  /** Work of the engine's own (a search in a text, a copy of a list) is one call, whatever its length: that takes a clock to see. */
  count(work: () => void): Promise<number>;
  /** Of each, done one after another: to ask for the counts takes longer than most works, and here they are asked for once between two. */
  countEach(works: readonly (() => void)[]): Promise<number[]>;
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
    // Loops, since calls would be counted to the work that is next.
    let sum = 0;
    for (const { functions } of result) for (const { ranges } of functions) for (const { count } of ranges) sum += count;
    return sum;
  };
  const countEach = async (works: readonly (() => void)[]): Promise<number[]> => {
    await counted();
    const counts: number[] = [];
    for (const work of works) {
      work();
      counts.push(await counted());
    }
    return counts;
  };
  return {
    count: async (work) => (await countEach([work]))[0]!,
    countEach,
    async end() {
      await session.post('Profiler.stopPreciseCoverage');
      session.disconnect();
    },
  };
}
