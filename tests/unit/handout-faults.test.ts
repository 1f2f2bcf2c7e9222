/** A phrase that throws while it is read, engraved, told or printed costs a handout only itself: its title and one line stand in its place, and the fault is told once. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { makeExerciseSheet } from '../../server/src/exercises/sheet';
import { makeHandout } from '../../server/src/handout/handout';
import { writeHtml } from '../../server/src/handout/html';
import { layOut, type Pages } from '../../server/src/handout/layout';
import { paperOf } from '../../server/src/handout/paper';
import { DEFAULT_HANDOUT, type Block, type Handout, type HandoutOptions } from '../../server/src/handout/types';
import { onceEach, onFault } from '../../server/src/model/faults';
import { writePdf } from '../../server/src/pdf';
import { createEngraver, type Engraver } from '../../server/src/picture/engraver';

/** The function that throws where it is asked about the phrase “Weir”. */
const { broken, breakable } = await vi.hoisted(async () => {
  const { breakable, holds } = await import('./breakable');
  const broken = { name: '' };
  const isWeir = (value: unknown): boolean => typeof value === 'string' && value.includes('Weir');
  const within = ['name', 'phrase', 'reading', 'placed', 'asRead', '0'];
  return { broken, breakable: breakable((name, args) => broken.name === name && args.some((one) => holds(one, within, isWeir))) };
});
vi.mock('../../server/src/assists/vary/other-keys', breakable);
vi.mock('../../server/src/exercises/number-notes', breakable);
vi.mock('../../server/src/explain/walkthrough', breakable);
vi.mock('../../server/src/exports/musicxml', breakable);
vi.mock('../../server/src/handout/degree-words', breakable);
vi.mock('../../server/src/handout/heading', breakable);
vi.mock('../../server/src/handout/pictures', breakable);
vi.mock('../../server/src/handout/versions', breakable);
vi.mock('../../server/src/picture/emphasis', breakable);

afterEach(() => {
  broken.name = '';
});

const row = (name: string, line: string): string =>
  `phrase "${name}"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | ${line} |\n  say "${name} is **sung** first."\n  claim range C3 to C7\n\n`;
const TEXT = `lesson "By the water"\n\n${row('Slipway', 'D4-F A-C5 B4-A G-F | E ~ . .')}${row('Weir', 'A4-G F-E D-F G-B | C5 ~ . .')}${row('Lock', 'F4-E D-F A-G F-D | E4 ~ . .')}`;

let engraver: Engraver;
beforeAll(async () => {
  const whole = createEngraver(new VerovioToolkit(await createVerovioModule()));
  engraver = {
    ...whole,
    engrave(engraving, width) {
      if (broken.name === 'engrave' && engraving.musicXml.includes('Weir')) throw new Error('engrave is broken');
      return whole.engrave(engraving, width);
    },
  };
});

interface Made {
  readonly handout: Handout;
  readonly told: readonly string[];
}
function made(options: Partial<HandoutOptions>): Made {
  const told: string[] = [];
  const end = onFault(onceEach((fault) => void told.push(fault.message)));
  const make = options.sheet?.startsWith('exercise') === true ? makeExerciseSheet : makeHandout;
  const handout = make(
    [{ name: 'water', text: TEXT }],
    { ...DEFAULT_HANDOUT, ...options },
    { theory: DEFAULT_THEORY, engraver, onProgress: () => {} },
  );
  end();
  return { handout, told };
}
/** What is made of a wish while nothing is broken, once for all cases. */
function whole(options: Partial<HandoutOptions>): Handout {
  const wish = JSON.stringify(options);
  const found = wholes.get(wish) ?? made(options).handout;
  wholes.set(wish, found);
  return found;
}
const wholes = new Map<string, Handout>();
/** The blocks of each phrase, in their order, from its title; those before the first come first. */
function phrases({ blocks }: Handout): Block[][] {
  const parts: Block[][] = [[]];
  for (const block of blocks) {
    if (block.kind === 'phrase' || block.kind === 'section') parts.push([]);
    parts.at(-1)!.push(block);
  }
  return parts.filter((part) => part.length > 0);
}
const isWeir = ([first]: readonly Block[]): boolean => first?.kind === 'phrase' && first.name.includes('Weir');
const wordsIn = (blocks: readonly Block[]): string[] =>
  blocks.flatMap((block) =>
    block.kind === 'prose'
      ? [block.words.map(({ text }) => text).join('')]
      : block.kind === 'systems'
        ? block.systems.map(() => 'a system')
        : block.kind === 'phrase'
          ? []
          : [JSON.stringify(block)],
  );
const DRAWN = 'This phrase could not be drawn. That is a fault of Phrasewright, not of the phrase.';
const TOLD = 'What is said of this phrase could not be told. That is a fault of Phrasewright, not of the phrase.';

