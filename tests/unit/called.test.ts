/** What notes are called over their chords: figures of the trade, in figures and in words. */
import { describe, expect, test } from 'vitest';
import { degreeHintsOf, readingOf } from './called-help';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { tell } from '../../server/src/explain/telling/tell';
import { withRole } from '../../server/src/explain/note-words';
import { noteHover } from '../../server/src/features/hover/note';
import { beatWords, durationWords } from '../../server/src/rules/words';
import { findingsOf } from '../../server/src/rules/findings';
import { openSnapshot } from '../../server/src/model/snapshot';

describe('a note over a chord', () => {
  // The figures of the trade as they are taught; common practice.
  test.each([
    ['C7', 'C Db D D# E F F# G Ab A Bb B', '1 b9 9 #9 3 11 #11 5 b13 13 b7 n7'],
    ['C7', 'B# C# D Eb Fb E# Gb G G# A A# Cb', '1 b9 9 #9 3 11 #11 5 b13 13 b7 n7'],
    ['Cmaj7', 'C Db D Eb E F F# G Ab A Bb B', '1 b9 9 #9 3 11 #11 5 b13 13 b7 7'],
    ['Cm7', 'C Db D Eb E F Gb F# G Ab A Bb B', '1 b9 9 b3 n3 11 b5 #11 5 b13 13 b7 n7'],
    ['C', 'Db D Eb E F Gb G Ab G# A Bb B', 'b9 9 #9 3 11 #11 5 b13 #5 13 b7 n7'],
    ['C6', 'D F G# Ab A B', '9 11 #5 b13 6 n7'],
    ['Cm6', 'Eb F# A Bb B', 'b3 #11 6 b7 n7'],
    ['Cdim7', 'C D Eb F Gb Ab A Bbb B', '1 9 b3 11 b5 b13 bb7 bb7 n7'],
    ['Cm7b5', 'Db Eb F# Gb G Ab A Bb', 'b9 b3 b5 b5 n5 b13 13 b7'],
    ['C7sus', 'D Eb E F G A Bb', '9 #9 3 4 5 13 b7'],
    ['C+7', 'Ab G# G A', '#5 #5 n5 13'],
    ['C7alt', 'Db Eb E F# Gb G G# Ab A D', 'b9 #9 3 #11 b5 5 #5 b13 n13 n9'],
    ['C7b9', 'D Db A', 'n9 b9 13'],
    ['C5', 'Eb E F#', 'b3 3 #11'],
    ['C9', 'D', '9'],
    ['Csus2', 'D F', '2 11'],
  ])('%s: %s is %s', (chord, notes, figures) => {
    expect(notes.split(' ').map((note) => degreeHintsOf(chord, note)[0])).toEqual(figures.split(' '));
  });

  test('2, 4 and 6 by the setting, but where the chord writes 9, 11 or 13, or the tension is altered', () => {
    const scale = { ...DEFAULT_THEORY, numbers: 'scale' as const };
    expect(['D', 'F', 'A', 'Db', 'F#'].map((note) => degreeHintsOf('C7', note, scale)[0])).toEqual(['2', '4', '6', 'b9', '#11']);
    expect(['D', 'A'].map((note) => degreeHintsOf('C13', note, scale)[0])).toEqual(['9', '13']);
    expect(degreeHintsOf('C7b9', 'D', scale)[0]).toBe('2');
  });
});

describe('in words', () => {
  const role = (chord: string, note: string): string => withRole(readingOf(`key F major\n  over | ${chord} |`, `| ${note}4 ~ ~ ~ |`), 0);

  test.each([
    ['A7', 'A#', 'the flat nine of A7, written A#'],
    ['Dm7', 'F#', 'F#, the major third, where Dm7 has F'],
    ['Dm7', 'Ab', 'Ab, the flat five, where Dm7 has A'],
    ['G7', 'F#', 'F#, the major seventh, where G7 has F'],
    ['Cmaj7', 'Bb', 'Bb, the minor seventh, where Cmaj7 has B'],
    ['C7#5', 'G', 'G, the perfect fifth, where C7#5 has G#'],
    ['C', 'G#', 'G#, the sharp five, where C has G'],
    ['Cdim7', 'B', 'B, the major seventh, where Cdim7 has A (strictly Bbb)'],
    ['C', 'B', 'B, the major seventh of C'],
    ['Cm7', 'D#', 'the third of Cm7, written D#'],
    ['C7', 'Eb', 'Eb, the sharp nine of C7'],
    ['Cdim7', 'A', 'A, the seventh of Cdim7'],
    ['Fmaj7', 'Cb', 'Cb, the sharp eleven of Fmaj7'],
    ['C', 'C#', 'the flat nine of C, written C#'],
  ])('over %s, %s', (chord, note, words) => expect(role(chord, note)).toBe(words));

  test('a hover says the same, with its figure', () => {
    expect(noteHover(readingOf('key F major\n  over | A7 |', '| A#4 ~ ~ ~ |'), 0)).toContain(
      '**A#4** is the **b9** of `A7` (A mixolydian): flat nine, written A#, ',
    );
  });

  test('a finding names the chord’s own tone', () => {
    const text = 'phrase "A"\n  key C major\n  over | Dm7 |\n  line | F#4 A D ~ |\n';
    expect(findingsOf(openSnapshot('', 1, text), DEFAULT_THEORY)[0]!.message).toContain('it is the major third, where the chord has F.');
  });
});

