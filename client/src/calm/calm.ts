/**
 * What of a report may be shown while somebody writes. A finding that is new since the last rest waits, in the part that is being
 * written and in what depends on it, until the writer rests: half a token is no mistake yet. What is begun waits on: a word until the
 * cursor has left it, the last bar of a row until the cursor has left the bar, or until the text is saved. All offsets are UTF-16 from the start
 * of the document, ends exclusive; all times are milliseconds of the caller's clock.
 */
import { sliceFile, type Slice } from '../../../grammar/slices';
import { begunAt, isRightBefore, pensAt } from './begun';
import { isSameFinding, joined, movedFindings, movedPlace, movedStretches, type Change, type Found, type Stretch } from './moving';

/** So long nothing is written before the writer is taken to rest, if nothing else is said. */
export const REST = 1000;

export interface Calm<F extends Found> {
  readonly text: string;
  /** All findings of the text as it is; null where they are only known of a text before it. */
  readonly report: readonly F[] | null;
  readonly shown: readonly F[];
  /** New since the last rest. */
  readonly waiting: readonly F[];
  readonly cursors: readonly number[];
  /** What was written where a cursor still stands: in the last bar of a row, or right before it. */
  readonly begun: readonly Stretch[];
  /** Null at rest. */
  readonly writing: Writing | null;
}

/** What has been written since the last rest, and not been left since. */
interface Writing {
  readonly stretches: readonly Stretch[];
  /** Names that the parts with those stretches define, or defined: what uses one depends on them. */
  readonly names: ReadonlySet<string>;
  readonly restAt: number;
}

export type CalmEvent<F extends Found> =
  /** `changes` are places of the text before, from the last to the first; `text` is the one after; `rest` is how long a rest takes. */
  | { readonly kind: 'edit'; readonly text: string; readonly changes: readonly Change[]; readonly rest?: number }
  | { readonly kind: 'cursors'; readonly offsets: readonly number[] }
  /** All findings of the text as it is. */
  | { readonly kind: 'report'; readonly findings: readonly F[] }
  /** The text was saved, or lost the focus. */
  | { readonly kind: 'pause' }
  /** Nothing but time went by. */
  | { readonly kind: 'time' };

export function openCalm<F extends Found>(text: string): Calm<F> {
  return { text, report: null, shown: [], waiting: [], cursors: [], begun: [], writing: null };
}

/**
 * What follows from an event. Findings that are shown stay until a report has them no more; what a report has no more goes at once.
 * A rest is seen by `time` alone: where the editor stood still, keys that come late were not typed late.
 */
export function step<F extends Found>(calm: Calm<F>, event: CalmEvent<F>, now: number): Calm<F> {
  switch (event.kind) {
    case 'edit':
      return edited(calm, event, now);
    case 'cursors':
      return left(readAnew(calm, { ...calm, cursors: event.offsets, begun: begunAt(calm.text, calm.begun, event.offsets) }));
    case 'report':
      return reported(calm, event.findings);
    case 'pause':
      return rested(readAnew(calm, { ...calm, begun: [] }));
    case 'time':
      return calm.writing !== null && now >= calm.writing.restAt ? rested(calm) : calm;
  }
}

/** Where last bars of rows are being written: who reports is told, and reads them as such that are not whole. */
export function pensOf({ text, begun, cursors }: Calm<Found>): readonly number[] {
  return pensAt(text, begun, cursors);
}

export function samePlaces(some: readonly number[], others: readonly number[]): boolean {
  return some.length === others.length && some.every((place, i) => place === others[i]);
}

/** A bar that is left is read as it stands: what was reported of it is reported anew. */
function readAnew<F extends Found>(before: Calm<F>, after: Calm<F>): Calm<F> {
  return samePlaces(pensOf(before), pensOf(after)) ? after : { ...after, report: null };
}

/** When to look again though nothing happens; null where nothing waits. */
export function wakeAt({ writing }: Calm<Found>): number | null {
  return writing?.restAt ?? null;
}

function edited<F extends Found>(
  calm: Calm<F>,
  { text, changes, rest = REST }: Extract<CalmEvent<F>, { kind: 'edit' }>,
  now: number,
): Calm<F> {
  if (changes.length === 0) return { ...calm, text };
  const fresh = changes.map(({ start, text: written }, i): Stretch => {
    // Changes nearer to the start of the text move the later ones.
    const at = changes.slice(i + 1).reduce((offset, earlier) => movedPlace(offset, earlier), start);
    return { start: at, end: at + written.length };
  });
  const cursors = fresh.map(({ end }) => end);
  const stretches = [...movedStretches(calm.writing?.stretches ?? [], changes), ...fresh];
  const names = new Set([
    ...(calm.writing?.names ?? []),
    ...namesIn(
      slicesWith(
        sliceFile(calm.text),
        changes.map(({ start, end }) => ({ start, end })),
      ),
    ),
    ...namesIn(slicesWith(sliceFile(text), stretches)),
  ]);
  return left({
    text,
    report: null,
    shown: movedFindings(calm.shown, changes),
    waiting: movedFindings(calm.waiting, changes),
    // The editor tells of the cursors only after the text: they are taken to be where it was written.
    cursors,
    begun: begunAt(text, joined([...movedStretches(calm.begun, changes), ...fresh]), cursors),
    writing: { stretches, names, restAt: now + rest },
  });
}

