/** Words that know which chords and notes they name. */
import { expect, test } from 'vitest';
import { asWhich, endsOn, listedWords, plain, say, sparing, type Words } from '../../server/src/explain/say';
import { inContext, inSentences, joined, type Part } from '../../server/src/explain/telling/sentences';

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

test('a sentence does not begin with “which”, and what states a role is not followed by “then”', () => {
  const part = (words: Words, more: Partial<Part> = {}): Part => ({
    words,
    weight: 5,
    stretch: 0,
    isPoint: false,
    states: false,
    from: 4,
    target: null,
    ...more,
  });
  const resolves = part(say`${third}, resolves to D`, { isPoint: true });
  const sentence = (parts: readonly Part[]): string[] => inSentences(inContext(parts)).map(joined);
  expect(sentence([part(say`F falls to ${third}`), resolves])).toEqual(['F falls to E, the third of C7, which resolves to D']);
  expect(sentence([resolves])).toEqual(['E, the third of C7, resolves to D']);
  expect(sentence([part(['E comes early'], { states: true }), part(['A falls'])])).toEqual(['E comes early; A falls']);
  expect(sentence([part(['on C'], { verb: 'lands ' }), part(['on G'], { verb: 'lands ' })])).toEqual(['lands on C, then on G']);
});
