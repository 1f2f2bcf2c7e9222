/**
 * The pictures of systems, measured: no label lies on another or on the notation, nothing is outside the picture, no accidental touches a
 * head before it. The notation is that of the engraving library verovio; boxes are read from the finished SVG. `PICTURES=200` tries more
 * random phrases.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score';
import type { ScorePhrase } from '../../server/src/features/score/types';
import { openSnapshot } from '../../server/src/model/snapshot';
import type { Box } from '../../server/src/picture/boxes';
import { createEngraver, type Engraver } from '../../server/src/picture/engraver';
import { inkReader, placement } from '../../server/src/picture/ink';
import { measure } from '../../server/src/picture/measure';
import { drawSystem, type Picture } from '../../server/src/picture/system';
import { descendants, hasClass, readXml, textOf, type Xml } from '../../server/src/picture/xml';
import { lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from '../property/arbitrary';

const ROOT = resolve(import.meta.dirname, '..', '..');
const SAMPLES = readdirSync(join(ROOT, 'samples'))
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => readFileSync(join(ROOT, 'samples', file), 'utf8'));
const RANDOM = Number(process.env['PICTURES'] ?? 50);
/** CSS pixels: the widest page, half a window, a narrow panel, and that panel with all twice as large. */
const NARROWEST = 240;
const WIDTHS = [1100, 620, 320, NARROWEST];

const EIGHT_BARS = `over | Gm7 | C7b9 | Am7b5 D7b9 | Gm7 C7 |
  line | G4-Bb D-F D-C Bb | Bb-Db E-G 1:F-E-Db C-Bb | A-C Eb-G F#-Eb C-A | Bb4-D C-Bb A ~ |`;

const EIGHT_BARS_IN_BOXES = `phrase "Boxes"\n  ${EIGHT_BARS}`;

/** What was seen to go wrong on the page. */
const CASES: Readonly<Record<string, string>> = {
  'bar numbers of two and three digits': `phrase "Long"\n  ${Array.from({ length: 13 }, () => EIGHT_BARS).join('\n  ')}`,
  'high notes with ledger lines and accidentals under wide symbols':
    'phrase "High"\n  over | Ebmaj7#11 Abm11 | F#m7b5/A B7alt |\n  line | C#7-B#6 Cb7-Eb7 D#7-F#7 Gb6-A#6 | Ab6-Cb7 Eb7 F#7-G#6 A6 |',
  'wide figures on neighbours':
    'phrase "Figures"\n  over | C7 | F7 |\n  line | Db4-D#-F#-Ab Db-D#-F#-Ab Ab-Db-Ab-D# F#-Db-D#-Ab | Gb4-G#-B-Db Gb-G#-B-Db Db-Gb-Db-G# B-Gb-G#-Db |',
  'sixteenths with an accidental on every note':
    'phrase "Dense"\n  over | C7alt | B7alt |\n  line | C#4-Cb-D#-Db E#-Fb-F#-Gb G#-Ab-A#-Bb Cb5-C#-Db-D# | D#5-Db-C#-Cb Bb-A#-Ab-G# Gb-F#-Fb-E# Db-D#-Cb-C# |',
  'a pickup': 'phrase "Pickup"\n  over | Fm7 Bb7 | Ebmaj7 |\n  line G4-Ab | Bb-Ab F-D C-Ab F-D | G ~ Bb G |',
  'low notes': 'phrase "Low"\n  part bass\n  over | Dm7 G7 | Cmaj7 |\n  line | E1-F# G#-A B-C#2 D-F | E2-D C#-B1 G#1-F# E1 |',
};

let engraver: Engraver;
beforeAll(async () => {
  engraver = createEngraver(new VerovioToolkit(await createVerovioModule()));
});

function phrasesOf(text: string): readonly ScorePhrase[] {
  return scoreAt(openSnapshot('', 1, text), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }).phrases;
}

function picturesOf(phrase: ScorePhrase, width: number, names = 1): Picture[] {
  return engraver.engrave(phrase, width).map((engraved) => drawn(engraved, phrase, names));
}

function drawn(engraved: ReturnType<Engraver['engrave']>[number], phrase: ScorePhrase, names: number): Picture {
  return drawSystem(engraved, phrase, { degrees: true, devices: true, names });
}

