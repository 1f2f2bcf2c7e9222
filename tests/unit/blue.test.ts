/** Blue notes: what a teacher of the blues calls one, and what stays a tension or a clash. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { NoteReading } from '../../server/src/analysis/types';
import { openSnapshot } from '../../server/src/model/snapshot';

function first(over: string, line: string): NoteReading {
  const { phrase } = openSnapshot('', 1, `phrase "A"\n  key F major\n  over | ${over} |\n  line | ${line} |\n`).phrases[0]!;
  return readPhrase(phrase, DEFAULT_THEORY).notes[0]!;
}

test('the third that bends over I7 is blue, though I7 falls to IV7 and could lend it as a sharp ninth', () => {
  const { placement, verdict } = first('F7 | Bb7 | F7', 'Ab4 C A F | D Bb Ab F | A ~ ~ .');
  expect(placement).toMatchObject({ role: 'blue', borrowed: false });
  expect(verdict).toBeNull();
});

test('a borrowed tension stays one where there is no blues, and where it is no blue note of the tonic', () => {
  expect(first('C7 | Fmaj7', 'Eb4 G E C | A ~ ~ .').placement).toMatchObject({ role: 'tension', borrowed: true });
  // The flat nine of I7.
  expect(first('F7 | Bb7 | F7', 'Gb4 A C F | D Bb Ab F | A ~ ~ .').placement).toMatchObject({ role: 'tension', borrowed: true });
});
