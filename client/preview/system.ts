/** One system of the score: the engraved picture, and what we add: degrees, roles, findings, brackets, and a place to point at for every note. */
import type { ScoreDevice, ScorePhrase } from '../src/score/messages';
import { svg } from './dom';
import { lanesOf } from './lanes';
import { bracketPath, rolePath, wavePath } from './shapes';

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
const FIGURE = { size: 330, baseline: 310, wave: 380, role: 520, bottom: 640 } as const;
const LANE = { height: 430, bracket: 120, hook: 90, baseline: 370, size: 270, letter: 165, gap: 150 } as const;
const BELOW = 120;

interface Head {
  readonly note: number;
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
  const heads = headsOf(page);
  for (const one of page.querySelectorAll('[id]')) one.removeAttribute('id');
  for (const symbol of page.querySelectorAll('g.harm')) spellSymbol(symbol);
  page.setAttribute('aria-hidden', 'true');

  const [, , width, height] = inner.getAttribute('viewBox')!.split(' ').map(Number) as [number, number, number, number];
  const [left, top] = translation(page);
  const below = drawBelow(phrase, heads, options, { top: height - top, right: width - left });
  const whole = height + below.height;
  inner.setAttribute('viewBox', `0 0 ${width} ${whole}`);
  inner.removeAttribute('color');
  const [, , outer] = root.getAttribute('viewBox')!.split(' ').map(Number) as [number, number, number, number];
  root.setAttribute('viewBox', `0 0 ${outer} ${(whole * outer) / width}`);
  root.removeAttribute('id');
  root.setAttribute('class', 'system');
  page.append(below.element);

  const places = placesOf(phrase, heads, { top: -top, height: whole, right: width - left });
  // A listbox of notes: what can be pointed at can be reached with the arrow keys and is read aloud.
  inner.prepend(svg('g', { role: 'listbox', 'aria-orientation': 'horizontal', 'aria-label': [`Notes of ${phrase.name || 'the phrase'}`, options.place ?? ''].filter((words) => words !== '').join(', '), transform: `translate(${left}, ${top})` }, ...[...places.values()].flat()));
  return { element: root, places };
}

function headsOf(page: SVGGElement): Head[] {
  return [...page.querySelectorAll<SVGGElement>('g.note[id^="n-0-"]')].flatMap((note) => {
    const [, index, part] = /^n-0-(\d+)(?:-(\d+))?$/.exec(note.id) ?? [];
    const glyph = note.querySelector('.notehead use');
    return index === undefined || glyph === null ? [] : [{ note: Number(index), x: translation(glyph)[0] + HEAD, isFirst: part === undefined }];
  });
}

function translation(element: Element): [number, number] {
  const [, x, y] = /translate\((-?[\d.]+),?\s*(-?[\d.]+)\)/.exec(element.getAttribute('transform') ?? '') ?? [];
  return [Number(x ?? 0), Number(y ?? 0)];
}

/** The library sets accidentals with signs of its text font (of the SMuFL range for figured bass); every editor has these instead. */
const ACCIDENTALS: Readonly<Record<string, string>> = { '\uEA63': '𝄫', '\uEA64': '♭', '\uEA65': '♮', '\uEA66': '♯', '\uEA67': '𝄪' };