interface Label {
  readonly of: Xml;
  readonly what: string;
  readonly box: Box;
}

interface Measured {
  readonly labels: readonly Label[];
  readonly notation: readonly Box[];
  readonly accidentals: readonly { readonly sign: Box; readonly others: readonly Box[] }[];
  readonly width: number;
  readonly height: number;
}

function measured({ svg }: Picture): Measured {
  const root = readXml(svg);
  const [, , width, height] = root.attributes['viewBox']!.split(' ').map(Number);
  const [outer] = descendants(root, ({ children }) =>
    children.some((child) => typeof child !== 'string' && hasClass('page-margin')(child)),
  );
  const { x, y } = placement(outer!);
  const inkOf = inkReader(root);
  const moved = (box: Box): Box => ({ left: box.left + x, top: box.top + y, right: box.right + x, bottom: box.bottom + y });
  const [page] = descendants(root, hasClass('page-margin'));
  const words = descendants(root, ({ name }) => name === 'text').map(
    (text): Label => ({ of: text, what: textOf(text), box: moved(boxOfText(text)) }),
  );
  const marks = [
    ...descendants(root, hasClass('role')),
    ...descendants(root, hasClass('finding')),
    ...descendants(root, hasClass('device')),
  ].flatMap((mark) => inkOf(mark).map((box): Label => ({ of: mark, what: mark.attributes['class']!, box: moved(box) })));
  const notes = descendants(page!, hasClass('note')).map((note) => {
    const partOf = (name: string): Box[] => descendants(note, hasClass(name)).flatMap(inkOf);
    return { heads: partOf('notehead'), signs: partOf('accid') };
  });
  const accidentals = notes.flatMap(({ signs }, i) =>
    signs.map((sign) => ({ sign, others: notes.flatMap(({ heads, signs: more }, k) => (k === i ? [] : [...heads, ...more])) })),
  );
  return { labels: [...words, ...marks], notation: inkOf(page!).map(moved), accidentals, width: width!, height: height! };
}

function boxOfText({ attributes, children }: Xml): Box {
  const [x, y, size] = [attributes['x'], attributes['y'], attributes['font-size']].map(Number) as [number, number, number];
  const { width, ascent, descent } = measure(children.join(''), attributes['font-weight'] === '700' ? 'bold' : 'regular');
  return { left: x, top: y - size * ascent, right: x + size * width, bottom: y + size * descent };
}

/** Coordinates are written with two decimals. */
const ROUNDING = 0.1;
const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right - ROUNDING && b.left < a.right - ROUNDING && a.top < b.bottom - ROUNDING && b.top < a.bottom - ROUNDING;

/** Half the stroke of the frame that the page draws at the places of notes. */
const STROKE = 13;

/** What is wrong with a picture, in words. */
function faultsOf(picture: Picture): string[] {
  const { labels, notation, accidentals, width, height } = measured(picture);
  const isOutside = ({ left, top, right, bottom }: Box): boolean =>
    left < -ROUNDING || top < -ROUNDING || right > width + ROUNDING || bottom > height + ROUNDING;
  const faults = new Set<string>();
  labels.forEach((label, i) => {
    if (label.what.trim() === '') faults.add('a label is empty');
    if (isOutside(label.box)) faults.add(`${label.what} is outside`);
    if (notation.some((ink) => overlap(label.box, ink))) faults.add(`${label.what} lies on the notation`);
    // The edges of one shape meet.
    for (const other of labels.slice(0, i))
      if (label.of !== other.of && overlap(label.box, other.box)) faults.add(`${label.what} lies on ${other.what}`);
  });
  for (const { what, box } of labels.filter(({ of }) => hasClass('figure')(of)))
    if (picture.places.some(({ x, width: wide }) => [x, x + wide].some((edge) => edge > box.left - STROKE && edge < box.right + STROKE)))
      faults.add(`the frame of a note cuts ${what}`);
  if (notation.some(isOutside)) faults.add('notation is outside');
  if (accidentals.some(({ sign, others }) => others.some((other) => overlap(sign, other)))) faults.add('an accidental touches a head');
  return [...faults];
}

