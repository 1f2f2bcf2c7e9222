/** One system of the score as a picture of its own: the engraved notation with degrees, roles, findings, brackets and chord symbols round it. */
import { answerBoxes, BOX, type Answer } from './answer-boxes';
import { topBetween, type Box } from './boxes';
import { figureParts, figureRow, type PlacedFigure } from './figures';
import { inkReader, placement, type InkReader } from './ink';
import { countOf, lanesOf } from './lanes';
import { FONT, measure, type Weight } from './measure';
import { bracketPath, findingPath, rolePath } from './shapes';
import { symbolRow } from './symbols';
import type { PictureData, PictureDevice, PictureNote, PictureOptions } from './types';
import { descendants, hasClass, readXml, textOf, writeXml, xml, type Xml } from './xml';

export interface Picture {
  /**
   * An `svg` element that stands for itself: black and white, in `currentColor`, lettered in `FONT`. A style sheet may colour its classes:
   * `harm`, `mNum`, `figure` and `role` with the role, `finding` with the severity, `device`.
   */
  readonly svg: string;
  /** Of its `viewBox`, which begins at 0 0; the lines of a staff are 180 apart. */
  readonly width: number;
  readonly height: number;
  /** Where notes are pointed at, left to right; a note has one more for each part that it is tied to. */
  readonly places: readonly Place[];
}

/** A place in the units of the picture. */
export interface Place {
  readonly note: number;
  readonly isFirst: boolean;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Lengths in the units of the picture. */
const HEAD = 115;
const SYMBOL = { size: 405, aboveStaff: 230 } as const;
const NUMBER = { size: 300, aboveInk: 70 } as const;
export const FIGURE = { size: 330, gap: 75, baseline: 310, wave: 410, role: 550, bottom: 670, onlyWave: 150 } as const;
export const LANE = { height: 430, bracket: 120, hook: 90, baseline: 370, size: 270, gap: 150, stroke: 26 } as const;
/** Letters as high, and going as far below the line, as any in the name of a device. */
const HIGHEST = 'dlg,';
const BELOW = 120;
const ABOVE = 150;
/** How far a bracket that goes on from the system before begins before its first head: as wide as a head. */
const OVER = 2 * HEAD;
/** A screen rounds the widths of small letters: a name at the edge would lose its last one. */
const ROUNDED = 1.03;
/** Half a staff space. */
const FRONT = 90;

/** A note's head, or that of a part it is tied to. */
export interface Head {
  readonly note: number;
  /** From 1: the parts that a note is written in. */
  readonly part: number;
  readonly x: number;
  readonly isFirst: boolean;
}

/** Draws a system; `engraved` is an SVG of the engraving library, whose notes are called `n-0-N`. Throws where it is no such picture. */
export function drawSystem(engraved: string, data: PictureData, options: PictureOptions): Picture {
  const root = readXml(engraved);
  const [inner] = descendants(root, hasClass('definition-scale'));
  const [page] = descendants(root, hasClass('page-margin'));
  const [, , width] = (inner?.attributes['viewBox'] ?? '').split(' ').map(Number);
  if (page === undefined || width === undefined) throw new Error('The engraved picture has no page.');
  const inkOf = inkReader(root);
  const heads = headsOf(page, inkOf);
  const { x: left } = placement(page);
  const right = width - left;
  const ink = inkOf(page);
  const above = drawAbove(page, ink, right);
  const bottom = ink.reduce((lowest, box) => Math.max(lowest, box.bottom), 0);
  const below = drawBelow(data, heads, options, { top: bottom, right });
  const top = Math.min(above.top, ...ink.map((box) => box.top)) - ABOVE;
  const height = bottom + below.height - top;
  const svg = xml(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'system',
      viewBox: `0 0 ${width} ${Math.round(height)}`,
      fill: 'currentColor',
      'font-family': FONT,
    },
    ...descendants(root, ({ name }) => name === 'defs'),
    xml(
      'g',
      { transform: `translate(${left}, ${Math.round(-top * 100) / 100})` },
      notation({ ...page, attributes: { class: 'page-margin' } }, above.drawn),
      xml('g', { class: 'below' }, ...below.elements),
    ),
  );
  const fronts = descendants(page, hasClass('clef', 'keySig', 'meterSig')).flatMap(inkOf);
  return {
    svg: writeXml(svg),
    width,
    height,
    places: placesOf(heads, fronts, right, below.figures).map((place) => ({ ...place, x: place.x + left, y: 0, height })),
  };
}

