/** What single devices are, where a random phrase showed that a reading was wrong. (Each device planted: `tests/property`.) */
import { expect, test } from 'vitest';
import { devicesOf, matchesOf } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';

function devices(over: string, line: string): string[] {
  const { phrase } = openSnapshot('', 1, `phrase "A"\n  over | ${over} |\n  line | ${line} |\n`).phrases[0]!;
  return matchesOf(readPhrase(phrase, DEFAULT_THEORY)).map(({ kind, notes }) => `${kind} ${notes.join(' ')}`);
}

test('a line below the lowest MIDI number has the devices it has anywhere', () => {
  // From C up to G the third is skipped: no arpeggio.
  expect(devices('C7', 'C5 \\C \\C-/G-/Bb ~')).not.toContain('arpeggio 2 3 4');
  expect(devices('C7', 'C0 \\C \\C-/G-/Bb ~')).toEqual(devices('C7', 'C5 \\C \\C-/G-/Bb ~'));
});

test('a note off the beat that the next chord strikes again is its anticipation, and no ornament that leads on', () => {
  // The A is no tone of C7, and the third of the chord that comes in.
  expect(devices('C7 | Fmaj7', 'E4 G-Bb A-G Bb-A | A C5 ~ .')).toContain('anticipation 6');
  // Not where it belongs to the chord it sounds over, nor more than a beat early.
  expect(devices('C7 | Fmaj7', 'E4 G-Bb A-G Bb-C5 | C5 A ~ .')).not.toContain('anticipation 6');
  expect(devices('C7 | Fmaj7', 'E4 Bb A A | A C5 ~ .').filter((kind) => kind.startsWith('anticipation'))).toEqual(['anticipation 3']);
});

test('a note on the beat that is left before the change is of its own chord, too', () => {
  expect(devices('C7 | Fmaj7', 'E4 G-Bb C5-Bb A | . C5 A ~').filter((kind) => kind.startsWith('anticipation'))).toEqual([]);
  expect(devices('C7 | Fmaj7', 'E4 G-Bb C5-Bb .-A | . C5 A ~')).toContain('anticipation 5');
});

test('a phrase is told by the anticipation, not by an escape or a passing tone made of both its notes', () => {
  const told = (line: string): string[] => {
    const { phrase } = openSnapshot('', 1, `phrase "A"\n  over | C7 | Fmaj7 |\n  line | ${line} |\n`).phrases[0]!;
    return devicesOf(readPhrase(phrase, DEFAULT_THEORY)).map(({ kind, notes }) => `${kind} ${notes.join(' ')}`);
  };
  expect(told('E4 G E Bb-A | A C5 ~ .')).toContain('anticipation 4');
  expect(told('E4 G E Bb-A | A C5 ~ .').join()).not.toContain('escape-tone');
  expect(told('E4 G E Bb-A | A-G F ~ .').join()).not.toContain('passing-tone 4');
});
