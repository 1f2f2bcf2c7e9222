/** Holds what is read where it is while the page around it changes. */
import { anchorOf, scrollFor, type Extent } from '../sight';
import type { Reads, Shown } from './shown';

/** A phrase that stays where it is while others around it change. */
export interface Held {
  readonly one: Shown;
  readonly at: Extent;
}

export interface Anchor {
  /** What is read now, and where it is to stand; null where no phrase is in sight. */
  now(): Held | null;
  /** Changes the page, and holds what is read where it is. */
  hold(change: () => void, held?: Held | null): void;
  /** Puts what was held last back where it stood: the page has changed by itself. */
  restore(): void;
  /** The reader has moved the phrases: they stay where they are now. */
  renew(): void;
}

/** What of the page is in sight. */
export function view(): Extent {
  return { top: 0, bottom: window.innerHeight };
}

export function extentsOf({ shown }: Reads<'shown'>): Extent[] {
  return shown.map(extentOf);
}

function extentOf({ section }: Shown): Extent {
  return section.element.getBoundingClientRect();
}

export function createAnchor(page: Reads<'shown' | 'cursor'>): Anchor {
  let last: Held | null = null;
  /** The page scrolls by whole pixels: what is lost of one is made good by the next change. */
  const now = (): Held | null => {
    const extents = extentsOf(page);
    const anchor = anchorOf(extents, view(), page.cursor.phrase);
    if (anchor === null) return null;
    const [one, at] = [page.shown[anchor]!, extents[anchor]!];
    return last?.one === one && Math.abs(scrollFor(last.at, at)) < 1 ? last : { one, at };
  };
  const renew = (): void => {
    last = now();
  };
  const hold = (change: () => void, held = now()): void => {
    change();
    const by = held === null || !page.shown.includes(held.one) ? 0 : scrollFor(held.at, extentOf(held.one));
    if (by !== 0) window.scrollBy(0, by);
    renew();
  };
  return { now, hold, restore: () => hold(() => undefined, last), renew };
}