/** The heads of notes in an engraved picture, in order. */
export function headsOf(page: Xml, inkOf: InkReader): Head[] {
  return descendants(page, ({ attributes }) => attributes['id']?.startsWith('n-0-') === true).flatMap((note) => {
    const [, index, part] = /^n-0-(\d+)(?:-(\d+))?$/.exec(note.attributes['id']!) ?? [];
    const [notehead] = descendants(note, hasClass('notehead'));
    if (index === undefined || notehead === undefined) return [];
    // Parentheses stand left and right alike, so that the middle is the head's.
    const ink = inkOf(notehead);
    const [glyph] = descendants(notehead, ({ name }) => name === 'use');
    const x =
      ink.length > 0
        ? (Math.min(...ink.map((box) => box.left)) + Math.max(...ink.map((box) => box.right))) / 2
        : glyph === undefined
          ? null
          : placement(glyph).x + HEAD;
    return x === null ? [] : [{ note: Number(index), part: Number(part ?? 1), x, isFirst: part === undefined }];
  });
}

const STROKED: ReadonlySet<string> = new Set(['path', 'polygon', 'polyline', 'ellipse', 'rect']);

/** The notation without what the library says of itself, and with what is drawn in place of its own words. */
function notation(element: Xml, drawn: ReadonlyMap<Xml, Xml>): Xml {
  const other = drawn.get(element);
  if (other !== undefined) return other;
  // Whoever shows several pictures on one page would have these names several times.
  const { id: _, ...attributes } = element.attributes;
  return {
    name: element.name,
    attributes: { ...attributes, ...(STROKED.has(element.name) ? { stroke: 'currentColor' } : {}) },
    children: element.children.flatMap((child): (Xml | string)[] =>
      typeof child === 'string' ? [child] : child.name === 'desc' || child.name === 'title' ? [] : [notation(child, drawn)],
    ),
  };
}

/** Words that begin at a place on their line. */
function lettered(
  words: string,
  { x, y, size }: { readonly x: number; readonly y: number; readonly size: number },
  weight: Weight,
  attributes: Readonly<Record<string, string>> = {},
): Xml {
  return xml('text', { ...attributes, x, y, 'font-size': size, 'font-weight': weight === 'bold' ? 700 : 400 }, words);
}

/** The library sets accidentals with signs of its text font (of the SMuFL range for figured bass); our lettering has these instead. */
const ACCIDENTALS: Readonly<Record<string, string>> = { '\uEA63': '♭♭', '\uEA64': '♭', '\uEA65': '♮', '\uEA66': '♯', '\uEA67': '♯♯' };

/**
 * The library places bar numbers and chord symbols for its own letters: they are laid out anew. Answers them in place of its own, and how
 * high they go.
 */
