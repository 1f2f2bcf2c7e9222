/**
 * Blocks laid out on pages: plain data for whoever draws them. Lengths are points of 1/72 inch, from the top left corner; the y of a text is that
 * of its baseline. A phrase's title stands on the page of its first system, no system is cut, neither a paragraph nor what is said of a phrase leaves a single line alone.
 */
import { measure } from '../picture/measure';
import type { Words } from '../picture/emphasis';
import { capital } from '../rules/words';
import { linesOf, type Run } from './lines';
import type { Paper } from './paper';
import type { Block, DrawnSystem, Handout } from './types';

export type Item =
  | {
      readonly kind: 'text';
      readonly x: number;
      readonly y: number;
      readonly size: number;
      readonly words: string;
      readonly isBold: boolean;
      readonly isSlanted: boolean;
    }
  | {
      readonly kind: 'picture';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly svg: string;
    }
  | { readonly kind: 'rule'; readonly x: number; readonly y: number; readonly width: number; readonly thickness: number }
  /** A place that leads to an anchor. */
  | { readonly kind: 'link'; readonly x: number; readonly y: number; readonly width: number; readonly height: number; readonly to: string };

export interface Page {
  readonly items: readonly Item[];
}

/** What contents and outline lead to. `page` counts from 0; level 0 holds those of level 1 that follow it. */
export interface Anchor {
  readonly id: string;
  readonly title: string;
  readonly level: 0 | 1;
  readonly page: number;
  readonly y: number;
}

export interface Pages {
  readonly paper: Paper;
  readonly title: string;
  readonly pages: readonly Page[];
  readonly anchors: readonly Anchor[];
}

export function layOut({ title, blocks }: Handout, paper: Paper): Pages {
  const room = { top: paper.margin, bottom: paper.height - paper.margin - FOOTER.room, left: paper.margin, width: paper.textWidth };
  const pages: { readonly items: Item[]; readonly section: string }[] = [];
  const anchors: Anchor[] = [];
  const waiting: { readonly page: number; readonly y: number; readonly to: string; readonly size: number }[] = [];
  let section = '';
  let y = Infinity;
  const turn = (): void => {
    pages.push({ items: [], section });
    y = room.top;
  };
  for (const unit of unitsOf(blocks, room.width)) {
    const [first] = unit;
    if (first?.anchor?.level === 0) {
      section = first.anchor.title;
      turn();
    } else if (first?.startsPage === true && y > room.top) turn();
    // What is kept together and is longer than a page goes on over the end of it.
    const height = unit.reduce((sum, strip, i) => sum + (i === 0 ? 0 : strip.before) + strip.height, 0);
    const before = y === room.top ? 0 : (first?.before ?? 0);
    if (y + before + height > room.bottom && y > room.top) turn();
    for (const strip of unit) {
      if (y > room.top) y += strip.before;
      if (y > room.top && y + strip.height > room.bottom) turn();
      const page = pages.length - 1;
      if (strip.anchor !== null) anchors.push({ ...strip.anchor, page, y });
      if (strip.refersTo !== null) waiting.push({ page, y, to: strip.refersTo, size: SIZE.prose });
      pages[page]!.items.push(...strip.draw(room.left, y));
      y += strip.height;
    }
  }
  for (const { page, y: top, to, size } of waiting) {
    const target = anchors.find(({ id }) => id === to);
    if (target === undefined) continue;
    pages[page]!.items.push(...rightAligned(String(target.page + 1), room.left + room.width, top + size * ASCENT, size), {
      kind: 'link',
      x: room.left,
      y: top,
      width: room.width,
      height: size * LEADING,
      to,
    });
  }
  return {
    paper,
    title,
    anchors,
    pages: pages.map(({ items, section: name }, i) => ({ items: [...items, ...footer(name, i + 1, pages.length, paper)] })),
  };
}

