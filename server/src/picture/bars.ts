/** How much room bars need, read from a document that is engraved on one endless line. */
import type { Box } from './boxes';
import type { BarWidths } from './breaks';
import { between, CROWDED } from './figures';
import { inkReader, placement, type InkReader } from './ink';
import { FIGURE, figuresUnder, headsOf } from './system';
import type { PictureNote } from './types';
import { descendants, hasClass, readXml, type Xml } from './xml';

/** Between an accidental and the head before it, in units of the picture. */
const CLEAR = 30;

/** What a document needs, whatever the page it is engraved for. */
export interface Line {
  /** What stands before the bars of a system (clef and key), in units of the picture: it is never stretched nor pressed. */
  readonly head: number;
  /** How wide each bar is, in units of the picture. */
  readonly widths: readonly number[];
  /** As in `BarWidths`. */
  readonly crowded: readonly number[];
}

/** The bars in parts of the room (units of the picture) that a system has. */
export function inRoom({ head, widths, crowded }: Line, room: number): BarWidths {
  return { bars: widths.map((width) => width / (room - head)), crowded };
}

export function barsOf(engraved: string, notes: readonly Pick<PictureNote, 'figure' | 'later'>[]): Line {
  const root = readXml(engraved);
  const inkOf = inkReader(root);
  const known = notes.map(({ figure, later }) => ({ figure, later, role: null, finding: null }));
  const bars = descendants(root, hasClass('measure'));
  // The meter stands where the first bar begins on later systems.
  const [meter] = descendants(root, hasClass('meterSig'));
  const [sign] = meter === undefined ? [] : descendants(meter, ({ name }) => name === 'use');
  const head = sign === undefined ? 0 : placement(sign).x;
  return {
    head,
    widths: bars.map((bar, i) => widthOf(bar) - (i === 0 ? head : 0)),
    crowded: bars.map((bar) => Math.max(crowdOfFigures(bar, inkOf, known), crowdOfAccidentals(bar, inkOf))),
  };
}

/** As wide as the lines of its staff. */
function widthOf(bar: Xml): number {
  const [staff] = descendants(bar, hasClass('staff'));
  const line = staff === undefined ? undefined : descendants(staff, ({ name }) => name === 'path')[0];
  const [, left, right] = /^M(-?[\d.]+) [\d.]+ L(-?[\d.]+) [\d.]+/.exec(line?.attributes['d'] ?? '') ?? [];
  return Number(right ?? 0) - Number(left ?? 0);
}

function crowdOfFigures(bar: Xml, inkOf: InkReader, notes: readonly PictureNote[]): number {
  const figures = figuresUnder(headsOf(bar, inkOf), notes);
  return figures
    .slice(1)
    .reduce(
      (most, figure, i) => Math.max(most, (FIGURE.size * CROWDED * between(figures[i]!, figure) + FIGURE.gap) / (figure.x - figures[i]!.x)),
      0,
    );
}

/** Neighbours move apart as a bar is stretched, while signs keep their size. */
function crowdOfAccidentals(bar: Xml, inkOf: InkReader): number {
  let most = 0;
  let before: Box[] = [];
  for (const note of descendants(bar, hasClass('note'))) {
    const solid = descendants(note, hasClass('notehead', 'accid', 'dots'));
    const head = solid.filter(hasClass('notehead')).flatMap(inkOf)[0];
    if (head === undefined) continue;
    for (const sign of solid.filter(hasClass('accid')).flatMap(inkOf)) {
      for (const box of before) {
        if (box.bottom < sign.top || box.top > sign.bottom) continue;
        const apart = head.left - box.left;
        most = Math.max(most, (apart - (sign.left - box.right) + CLEAR) / apart);
      }
    }
    before = solid.flatMap(inkOf);
  }
  return most;
}
