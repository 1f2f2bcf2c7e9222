/**
 * Devices against the summary of embellishing tones in Open Music Theory, 2nd ed. (CC BY-SA), “Embellishing Tones” (Peterson):
 * how each is entered, how it is left, in which direction, on what strength (the table is quoted from memory). Each row is
 * turned into a line by its own words, not by hand.
 */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { SCALE_FIGURES } from '../../server/src/theory/scale-data';

interface Row {
  readonly name: string;
  readonly entered: 'step' | 'leap' | 'same';
  readonly left: 'step' | 'leap' | 'same';
  /** Of the leaving move against the entering one; of a kept note, where it goes. */
  readonly direction: 'same' | 'opposite' | 'down' | 'up';
  readonly strength: 'weak' | 'strong';
}

const TABLE: readonly Row[] = [
  { name: 'passing-tone', entered: 'step', left: 'step', direction: 'same', strength: 'weak' },
  { name: 'neighbour-tone', entered: 'step', left: 'step', direction: 'opposite', strength: 'weak' },
  { name: 'appoggiatura', entered: 'leap', left: 'step', direction: 'opposite', strength: 'strong' },
  { name: 'escape-tone', entered: 'step', left: 'leap', direction: 'opposite', strength: 'weak' },
  { name: 'suspension', entered: 'same', left: 'step', direction: 'down', strength: 'strong' },
  { name: 'retardation', entered: 'same', left: 'step', direction: 'up', strength: 'strong' },
  { name: 'anticipation', entered: 'leap', left: 'same', direction: 'same', strength: 'weak' },
];

const over = (chords: string, line: string): string => `phrase "A"\n  over | ${chords} |\n  line | ${line} |\n`;

/** A line over C major (or into it) in which one note is entered and left as the row says. */
function lineOf({ entered, left, direction, strength }: Row): string {
  if (entered === 'same') return direction === 'down' ? over('F | C', 'A4 C F ~ | ~ E G C') : over('G | C', 'G4 D G B | ~ C G E');
  if (left === 'same') return over('F | C', 'A4 F A C-G | ~ E C ~');
  if (strength === 'strong') return over('C', 'C5 E4 A-G E');
  if (entered === 'step' && left === 'leap') return over('C', 'E4 G-A E C');
  return direction === 'same' ? over('C', 'G4 C-D E G') : over('C', 'C4 E-F E G');
}

test.each(TABLE)('$name: entered by $entered, left by $left ($direction), $strength', (row) => {
  const { phrase } = openSnapshot('file:///a.phrase', 1, lineOf(row)).phrases[0]!;
  const ornaments = devicesOf(readPhrase(phrase, DEFAULT_THEORY)).map(({ kind }) => kind);
  expect(ornaments).toContain(row.name);
  // No other row's name is given to it: the table tells them apart.
  for (const other of TABLE) if (other.name !== row.name) expect(ornaments).not.toContain(other.name);
});

describe('Open Music Theory, “Blues Melodies and the Blues Scale” (Lavengood)', () => {
  test('the blues scales and the pentatonic scales', () => {
    expect(SCALE_FIGURES['minor blues']).toBe('1 b3 4 b5 5 b7');
    expect(SCALE_FIGURES['major blues']).toBe('1 2 b3 3 5 6');
    expect(SCALE_FIGURES['major pentatonic']).toBe('1 2 3 5 6');
    expect(SCALE_FIGURES['minor pentatonic']).toBe('1 b3 4 5 b7');
  });
  test('the minor blues scale is the minor pentatonic with a flat five (common practice)', () => {
    const blues = new Set(SCALE_FIGURES['minor blues'].split(' '));
    blues.delete('b5');
    expect([...blues].join(' ')).toBe(SCALE_FIGURES['minor pentatonic']);
  });
});