function drawAbove(page: Xml, notes: readonly Box[], right: number): { readonly drawn: ReadonlyMap<Xml, Xml>; readonly top: number } {
  const drawn = new Map<Xml, Xml>();
  const numbers = descendants(page, hasClass('mNum')).flatMap((group): Box[] => {
    const words = textOf(group).trim();
    // A pickup has no number.
    drawn.set(group, xml('g', { class: 'mNum' }));
    if (words === '') return [];
    const { width, ascent, descent } = measure(words, 'regular');
    const [x, top] = [0, topBetween(notes, -HEAD, NUMBER.size * width + HEAD, Infinity)];
    const y = (top === Infinity ? 0 : top) - NUMBER.aboveInk - NUMBER.size * descent;
    drawn.set(group, xml('g', { class: 'mNum' }, lettered(words, { x, y, size: NUMBER.size }, 'regular')));
    return [{ left: x, top: y - NUMBER.size * ascent, right: x + NUMBER.size * width, bottom: y + NUMBER.size * descent }];
  });
  const symbols = descendants(page, hasClass('harm'))
    .map((group) => {
      const [text] = descendants(group, ({ name }) => name === 'text');
      drawn.set(group, xml('g', { class: 'harm' }));
      return { group, x: Number(text?.attributes['x'] ?? 0), words: symbolWords(group) };
    })
    .filter(({ words }) => words !== '')
    .sort((a, b) => a.x - b.x);
  const [staff] = descendants(page, hasClass('staff'));
  const [, line] =
    /M\S+ (\S+)/.exec(staff === undefined ? '' : (descendants(staff, ({ name }) => name === 'path')[0]?.attributes['d'] ?? '')) ?? [];
  const extents = symbols.map(({ words }) => measure(words, 'bold'));
  const row = symbolRow(
    symbols.map(({ x }, i) => ({ x, ...extents[i]! })),
    [...notes, ...numbers],
    { size: SYMBOL.size, baseline: Number(line ?? 0) - SYMBOL.aboveStaff, left: 0, right },
  );
  const tops = symbols.map(({ group, words }, i) => {
    const { x, y } = row.places[i]!;
    drawn.set(group, xml('g', { class: 'harm' }, lettered(words, { x, y, size: row.size }, 'bold')));
    return y - row.size * extents[i]!.ascent;
  });
  return { drawn, top: Math.min(Infinity, ...tops, ...numbers.map((box) => box.top)) };
}

