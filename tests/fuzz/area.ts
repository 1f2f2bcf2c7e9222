/** What a run tries: areas, each with its inputs and what must hold of them, and the count of what came of it. */
import fc from 'fast-check';

/** One kind of input. */
export interface Area {
  readonly name: string;
  /** Inputs that are tried with each seed of the fixed share, which every test run has; 0: only a long run has the time. */
  readonly share: number;
  /** Inputs that a long run tries with one seed. */
  readonly turn: number;
  /** Tries so many inputs of a seed. */
  readonly batch: (seed: number, inputs: number, meter: Meter) => Promise<Outcome>;
  readonly end?: () => Promise<void>;
}

export interface Outcome {
  readonly inputs: number;
  /** The smallest failing input that was found, with its seed and what went wrong; null where all is well. */
  readonly failure: string | null;
  /** What was measured. */
  readonly note?: string;
}

export interface Inputs<T> {
  readonly name: string;
  readonly share: number;
  readonly turn: number;
  readonly inputs: fc.Arbitrary<T>;
  /** Throws where something does not hold. */
  readonly check: (input: T, meter: Meter) => void | Promise<void>;
  readonly end?: () => Promise<void>;
}

/** Milliseconds for which a failing input is made smaller. */
const SHRINKING = 20_000;

/** An area whose inputs fast-check draws: a failing one is made smaller, and comes again with its seed. */
export function area<T>({ name, share, turn, inputs, check, end }: Inputs<T>): Area {
  return {
    name,
    share,
    turn,
    ...(end === undefined ? {} : { end }),
    async batch(seed, count, meter) {
      let failed = 0;
      const property = fc.asyncProperty(inputs, async (input) => {
        // Once one has failed, the others are its smaller forms; where that takes too long the smallest so far will do.
        if (failed > 0 && performance.now() - failed > SHRINKING) return;
        try {
          await check(input, meter);
        } catch (error) {
          failed ||= performance.now();
          throw error;
        }
      });
      const details = await fc.check(property, { seed, numRuns: count });
      if (!details.failed) return { inputs: details.numRuns, failure: null };
      const reason =
        details.errorInstance instanceof Error
          ? (details.errorInstance.stack ?? details.errorInstance.message)
          : String(details.errorInstance);
      return { inputs: details.numRuns, failure: `seed ${seed}: ${fc.stringify(details.counterexample?.[0])}\n${reason}` };
    },
  };
}

/** Milliseconds: no answer may take longer. */
export const ALLOWED = 1000;

/** Times pieces of work. */
export interface Meter {
  /** `what` names the work and `input` what it was done on. Rejects where it took longer than is allowed. */
  time<T>(what: string, input: string, work: () => T | Promise<T>): Promise<T>;
  readonly answers: number;
  readonly slowest: Slowest;
}

interface Slowest {
  readonly milliseconds: number;
  readonly what: string;
  readonly input: string;
}

/** The processor time of this process in milliseconds: another job on the machine makes no input slow. */
export function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

export function openMeter(allowed = ALLOWED, clock: () => number = processorTime): Meter {
  let answers = 0;
  let slowest: Slowest = { milliseconds: 0, what: '', input: '' };
  return {
    async time(what, input, work) {
      const start = clock();
      const result = await work();
      const milliseconds = clock() - start;
      answers += 1;
      if (milliseconds > slowest.milliseconds) slowest = { milliseconds, what, input };
      if (milliseconds > allowed) throw new Error(`${what} took ${Math.round(milliseconds)} ms; ${allowed} are allowed`);
      return result;
    },
    get answers() {
      return answers;
    },
    get slowest() {
      return slowest;
    },
  };
}
