/** A phrase read while somebody writes at the end of its line: two of four beats are not two half notes. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { inlayHints } from '../../server/src/features/inlay-hints';
import { lensAbove } from '../../server/src/features/code-lenses';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot, whileWritten, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';

const read = (text: string): Snapshot => openSnapshot('written', 1, text);
const written = (text: string, at = text.length): Snapshot => whileWritten(read(text), [at]);
const told = (snapshot: Snapshot): string[] =>
  findingsOf(snapshot, DEFAULT_THEORY)
    .filter(({ early }) => !early)
    .map(({ rule }) => rule);
const degrees = (snapshot: Snapshot, settings = DEFAULT_SETTINGS): string[] =>
  inlayHints(snapshot, 0, snapshot.text.length, settings).map(({ label }) => label);
const HEAD = 'phrase "Ebb"\n  key     F major\n  over    | Gm7 C7 | Fmaj7 |\n  line    | ';

describe('a last bar without a closing bar line', () => {
  test('takes its groups for beats, and nothing is told of it', () => {
    const text = `${HEAD}Bb4-D F-A `;
    expect(degrees(written(text))).toEqual(['b3', '5', 'b7', '9']);
    expect(told(written(text))).toEqual([]);
    // As it stands F falls on beat 3 over C7.
    expect(degrees(read(text))).toEqual(['b3', '5', '11', '3']);
    expect(told(read(text))).toEqual(['line-shorter-than-chords', 'clash']);
  });

  test('three groups are no wrong bar, five are', () => {
    expect(findingsOf(written(`${HEAD}Bb4 D F `), DEFAULT_THEORY).map(({ rule }) => rule)).not.toContain('bar-length');
    const five = findingsOf(written(`${HEAD}Bb4 D F A C5 `), DEFAULT_THEORY).find(({ rule }) => rule === 'bar-length');
    expect(five?.message).toContain('5 are written');
  });

  test('weights and cells count the beats that they take', () => {
    const beats = (bar: string): string[] => {
      const text = `cell    climb = 1-2 3-5\nphrase "Ebb"\n  over    | C7 |\n  line    | ${bar}`;
      return written(text).phrases[0]!.phrase.groups.map(({ beats: length }) => length.toFraction());
    };
    expect(beats('2:C4 D ')).toEqual(['2', '1']);
    expect(beats('climb ')).toEqual(['1', '1']);
    expect(beats('C4 D E F')).toEqual(['1', '1', '1', '1']);
  });

  test('is read as it stands where nobody writes in it, and once a bar line closes it', () => {
    const text = `${HEAD}Bb4 A G D | F E`;
    const halves = ['1', '1', '1', '1', '2', '2'];
    const beatsAt = (at: number, of = text): string[] => written(of, at).phrases[0]!.phrase.groups.map(({ beats }) => beats.toFraction());
    expect(beatsAt(text.indexOf('A G'))).toEqual(halves);
    expect(beatsAt(text.indexOf('key'))).toEqual(halves);
    expect(beatsAt(text.length)).toEqual(['1', '1', '1', '1', '1', '1']);
    expect(beatsAt(text.length + 2, `${text} |`)).toEqual(halves);
  });
});

describe('early to tell', () => {
  test('that the line is shorter, also right behind a closed bar; not what stands before', () => {
    const text = 'phrase "Ebb"\n  over    | Cmaj7 | Dm7 | G7 | C6 |\n  line    | F4 ~ ~ ~ | F A C5 A | ';
    expect(told(written(text))).toEqual(['clash']);
    expect(told(read(text))).toEqual(['line-shorter-than-chords', 'clash']);
  });

  test('what a note to come may excuse', () => {
    const text = 'phrase "Ebb"\n  over    | Cmaj7 | Am7 |\n  line    | E4 G A F | ';
    expect(findingsOf(read(text), DEFAULT_THEORY).map(({ rule }) => rule)).toContain('clash');
    expect(told(written(text))).toEqual([]);
    expect(findingsOf(read(`${text}G ~ ~ ~ |`), DEFAULT_THEORY)).toEqual([]);
  });

  test('what a fifth note of the blues scale makes blue, and nothing of a line that has left that scale', () => {
    const head = 'phrase "Ebb"\n  key     A major\n  over    | Am7 | Am7 |\n  line    | C5 C-G# Eb-C C-Eb |';
    expect(findingsOf(read(head), DEFAULT_THEORY).map(({ rule }) => rule)).toContain('clash');
    expect(told(written(head))).toEqual([]);
    expect(told(read(`${head} G |`))).not.toContain('clash');
    expect(told(written(head.replace('C-Eb |', 'A-F# |')))).toContain('clash');
  });

  test('nothing of a line that is whole', () => {
    const head = 'phrase "Ebb"\n  over    | Cmaj7 | Am7 |\n  line    | E4 G C F ';
    const early = (text: string): string[] =>
      findingsOf(written(text), DEFAULT_THEORY)
        .filter((one) => one.early)
        .map(({ rule }) => rule);
    expect(early(`${head}|`)).toEqual(['line-shorter-than-chords', 'clash']);
    expect(early(`${head}||`)).toEqual([]);
    expect(early(`${head}| A ~ G Bb |`)).toEqual([]);
    expect(told(written(`${head}| A ~ G Bb |`))).toEqual(['clash', 'clash']);
  });

  test('that a claim does not hold, unless a note of before breaks it', () => {
    const text =
      'phrase "Ebb"\n  key     C major\n  over    | Cmaj7 | Am7 |\n  line    | E4 G F# C | \n  claim   lands 3 at 2.1\n  claim   diatonic\n';
    const at = text.indexOf('\n  claim');
    const early = findingsOf(written(text, at), DEFAULT_THEORY)
      .filter(({ rule }) => rule.startsWith('claim'))
      .map((one) => one.early);
    expect(early).toEqual([true, false]);
  });
});

test('other phrases, and what is made of them, are the same objects', () => {
  const text = `${HEAD}Bb4 ~ ~ ~ | A ~ ~ ~ |\n\n${HEAD}Bb4-D F-A `;
  const whole = read(text);
  const other = whileWritten(whole, [text.length]);
  expect(other.parts[0]).toBe(whole.parts[0]);
  expect(other.parts[1]).not.toBe(whole.parts[1]);
  expect(whileWritten(whole, [text.indexOf('key')])).toBe(whole);
});

describe('several cursors', () => {
  const beats = (snapshot: Snapshot): string[][] =>
    snapshot.phrases.map(({ phrase }) => phrase.groups.map((group) => group.beats.toFraction()));

  test('each write in the last bar of its phrase', () => {
    const first = `${HEAD}Bb4 D`;
    const text = `${first}\n\n${HEAD}Bb4 A`;
    expect(beats(read(text))).toEqual([
      ['2', '2'],
      ['2', '2'],
    ]);
    expect(beats(whileWritten(read(text), [first.length]))).toEqual([
      ['1', '1'],
      ['2', '2'],
    ]);
    expect(beats(whileWritten(read(text), [first.length, text.length]))).toEqual([
      ['1', '1'],
      ['1', '1'],
    ]);
    expect(told(whileWritten(read(text), [first.length, text.length]))).toEqual([]);
  });

  test('each write in the last bar of its line, in one phrase too', () => {
    const first = `${HEAD}Bb4 D`;
    const text = `${first}\n  over    | Gm7 C7 | Fmaj7 |\n  line    | Bb4 A`;
    expect(beats(whileWritten(read(text), [first.length]))).toEqual([['1', '1', '2', '2']]);
    expect(beats(whileWritten(read(text), [text.length, first.length]))).toEqual([['1', '1', '1', '1']]);
    // Two cursors in one bar are one end.
    expect(whileWritten(read(text), [first.length - 1, first.length]).phrases[0]!.phrase.writing).toHaveLength(1);
    const early = (at: readonly number[]): string[] =>
      findingsOf(whileWritten(read(text), at), DEFAULT_THEORY)
        .filter(({ early: isEarly }) => isEarly)
        .map(({ rule, start }) => `${rule} ${start < first.length ? 'above' : 'below'}`);
    expect(early([first.length, text.length])).toEqual(['line-shorter-than-chords above', 'line-shorter-than-chords below']);
    expect(early([first.length])).toEqual(['line-shorter-than-chords above']);
  });
});

test('neither the line above the phrase nor a degree above a clash tells what waits', () => {
  const text = `${HEAD}Bb4 A G D | Bb ~ ~ ~ |`;
  const snapshot = read(text);
  const waiting = findingsOf(snapshot, DEFAULT_THEORY).filter(({ rule }) => rule === 'clash');
  const lens = (of: typeof waiting): string => lensAbove(snapshot, 0, 'explain', DEFAULT_THEORY, of)!.title;
  expect(lens([])).toMatch(/^1 note clashes/);
  expect(lens(waiting)).not.toMatch(/clash/i);
  const clashes = { ...DEFAULT_SETTINGS, degreeHints: 'clashes' } as const;
  expect(degrees(snapshot, clashes)).toEqual(['11']);
  expect(inlayHints(snapshot, 0, text.length, clashes, waiting)).toEqual([]);
});
