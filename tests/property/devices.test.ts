/** Devices planted in plain lines, at random places and in random keys, are named there; plain lines get no ornament. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyEdits } from '../../grammar/printer';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { DEVICE_KINDS, DEVICES, type DeviceKind } from '../../server/src/analysis/devices/table';
import { transpositionEdits } from '../../server/src/assists/transposing';
import { openSnapshot } from '../../server/src/model/snapshot';
import { RUN } from './arbitrary';

interface Plant {
  readonly kind: DeviceKind;
  readonly over: string;
  readonly line: string;
  /** The target, or the first note where there is none, as bar (from 1) and beat in the planted part. */
  readonly at: string;
}

const PLANTS: readonly Plant[] = [
  { kind: 'enclosure', over: 'Cmaj7', line: 'C4 G F-D E', at: '1.4' },
  { kind: 'enclosure', over: 'Cmaj7', line: 'C4 G D-F E', at: '1.4' },
  { kind: 'enclosure', over: 'C7', line: 'G4 C F-D# E', at: '1.4' },
  { kind: 'enclosure', over: 'Cm7', line: 'C4 G Ab-F# G', at: '1.4' },
  { kind: 'enclosure', over: 'Cmaj7', line: 'C4 G F#-F-D E', at: '1.4' },
  { kind: 'enclosure', over: 'Cmaj7', line: 'G4 C D-D#-F E', at: '1.4' },
  { kind: 'enclosure', over: 'Cmaj7', line: 'C4 G F#-D-F-D# E', at: '1.4' },
  { kind: 'double-chromatic', over: 'Cmaj7', line: 'C5 G-D-D# E G', at: '1.3' },
  { kind: 'double-chromatic', over: 'Cm7', line: 'C5 C-A-Ab G C', at: '1.3' },
  { kind: 'suspension', over: 'Dm7 | G7', line: 'A4 F D5 C | ~ B ~ .', at: '2.2' },
  { kind: 'retardation', over: 'G7 | C6', line: 'D4 G F B | 2:~ 2:C', at: '2.3' },
  { kind: 'anticipation', over: 'Dm7 | G7', line: 'A4 F D F-B | ~ D ~ .', at: '1.4+1/2' },
  { kind: 'appoggiatura', over: 'Cmaj7', line: 'C5 E4 A-G E', at: '1.3+1/2' },
  { kind: 'approach', over: 'Cmaj7', line: 'C5 G E-A G', at: '1.4' },
  { kind: 'approach', over: 'C7', line: 'G4 C-F# G E', at: '1.3' },
  { kind: 'neighbour-tone', over: 'Cmaj7', line: 'C4 E-F E G', at: '1.3' },
  { kind: 'neighbour-tone', over: 'Cm7', line: 'C4-B C Eb G', at: '1.2' },
  { kind: 'passing-tone', over: 'Cmaj7', line: 'G4 C-D E G', at: '1.3' },
  { kind: 'passing-tone', over: 'C7', line: 'C5 G-F E C', at: '1.3' },
  { kind: 'escape-tone', over: 'Cmaj7', line: 'G4 C5-D \\G C', at: '1.2+1/2' },
  { kind: 'chromatic-run', over: 'C7', line: 'C5 G-F# F-E C', at: '1.3+1/2' },
  { kind: 'arpeggio', over: 'Cmaj7', line: 'C4-E G-B G C', at: '1.1' },
  { kind: 'arpeggio', over: 'Dm7', line: 'F4-A C-E D A', at: '1.1' },
  { kind: 'scale-run', over: 'C7', line: 'C5-Bb A-G F-E C ~', at: '1.1' },
  { kind: 'turn', over: 'Cmaj7', line: 'C4 F-E-D-E G C', at: '1.2' },
  { kind: 'mordent', over: 'Cmaj7', line: 'C4 E-F-E-~ G C', at: '1.2' },
  { kind: 'triplet-arpeggio', over: 'Cm7', line: 'G4 C-Eb-G C G', at: '1.2' },
  { kind: 'pentatonic-line', over: 'Dm7', line: 'D5-C A-G F-D F-G', at: '1.1' },
  { kind: 'blues-line', over: 'C7', line: 'C5-Bb G-Gb F-Eb C ~', at: '1.1' },
  { kind: 'bebop-line', over: 'C7', line: 'C5-B Bb-A G-E C ~', at: '1.1' },
  { kind: 'guide-tone-resolution', over: 'G7 | Cmaj7', line: 'G4 D5 B F | E ~ C .', at: '2.1' },
  { kind: 'cell', over: 'Cmaj7', line: 'C4-D E-G E C', at: '1.1' },
  { kind: 'cell', over: 'C7', line: 'G4-E D-C E G', at: '1.1' },
  { kind: 'sequence', over: 'Cmaj7', line: 'C4-E-D-~ E-G-F-~ G-B-A-~ C5', at: '1.1' },
];

