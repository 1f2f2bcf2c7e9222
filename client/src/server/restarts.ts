/** Whether a server that has ended is started again. A rule without a clock or an editor of its own. */

/** Milliseconds: ends that lie further back count no more. */
export const PERIOD = 3 * 60 * 1000;

/** The end within one period at which the server stays down. */
export const TOO_MANY = 5;

/** When the server ended, in milliseconds of one clock, earliest first. */
export type Ends = readonly number[];

/** What counts after an end at `now`, and whether the server is started again. */
export function afterEnd(ends: Ends, now: number): { readonly ends: Ends; readonly startsAgain: boolean } {
  const counted = [...ends.filter((at) => now - at < PERIOD), now];
  return { ends: counted, startsAgain: counted.length < TOO_MANY };
}
