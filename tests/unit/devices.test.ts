/** What single devices are, where a random phrase showed that a reading was wrong. (Each device planted: `tests/property`.) */
import { expect, test } from 'vitest';
import { matchesOf } from '../../server/src/analysis/devices/read';
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