function spellSymbol(symbol: Element): void {
  const parts = [...symbol.querySelectorAll('tspan')].filter((part) => part.children.length === 0);
  const size = parts.find((part) => !part.hasAttribute('font-family'))?.getAttribute('font-size') ?? '405px';
  for (const part of parts) {
    part.removeAttribute('font-family');
    part.setAttribute('font-size', size);
    part.textContent = [...(part.textContent ?? '')].map((sign) => ACCIDENTALS[sign] ?? sign).join('').replace(/b(?=\d)/g, '♭').replace(/#(?=\d)/g, '♯');
  }
}

/** `b3` as it is printed. */
function printed(figure: string): string {
  return figure.replaceAll('b', '♭').replaceAll('#', '♯');
}

interface Room {
  readonly top: number;
  readonly right: number;
}

/** What stands below the staff: a row of figures with their roles, then brackets, lane by lane. */
function drawBelow(phrase: ScorePhrase, heads: readonly Head[], { degrees, devices }: SystemOptions, { top, right }: Room): { element: SVGGElement; height: number } {
  const element = svg('g', { class: 'below', 'aria-hidden': 'true' });
  const starts = heads.filter(({ isFirst }) => isFirst);
  for (const { note, x } of starts) {
    const { figure, role, finding } = phrase.notes[note] ?? { figure: null, role: null, finding: null };
    if (degrees && figure !== null) element.append(svg('text', { class: `figure ${role ?? ''}`, x, y: top + FIGURE.baseline, 'text-anchor': 'middle', 'font-size': FIGURE.size }, printed(figure)));
    if (degrees && role !== null) element.append(svg('path', { class: `role ${role}`, d: rolePath(role, x, top + FIGURE.role, 130), 'stroke-width': 32 }));
    if (finding !== null) element.append(svg('path', { class: `finding ${finding}`, d: wavePath(x - 190, x + 190, top + FIGURE.wave, 50), 'stroke-width': 34 }));
  }
  const rowBottom = degrees ? FIGURE.bottom : starts.some(({ note }) => phrase.notes[note]?.finding != null) ? FIGURE.wave + 60 : 0;
  const lanes = devices ? drawBrackets(phrase.devices, heads, { top: top + rowBottom, right }) : { elements: [], count: 0 };
  element.append(...lanes.elements);
  return { element, height: rowBottom + lanes.count * LANE.height + BELOW };
}

function drawBrackets(devices: readonly ScoreDevice[], heads: readonly Head[], { top, right }: Room): { elements: SVGElement[]; count: number } {
  const shown = joined(devices).flatMap((device) => {
    const own = heads.filter(({ note }) => note >= device.from && note <= device.to).map(({ x }) => x);
    const [first, last] = [heads[0], heads[heads.length - 1]];
    if (own.length === 0 || first === undefined || last === undefined) return [];
    const open = { left: device.from < first.note, right: device.to > last.note };
    const [from, to] = [Math.min(...own) - (open.left ? 300 : HEAD), Math.max(...own) + (open.right ? 300 : HEAD)];
    // A name longer than its bracket goes on to the right, or at the end of the system to the left.
    const length = device.name.length * LANE.letter;
    const textLeft = Math.max(0, Math.min(from, right - length));
    return [{ device, open, from, to, textLeft, left: Math.min(from, textLeft), right: Math.max(to, textLeft + length) }];
  });
  const lanes = lanesOf(shown, LANE.gap);
  const elements = shown.map(({ device, open, from, to, textLeft }, i) => {
    const y = top + lanes[i]! * LANE.height;
    return svg('g', { class: 'device' },
      svg('path', { d: bracketPath(from, to, y + LANE.bracket, LANE.hook, open), 'stroke-width': 26 }),
      svg('text', { x: textLeft, y: y + LANE.baseline, 'font-size': LANE.size }, device.name));
  });
  return { elements, count: lanes.reduce((most, lane) => Math.max(most, lane + 1), 0) };
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

/** A note is pointed at anywhere between half way to its neighbours, from the chord symbol down to the brackets. */
function placesOf(phrase: ScorePhrase, heads: readonly Head[], { top, height, right }: Room & { readonly height: number }): Map<number, SVGRectElement[]> {
  const places = new Map<number, SVGRectElement[]>();
  const most = 420;
  heads.forEach(({ note, x, isFirst }, i) => {
    const [before, after] = [heads[i - 1], heads[i + 1]];
    const from = Math.max(x - most, before === undefined ? 0 : (before.x + x) / 2);
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
