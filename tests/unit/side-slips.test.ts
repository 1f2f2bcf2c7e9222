/** A figure that comes again a half step away and back is moved on purpose: nothing is held against its notes, and nothing else is told of them (common practice). */
import { describe, expect, test } from 'vitest';
import { devicesAt, devicesOf, matchesOf } from '../../server/src/analysis/devices/read';
import { checkWords } from '../../server/src/analysis/claims/check';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { oneLine } from '../../server/src/explain/one-line';
import { tell } from '../../server/src/explain/telling/tell';
import { tellNotes } from '../../server/src/explain/telling/notes';
import { noteHover } from '../../server/src/features/hover/note';
import { openSnapshot, whileWritten } from '../../server/src/model/snapshot';
import { findingsOf, problemsOf } from '../../server/src/rules/findings';

const textOf = (over: string, line: string): string => `phrase "A"\n  over ${over}\n  line ${line}`;
const read = (over: string, line: string): Reading =>
  readPhrase(openSnapshot('', 1, textOf(over, line)).phrases[0]!.phrase, DEFAULT_THEORY);
const rulesOf = (reading: Reading): string[] => problemsOf(reading).map(({ rule }) => rule);

const THREE = '| Dm7 | % | % |';
const MODEL = '| D4-E F-A G-F E-D |';
const COPY = 'Eb4-F Gb-Bb Ab-Gb F-Eb |';
const BACK = 'E4-F A-C5 A ~ |';

/** Name, chords, line, what is told of the slip. */
const SLIPS: readonly (readonly [string, string, string, string])[] = [
  [
    'a bar up',
    THREE,
    `${MODEL} ${COPY} ${BACK}`,
    '2 Eb-F-Gb-Bb-Ab-Gb-F-Eb, the same figure a half step higher, side-slips from Dm7 and back to E.',
  ],
  [
    'with sharps',
    THREE,
    `${MODEL} D#4-E# F#-A# G#-F# E#-D# | ${BACK}`,
    '2 D#-E#-F#-A#-G#-F#-E#-D#, the same figure a half step higher, side-slips from Dm7 and back to E.',
  ],
  [
    'of another shape, back on beat 1',
    THREE,
    '| D4-F A-C5 B-A G-F | Eb4-Gb Bb-Db5 C-Bb Ab-Gb | F4 ~ A ~ |',
    '2 Eb-Gb-Bb-Db-C-Bb-Ab-Gb, the same figure a half step higher, side-slips from Dm7 and back to F, the third.',
  ],
  [
    'of half a bar',
    '| Dm7 | % |',
    '| A4-G F-D Bb4-Ab Gb-Eb | E4-F A ~ . |',
    '1 Bb-Ab-Gb-Eb, the same figure a half step higher, side-slips from Dm7 and back to E.',
  ],
  [
    'before the figure inside',
    THREE,
    `| ${COPY} ${MODEL.slice(2)} F4 ~ A ~ |`,
    '1 Eb-F-Gb-Bb-Ab-Gb-F-Eb side-slips a half step up from Dm7 and back to D, the root.',
  ],
  [
    'down',
    THREE,
    `${MODEL} C#4-D# E-G# F#-E D#-C# | D4-F A-C5 A ~ |`,
    '2 C#-D#-E-G#-F#-E-D#-C#, the same figure a half step lower, side-slips from Dm7 and back to D, the root.',
  ],
  [
    'of four quarters',
    '| Cmaj7 | % | % |',
    '| E4 G B A | F4 Ab C5 Bb | B4 G E ~ |',
    '2 F-Ab-C-Bb, the same figure a half step higher, side-slips from Cmaj7 and back to B, the seventh.',
  ],
  [
    'with rests between',
    THREE,
    '| D4-E F-A . . | Eb4-F Gb-Bb . . | D4-E F-A ~ . |',
    '2 Eb-F-Gb-Bb, the same figure a half step higher, side-slips from Dm7 and back to D, the root.',
  ],
  [
    'over the V of the ii',
    '| Dm7 | G7 | Cmaj7 |',
    '| D4-F A-C5 B-A G-F | Eb4-Gb Bb-Db5 C-Bb Ab-Gb | E4 ~ G ~ |',
    '2 Eb-Gb-Bb-Db-C-Bb-Ab-Gb, the same figure a half step higher, side-slips from Dm7 over G7 and back to E, the third of Cmaj7.',
  ],
  [
    'written in degrees',
    THREE,
    '| 1-2 b3-5 4-b3 2-1 | b2-b3 n3-b6 b5-n3 b3-b2 | 1-b3 5-b7 5 ~ |',
    '2 Eb-F-F#-Bb-Ab-F#-F-Eb, the same figure a half step higher, side-slips from Dm7 and back to D, the root.',
  ],
];

