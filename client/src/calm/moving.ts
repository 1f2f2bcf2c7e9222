/** Places and findings that move with the text. Offsets are UTF-16 from the start of the document, ends exclusive. */

export interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** A stretch of the text before is replaced by a text. */
export interface Change extends Stretch {
  readonly text: string;
}

export interface Found extends Stretch {
  readonly rule: string;
  readonly message: string;
  readonly isError?: boolean;
  /** Whether it may go with what is being written in the last bar of a row. */
  readonly early?: boolean;
  /** Whether all of its text has been replaced since it was reported: only the same words tell that it is still the same. */
  readonly isRewritten?: boolean;
}

export function movedPlace(offset: number, { start, end, text }: Change): number {
  if (offset < start) return offset;
  return offset >= end ? offset + text.length - (end - start) : start + text.length;
}

/** Findings of the text after changes; those whose text was deleted are gone. `changes` go from the last to the first. */
export function movedFindings<F extends Found>(findings: readonly F[], changes: readonly Change[]): F[] {
  return findings.flatMap((finding) =>
    changes.reduce<F[]>((moved, change) => moved.flatMap((one) => movedFinding(one, change)), [finding]),
  );
}

function movedFinding<F extends Found>(finding: F, change: Change): F[] {
  const { start, end } = finding;
  const by = change.text.length - (change.end - change.start);
  if (change.start >= end && !(change.start === start && change.end > end)) return [finding];
  if (change.end <= start) return [{ ...finding, start: start + by, end: end + by }];
  const isAll = change.start <= start && change.end >= end;
  if (isAll)
    return change.text === '' ? [] : [{ ...finding, start: change.start, end: change.start + change.text.length, isRewritten: true }];
  return [
    {
      ...finding,
      start: change.start <= start ? change.start + change.text.length : start,
      end: change.end >= end ? change.start : end + by,
    },
  ];
}

/** Stretches of the text after changes; one whose text was deleted is left as a place. `changes` go from the last to the first. */
export function movedStretches(stretches: readonly Stretch[], changes: readonly Change[]): Stretch[] {
  const moved = changes.reduce<readonly Stretch[]>(
    (all, change) => all.map(({ start, end }) => ({ start: movedPlace(start, change), end: movedPlace(end, change) })),
    stretches,
  );
  return joined(moved.map(({ start, end }) => ({ start: Math.min(start, end), end })));
}

/** Typing adds a stretch at every key: those that touch are one. */
export function joined(stretches: readonly Stretch[]): Stretch[] {
  const all: Stretch[] = [];
  for (const { start, end } of [...stretches].sort((a, b) => a.start - b.start)) {
    const last = all.at(-1);
    if (last === undefined || start > last.end) all.push({ start, end });
    else all[all.length - 1] = { start: last.start, end: Math.max(last.end, end) };
  }
  return all;
}

/** Whether a finding that was there is the one that a report has now: its words may have changed with the text, its place is where it was. */
export function isSameFinding(old: Found, now: Found): boolean {
  return old.rule === now.rule && old.start <= now.end && now.start <= old.end && (old.isRewritten !== true || old.message === now.message);
}