function expectClean(text: string, widths: readonly number[] = WIDTHS): void {
  for (const phrase of phrasesOf(text)) {
    for (const width of widths) {
      const systems = engraver.engrave(phrase, width);
      expect(systems.length).toBeGreaterThan(0);
      // The narrowest page is shown small, with larger names.
      for (const names of width === NARROWEST ? [1, 1.5, 2] : [1]) {
        const faults = systems.flatMap((engraved, i) =>
          faultsOf(drawn(engraved, phrase, names)).map((fault) => `system ${i + 1} at ${width}, names ${names}: ${fault}`),
        );
        expect(faults, text.slice(0, 2000)).toEqual([]);
      }
    }
  }
}

test('names of devices can be larger, and nothing else is', () => {
  const [phrase] = phrasesOf('phrase "Weir"\n  over | Dm7 G7 |\n  line | D4-F A-C5 B-G F-D |\n');
  const sizes = (names: number): unknown[] =>
    descendants(readXml(picturesOf(phrase!, 620, names)[0]!.svg), ({ name }) => name === 'text').map((text) => [
      textOf(text),
      Number(text.attributes['font-size']),
    ]);
  const isName = ([words]: [string, number]): boolean => /[a-z]{4}/.test(words);
  const [usual, larger] = [sizes(1), sizes(1.5)] as [string, number][][];
  expect(usual!.some(isName)).toBe(true);
  expect(larger).toEqual(usual!.map((one) => (isName(one) ? [one[0], one[1] * 1.5] : one)));
});

