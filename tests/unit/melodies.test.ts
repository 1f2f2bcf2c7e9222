/**
 * Real melodies must not be nagged. Six lines whose judgement is agreed, and tunes of our own invention in the manner of songs that
 * are sung everywhere: diatonic, with passing and leaning notes. As written they are left in peace; moved against their chords
 * they are not.
 */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { midi, parsePitch } from '../../server/src/theory/pitch';

function warnings(over: string, line: string, head = ''): number {
  const { phrase } = openSnapshot('file:///a.phrase', 1, `phrase "A"\n${head}  over | ${over} |\n  line | ${line} |\n`).phrases[0]!;
  return readPhrase(phrase, DEFAULT_THEORY).notes.filter(({ verdict }) => verdict?.level === 'warning').length;
}

describe('lines that pass', () => {
  test.each([
    ['Dm7 | G7 | Cmaj7', 'D-F A-C E-C A-F | G-B D-F Ab-G F-D | E ~ . .', '  key C major\n'],
    ['Dm7 | Dm7', 'D-G C-F A-D G-E | F-C G-D E ~', ''],
    ['C7 | Bb7 | F7', 'F-C Eb-F Ab-F Eb-C | Eb-F Ab-F Bb-Ab F-Eb | F ~ . .', '  key F major\n'],
  ])('over %s: %s', (over, line, head) => {
    expect(warnings(over, line, head)).toBe(0);
  });
});

describe('lines that do not', () => {
  test.each([
    ['Cmaj7', 'F-A C-E G ~', ''],
    ['C7 / / F7', 'G E C E', '  key F major\n'],
    ['Cmaj7', 'Db-Eb F-Gb Ab-Bb B-Db', ''],
  ])('over %s: %s', (over, line, head) => {
    expect(warnings(over, line, head)).toBeGreaterThan(0);
  });
});

// Invented. Key, meter, chords, line.
const TUNES: readonly (readonly [string, string, string, string])[] = [
  ['C major', '4/4', 'C | C | F | C', 'E4 E F G | G F E D | F ~ A G | E ~ ~ .'],
  ['C major', '4/4', 'C | G7 | G7 | C', 'C4 E G E | D F B3 D | F4 E D B3 | C ~ ~ .'],
  ['G major', '3/4', 'G | G | C | G', 'D4 G A | B ~ A | G E C | D ~ .'],
  ['F major', '4/4', 'F | Bb | C7 | F', 'F4-G A F C5 | Bb ~ D4 F | E-F G Bb-A G | F ~ ~ .'],
  ['D major', '4/4', 'D | A7 | A7 | D', 'F#4 A F# D | E ~ G-F# E | C#-D E A G | F# ~ D ~'],
  ['Bb major', '4/4', 'Bb | Eb | F7 | Bb', 'D4 F Bb A | G ~ Bb G | F-Eb C A3-C4 Eb | D ~ ~ .'],
  ['A minor', '4/4', 'Am | Dm | E7 | Am', 'A4 C B A | F ~ D E-F | E G# B D | C-B A ~ .'],
  ['E minor', '3/4', 'Em | Am | B7 | Em', 'E4 G B | A ~ C5 | B A F# | G-F# E ~'],
  ['Eb major', '6/8', 'Eb | Ab | Bb7 | Eb', 'G4-~-Bb Eb-~-Bb | C5-~-Bb Ab-~-C | Bb-Ab-G F-~-Ab | G Eb'],
  ['G major', '4/4', 'G | D7 | Em | C', 'B4 B A G | A ~ F# D | G-A B E ~ | E-F# G C ~'],
  ['C major', '4/4', 'Am7 | Dm7 | G7 | Cmaj7', 'E4-D C A3 C | F4-E D A3 D | B3-C4 D F E | E-D C E G'],
  ['F major', '4/4', 'Gm7 | C7 | Fmaj7 | D7', 'Bb4 A G F | E-F G Bb D | C5 A F A | F#4-G A C Eb'],
];

function opened([key, meter, over, line]: (typeof TUNES)[number], halfSteps = 0): Snapshot {
  return openSnapshot(
    'file:///a.phrase',
    1,
    `phrase "A"\n  key ${key}\n  meter ${meter}\n  over | ${over} |\n  line | ${halfSteps === 0 ? line : moved(line, halfSteps)} |\n`,
  );
}

function tune(one: (typeof TUNES)[number], halfSteps = 0): { strong: number; flagged: number } {
  const { phrase } = opened(one, halfSteps).phrases[0]!;
  const { notes } = readPhrase(phrase, DEFAULT_THEORY);
  return {
    strong: notes.filter(({ strong }) => strong).length,
    flagged: notes.filter(({ verdict }) => verdict?.level === 'warning').length,
  };
}

const NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];

/** The line moved by half steps, its chords left where they are. */
function moved(line: string, halfSteps: number): string {
  return line.replace(/[A-G][b#]?\d?/g, (text) => {
    const octave = /\d$/.exec(text)?.[0];
    const number = midi(parsePitch(octave === undefined ? `${text}4` : text)!) + halfSteps;
    return `${NAMES[number % 12]}${octave === undefined ? '' : Math.floor(number / 12) - 1}`;
  });
}

const total = (halfSteps: number): number => {
  const counts = TUNES.map((one) => tune(one, halfSteps));
  return counts.reduce((sum, { flagged }) => sum + flagged, 0) / counts.reduce((sum, { strong }) => sum + strong, 0);
};

test('invented tunes are warned of on few strong places, and on many once moved against their chords', () => {
  expect(total(0)).toBeLessThan(0.03);
  for (const halfSteps of [1, 3, 6, 8, 11]) expect(total(halfSteps), `moved by ${halfSteps}`).toBeGreaterThan(0.3);
});

// A leaning note that resolves is pointed out, not warned of; no other rule has anything to say.
test.each(TUNES)('nothing else is found in an invented tune in %s, %s, over %s: %s', (...one) => {
  const found = findingsOf(opened(one), DEFAULT_THEORY).filter(
    ({ rule, severity }) => rule !== 'resolved-tension' || severity === 'warning',
  );
  expect(found.map(({ message }) => message)).toEqual([]);
});
