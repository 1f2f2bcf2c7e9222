/** Words that know which chords and notes they name. */
import { expect, test } from 'vitest';
import { asWhich, endsOn, listedWords, plain, say, sparing, type Words } from '../../server/src/explain/say';
import { inContext, inSentences, joined, type Part } from '../../server/src/explain/telling/sentences';
import { readingOf } from './called-help';

const ofC7: Words = [{ before: ' of ', chord: 'C7' }];
const third: Words = [{ note: 4, words: say`E, the third${ofC7}` }];

test('words hold others and read as text', () => {
  const words = say`F and D enclose ${third}, ${2} times`;
  expect(plain(words)).toBe('F and D enclose E, the third of C7, 2 times');
  expect(plain(listedWords([['C'], third, ['G']]))).toBe('C, E, the third of C7 and G');
});

test('a chord is left out where it was the last one named, in a role too, and a note of the same name never is', () => {
  const [first, second, other, again] = sparing([
    say`C-E climbs 1-3${ofC7}`,
    say`F falls to ${third}, a neighbour of C7`,
    say`A over ${[{ before: '', chord: 'F7' }]}`,
    third,
  ]);
  expect([first!, second!, other!, again!].map(plain)).toEqual([
    'C-E climbs 1-3 of C7',
    'F falls to E, the third, a neighbour of C7',
    'A over F7',
    'E, the third of C7',
  ]);
});

test('a note goes on as “which” only after words that end on it', () => {
  expect(endsOn(say`F falls to ${third}`)).toBe(4);
  expect(endsOn(say`${third}, on beat 1`)).toBeNull();
  expect(plain(asWhich(say`${third}, resolves to D`, 4)!)).toBe('which resolves to D');
  expect(asWhich(say`${third}, resolves to D`, 5)).toBeNull();
  expect(asWhich(['E resolves to D'], 4)).toBeNull();
});

const reading = readingOf('over | C7 |', '| C4-D E-F C5-E C-A |');

test('a sentence does not begin with “which”, and what states a role is not followed by “then”', () => {
  const part = (words: Words, more: Partial<Part> = {}): Part => ({
    words,
    weight: 5,
    stretch: 0,
    isPoint: false,
    states: false,
    from: 4,
    to: 4,
    target: null,
    ...more,
  });
  const resolves = part(say`${third}, resolves to D`, { isPoint: true });
  const sentence = (parts: readonly Part[]): string[] => inSentences(inContext(parts)).map((some) => joined(reading, some, 7));
  expect(sentence([part(say`F falls to ${third}`), resolves])).toEqual(['F falls to E, the third of C7, which resolves to D']);
  expect(sentence([resolves])).toEqual(['E, the third of C7, resolves to D']);
  expect(sentence([part(['E comes early'], { states: true }), part(['A falls'])])).toEqual(['E comes early; A falls']);
  expect(sentence([part(['on C'], { verb: 'lands ' }), part(['on G'], { verb: 'lands ' })])).toEqual(['lands on C, then on G']);
});

test('“then” joins only what follows, and no clause to another note of its name', () => {
  const clause = (from: number, to: number, text: string): Part => ({
    words: [text],
    weight: 5,
    stretch: from,
    isPoint: false,
    states: false,
    from,
    to,
    target: null,
  });
  const sentence = (...parts: readonly Part[]): string => joined(reading, inContext(parts), 7);
  const first = clause(0, 2, 'C-D-E climbs');
  expect(sentence(first, clause(3, 4, 'F-C climbs'))).toBe('C-D-E climbs, then F-C climbs');
  expect(sentence(first, clause(4, 6, 'C-E-C stays'))).toBe('C-D-E climbs, then C-E-C stays');
  expect(sentence(first, clause(6, 7, 'C-A falls'))).toBe('C-D-E climbs; at the end of the bar, C-A falls');
  // Another E than that on which the clause before ended.
  expect(sentence(first, clause(5, 6, 'E-C falls'))).toBe('C-D-E climbs; E-C falls');
  // A C stands between.
  expect(sentence(clause(0, 3, 'C-D-E-F climbs'), clause(6, 7, 'C-A falls'))).toMatch(/climbs; at the end/);
});

test('a sentence has three clauses at most, and a bar of many notes is cut in its middle', () => {
  const clauses = [0, 1, 2, 3, 4].map((from): Part => {
    const [letter] = ['ABCDE'[from]!];
    return { words: [`${letter} is one; it falls`], weight: 5, stretch: from, isPoint: false, states: false, from, to: from, target: null };
  });
  const sizes = (parts: readonly Part[], middle: number | null): number[] =>
    inSentences(inContext(parts), middle).map(({ length }) => length);
  for (const size of inSentences(inContext(clauses)).map((some) => joined(reading, some, 7).split('; ').length))
    expect(size).toBeLessThan(4);
  expect(sizes(clauses.slice(0, 2), null)).toEqual([1, 1]);
  const plainOnes = clauses.slice(0, 4).map((one) => ({ ...one, words: ['A'] }));
  expect(sizes(plainOnes.slice(0, 3), null)).toEqual([3]);
  expect(sizes(plainOnes, null)).toEqual([2, 2]);
  expect(sizes(plainOnes, 3)).toEqual([3, 1]);
});
