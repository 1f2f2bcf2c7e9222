/** What of a long page is drawn first, and how the page is held still meanwhile: arithmetic alone, in pixels of one scale. */

/** Where a phrase stands, or what of the page is in sight. */
export interface Extent {
  readonly top: number;
  readonly bottom: number;
}

/** How far a phrase is out of sight; 0 where any of it is in sight. */
export function distanceFrom(view: Extent, { top, bottom }: Extent): number {
  return Math.max(0, top - view.bottom, view.top - bottom);
}

/** The phrases in the order in which they are engraved: the current one if it is in sight, what else is in sight from the top, then outwards, what is below first. */
export function engravingOrder(extents: readonly Extent[], view: Extent, current: number): number[] {
  const far = extents.map((extent) => distanceFrom(view, extent));
  const isAbove = extents.map(({ bottom }) => (bottom < view.top ? 1 : 0));
  const isFirst = (index: number): number => (index === current && far[index] === 0 ? 0 : 1);
  return extents
    .map((_, index) => index)
    .sort((a, b) => isFirst(a) - isFirst(b) || far[a]! - far[b]! || isAbove[a]! - isAbove[b]! || a - b);
}

/** How many phrases next to those in sight are engraved ahead of their time. */
const AHEAD = 24;

/** Which phrases wait for their picture, by their index. */
type Waits = (index: number) => boolean;

/** The phrase that is drawn next of those that wait in sight, or no farther from it than the view is high; null where none does. */
export function nextToDraw(waits: Waits, extents: readonly Extent[], view: Extent, current: number): number | null {
  const next = engravingOrder(extents, view, current).find(waits);
  return next === undefined || distanceFrom(view, extents[next]!) > view.bottom - view.top ? null : next;
}

/** The phrases that are engraved ahead of their time, of those that wait: the nearest first. */
export function nextToEngrave(waits: Waits, extents: readonly Extent[], view: Extent, current: number): number[] {
  return engravingOrder(extents, view, current).filter(waits).slice(0, AHEAD);
}

/** The phrase that is held where it is while others around it grow: the current one if it is in sight, else the first that is; null where none is. */
export function anchorOf(extents: readonly Extent[], view: Extent, current: number): number | null {
  const inSight = (index: number): boolean => extents[index] !== undefined && distanceFrom(view, extents[index]) === 0;
  if (inSight(current)) return current;
  const first = extents.findIndex((_, index) => inSight(index));
  return first < 0 ? null : first;
}

/** How far to scroll so that the anchor stands where it stood; a part of it above the top edge stays as far above. */
export function scrollFor(before: Extent, after: Extent): number {
  return after.top - before.top;
}

/** Pixels of the usual size: the room of a bar, and the height of a system with its figures and brackets. */
const BAR = 170;
const SYSTEM = 150;

/** The height that the picture of some bars will have, about: for a page so wide, at a size (1: the usual one). */
export function estimatedHeight(bars: number, width: number, size: number): number {
  return bars === 0 ? 0 : Math.ceil((bars * BAR * size) / Math.max(1, width)) * SYSTEM * size;
}

/** How long a picture took, and when it was ready: milliseconds. */
export interface Picture {
  readonly took: number;
  readonly ended: number;
}

/** Milliseconds: a picture that takes longer is not drawn at every key. */
const QUICK = 150;
const LONGEST_WAIT = 2000;

/** How long to wait before the next picture, so that a slow one leaves the typing as much time as it takes; the first key after a pause never waits. */
export function waitAfter({ took, ended }: Picture, now: number): number {
  return took <= QUICK ? 0 : Math.max(0, ended + Math.min(LONGEST_WAIT, took) - now);
}

/**
 * Which of the old places on the page each phrase takes, by their names: the one of its own name, and where names are new (one is being
 * typed) one that no other takes, in order; null: a new place.
 */
export function placesFor(before: readonly string[], now: readonly string[]): (number | null)[] {
  const free = new Map(before.map((key, index) => [key, index]));
  const own = now.map((key) => {
    const index = free.get(key) ?? null;
    free.delete(key);
    return index;
  });
  // Only where nothing was put in or taken out is a new name that of an old phrase.
  const left = before.length === now.length ? [...free.values()] : [];
  return own.map((index) => index ?? left.shift() ?? null);
}

/** Pixels: what is lettered smaller is hard to read. */
const LEAST_LETTERS = 8;
/** Names that are larger leave no room for the notes. */
const MOST_TIMES = 2;

/** How many times as large letters are to be that are so large (`size`) in a picture so wide, where it is shown in some pixels; 1: they can be read as they are. */
export function timesLegible(size: number, picture: number, shown: number): number {
  return Math.min(MOST_TIMES, Math.max(1, (LEAST_LETTERS * picture) / (size * Math.max(1, shown))));
}