const KEYS = [[0, 0], [1, 1], [1, 2], [2, 3], [2, 4], [3, 5], [4, 6], [4, 7], [5, 8], [5, 9], [6, 10], [6, 11]].map(([diatonic, chromatic]) => ({ diatonic: diatonic!, chromatic: chromatic! }));

/** A bar of chord tones by leap over the first chord, ended by a rest, so that it neither hides nor makes anything. */
const filler = fc.constantFrom('1 5 3 .', '5 1 5 .', '3 1 5 .', '1 3 1 .');

test('a planted device is named at its place, in 99 of 100 cases or better', () => {
  const misses: string[] = [];
  let cases = 0;
  fc.assert(
    fc.property(fc.constantFrom(...PLANTS), fc.array(filler, { maxLength: 3 }), fc.constantFrom(...KEYS), (plant, fillers, shift) => {
      const [chord] = plant.over.split(' | ');
      const text = `phrase "Planted"\n  over | ${[...fillers.map(() => chord), plant.over].join(' | ')} |\n  line | ${[...fillers, plant.line].join(' | ')} |\n`;
      const { phrase: plain } = openSnapshot('file:///a.phrase', 1, text).phrases[0]!;
      const edits = transpositionEdits(plain.text, plain.item, shift);
      if (edits === null) return;
      cases += 1;
      const { phrase } = openSnapshot('file:///a.phrase', 1, applyEdits(plain.text, edits)).phrases[0]!;
      const [bar, beat] = plant.at.split('.');
      const place = `${Number(bar) + fillers.length}.${beat}`;
      const found = devicesOf(readPhrase(phrase, DEFAULT_THEORY)).some((device) => {
        const note = phrase.notes[device.target ?? device.from]!;
        return device.kind === plant.kind && (`${note.bar}.${note.beat}` === place || `${phrase.notes[device.from]!.bar}.${phrase.notes[device.from]!.beat}` === place);
      });
      if (!found) misses.push(`${plant.kind} in ${plant.line} over ${plant.over}, moved by ${shift.chromatic}`);
    }),
    { ...RUN, numRuns: 1500 },
  );
  expect(cases).toBeGreaterThan(1000);
  expect(misses.length / cases, [...new Set(misses)].join('\n')).toBeLessThanOrEqual(0.01);
});

test('every device is planted', () => {
  expect(new Set(PLANTS.map(({ kind }) => kind))).toEqual(new Set(DEVICE_KINDS));
  expect(new Set(DEVICE_KINDS).size).toBe(DEVICES.length);
});

const ORNAMENTS: ReadonlySet<DeviceKind> = new Set(DEVICES.filter(({ layer }) => layer === 'ornament').map(({ id }) => id));

test('a line of chord tones over one chord has no ornament', () => {
  const chord = fc.constantFrom('Cmaj7', 'Dm7', 'G7', 'Bm7b5', 'F6', 'Am(maj7)', 'Edim7');
  const slot = fc.tuple(fc.constantFrom('', '/', '\\'), fc.constantFrom('1', '3', '5')).map((parts) => parts.join(''));
  const bar = fc.array(fc.array(slot, { minLength: 1, maxLength: 4 }).map((slots) => slots.join('-')), { minLength: 4, maxLength: 4 }).map((groups) => groups.join(' '));
  fc.assert(
    fc.property(chord, fc.array(bar, { minLength: 1, maxLength: 3 }), (symbol, bars) => {
      const { phrase } = openSnapshot('file:///a.phrase', 1, `phrase "Plain"\n  over | ${bars.map(() => symbol).join(' | ')} |\n  line | ${bars.join(' | ')} |\n`).phrases[0]!;
      expect(devicesOf(readPhrase(phrase, DEFAULT_THEORY)).filter(({ kind }) => ORNAMENTS.has(kind))).toEqual([]);
    }),
    { ...RUN, numRuns: 400 },
  );
});
