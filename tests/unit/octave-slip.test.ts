/** A note whose octave figure is a slip of the pen is asked about, and melodies are left in peace. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf, type Finding } from '../../server/src/rules/findings';

const textOf = (line: string): string => `phrase "A"\n  key C major\n  line ${line}\n`;
const slips = (text: string): readonly Finding[] =>
  findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY).filter(({ rule }) => rule === 'octave-slip');

describe('an octave figure that is a slip', () => {
  test.each([
    [
      'the last note',
      '| D4 F A C5 | B G F D | E7 ~ ~ ~ |',
      'E7',
      'E7 is more than three octaves above the note before. Is E4 meant?',
      'E4',
    ],
    ['a note within', '| D4 F A7 C5 | B G F D |', 'A7', 'A7 is more than three octaves above the note before. Is A4 meant?', 'A4'],
    ['exactly two octaves', '| C4 C6 C4 E |', 'C6', 'C6 is two octaves above the note before. Is C4 meant?', 'C4'],
    ['too low', '| C5 Bb1 A4 G |', 'Bb1', 'Bb1 is more than three octaves below the note before. Is Bb4 meant?', 'Bb4'],
    ['with its marks', '| D4 F (A7)> C5 |', '(A7)>', 'A7 is more than three octaves above the note before. Is A4 meant?', '(A4)>'],
    ['across a rest', '| D4 F . A7 | C5 B G F |', 'A7', 'A7 is more than three octaves above the note before. Is A4 meant?', 'A4'],
  ])('%s', (_, line, at, message, right) => {
    const text = textOf(line);
    const [one, ...more] = slips(text);
    expect(more).toEqual([]);
    expect([one!.severity, text.slice(one!.start, one!.end), one!.message]).toEqual(['information', at, message]);
    expect(one!.fixes.map(({ safe }) => safe)).toEqual([false]);
    expect(applyPlaced(text, one!.fixes[0]!.edits)).toBe(textOf(line.replace(at, right)));
    expect(slips(applyPlaced(text, one!.fixes[0]!.edits))).toEqual([]);
  });

  test('in a cell is told without a fix, since the text to mend stands elsewhere', () => {
    expect(slips('cell far = C4 C7 C4 E\n\nphrase "A"\n  line | far |\n').map(({ fixes }) => fixes)).toEqual([[]]);
  });

  test.each([
    ['a leap of an octave and a sixth and back', '| C4 A5 C4 E |'],
    ['a leap to another register that the line stays in', '| C4 E G C7 | E D C B |'],
    ['the first note', '| C7 D4 E F |'],
    ['a note that is meant', '| C4 C7! C4 E |'],
    ['directions', '| C4 /C /C /C |'],
    ['scales and arpeggios', '| C3-E-G-C4 E-G-C5-E C-G4-E-C G3-E-C-E |'],
  ])('is not found in %s', (_, line) => {
    expect(slips(textOf(line))).toEqual([]);
  });
});
