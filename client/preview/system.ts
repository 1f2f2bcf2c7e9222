/** One system of the score: the engraved picture, and what we add: degrees, roles, findings, brackets, and a place to point at for every note. */
import type { ScoreDevice, ScoreNote, ScorePhrase } from '../src/score/messages';
import type { Box } from './boxes';
import { svg } from './dom';
import { figureParts, figureRow } from './figures';
import { inkReader, placement } from './ink';
import { countOf, lanesOf } from './lanes';
import { measurer, type Measure } from './measure';
import { bracketPath, rolePath, wavePath } from './shapes';
import { symbolRow } from './symbols';

export interface SystemOptions {
  readonly degrees: boolean;
  readonly devices: boolean;
  /** Which of several it is, for its name: `system 2 of 4`; empty where there is one. */
  readonly place?: string;
}

export interface DrawnSystem {
  readonly element: SVGSVGElement;
  /** The places of each note: one, and one more for each part it is tied to. */
  readonly places: ReadonlyMap<number, readonly SVGRectElement[]>;
}

/** Lengths in the units of the picture: the lines of a staff are 180 apart. */
const HEAD = 115;
const SYMBOL = { size: 405, aboveStaff: 230 } as const;
const FIGURE = { size: 330, gap: 75, baseline: 310, wave: 380, role: 520, bottom: 640, lowered: 215 } as const;
const LANE = { height: 430, bracket: 120, hook: 90, baseline: 370, size: 270, gap: 150 } as const;
const BELOW = 120;
const ABOVE = 150;
/** Half a staff space. */
const FRONT = 90;

/** A note's head, or that of a part it is tied to. */
interface Head {
  readonly note: number;
  /** From 1: the parts that a note is written in. */
  readonly part: number;
  readonly x: number;
  readonly isFirst: boolean;
}

/** Draws a system; `picture` is an SVG of the engraving library, whose notes are called `n-0-N`. Throws where it is no such picture. */
export function drawSystem(picture: string, phrase: ScorePhrase, options: SystemOptions): DrawnSystem {
  const root = document.importNode(new DOMParser().parseFromString(picture, 'image/svg+xml').documentElement, true) as unknown as SVGSVGElement;
  const inner = root.querySelector<SVGSVGElement>('svg.definition-scale');
  const page = root.querySelector<SVGGElement>('g.page-margin');
  if (inner === null || page === null) throw new Error('The engraved picture has no page.');
  for (const extra of root.querySelectorAll('desc, title')) extra.remove();
  const inkOf = inkReader(root);
  const heads = headsOf(page, inkOf);
  const fronts = [...page.querySelectorAll('.clef, .keySig, .meterSig')].flatMap(inkOf);
  const measure = measurer(document.body);
  const [, , width, height] = inner.getAttribute('viewBox')!.split(' ').map(Number) as [number, number, number, number];
  const { x: left, y: top } = placement(page);
  const right = width - left;
  const highest = placeSymbols(page, inkOf, measure, right);
  for (const one of page.querySelectorAll('[id]')) one.removeAttribute('id');
  page.setAttribute('aria-hidden', 'true');

  const below = drawBelow(phrase, heads, options, measure, { top: height - top, right });
  // The picture begins at its highest ink, wherever the library had left room.
  const start = highest - ABOVE;
  const whole = height - top + below.height - start;
  inner.setAttribute('viewBox', `0 ${start + top} ${width} ${whole}`);
  inner.removeAttribute('color');
  const [, , outer] = root.getAttribute('viewBox')!.split(' ').map(Number) as [number, number, number, number];
  root.setAttribute('viewBox', `0 0 ${outer} ${(whole * outer) / width}`);
  root.removeAttribute('id');
  root.setAttribute('class', 'system');
  page.append(below.element);

  const places = placesOf(phrase, heads, fronts, { top: start, height: whole, right });
  // A listbox of notes: what can be pointed at can be reached with the arrow keys and is read aloud.
  inner.prepend(svg('g', { role: 'listbox', 'aria-orientation': 'horizontal', 'aria-label': [`Notes of ${phrase.name || 'the phrase'}`, options.place ?? ''].filter((words) => words !== '').join(', '), transform: `translate(${left}, ${top})` }, ...[...places.values()].flat()));
  return { element: root, places };
}

function headsOf(page: SVGGElement, inkOf: (part: Element) => Box[]): Head[] {
  return [...page.querySelectorAll<SVGGElement>('g.note[id^="n-0-"]')].flatMap((note) => {
    const [, index, part] = /^n-0-(\d+)(?:-(\d+))?$/.exec(note.id) ?? [];
    const notehead = note.querySelector('.notehead');
    if (index === undefined || notehead === null) return [];
    // Parentheses stand left and right alike, so that the middle is the head's.
    const ink = inkOf(notehead);
    const glyph = notehead.querySelector('use');
    const x = ink.length > 0 ? (Math.min(...ink.map((box) => box.left)) + Math.max(...ink.map((box) => box.right))) / 2 : glyph === null ? null : placement(glyph).x + HEAD;
    return x === null ? [] : [{ note: Number(index), part: Number(part ?? 1), x, isFirst: part === undefined }];
  });
}