interface Case {
  readonly broken: string;
  readonly options?: Partial<HandoutOptions>;
  /** What stands under the title of the phrase instead, by what stood there. */
  readonly instead: (words: readonly string[]) => readonly string[];
  /** Null: nothing else of the title changes. */
  readonly heading?: '';
  readonly told: string;
  /** It is asked where a phrase is moved to other keys, too. */
  readonly isOfKeys?: true;
}
const noPicture = (words: readonly string[]): string[] => [DRAWN, ...words.filter((one) => one !== 'a system')];
const CASES: readonly Case[] = [
  { broken: 'versionsOf', instead: () => [DRAWN], heading: '', told: 'the reading of “Weir” broke off: versionsOf is broken' },
  { broken: 'engrave', instead: noPicture, told: 'the notation of “Weir” broke off: engrave is broken' },
  { broken: 'writeMusicXml', instead: noPicture, told: 'the notation of “Weir” broke off: writeMusicXml is broken' },
  { broken: 'systemsOf', options: { sheet: 'student' }, instead: noPicture, told: 'the notation of “Weir” broke off: systemsOf is broken' },
  { broken: 'phraseHeading', instead: (words) => words, heading: '', told: 'the heading of “Weir” broke off: phraseHeading is broken' },
  {
    broken: 'walkthrough',
    instead: (words) => [...words.slice(0, words.indexOf('a system') + 1), TOLD],
    told: 'what is said of “Weir” broke off: walkthrough is broken',
    isOfKeys: true,
  },
  {
    broken: 'wordsOf',
    options: { sheet: 'answers' },
    instead: () => ['a system', TOLD],
    told: 'what is said of “Weir” broke off: wordsOf is broken',
  },
  {
    broken: 'tellsDegree',
    options: { sheet: 'student' },
    instead: () => ['a system', TOLD],
    told: 'what is said of “Weir” broke off: tellsDegree is broken',
  },
];

describe('a phrase that throws', () => {
  test.each(CASES.map((one) => [one.broken, one] as const))(
    'in %s costs only itself, in every key and part',
    (name, { options, instead, heading, told, isOfKeys }) => {
      for (const more of [{}, { parts: ['concert', 'alto-sax'], ...(isOfKeys ? {} : { keys: ['C', 'G'] }) } as const]) {
        const asked = { ...options, ...more };
        const before = phrases(whole(asked));
        broken.name = name;
        const { handout, told: heard } = made(asked);
        broken.name = '';
        const after = phrases(handout);
        expect(after.filter((one) => !isWeir(one))).toEqual(before.filter((one) => !isWeir(one)));
        const [lost, were] = [after.filter(isWeir), before.filter(isWeir)];
        // Where it cannot even be read, nothing is known of its keys.
        const wanted =
          name === 'versionsOf' && 'keys' in more
            ? were
                .filter((_, i) => i % 2 === 0)
                .map((one) => one.map((block) => ({ ...block, ...(block.kind === 'phrase' ? { name: 'Weir' } : {}) }) as Block))
            : were;
        expect(lost.map(([title]) => title)).toEqual(
          wanted.map(([title]) => ({ ...title, ...(heading === undefined ? {} : { heading }) })),
        );
        lost.forEach((blocks, i) => {
          const said = wordsIn(wanted[i]!);
          // What is said is said with the first key.
          const isFirst = blocks[0]!.kind === 'phrase' && blocks[0]!.listed !== null;
          expect(wordsIn(blocks)).toEqual(isFirst || !instead(said).includes(TOLD) ? instead(said) : said);
        });
        expect(heard).toEqual([told]);
        expect(handout.notices).toEqual(whole(asked).notices);
        // The title and the line stand on one page, and in whole elements.
        const { pages } = layOut(handout, paperOf('a4'));
        const linesOf = (words: string): number[] =>
          pages.flatMap(({ items }, page) => (items.some((item) => item.kind === 'text' && item.words.startsWith(words)) ? [page] : []));
        if (lost.some((blocks) => wordsIn(blocks).includes(DRAWN)))
          for (const page of linesOf('This phrase could not be drawn')) expect(linesOf('Weir')).toContain(page);
        const html = writeHtml(handout, paperOf('a4'), { regular: '', bold: '' });
        expect(html.match(/<div /g)!.length).toBe(html.match(/<\/div>/g)!.length);
        expect(html.match(/<p[ >]/g)!.length).toBe(html.match(/<\/p>/g)!.length);
      }
    },
  );

  test('in one key costs that key alone', () => {
    const options = { keys: ['C', 'G', 'F'] };
    const before = phrases(whole(options));
    broken.name = 'inKeyOf';
    const { handout, told } = made(options);
    expect(phrases(handout)).toEqual(
      before.filter((one) => !isWeir(one) || (one[0]!.kind === 'phrase' && one[0]!.name.endsWith('C major'))),
    );
    expect(told).toEqual(['“Weir” in G major broke off: inKeyOf is broken', '“Weir” in F major broke off: inKeyOf is broken']);
    // That it lies too far off would not be true.
    expect(handout.notices).toEqual([]);
  });

  test('everywhere still has all titles, and each is told', () => {
    const able = engraver;
    engraver = {
      ...able,
      engrave: () => {
        throw new Error('no library');
      },
    };
    const { handout, told } = made({});
    engraver = able;
    expect(handout.blocks.flatMap((block) => (block.kind === 'phrase' ? [block.name] : []))).toEqual(['Slipway', 'Weir', 'Lock']);
    expect(told).toEqual(['Slipway', 'Weir', 'Lock'].map((name) => `the notation of “${name}” broke off: no library`));
  });
});