describe('a figure that comes again a half step away', () => {
  test.each(SLIPS)('%s: nothing is held against it, and that it slips is all that is told', (_, over, line, told) => {
    const reading = read(over, line);
    expect(reading.slips.size).toBeGreaterThan(0);
    expect(problemsOf(reading)).toEqual([]);
    const slipping = tell(reading).filter(({ notes }) => notes.some((note) => reading.slips.has(note)));
    expect(slipping.map(({ bar, text }) => `${bar} ${text}`)).toEqual([told]);
  });

  test.each(SLIPS)('%s: its notes are of no other device, and of no sequence', (_, over, line) => {
    const reading = read(over, line);
    for (const note of reading.slips.keys()) expect(devicesAt(reading, note).map(({ kind }) => kind)).toEqual(['side-slip']);
    expect(matchesOf(reading).filter(({ kind, target }) => kind !== 'side-slip' && target !== null && reading.slips.has(target))).toEqual(
      [],
    );
  });

  test.each([
    ['above, an octave lower', '| Cmaj7 | % |', '| C4-D E-G Db4-Eb F-Ab | G ~ E . |'],
    ['above, where the letter alone goes an octave up', '| Cmaj7 | % |', '| C4-D E-G Db-Eb F-Ab | G ~ E . |'],
    ['below, an octave up', '| Em7 | % |', '| E4-F# G-B D#5-E# F#-A# | B-A G-F# E ~ |'],
  ])('a half step %s', (_, over, line) => {
    const reading = read(over, line);
    expect([...reading.slips.keys()]).toEqual([4, 5, 6, 7]);
    expect(problemsOf(reading)).toEqual([]);
  });

  test('goes on to the note on which the line comes back, which is none of it', () => {
    const reading = read(THREE, '| D4-F A-C5 B-A G-F | Eb4-Gb Bb-Db5 C-Bb Ab-Gb | F4 ~ A ~ |');
    const slip = devicesOf(reading).find(({ kind }) => kind === 'side-slip')!;
    expect([slip.from, slip.to, slip.target, slip.detail]).toEqual([8, 15, 16, 'up']);
  });

  test('is read so in the hover, in claims, above the phrase and note by note', () => {
    const reading = read(THREE, `${MODEL} ${COPY} ${BACK}`);
    expect(noteHover(reading, 12)).toContain('Not flagged: it belongs to a side-slip, which comes back to E4.');
    const status = (claim: string): string => checkWords(claim.split(' '), reading).status;
    expect(['no clash', 'side-slip', 'side-slip at 3.1', 'passing-tone at 2.1+1/2', 'sequence'].map(status)).toEqual([
      'holds',
      'holds',
      'holds',
      'refuted',
      'refuted',
    ]);
    expect(oneLine(reading, [])).toMatch(/^Nothing clashes/);
    expect(tellNotes(reading)[8]!.text).toBe('Beat 1: Eb (side slip).');
    expect(tellNotes(reading)[16]!.text).toBe('Beat 1: E, the ninth of Dm7 (target of side slip).');
  });
});

describe('excuses nothing', () => {
  test.each([
    ['where the line does not come back', '| Dm7 | % |', `${MODEL} ${COPY}`],
    ['where one note is another', THREE, `${MODEL} Eb4-F Gb-Bb Ab-Gb F-D | ${BACK}`],
    ['where the rhythm is another', THREE, `${MODEL} Eb4-F-Gb-Bb Ab Gb-F Eb | ${BACK}`],
    ['where the figure itself is outside', THREE, `| D4-E F#-A G-F# E-D | ${COPY} ${BACK}`],
    ['where it goes on a half step again', '| Dm7 | % | % | % |', `${MODEL} ${COPY} E4-F# G-B A-G F#-E | D4 ~ ~ ~ |`],
    ['where it is held into another chord', '| Dm7 | % | Cmaj7 |', `${MODEL} ${COPY.replace(' |', '')} | ~ E G ~ |`],
    ['of three notes', '| Dm7 | % |', '| D4-F A Eb-Gb Bb | A4 F D ~ |'],
    ['of two pitches', '| Cmaj7 | % |', '| E4-G E-G F-Ab F-Ab | G4 ~ ~ . |'],
    ['over a chord of another scale', '| Em7 | Dm7 | % |', '| E4-F# G-B A-G F#-E | Eb4-F Gb-Bb Ab-Gb F-Eb | D4 ~ ~ ~ |'],
    ['a step away', THREE, `${MODEL} E4-F# G-B A-G F#-E | D4 F A ~ |`],
    ['across the beat', '| Dm7 | % |', '| D4-F-A Eb-Gb-Bb D4 F# | D4 ~ ~ . |'],
  ])('%s', (_, over, line) => {
    const reading = read(over, line);
    expect(reading.slips.size).toBe(0);
    expect(rulesOf(reading).filter((rule) => rule === 'clash' || rule === 'rub')).not.toEqual([]);
  });

  test('beside it: a mistake before and after keeps its finding', () => {
    const clean = read('| Dm7 | % | % | % |', `${MODEL} ${COPY} ${BACK} Db5 ~ A ~ |`);
    expect(clean.slips.size).toBe(8);
    expect(problemsOf(clean).map(({ rule, about }) => `${rule} ${about!.note}`)).toEqual(['clash 21']);
  });
});

/** What is told, and not early, of a line that is typed note by note: by the place of each finding. */
function toldWhileTyped(over: string, line: string): string[][] {
  const head = textOf(over, '');
  return [...line].map((_, i) => {
    const text = head + line.slice(0, i + 1);
    return findingsOf(whileWritten(openSnapshot('', 1, text), [text.length]), DEFAULT_THEORY)
      .filter(({ early }) => !early)
      .map(({ rule, start }) => `${rule} ${start}`);
  });
}

describe('while it is written', () => {
  test.each(SLIPS)('%s: nothing is told that goes again', (_, over, line) => {
    for (const told of toldWhileTyped(over, line)) expect(told).toEqual([]);
  });

  test('nor is a claim that nothing clashes refuted', () => {
    const line = `| ${COPY} D4-E F-A `;
    const text = textOf(THREE, line);
    const told = findingsOf(whileWritten(openSnapshot('', 1, `${text}\n  claim no clash\n`), [text.length]), DEFAULT_THEORY);
    expect(told.filter(({ rule }) => rule === 'claim-refuted').map(({ early }) => early)).toEqual([true]);
  });

  test('a note that can be of no slip any more is told', () => {
    const told = toldWhileTyped('| Dm7 | % | % | % |', `${MODEL} Eb4 ~ Gb ~ | D4-E F-A D ~ |`);
    expect(told.at(-1)!.map((one) => one.split(' ')[0])).toEqual(['clash', 'clash']);
  });
});