/** Sizes of letters. */
const SIZE = { title: 21, note: 12, phrase: 14, heading: 9.5, label: 10, prose: 10, names: 10, footer: 8.5 } as const;
/** Lines apart and the part of a line above its baseline, in parts of the size of the letters. */
const LEADING = 1.38;
const ASCENT = 1.02;
const FOOTER = { room: 24, rise: 2 } as const;
const SPACE = { beforePhrase: 22, beforeSystem: 7, beforeProse: 5, beforeLabel: 9, beforeNames: 16, beforeContents: 16 } as const;
const INDENT = 12;
/** A system that is higher than most of a page is made smaller. */
const HIGHEST = 0.8;

/** Something as wide as the text that is not cut. */
interface Strip {
  readonly before: number;
  readonly height: number;
  readonly anchor: Pick<Anchor, 'id' | 'title' | 'level'> | null;
  /** The anchor whose page stands at its right end. */
  readonly refersTo: string | null;
  readonly startsPage?: true;
  readonly draw: (x: number, y: number) => Item[];
}

/** Strips that stay on one page. */
type Unit = readonly Strip[];

/** A block's strips in units; `leads` says that the last unit stays with what follows. */
function unitsOf(blocks: readonly Block[], width: number): Unit[] {
  const units: Unit[] = [];
  let leading: Strip[] = [];
  blocks.forEach((block, i) => {
    const [first = [], ...others] = unitsOfBlock(block, width);
    const all = [[...leading, ...first], ...others];
    leading = leads(block, blocks[i + 1]) || (isText(block) && endsInOneLine(blocks.slice(i + 1, i + 3), width)) ? [...all.pop()!] : [];
    units.push(...all.filter((unit) => unit.length > 0));
  });
  return leading.length > 0 ? [...units, leading] : units;
}

/** Titles stay with what they are titles of, what is said of a phrase begins under its last system, and so do the bars to write it in anew. */
function leads({ kind }: Block, next: Block | undefined): boolean {
  return (
    kind === 'section' ||
    kind === 'phrase' ||
    kind === 'label' ||
    (kind === 'systems' && (next?.kind === 'prose' || next?.kind === 'systems'))
  );
}

const isText = (block: Block | undefined): boolean => block?.kind === 'prose' || block?.kind === 'item';

/** Whether what is said ends with the next block, and that is a single line. */
function endsInOneLine([next, after]: readonly Block[], width: number): boolean {
  return next !== undefined && isText(next) && !isText(after) && unitsOfBlock(next, width).flat().length === 1;
}

function unitsOfBlock(block: Block, width: number): Unit[] {
  switch (block.kind) {
    case 'section':
      return [
        [
          ...textStrips([strong(block.title)], SIZE.title, width, { before: 0, anchor: { id: block.id, title: block.name, level: 0 } }),
          ...(block.note === '' ? [] : textStrips([plain(capital(block.note))], SIZE.note, width, { before: 2 })),
        ],
      ];
    case 'names':
      return [[namesStrip(width)]];
    case 'contents':
      return block.entries.map((entry, i) =>
        textStrips(
          [{ text: entry.words, isStrong: entry.level === 0 && block.entries.some(({ level }) => level === 1), isEmphasized: false }],
          SIZE.prose,
          width - 40,
          {
            before: i === 0 ? SPACE.beforeContents : 1,
            indent: entry.level * INDENT,
            refersTo: entry.id,
          },
        ),
      );
    case 'phrase':
      return [
        [
          ...textStrips([strong(block.name)], SIZE.phrase, width, {
            before: SPACE.beforePhrase,
            anchor: { id: block.id, title: block.name, level: 1 },
          }).map((strip, i) => (i === 0 && block.startsPage === true ? { ...strip, startsPage: true as const } : strip)),
          ...(block.heading === '' ? [] : textStrips([plain(block.heading)], SIZE.heading, width, { before: 0 })),
        ],
      ];
    case 'systems':
      return block.isWhole === true
        ? [block.systems.map((system) => systemStrip(system, width))]
        : block.systems.map((system) => [systemStrip(system, width)]);
    case 'label':
      return [textStrips([strong(block.words)], SIZE.label, width, { before: SPACE.beforeLabel })];
    case 'prose':
      return paragraph(textStrips(block.words, SIZE.prose, width, { before: SPACE.beforeProse }));
    case 'item':
      return paragraph(textStrips([plain(block.words)], SIZE.prose, width, { before: 3, indent: INDENT, mark: '–' }));
  }
}

