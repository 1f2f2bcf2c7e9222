/** When notes of a line count as 2, 4 and 6, and when as 9, 11 and 13. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lineFigures } from '../../server/src/explain/line-figures';
import { always } from '../property/arbitrary';
import { readingOf } from './called-help';

test.each([
  ['a sixth that passes', '| Cm7 |', '| Bb4-A G ~ ~ |', 'b7-6-5'],
  ['a sixth by leap from one side', '| Fmaj7 |', '| F5-D C ~ ~ |', '1-6-5'],
  ['a sixth up to the seventh', '| F7 |', '| C4-D Eb ~ ~ |', '5-6-b7'],
  ['a fourth', '| Bbm7 |', '| Bb4-Ab F-Eb Db ~ |', '1-b7-5-4-b3'],
  ['a flat thirteen, and what stands beside it', '| Am7 |', '| G4-F E-D C ~ |', 'b7-b13-5-11-b3'],
  ['a second beside an altered fifth', '| G7#5 |', '| D#5-B A-F ~ ~ |', '#5-3-2-b7'],
  ['a neighbour, though it is held', '| Cmaj7 |', '| E4 D ~-E C |', '3-2-3-1'],
  ['thirds that go by step', '| Abmaj7 |', '| Ab4-C Bb-Db C ~ |', '1-3-2-4-3'],
  ['what the symbol writes', '| Dm9 |', '| E5-D C-A F ~ |', '9-1-b7-5-b3'],
  ['an arpeggio beyond the ninth', '| Gm7 |', '| F4-A C-Bb G ~ |', 'b7-9-11-b3-1'],
  ['an arpeggio beyond the seventh', '| Gm7 |', '| D4-F A ~ ~ |', '5-b7-9'],
  ['the top of an arpeggio, though the line steps down from it', '| Gm7 |', '| D4-F A-G F ~ |', '5-b7-9-1-b7'],
  ['one that is left by leap and came by none', '| G7 |', '| D5 B4 E ~ |', '5-3-13'],
  ['a beat among quarters', '| Cmaj7 |', '| A4 G E-C . |', '6-5-3-1'],
  ['one that is held', '| Dm7 |', '| E4 ~ F A |', '9-b3-5'],
  ['one that the line ends on', '| Dm7 |', '| D4 C B . |', '1-b7-13'],
  ['one that leans', '| Dm7 |', '| D4 F B-A F |', '1-b3-13-5-b3'],
  ['all in one way, though one goes by step', '| G7 |', '| A4-G E5 B ~ |', '9-1-13-3'],
  ['a flat nine with a thirteenth', '| G13b9 |', '| Ab4-G F-E D ~ |', 'b9-1-b7-13-5'],
  ['a second up from the root, and what comes after it', '| G7 |', '| G4-A B-E5 D ~ |', '1-2-3-6-5'],
])('%s', (_, over, line, figures) => {
  const reading = readingOf(`key C major\n  over ${over}`, line);
  const notes = reading.phrase.notes.map(({ index }) => index);
  expect(lineFigures(reading, notes)).toBe(figures);
});

test('no figure counts a note as a second and another as a thirteenth', () => {
  const pitch = fc.constantFrom('C4', 'D4', 'E4', 'F4', 'G4', 'A4', 'B4', 'Bb4', 'Ab4', 'C5', 'D5', 'E5', 'F5');
  const chord = fc.constantFrom('C7', 'Cm7', 'Cmaj7', 'G7', 'Dm7', 'Fmaj7');
  always(
    fc.property(chord, fc.array(pitch, { minLength: 3, maxLength: 8 }), (symbol, pitches) => {
      const padded = [...pitches, ...Array<string>(8 - pitches.length).fill('.')];
      const beats = [0, 2, 4, 6].map((i) => `${padded[i]}-${padded[i + 1]}`).join(' ');
      const reading = readingOf(`key C major\n  over | ${symbol} |`, `| ${beats} |`);
      const notes = reading.phrase.notes.map(({ index }) => index);
      const told = lineFigures(reading, notes).split('-');
      const counts = (of: readonly string[]): boolean => told.some((one) => of.includes(one));
      expect(counts(['2', '4', '6']) && counts(['9', '11', '13']), told.join('-')).toBe(false);
    }),
    { numRuns: 100 },
  );
});