/** Without what was written in a part that no cursor is in any more. */
function left<F extends Found>(calm: Calm<F>): Calm<F> {
  const { text, cursors, writing } = calm;
  if (writing === null) return settled(calm);
  const slices = sliceFile(text);
  const here = slicesWith(
    slices,
    cursors.map((offset) => ({ start: offset, end: offset })),
  );
  const stretches = writing.stretches.flatMap((stretch) => here.flatMap((slice) => within(stretch, slice, slices)));
  if (stretches.length === 0) return rested(calm);
  const isLeft = slicesWith(slices, writing.stretches).some((slice) => !here.includes(slice));
  return settled({
    ...calm,
    writing: { ...writing, stretches, names: isLeft ? new Set(namesIn(slicesWith(slices, stretches))) : writing.names },
  });
}

function rested<F extends Found>(calm: Calm<F>): Calm<F> {
  return settled({ ...calm, writing: null });
}

/** Shows what has no longer to wait; what a text of before had waits for the report of this one. */
function settled<F extends Found>(calm: Calm<F>): Calm<F> {
  if (calm.report === null || calm.waiting.length === 0) return calm;
  const waiting = calm.waiting.filter(mustWait(calm));
  return { ...calm, shown: calm.report.filter((finding) => !waiting.includes(finding)), waiting };
}

function reported<F extends Found>(calm: Calm<F>, findings: readonly F[]): Calm<F> {
  const waits = mustWait(calm);
  const known = new Set(calm.shown);
  const take = (finding: F, sameWords: boolean): boolean => {
    const old = [...known].find((one) => isSameFinding(one, finding) && (!sameWords || one.message === finding.message));
    if (old !== undefined) known.delete(old);
    return old !== undefined;
  };
  // Each finding that was there stands for one that is there now: for one of the same words, if there is one.
  const kept = new Set(findings.filter((finding) => take(finding, true)));
  for (const finding of findings) if (!kept.has(finding) && take(finding, false)) kept.add(finding);
  const isShown = (finding: F): boolean => kept.has(finding) || !waits(finding);
  return { ...calm, report: findings, shown: findings.filter(isShown), waiting: findings.filter((finding) => !isShown(finding)) };
}

/** Whether a finding is of what is begun, in a part that is being written, or in one that depends on it. */
function mustWait<F extends Found>(calm: Calm<F>): (finding: F) => boolean {
  const { text, begun, cursors } = calm;
  const isWritten = inWhatIsWritten(calm);
  const isPen = pensOf(calm).length > 0;
  const isBegun = (finding: F): boolean =>
    (finding.early === true && isPen) || cursors.some((cursor) => isRightBefore(text, finding, cursor));
  return (finding) => isWritten(finding) || (begun.length > 0 && isBegun(finding));
}

function inWhatIsWritten<F extends Found>({ text, writing }: Calm<F>): (finding: F) => boolean {
  if (writing === null) return () => false;
  const slices = sliceFile(text);
  const written = slicesWith(slices, writing.stretches);
  const uses = writing.names.size === 0 ? null : new RegExp(`(?<![\\w-])(?:${[...writing.names].map(escaped).join('|')})(?![\\w-])`);
  const parts = slices.filter((slice) => written.includes(slice) || uses?.test(slice.text) === true);
  return ({ start, end }) => slicesWith(slices, [{ start, end: Math.max(start, end - 1) }]).some((slice) => parts.includes(slice));
}

/** The slices that have a part of a stretch; a stretch without length belongs to the slice that starts there. */
function slicesWith(slices: readonly Slice[], stretches: readonly Stretch[]): Slice[] {
  return slices.filter((slice) => stretches.some((stretch) => within(stretch, slice, slices).length > 0));
}

/** The piece of a stretch in one of the slices. */
function within({ start, end }: Stretch, slice: Slice, slices: readonly Slice[]): Stretch[] {
  const sliceEnd = slice.start + slice.text.length;
  if (start === end) return start >= slice.start && (start < sliceEnd || slice === slices.at(-1)) ? [{ start, end }] : [];
  const piece = { start: Math.max(start, slice.start), end: Math.min(end, sliceEnd) };
  return piece.end > piece.start ? [piece] : [];
}

/** What slices define: other phrases use it by its name. Of two lessons one is too many, whichever is written. */
function namesIn(slices: readonly Slice[]): string[] {
  return slices.flatMap(({ text }) => [
    ...[...text.matchAll(/^[ \t]*(?:changes|cell)[ \t]+([^\s=|]+)/gm)].map(([, name]) => name!),
    ...(/^[ \t]*lesson\b/m.test(text) ? ['lesson'] : []),
  ]);
}

function escaped(name: string): string {
  return name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}