/** The library sets accidentals with signs of its text font (of the SMuFL range for figured bass); every editor has these instead. */
const ACCIDENTALS: Readonly<Record<string, string>> = { '\uEA63': '𝄫', '\uEA64': '♭', '\uEA65': '♮', '\uEA66': '♯', '\uEA67': '𝄪' };

/** The library spaces chord symbols for its own letters, not for the page's: they are laid out anew. Answers where the highest ink is. */
function placeSymbols(page: SVGGElement, inkOf: (part: Element) => Box[], measure: Measure, right: number): number {
  const symbols = [...page.querySelectorAll('g.harm')].flatMap((group) => {
    const text = group.querySelector('text');
    return text === null ? [] : [{ group, x: Number(text.getAttribute('x') ?? 0), words: symbolWords(group) }];
  }).sort((a, b) => a.x - b.x);
  const numbers = [...page.querySelectorAll('.mNum text')].map((text): Box => {
    const [x, y] = [Number(text.getAttribute('x') ?? 0), Number(text.getAttribute('y') ?? 0)];
    const size = Number.parseFloat(text.querySelector('[font-size]')?.getAttribute('font-size') ?? '324');
    const half = (size * measure(text.textContent?.trim() ?? '', 400).width) / 2;
    return { left: x - half, top: y - size * 0.8, right: x + half, bottom: y };
  });
  const ink = [...inkOf(page), ...numbers];
  const highest = ink.reduce((most, { top }) => Math.min(most, top), Infinity);
  const [, staff] = /M\S+ (\S+)/.exec(page.querySelector('.staff > path')?.getAttribute('d') ?? '') ?? [];
  const row = symbolRow(symbols.map(({ x, words }) => ({ x, ...measure(words, 600) })), ink, { size: SYMBOL.size, baseline: Number(staff ?? 0) - SYMBOL.aboveStaff, left: 0, right });
  return symbols.reduce((most, { group, words }, i) => {
    const { x, y } = row.places[i]!;
    group.replaceChildren(svg('text', { x, y, 'font-size': row.size }, words));
    return Math.min(most, y - row.size * measure(words, 600).ascent);
  }, highest);
}