test('what is wrong is seen', () => {
  const [phrase] = phrasesOf('phrase "Weir"\n  over | Dm7 G7 |\n  line | D4-F Ab-C5 B-G F#-D |\n');
  const [picture] = picturesOf(phrase!, 620);
  const faults = (from: RegExp, to: string): string[] => faultsOf({ ...picture!, svg: picture!.svg.replace(from, to) });
  expect(faults(/^/, '')).toEqual([]);
  expect(faults(/(class="harm"><text x="[\d.]+" y=")-?[\d.]+/, '$1900')).toContain('Dm7 lies on the notation');
  expect(faults(/viewBox="0 0 (\d+) \d+"/, 'viewBox="0 0 $1 1000"').length).toBeGreaterThan(3);
  const [accidental] = descendants(readXml(picture!.svg), hasClass('accid')).filter(({ children }) => children.length > 0);
  const { x } = placement(accidental!.children[0] as Xml);
  expect(faultsOf({ ...picture!, svg: picture!.svg.replace(`translate(${x},`, `translate(${x - 330},`) })).toContain(
    'an accidental touches a head',
  );
  expect(
    faultsOf({ ...picture!, svg: picture!.svg.replace(/(class="figure[^"]*" x=")[\d.]+/g, '$1700') }).some((fault) =>
      / lies on /.test(fault),
    ),
  ).toBe(true);
});

test('boxes for degrees are of one width, apart from each other and from the notation; degrees fit into them', () => {
  for (const text of [...Object.values(CASES), EIGHT_BARS_IN_BOXES]) {
    for (const phrase of phrasesOf(text)) {
      const notes = phrase.notes.map(({ figure, later }) => ({ figure: figure === null ? null : 'b13', later }));
      for (const engraved of engraver.engrave({ musicXml: phrase.musicXml, notes }, 720)) {
        const [blank, filled] = (['blank', 'filled'] as const).map((boxes) =>
          drawSystem(engraved, phrase, { degrees: true, devices: false, boxes }),
        );
        const root = readXml(filled!.svg);
        const inkOf = inkReader(root);
        const boxes = descendants(root, hasClass('answer')).map((answer) => ({
          box: inkOf(answer)[0]!,
          label: boxOfText(descendants(answer, hasClass('figure'))[0]!),
        }));
        expect(boxes.length).toBeGreaterThan(0);
        const [page] = descendants(root, hasClass('page-margin'));
        const lowest = Math.max(...inkOf(page!).map(({ bottom }) => bottom));
        for (const [i, { box, label }] of boxes.entries()) {
          expect(box.right - box.left).toBeCloseTo(boxes[0]!.box.right - boxes[0]!.box.left, 1);
          expect(box.top).toBeGreaterThan(lowest);
          expect(label.left).toBeGreaterThanOrEqual(box.left);
          expect(label.right).toBeLessThanOrEqual(box.right);
          expect(label.top).toBeGreaterThan(box.top);
          expect(label.bottom).toBeLessThan(box.bottom);
          if (i > 0) expect(box.left, text.slice(0, 200)).toBeGreaterThan(boxes[i - 1]!.box.right);
        }
        // A blank sheet is the same picture without the degrees.
        expect(blank!.height).toBe(filled!.height);
        expect(blank!.svg).toBe(filled!.svg.replace(/<text class="figure"[^>]*>[^<]*<\/text>/g, ''));
      }
    }
  }
}, 120_000);

test('a phrase looks the same whatever it was engraved for before', async () => {
  const fresh = new VerovioToolkit(await createVerovioModule());
  for (const text of [CASES['a pickup']!, EIGHT_BARS_IN_BOXES]) {
    for (const phrase of phrasesOf(text)) {
      const again = createEngraver(fresh);
      for (const width of [...WIDTHS].reverse()) again.engrave(phrase, width);
      for (const width of WIDTHS) expect(again.engrave(phrase, width)).toEqual(createEngraver(fresh).engrave(phrase, width));
    }
  }
}, 120_000);

test('a phrase that has no bar yet has no picture', () => {
  const [phrase] = phrasesOf('phrase "Nothing yet"\n');
  expect(engraver.engrave(phrase!, 620)).toEqual([]);
});

test('a bracket that goes on over the end of a system is open there, and is wider than a note on each', () => {
  const [phrase] = phrasesOf(
    'phrase "Over"\n  key C major\n  over | Dm7 | G7 | Cmaj7 | Am7 |\n  line | D4-F A-C5 E-D C-B4 | Ab-Bb B-Db D-F E-Eb | D-Db C-B C-D E-G | A-C5 E-G F-E D-C |\n',
  );
  for (const width of WIDTHS) {
    const pictures = picturesOf(phrase!, width);
    const shown = pictures.map(({ svg }) => {
      const root = readXml(svg);
      return descendants(root, hasClass('device')).map((device) => {
        const [path] = descendants(device, ({ name }) => name === 'path');
        const [, left, right] = /^M(\S+) \S+?(?:V\S+?)?H([\d.]+)/.exec(path!.attributes['d']!)!.map(Number);
        const hooks = /^M\S+ \S+?(V\S+?)?H[\d.]+(V\S+)?$/.exec(path!.attributes['d']!)!;
        return {
          name: textOf(device),
          left: left!,
          right: right!,
          isOpenLeft: hooks[1] === undefined,
          isOpenRight: hooks[2] === undefined,
        };
      });
    });
    const ends = (side: 'isOpenLeft' | 'isOpenRight') =>
      shown.map((devices) =>
        devices
          .filter((one) => one[side])
          .map(({ name }) => name)
          .sort(),
      );
    // What is open at the end of one system is open at the beginning of the next, and nothing else is.
    expect(ends('isOpenLeft').slice(1), String(width)).toEqual(ends('isOpenRight').slice(0, -1));
    expect([ends('isOpenLeft')[0], ends('isOpenRight')[pictures.length - 1]]).toEqual([[], []]);
    if (pictures.length > 1) expect(ends('isOpenRight').flat()).toContain('tension resolution');
    // The head of a quarter is 1.18 staff spaces wide (Bravura, from memory).
    for (const { left, right, name } of shown.flat()) expect(right - left, name).toBeGreaterThanOrEqual(1.18 * 180);
    for (const { left, right, name } of shown.flat().filter(({ isOpenLeft, isOpenRight }) => isOpenLeft || isOpenRight))
      expect(right - left, name).toBeGreaterThan(2 * 1.18 * 180);
  }
});

describe('no label lies on another or on the notation, nothing is outside', () => {
  test.each(Object.entries(CASES))(
    '%s',
    (_, text) => {
      expect(phrasesOf(text)[0]!.broken?.message).toBeUndefined();
      expectClean(text);
    },
    120_000,
  );

  test('every sample', () => {
    for (const text of SAMPLES) expectClean(text);
  }, 240_000);

  test(`${RANDOM} random phrases`, () => {
    const texts = fc.sample(fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary), { seed: RUN.seed, numRuns: RANDOM });
    for (const { text } of texts) expectClean(text);
  }, 600_000);
});