test.each([
  ['Fmaj7', 'b3', 'b3 over Fmaj7 is Ab; the chord’s own 3 is A.'],
  ['Gm7', 'n3', 'n3 over Gm7 is B; the chord’s own 3 is Bb (b3).'],
])('a degree against %s says the chord’s own figure where it is another', (chord, figure, words) => {
  const text = `phrase "A"\n  over | ${chord} |\n  line | 1 2 ${figure} 5 |\n`;
  expect(findingsOf(openSnapshot('', 1, text), DEFAULT_THEORY).find(({ rule }) => rule === 'degree-against-chord')!.message).toBe(words);
});

describe('a duration in words', () => {
  test.each([
    ['1', 'a beat'],
    ['2', 'two beats'],
    ['5/2', 'two and a half beats'],
    ['1/2', 'half a beat'],
    ['8/3', 'two and two thirds beats'],
    ['13/4', 'three and a quarter beats'],
    ['3/4', 'three quarters of a beat'],
    ['1/3', 'a third of a beat'],
    ['17/8', 'two and an eighth beats'],
    ['14', '14 beats'],
    ['23/11', '2 1/11 beats'],
  ])('%s beats', (beats, words) => {
    expect(durationWords(beats)).toBe(words);
  });

  test('a message counts felt beats', () => {
    const said = (meter: string, line: string): string =>
      findingsOf(
        openSnapshot('', 1, `phrase "A"\n  key C major\n  meter ${meter}\n  over | Cmaj7 |\n  line | ${line} |\n`),
        DEFAULT_THEORY,
      )[0]!.message;
    expect(said('4/4', 'E4 F-~ ~ ~-G')).toContain('F lasts two and a half beats over Cmaj7');
    expect(said('12/8', 'E4 F ~ G')).toMatch(/^F lasts two beats over Cmaj7/);
  });
});

describe('a blue note', () => {
  const blues = (line: string, over = '| C7 | F7 | C7 | G7 | C7 |'): ReturnType<typeof readingOf> =>
    readingOf(`key C major\n  over ${over}`, line);

  test('over I7 is the blue third and the flat five', () => {
    const reading = blues('| Eb4-E G C5 Bb4 | A F C ~ | F4-Gb G E C | D ~ ~ . | C4 ~ ~ ~ |');
    expect(reading.notes[0]!.placement!.role).toBe('blue');
    expect(withRole(reading, 0)).toBe('Eb, the blue third of C7');
    expect(noteHover(reading, 0)).toContain('is the **b3** of `C7`');
    const five = reading.phrase.notes.find(({ pitch }) => pitch.letter === 'G' && pitch.alter === -1)!.index;
    expect(withRole(reading, five)).toBe('Gb, the flat five of C7');
    expect(noteHover(reading, five)).toContain('is the **b5** of `C7`');
    expect(
      tell(reading)
        .map(({ text }) => text)
        .join(' '),
    ).not.toMatch(/sharp nine|sharp eleven/);
  });

  test('over another chord the chord’s figure, and whose blue note', () => {
    const reading = blues('| C4 E G ~ | Gb4 F A ~ | E4 G C ~ | Eb4 D B3 ~ | C4 ~ ~ ~ |');
    const at = (bar: number): string => withRole(reading, reading.phrase.notes.find((note) => note.bar === bar)!.index);
    expect([at(2), at(4)]).toEqual(['Gb, the flat nine of F7, blue fifth of C', 'Eb, the flat thirteen of G7, blue third of C']);
  });

  test('outside a blues there is none', () => {
    const reading = readingOf('key F major\n  over | C7 | Fmaj7 |', '| Eb4 G E C | A ~ ~ . |');
    expect(withRole(reading, 0)).toBe('Eb, the sharp nine of C7');
  });
});

test.each([
  ['1', 'beat 1'],
  ['2+1/2', 'the “and” of 2'],
  ['2+1/3', 'the second third of beat 2'],
  ['2+2/3', 'the last third of beat 2'],
  ['3+1/4', 'the second quarter of beat 3'],
  ['3+3/4', 'the last quarter of beat 3'],
  ['1+3/11', 'beat 1+3/11'],
])('the place %s is %s', (beat, words) => expect(beatWords(beat)).toBe(words));