/** A symbol's words, with signs for its accidentals. */
function symbolWords(symbol: Element): string {
  const words = [...symbol.querySelectorAll('tspan')].filter((part) => part.children.length === 0).map((part) => part.textContent ?? '').join('');
  return [...words].map((sign) => ACCIDENTALS[sign] ?? sign).join('').replace(/b(?=\d)/g, '♭').replace(/#(?=\d)/g, '♯').trim();
}

/** `b3` as it is printed. */
function printed(figure: string): string {
  return figure.replaceAll('b', '♭').replaceAll('#', '♯');
}

interface Room {
  readonly top: number;
  readonly right: number;
}

/** A figure to be drawn under a head. */
interface Figure {
  readonly x: number;
  readonly figure: string | null;
  readonly role: ScoreNote['role'];
  readonly finding: ScoreNote['finding'];
}

/** What is known where a head stands: of its note, or, in parentheses, of the chord that its tied part starts over. */
function figureUnder({ note, part, x, isFirst }: Head, { notes }: ScorePhrase): Figure[] {
  const data = notes[note];
  if (data === undefined) return [];
  if (isFirst) return [{ x, figure: data.figure === null ? null : printed(data.figure), role: data.role, finding: data.finding }];
  return data.later.filter((one) => one.part === part).map(({ figure, role }) => ({ x, figure: `(${printed(figure)})`, role, finding: null }));
}

/** What stands below the staff: a row of figures with their roles, then brackets, lane by lane. */
function drawBelow(phrase: ScorePhrase, heads: readonly Head[], { degrees, devices }: SystemOptions, measure: Measure, { top, right }: Room): { element: SVGGElement; height: number } {
  const element = svg('g', { class: 'below', 'aria-hidden': 'true' });
  const known = heads.flatMap((head) => figureUnder(head, phrase));
  const figures = degrees ? known.flatMap((one) => (one.figure === null ? [] : [{ ...one, figure: one.figure }])) : [];
  const row = figureRow(figures.map(({ x, figure }) => {
    const { before, digits, after } = figureParts(figure);
    return { x, before: measure(before, 600).width, digits: measure(digits, 600).width, after: measure(after, 600).width };
  }), FIGURE.size, FIGURE.gap);
  // The marks keep one line under all figures.
  const drop = row.some(({ isLowered }) => isLowered) ? FIGURE.lowered : 0;
  figures.forEach(({ role, figure }, i) => {
    const { left, size, isLowered } = row[i]!;
    element.append(svg('text', { class: `figure ${role ?? ''}`, x: left, y: top + FIGURE.baseline + (isLowered ? FIGURE.lowered : 0), 'font-size': size }, figure));
  });
  known.forEach(({ x, role, finding }, i) => {
    if (degrees && role !== null) element.append(svg('path', { class: `role ${role}`, d: rolePath(role, x, top + drop + FIGURE.role, 130), 'stroke-width': 32 }));
    if (finding === null) return;
    const room = Math.min(x - (known[i - 1]?.x ?? -Infinity), (known[i + 1]?.x ?? Infinity) - x);
    const half = Math.max(90, Math.min(190, room / 2 - 25));
    element.append(svg('path', { class: `finding ${finding}`, d: wavePath(x - half, x + half, top + drop + FIGURE.wave, 50), 'stroke-width': 34 }));
  });
  const rowBottom = degrees ? FIGURE.bottom + drop : known.some(({ finding }) => finding !== null) ? FIGURE.wave + 60 : 0;
  const lanes = devices ? drawBrackets(phrase.devices, heads, measure, { top: top + rowBottom, right }) : { elements: [], count: 0 };
  element.append(...lanes.elements);
  return { element, height: rowBottom + lanes.count * LANE.height + BELOW };
}

function drawBrackets(devices: readonly ScoreDevice[], heads: readonly Head[], measure: Measure, { top, right }: Room): { elements: SVGElement[]; count: number } {
  const shown = joined(devices).flatMap((device) => {
    const own = heads.filter(({ note }) => note >= device.from && note <= device.to);
    const [first, last] = [heads[0], heads[heads.length - 1]];
    // What is only held on from the system before is no part of it.
    if (!own.some(({ isFirst }) => isFirst) || first === undefined || last === undefined) return [];
    const open = { left: device.from < first.note || (device.from === first.note && !first.isFirst), right: device.to > last.note };
    const xs = own.map(({ x }) => x);
    const [from, to] = [Math.min(...xs) - (open.left ? 300 : HEAD), Math.max(...xs) + (open.right ? 300 : HEAD)];
    // A part that goes on from another system says its name again, but not for the sake of one note.
    const name = open.left && new Set(own.map(({ note }) => note)).size < 2 ? '' : device.name;
    const length = LANE.size * measure(name, 400).width;
    // A name longer than its bracket goes on to the right, or at the end of the system to the left.
    const textLeft = Math.max(0, Math.min(from, right - length));
    return [{ name, open, from, to, textLeft, left: Math.min(from, textLeft), right: Math.max(to, textLeft + length), length: to - from }];
  });
  const lanes = lanesOf(shown, LANE.gap);
  const elements = shown.map(({ name, open, from, to, textLeft }, i) => {
    const y = top + lanes[i]! * LANE.height;
    return svg('g', { class: 'device' },
      svg('path', { d: bracketPath(from, to, y + LANE.bracket, LANE.hook, open), 'stroke-width': 26 }),
      ...(name === '' ? [] : [svg('text', { x: textLeft, y: y + LANE.baseline, 'font-size': LANE.size }, name)]));
  });
  return { elements, count: countOf(lanes) };
}

/** Devices of the same notes share a bracket: `arpeggio, cell`. */
function joined(devices: readonly ScoreDevice[]): ScoreDevice[] {
  const brackets = new Map<string, ScoreDevice>();
  for (const device of devices) {
    const key = `${device.from} ${device.to}`;
    const known = brackets.get(key);
    brackets.set(key, known === undefined ? device : { ...known, name: `${known.name}, ${device.name}` });
  }
  return [...brackets.values()];
}

/** A note is pointed at anywhere between half way to its neighbours, from the chord symbol down to the brackets, but not on a clef, key or meter before it. */
function placesOf(phrase: ScorePhrase, heads: readonly Head[], fronts: readonly Box[], { top, height, right }: Room & { readonly height: number }): Map<number, SVGRectElement[]> {
  const places = new Map<number, SVGRectElement[]>();
  const most = 420;
  heads.forEach(({ note, x, isFirst }, i) => {
    const [before, after] = [heads[i - 1], heads[i + 1]];
    const front = fronts.filter((box) => box.right < x).reduce((edge, box) => Math.max(edge, box.right + FRONT), 0);
    const from = Math.min(x - HEAD - FRONT, Math.max(x - most, before === undefined ? 0 : (before.x + x) / 2, front));
    const to = Math.min(x + most, after === undefined ? right : (x + after.x) / 2);
    const data = phrase.notes[note];
    const place = svg('rect', {
      class: 'place', 'data-note': note, x: from, y: top, width: Math.max(1, to - from), height, rx: 60, 'stroke-width': 26,
      role: isFirst ? 'option' : 'presentation', tabindex: isFirst ? -1 : null, 'aria-label': isFirst ? (data?.label ?? '') : null, 'aria-selected': isFirst ? 'false' : null,
    });
    places.set(note, [...(places.get(note) ?? []), place]);
  });
  return places;
}