/** A symbol's words, with signs for its accidentals. */
function symbolWords(symbol: Xml): string {
  const words = descendants(symbol, ({ name, children }) => name === 'tspan' && children.every((child) => typeof child === 'string'))
    .map(textOf)
    .join('');
  return [...words]
    .map((sign) => ACCIDENTALS[sign] ?? sign)
    .join('')
    .replace(/b(?=\d)/g, '♭')
    .replace(/#(?=\d)/g, '♯')
    .trim();
}

const SIGNS: Readonly<Record<string, string>> = { b: '♭', '#': '♯', n: '♮' };

/** `b3` as it is printed. */
function printed(figure: string): string {
  return figure.replace(/[b#n]/g, (sign) => SIGNS[sign]!);
}

interface Room {
  readonly top: number;
  readonly right: number;
}

/** A figure to be drawn under a head. */
interface Figure extends Pick<PictureNote, 'figure' | 'role' | 'finding'> {
  readonly x: number;
}

/** What is known where a head stands: of its note, or, in parentheses, of the chord that its tied part starts over. */
function figureUnder({ note, part, x, isFirst }: Head, notes: readonly PictureNote[]): Figure[] {
  const data = notes[note];
  if (data === undefined) return [];
  if (isFirst) return [{ x, figure: data.figure === null ? null : printed(data.figure), role: data.role, finding: data.finding }];
  return data.later
    .filter((one) => one.part === part)
    .map(({ figure, role }) => ({ x, figure: `(${printed(figure)})`, role, finding: null }));
}

/** What a student writes under a head. */
function answerUnder({ note, part, x, isFirst }: Head, notes: readonly PictureNote[]): Answer[] {
  const data = notes[note];
  const figure = isFirst ? data?.figure : data?.later.find((one) => one.part === part)?.figure;
  return figure == null ? [] : [{ x, figure: printed(figure), isHeld: !isFirst }];
}

/** The figures under heads, with their widths. */
export function figuresUnder(
  heads: readonly Head[],
  notes: readonly PictureNote[],
): (PlacedFigure & { readonly words: string; readonly role: PictureNote['role'] })[] {
  return heads
    .flatMap((head) => figureUnder(head, notes))
    .flatMap(({ x, figure, role }) => {
      if (figure === null) return [];
      const { before, digits, after } = figureParts(figure);
      return [
        {
          x,
          words: figure,
          role,
          before: measure(before, 'bold').width,
          digits: measure(digits, 'bold').width,
          after: measure(after, 'bold').width,
        },
      ];
    });
}

/** From where to where something goes, left to right. */
interface Extent {
  readonly left: number;
  readonly right: number;
}

/** What stands below the notation: a row of figures with their roles, then brackets, lane by lane; the figures by the places of their heads. */
function drawBelow(
  { notes, devices }: PictureData,
  heads: readonly Head[],
  options: PictureOptions,
  { top, right }: Room,
): { readonly elements: Xml[]; readonly height: number; readonly figures: ReadonlyMap<number, Extent> } {
  if (options.boxes !== undefined)
    return {
      elements: answerBoxes(
        heads.flatMap((head) => answerUnder(head, notes)),
        options.boxes,
        top,
      ),
      height: BOX.top + BOX.height + BELOW,
      figures: new Map(),
    };
  const known = heads.flatMap((head) => figureUnder(head, notes));
  const figures = options.degrees ? figuresUnder(heads, notes) : [];
  const row = figureRow(figures, FIGURE.size, FIGURE.gap);
  const marks = figures.map(({ words, role }, i) =>
    lettered(words, { x: row.lefts[i]!, y: top + FIGURE.baseline, size: row.size }, 'bold', { class: `figure ${role ?? ''}`.trim() }),
  );
  const roles = known.flatMap(({ x, role }) => (options.degrees && role !== null ? [roleMark(role, x, top + FIGURE.role)] : []));
  const findings = known.flatMap(({ x, finding }, i) => {
    if (finding === null) return [];
    const room = Math.min(x - (known[i - 1]?.x ?? -Infinity), (known[i + 1]?.x ?? Infinity) - x);
    const half = Math.max(90, Math.min(190, room / 2 - 25));
    const d = findingPath(finding, x - half, x + half, top + (options.degrees ? FIGURE.wave : FIGURE.onlyWave), 50);
    return [xml('path', { class: `finding ${finding}`, d, fill: 'none', stroke: 'currentColor', 'stroke-width': 34 })];
  });
  const rowBottom = options.degrees ? FIGURE.bottom : findings.length > 0 ? FIGURE.onlyWave + 60 : 0;
  const lanes = options.devices
    ? drawBrackets(devices, heads, { top: top + rowBottom, right }, options.names ?? 1)
    : { elements: [], height: 0 };
  return {
    elements: [...marks, ...roles, ...findings, ...lanes.elements],
    height: rowBottom + lanes.height + BELOW,
    figures: new Map(
      figures.map(({ x, before, digits, after }, i) => [
        x,
        { left: row.lefts[i]!, right: row.lefts[i]! + row.size * (before + digits + after) },
      ]),
    ),
  };
}

const FILLED: ReadonlySet<string> = new Set(['chord-tone', 'avoid']);

function roleMark(role: NonNullable<PictureNote['role']>, x: number, y: number): Xml {
  const isFilled = FILLED.has(role);
  return xml('path', {
    class: `role ${role}`,
    d: rolePath(role, x, y, 130),
    fill: isFilled ? null : 'none',
    stroke: isFilled ? null : 'currentColor',
    'stroke-width': isFilled ? null : 32,
  });
}

/** A device that goes on over the end of a system has a bracket on each, with its name, open where it goes on. */
function drawBrackets(
  devices: readonly PictureDevice[],
  heads: readonly Head[],
  { top, right }: Room,
  times: number,
): { readonly elements: Xml[]; readonly height: number } {
  const { ascent, descent } = measure(HIGHEST, 'regular');
  const more = LANE.size * (times - 1);
  const laneHeight = LANE.height + more * (ascent + descent);
  const shown = joined(devices).flatMap(({ name, from, to }) => {
    const own = heads.filter(({ note }) => note >= from && note <= to);
    // What is only held on from the system before is no part of it.
    if (!own.some(({ isFirst }) => isFirst)) return [];
    const xs = own.map(({ x }) => x);
    const has = (wanted: number): boolean => own.some(({ note, isFirst }) => isFirst && note === wanted);
    const left = has(from) ? { x: Math.min(...xs) - HEAD, hook: LANE.hook } : { x: Math.min(...xs) - HEAD - OVER, hook: 0 };
    const until = has(to) ? { x: Math.max(...xs) + HEAD, hook: LANE.hook } : { x: right - LANE.stroke / 2, hook: 0 };
    const [start, end] = [left.x, until.x];
    const width = measure(name, 'regular').width * ROUNDED;
    const size = Math.min(LANE.size * times, right / width);
    // A name longer than its bracket goes on to the right, or at the end of the system to the left.
    const text = Math.max(0, Math.min(start, right - size * width));
    return [
      {
        name,
        size,
        ends: [left, until] as const,
        text,
        left: Math.min(start, text),
        right: Math.max(end, text + size * width),
        length: end - start,
      },
    ];
  });
  const lanes = lanesOf(shown, LANE.gap);
  const elements = shown.map(({ name, size, ends: [begin, end], text }, i) => {
    const y = top + lanes[i]! * laneHeight;
    return xml(
      'g',
      { class: 'device' },
      xml('path', { d: bracketPath(begin, end, y + LANE.bracket), fill: 'none', stroke: 'currentColor', 'stroke-width': LANE.stroke }),
      lettered(name, { x: text, y: y + LANE.baseline + more * ascent, size }, 'regular'),
    );
  });
  return { elements, height: countOf(lanes) * laneHeight };
}

/** Devices of the same notes share a bracket: `arpeggio, cell`. */
function joined(devices: readonly PictureDevice[]): PictureDevice[] {
  const brackets = new Map<string, PictureDevice>();
  for (const device of devices) {
    const key = `${device.from} ${device.to}`;
    const known = brackets.get(key);
    brackets.set(key, known === undefined ? device : { ...known, name: `${known.name}, ${device.name}` });
  }
  return [...brackets.values()];
}

/** How far the frame of a note stays off its figure: less than half of what lies between two figures. */
const EDGE = 30;

/**
 * A note is pointed at anywhere between half way to its neighbours, but not on a clef, key or meter before it. Where its figure goes
 * farther, or that of a neighbour comes nearer, the border lies between the figures.
 */
function placesOf(
  heads: readonly Head[],
  fronts: readonly Box[],
  right: number,
  figures: ReadonlyMap<number, Extent>,
): Pick<Place, 'note' | 'isFirst' | 'x' | 'width'>[] {
  const most = 420;
  const underlined = heads.map(({ x }): Extent => {
    const figure = figures.get(x);
    return figure === undefined ? { left: x, right: x } : { left: figure.left - EDGE, right: figure.right + EDGE };
  });
  const borders = heads.slice(1).map(({ x }, i) => {
    const [least, greatest] = [underlined[i]!.right, underlined[i + 1]!.left];
    return least > greatest ? (least + greatest) / 2 : Math.max(least, Math.min(greatest, (heads[i]!.x + x) / 2));
  });
  return heads.map(({ note, x, isFirst }, i) => {
    const own = underlined[i]!;
    const front = fronts.filter((box) => box.right < x).reduce((edge, box) => Math.max(edge, box.right + FRONT), 0);
    const from = Math.max(borders[i - 1] ?? -Infinity, Math.min(x - HEAD - FRONT, own.left, Math.max(x - most, front)));
    const to = Math.min(borders[i] ?? Infinity, Math.max(own.right, Math.min(x + most, right)));
    return { note, isFirst, x: from, width: Math.max(1, to - from) };
  });
}