/** A paragraph may be parted between lines, but not after its first or before its last. */
function paragraph(lines: readonly Strip[]): Unit[] {
  if (lines.length < 4) return [lines];
  return [lines.slice(0, 2), ...lines.slice(2, -2).map((line) => [line]), lines.slice(-2)];
}

interface Look {
  /** Above the first line. */
  readonly before: number;
  readonly indent?: number;
  /** Stands before an indented first line. */
  readonly mark?: string;
  readonly anchor?: Strip['anchor'];
  readonly refersTo?: string;
}

function textStrips(
  words: readonly Words[],
  size: number,
  width: number,
  { before, indent = 0, mark, anchor = null, refersTo }: Look,
): Strip[] {
  const draw =
    (runs: readonly Run[], first: boolean) =>
    (x: number, y: number): Item[] => [
      ...(first && mark !== undefined ? [text({ text: mark, isStrong: false, isEmphasized: false }, x, y + size * ASCENT, size)] : []),
      ...runs.map((run) => text(run, x + indent + run.x, y + size * ASCENT, size)),
    ];
  return linesOf(words, size, width - indent).map((runs, i) => ({
    before: i === 0 ? before : 0,
    height: size * LEADING,
    anchor: i === 0 ? anchor : null,
    refersTo: i === 0 ? (refersTo ?? null) : null,
    draw: draw(runs, i === 0),
  }));
}

function text({ text: words, isStrong, isEmphasized }: Words, x: number, y: number, size: number): Item {
  return { kind: 'text', x, y, size, words, isBold: isStrong, isSlanted: isEmphasized };
}

function systemStrip({ svg, width, height }: DrawnSystem, room: number): Strip {
  const scale = Math.min(room / width, (room * HIGHEST) / height);
  return {
    before: SPACE.beforeSystem,
    height: height * scale,
    anchor: null,
    refersTo: null,
    draw: (x, y) => [{ kind: 'picture', x, y, width: width * scale, height: height * scale, svg }],
  };
}

/** `Teacher ___ Student ___ Date ___`. */
function namesStrip(width: number): Strip {
  const shares = [0.38, 0.38, 0.24];
  const gap = 14;
  return {
    before: SPACE.beforeNames,
    height: SIZE.names * 2,
    anchor: null,
    refersTo: null,
    draw: (x, y) =>
      NAMES.flatMap((words, i): Item[] => {
        const left = x + width * shares.slice(0, i).reduce((sum, share) => sum + share, 0);
        const long = SIZE.names * measure(words, 'regular').width + 5;
        const right = left + width * shares[i]! - (i === NAMES.length - 1 ? 0 : gap);
        const baseline = y + SIZE.names * 1.4;
        return [
          text(plain(words), left, baseline, SIZE.names),
          { kind: 'rule', x: left + long, y: baseline + 1.5, width: right - left - long, thickness: 0.6 },
        ];
      }),
  };
}

export const NAMES = ['Teacher', 'Student', 'Date'] as const;

function footer(section: string, number: number, count: number, { width, height, margin, textWidth }: Paper): Item[] {
  const y = height - margin + FOOTER.rise;
  const [words] = linesOf([plain(section)], SIZE.footer, textWidth - 80);
  return [
    ...(words ?? []).map((run) => text(run, margin + run.x, y, SIZE.footer)),
    ...rightAligned(`${number} / ${count}`, width - margin, y, SIZE.footer),
  ];
}

function rightAligned(words: string, right: number, y: number, size: number): Item[] {
  return [text(plain(words), right - size * measure(words, 'regular').width, y, size)];
}

function plain(words: string): Words {
  return { text: words, isStrong: false, isEmphasized: false };
}

function strong(words: string): Words {
  return { text: words, isStrong: true, isEmphasized: false };
}
