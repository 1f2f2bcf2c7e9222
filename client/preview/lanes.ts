/** Where the brackets of devices go: each in the highest lane that has room for it and its name. */

export interface Stretch {
  readonly left: number;
  readonly right: number;
}

/** For each stretch, in order, its lane from 0: no two in one lane come nearer than `gap`. */
export function lanesOf(stretches: readonly Stretch[], gap: number): number[] {
  const taken: Stretch[][] = [];
  return stretches.map((stretch) => {
    const free = taken.findIndex((lane) => lane.every(({ left, right }) => stretch.right + gap <= left || right + gap <= stretch.left));
    const lane = free >= 0 ? free : taken.length;
    (taken[lane] ??= []).push(stretch);
    return lane;
  });
}
