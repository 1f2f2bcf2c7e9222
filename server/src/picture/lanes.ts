/** Where the brackets of devices go: in as few lanes as they and their names need, the longer ones higher. */

export interface Stretch {
  readonly left: number;
  readonly right: number;
  /** Of the bracket alone, without its name. */
  readonly length: number;
}

/** For each stretch, in order, its lane from 0: no two in one lane come nearer than `gap`. */
export function lanesOf(stretches: readonly Stretch[], gap: number): number[] {
  const order = stretches.map((_, i) => i);
  const byLength = firstFree(
    stretches,
    [...order].sort((a, b) => stretches[b]!.length - stretches[a]!.length || a - b),
    gap,
  );
  // From left to right no lane is opened that is not needed.
  const fewest = firstFree(
    stretches,
    [...order].sort((a, b) => stretches[a]!.left - stretches[b]!.left || a - b),
    gap,
  );
  return countOf(byLength) <= countOf(fewest) ? byLength : longestFirst(stretches, fewest);
}

/** Gives each, in that order, the highest lane that has room for it. */
function firstFree(stretches: readonly Stretch[], order: readonly number[], gap: number): number[] {
  const taken: Stretch[][] = [];
  const lanes: number[] = stretches.map(() => 0);
  for (const i of order) {
    const stretch = stretches[i]!;
    const free = taken.findIndex((lane) => lane.every(({ left, right }) => stretch.right + gap <= left || right + gap <= stretch.left));
    const lane = free >= 0 ? free : taken.length;
    (taken[lane] ??= []).push(stretch);
    lanes[i] = lane;
  }
  return lanes;
}

/** The same lanes, in the order of the longest bracket in each. */
function longestFirst(stretches: readonly Stretch[], lanes: readonly number[]): number[] {
  const longest = Array.from({ length: countOf(lanes) }, (_, lane) =>
    Math.max(...stretches.filter((__, i) => lanes[i] === lane).map(({ length }) => length)),
  );
  const order = longest.map((_, lane) => lane).sort((a, b) => longest[b]! - longest[a]! || a - b);
  return lanes.map((lane) => order.indexOf(lane));
}

export function countOf(lanes: readonly number[]): number {
  return lanes.reduce((most, lane) => Math.max(most, lane + 1), 0);
}
