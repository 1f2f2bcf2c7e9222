/** Prose that moves with the key: what is a note, what is none, and what is left alone because nobody can be sure. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { movedProse } from '../../server/src/assists/vary/prose';
import { parseNoteName } from '../../server/src/theory/pitch';
import { shiftBetween, type Shift } from '../../server/src/theory/interval';
import { always, anyCharacters, RUN } from '../property/arbitrary';

const to = (key: string): Shift => shiftBetween(parseNoteName('C')!, parseNoteName(key)!);

// From C to Eb, what a teacher would write there.
test.each([
  ['The B of G7 falls to C.', 'The D of Bb7 falls to Eb.'],
  ['Sing the A before you play it.', 'Sing the C before you play it.'],
  ['A falls to G, and the line rests.', 'C falls to Bb, and the line rests.'],
  [
    'Before bar 2 the A-flat and the F wrap the G from above and below.',
    'Before bar 2 the C-flat and the A-flat wrap the B-flat from above and below.',
  ],
  ['Over the G7b9 the A♭ is part of the chord; it falls to G.', 'Over the B♭7b9 the C♭ is part of the chord; it falls to B♭.'],
  ['Five notes, D F G A C, and nothing to avoid.', 'Five notes, F Ab Bb C Eb, and nothing to avoid.'],
  ['D-F-A over Dm7, then G/B.', 'F-Ab-C over Fm7, then Bb/D.'],
  ['In A minor it is an A; in E minor an E.', 'In C minor it is a C; in G minor a G.'],
  ['From C4 up to F#5.', 'From Eb4 up to A5.'],
  ['The C’s and the two Bs, “A” the last.', 'The Eb’s and the two Ds, “C” the last.'],
  ['The E natural over C7.', 'The G natural over Eb7.'],
  ['C major, Cmaj7(#11), Dm7b5.', 'Eb major, Ebmaj7(#11), Fm7b5.'],
])('to E-flat: %s', (text, moved) => {
  expect(movedProse(text, to('Eb'))).toBe(moved);
});

test.each([
  'A line that lands on a third.',
  'A minor third up, then 1-2-3-5 to the b3.',
  'Say ii–V–I, then iim7b5 V7b9 i6.',
  'The flat five and the flat three rub against the dominant.',
  'Add a note. Go on. Dad sings. Be brave.',
  'A 3 is a third. As you like.',
  'Bar 2 is over N.C. and rests.',
  'Clap, then play. Every bar begins on the 3.',
  '',
])('nothing to move: %s', (text) => {
  expect(movedProse(text, to('Eb'))).toBe(text);
});

test.each([
  'In the B section the line rises.',
  'Part B climbs.',
  'For a Bb trumpet.',
  'On the G string.',
  'An E-flat alto plays it higher.',
  'Play it on the white keys.',
  'Three sharps in the signature.',
  'Begin on middle C.',
  'A minor is home.',
  'A sharp ear hears it.',
  'D.C. al fine.',
  'the eb falls',
  'the a-flat falls',
  'Am I late?',
  'PLAY A LINE',
  'Once In A While',
  'C’est tout.',
  'The Bbb falls.',
  'The B flat nine.',
  'A C major chord.',
  'Plan B for the E-mail.',
])('left alone, since nobody can be sure: %s', (text) => {
  expect(movedProse(text, to('Eb'))).toBeNull();
});

const NOTES = ['C', 'D', 'E', 'F', 'G', 'A', 'B', 'Bb', 'Eb', 'F#', 'A-flat', 'C-sharp', 'G4', 'Bb3', 'A’s'] as const;
const CHORDS = ['G7', 'Cmaj7', 'Dm7b5', 'Bb7#11', 'F/A', 'E7(b9)', 'Am7', 'C-7', 'Ab6/9'] as const;
const PLAIN = [
  'line',
  'third',
  '1-2-3-5',
  'ii–V–I',
  'b9',
  'bar 2',
  'a half step',
  'The',
  'A',
  'sing',
  'over',
  'falls to',
  'an',
  'A line',
  'Part',
  'B section',
  'as',
] as const;
const word = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...NOTES) },
  { weight: 2, arbitrary: fc.constantFrom(...CHORDS) },
  { weight: 4, arbitrary: fc.constantFrom(...PLAIN) },
);
const sentence = fc
  .array(fc.tuple(word, fc.constantFrom(' ', ' ', ' ', ', ', '. ', '-', '; ', ': “', '” ')), { minLength: 1, maxLength: 9 })
  .map((parts) => parts.map((part) => part.join('')).join(''));
const KEYS = ['Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** Names by signs, without the article's n: what a text names, however it is written. */
function plainly(text: string): string {
  return text
    .replace(/\b([A-G])-flat/g, '$1b')
    .replace(/\b([A-G])-sharp/g, '$1#')
    .replaceAll('♭', 'b')
    .replaceAll('♯', '#')
    .replace(/\b([Aa])n /g, '$1 ');
}

test('moved and moved back, a text says what it said, or it is left out', () => {
  let moved = 0;
  always(
    fc.property(sentence, fc.constantFrom(...KEYS), (text, key) => {
      const there = movedProse(text, to(key));
      if (there === null) return;
      const { diatonic, chromatic } = to(key);
      const back = movedProse(there, { diatonic: -diatonic, chromatic: -chromatic });
      if (back === null) return;
      if (there !== text) moved += 1;
      expect(plainly(back), there).toBe(plainly(text));
    }),
    { ...RUN, numRuns: 5_000 },
  );
  expect(moved).toBeGreaterThan(500);
});

test('any text has an answer', () => {
  always(
    fc.property(anyCharacters(), fc.constantFrom(...KEYS), (text, key) => {
      expect(() => movedProse(text, to(key))).not.toThrow();
    }),
    RUN,
  );
});