describe('an exercise that throws', () => {
  const titles = (handout: Handout): string[] => handout.blocks.flatMap((block) => (block.kind === 'phrase' ? [block.name] : []));

  test('while it is drawn has its title and one line; sheet and answers go on alike', () => {
    for (const sheet of ['exercises', 'exercise-answers'] as const) {
      const before = phrases(whole({ sheet }));
      expect(before.filter(isWeir).length).toBeGreaterThan(1);
      broken.name = 'engrave';
      const { handout, told } = made({ sheet });
      broken.name = '';
      const after = phrases(handout);
      expect(after.map(([title]) => title)).toEqual(before.map(([title]) => title));
      expect(after.filter((one) => !isWeir(one))).toEqual(before.filter((one) => !isWeir(one)));
      for (const [i, blocks] of after.filter(isWeir).entries())
        expect(wordsIn(blocks)).toEqual([
          'This exercise could not be drawn. That is a fault of Phrasewright, not of the phrase.',
          ...wordsIn(before.filter(isWeir)[i]!).filter((one) => one !== 'a system'),
        ]);
      expect(told.length).toBe(
        new Set(after.filter(isWeir).map(([title]) => (title as { name: string }).name.replace(/^\d+\. /, ''))).size,
      );
      for (const one of told) expect(one).toMatch(/^the notation of the exercise “[A-Za-z –]+” from “Weir” broke off: engrave is broken$/);
    }
  });

  test('while it is made is left out on both sheets, and told', () => {
    broken.name = 'numberNotes';
    const [sheet, answers] = (['exercises', 'exercise-answers'] as const).map((one) => made({ sheet: one }));
    expect(titles(sheet!.handout)).toEqual(titles(answers!.handout));
    expect(
      titles(sheet!.handout)
        .filter((name) => name.includes('Number the notes'))
        .map((name) => /“(.+)”/.exec(name)![1]),
    ).toEqual(['Slipway', 'Lock']);
    for (const { told } of [sheet!, answers!])
      expect(told).toEqual(['the exercise “Number the notes” from “Weir” broke off: numberNotes is broken']);
  });

  test('because its phrase cannot be read leaves those of the others', () => {
    broken.name = 'versionsOf';
    const { handout, told } = made({ sheet: 'exercises' });
    expect(titles(handout).length).toBeGreaterThan(1);
    expect(titles(handout).filter((name) => name.includes('Weir'))).toEqual([]);
    expect(told).toEqual(['the reading of “Weir” broke off: versionsOf is broken']);
  });
});

describe('a picture that cannot be printed', () => {
  const fonts = (): { readonly regular: Uint8Array; readonly bold: Uint8Array } => {
    const folder = join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf');
    return {
      regular: readFileSync(join(folder, 'DejaVuSansCondensed.ttf')),
      bold: readFileSync(join(folder, 'DejaVuSansCondensed-Bold.ttf')),
    };
  };
  /** The PDF, and what is told while it is written. */
  const printed = async (pages: Pages): Promise<{ readonly bytes: Uint8Array; readonly told: readonly string[] }> => {
    const told: string[] = [];
    const end = onFault(onceEach((fault) => void told.push(fault.message)));
    const bytes = await writePdf(pages, fonts()).finally(end);
    return { bytes, told };
  };

  test('has a line in its place, and all others are printed', async () => {
    const pages = layOut(whole({ sheet: 'student' }), paperOf('a4'));
    const pictures = pages.pages.flatMap(({ items }) => items.filter((item) => item.kind === 'picture'));
    const [, weir] = pictures;
    expect(pictures).toHaveLength(3);
    const withWeir = (item: (typeof pages.pages)[number]['items'][number]): Pages => ({
      ...pages,
      pages: pages.pages.map((page) => ({ ...page, items: page.items.map((one) => (one === weir ? item : one)) })),
    });
    // A path without its numbers, which the library refuses in the middle of the picture.
    const { bytes, told } = await printed(
      withWeir({ ...weir!, svg: weir!.svg.replace(/ d="[^"]*"/, ' d="M 0 0 L 5"') } as typeof weir & object),
    );
    expect(told).toEqual([expect.stringMatching(/^the printing of “Weir” broke off: A picture could not be printed: /)]);
    const line = await printed(
      withWeir({
        kind: 'text',
        x: weir!.x,
        y: weir!.y + 10,
        size: 10,
        words: 'This system could not be printed. That is a fault of Phrasewright, not of the phrase.',
        isBold: false,
        isSlanted: false,
      }),
    );
    expect(line.told).toEqual([]);
    expect(Buffer.compare(bytes, line.bytes)).toBe(0);
  });
});
