/** The room that pictures have on the page, and all else that they are drawn for. */
import type { ScorePhrase, ViewOptions } from '../../src/score/messages';

/** What of the reader's options the page depends on. */
export type PageOptions = Pick<ViewOptions, 'degrees' | 'devices' | 'walkthrough' | 'size'>;

export interface Room {
  /** Pixels: asked of the page once a score, for to ask lays out all of it. */
  width: number;
  options: PageOptions;
}

/** Pixels of the usual size: a bar of eighths with its clef needs as much. */
const NARROWEST = 240;

/** The picture is engraved for the room there is, in steps, so that dragging the edge of the view does not engrave at every pixel. */
export function widthOf({ clientWidth }: { readonly clientWidth: number }): number {
  return Math.max(100, Math.min(1100, Math.floor(clientWidth / 20) * 20));
}

/** A picture fills the width that there is: one that is engraved for less of it is larger, one that needs more is smaller. */
export function engravedWidth({ width, options: { size } }: Readonly<Room>): number {
  return Math.max(NARROWEST, Math.round(width / size));
}

/** What a phrase is drawn for, as far as it changes from one score to the next. */
export function stampOf({ revision, broken, unfinished }: ScorePhrase, room: Readonly<Room>): string {
  const { degrees, devices } = room.options;
  return `${revision} ${unfinished} ${broken?.message ?? ''} ${room.width} ${engravedWidth(room)} ${degrees} ${devices}`;
}
