/** Over iii and vi of a major key a note of the key is at worst an avoid note, whatever follows (common practice). */
import { describe, expect, test } from 'vitest';
import { devicesOf } from '../../server/src/analysis/devices/read';
import type { Reading } from '../../server/src/analysis/types';
import { noteHover } from '../../server/src/features/hover/note';
import { formatFigure } from '../../server/src/theory/figure';
import { readingOf } from './called-help';

function read(key: string, over: string, line: string): Reading {
  return readingOf(`key ${key}\n  over | ${over} |`, `| ${line} |`);
}

const role = (reading: Reading): string => {
  const { role: is, figure, against } = reading.notes[0]!.placement!;
  return [is, formatFigure(figure), against === null ? '' : `above ${formatFigure(against)}`].filter((word) => word !== '').join(' ');
};

describe('before a dominant', () => {
  test.each([
    ['the tonic over iii', 'C major', 'Em7 | A7 | Dm7 | G7', 'C5 B G E | E ~ ~ ~ | F ~ ~ ~ | D ~ ~ ~', 'avoid b13 above 5'],
    ['the fourth over iii', 'C major', 'Em7 | A7 | Dm7 | G7', 'F4 E G B | E ~ ~ ~ | F ~ ~ ~ | D ~ ~ ~', 'avoid b9 above 1'],
    ['the fourth over vi', 'C major', 'Am7 | D7 | Dm7 | G7', 'F4 E A C | F# ~ ~ ~ | F ~ ~ ~ | D ~ ~ ~', 'avoid b13 above 5'],
    ['dorian’s own sixth stays', 'C major', 'Em7 | A7 | Dm7 | G7', 'C#5 B G E | E ~ ~ ~ | F ~ ~ ~ | D ~ ~ ~', 'tension 13'],
    ['a note of neither is outside', 'C major', 'Em7 | A7 | Dm7 | G7', 'Bb4 B G E | E ~ ~ ~ | F ~ ~ ~ | D ~ ~ ~', 'outside b5'],
    ['ii is as before', 'C major', 'Dm7 | G7', 'Bb4 A F D | D ~ ~ ~', 'outside b13'],
    ['minor is as before', 'C minor', 'Em7 | A7', 'C5 B G E | E ~ ~ ~', 'outside b13'],
    ['a stated scale is the writer’s', 'C major', 'Em7:dorian | A7', 'C5 B G E | E ~ ~ ~', 'outside b13'],
  ])('%s', (_, key, over, line, expected) => expect(role(read(key, over, line))).toBe(expected));
});

test('it leans on the fifth, and nothing calls it chromatic', () => {
  const reading = read('C major', 'Em7 | A7', 'C5 B G-C B | E ~ ~ ~');
  expect(noteHover(reading, 0)).toContain('avoid note');
  expect(
    devicesOf(reading).filter(
      ({ detail, notes }) => /chromatic/.test(detail) && notes.some((note) => reading.phrase.notes[note]!.pitch.letter === 'C'),
    ),
  ).toEqual([]);
});
