/** Devices planted in plain lines are named there, in every meter and key; plain lines get none. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyEdits } from '../../grammar/printer';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { DEVICE_KINDS, DEVICES, type DeviceKind } from '../../server/src/analysis/devices/table';
import { transpositionEdits } from '../../server/src/assists/vary/transposing';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, phraseArbitrary, RUN } from './arbitrary';

interface Plant {
  readonly kind: DeviceKind;
  readonly over: string;
  /** Four beats a bar; other meters take the same beats, so that its bars end at bar lines. */
  readonly line: string;
  /** The target, or the first note where there is none, as bar (from 1) and beat in the planted part. */
  readonly at: string;
  /** The line in a compound meter, where it is another. */
  readonly compound?: string;
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
  { kind: 'retardation', over: 'G7 | C6', line: 'D4 G F B | ~ ~ C .', at: '2.3' },
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
  { kind: 'mordent', over: 'Cmaj7', line: 'C4 E-F-E-~ G C', compound: 'C4 E-F-E-~-~-~ G C', at: '1.2' },
  { kind: 'triplet-arpeggio', over: 'Cm7', line: 'G4 C-Eb-G C G', compound: 'G4 C-Eb-G-C-~-~-~-~-~ G C', at: '1.2' },
  { kind: 'pentatonic-line', over: 'Dm7', line: 'D5-C A-G F-D F-G', at: '1.1' },
  { kind: 'blues-line', over: 'C7', line: 'C5-Bb G-Gb F-Eb C ~', at: '1.1' },
  { kind: 'bebop-line', over: 'C7', line: 'C5-B Bb-A G-E C ~', at: '1.1' },
  { kind: 'guide-tone-resolution', over: 'G7 | Cmaj7', line: 'G4 D5 B F | E ~ C .', at: '2.1' },
  { kind: 'cell', over: 'Cmaj7', line: 'C4-D E-G E C', at: '1.1' },
  { kind: 'cell', over: 'C7', line: 'G4-E D-C E G', at: '1.1' },
  { kind: 'sequence', over: 'Cmaj7', line: 'C4-E-D-~ E-G-F-~ G-B-A-~ C5', at: '1.1' },
  { kind: 'sequence', over: 'Cmaj7', line: 'C4-D E-G D-E F-A', at: '1.1' },
  { kind: 'sequence', over: 'Cmaj7', line: 'C4-E D-F E-G C', at: '1.1' },
  { kind: 'sequence', over: 'Dm7 | Cm7', line: 'D4-F A-C5 A-F D | C-Eb G-Bb G-Eb C', at: '1.1' },
  { kind: 'enclosure', over: 'Dm7 | G7', line: 'D4 F A C-A | B D5 G4 .', at: '2.1' },
  { kind: 'enclosure', over: 'Cmaj7', line: 'E4 C5 B4-D C', at: '1.4' },
  { kind: 'tension-resolution', over: 'G7 | Cmaj7', line: 'G4 B D5 Ab | G E C .', at: '2.1' },
  { kind: 'tension-resolution', over: 'G7alt | Cm6', line: 'F4 B Eb5-B Eb | D C Eb .', at: '2.1' },
  { kind: 'tension-resolution', over: 'G7b9 | Cmaj7', line: 'G4 B Ab-F G | E ~ C .', at: '1.4' },
  { kind: 'tension-resolution', over: 'G7 | Cmaj7', line: 'G4 B F D# | E G C .', at: '2.1' },
  { kind: 'leading-tone', over: 'G7 | Cmaj7', line: 'G4 D F B | C5 E G .', at: '2.1' },
  { kind: 'common-tone', over: 'Dm7 | G7', line: 'D5 A C F | F D B .', at: '2.1' },
  { kind: 'common-tone', over: 'Dm7 | G7', line: 'D5 A C F | ~ D B .', at: '1.4' },
  { kind: 'blue-third', over: 'C7', line: 'C4 G Eb-E G', at: '1.3+1/2' },
  { kind: 'held-over', over: 'Cmaj7 | Fmaj7', line: 'C4 E G G | ~ C A .', at: '1.4' },
  { kind: 'held-over', over: 'Cmaj7 | Cmaj7', line: 'C4 E G C-E | ~-G C E .', at: '1.4+1/2' },
  { kind: 'upper-structure', over: 'C7#11', line: 'C4 D-F# A-~ G', at: '1.2' },
  { kind: 'upper-structure', over: 'C7alt', line: 'E4 Eb-Ab C-~ E', at: '1.2' },
  { kind: 'suspension', over: 'G7sus4 | G7', line: 'D5 G4 D5 C | B G D .', at: '1.4' },
  { kind: 'superimposed-arpeggio', over: 'Dm7', line: 'D4 E-G B-D5 A4', at: '1.2' },
  { kind: 'superimposed-arpeggio', over: 'Fmaj7#11', line: 'F4 B5-G E-C D', at: '1.2' },
  { kind: 'superimposed-pentatonic', over: 'Cmaj7', line: 'G4-A B-D E-D B-G', at: '1.1' },
  { kind: 'superimposed-pentatonic', over: 'Dm7', line: 'E4-G A-B D-B A-E', at: '1.1' },
  { kind: 'modal-colour', over: 'Dm7', line: 'D4 A B A', at: '1.3' },
  { kind: 'modal-colour', over: 'Fmaj7:lydian', line: 'F4 A B C', at: '1.3' },
  { kind: 'modal-colour', over: 'Em7:phrygian', line: 'E4 G F E', at: '1.3' },
  { kind: 'side-slip', over: 'Dm7', line: 'D4-A Gb-Ab Bb-Eb D ', at: '1.2' },
];

const KEYS = [
  [0, 0],
  [1, 1],
  [1, 2],
  [2, 3],
  [2, 4],
  [3, 5],
  [4, 6],
  [4, 7],
  [5, 8],
  [5, 9],
  [6, 10],
  [6, 11],
].map(([diatonic, chromatic]) => ({ diatonic: diatonic!, chromatic: chromatic! }));

const METERS = [
  { text: '4/4', beats: 4 },
  { text: '3/4', beats: 3 },
  { text: '2/4', beats: 2 },
  { text: '5/4', beats: 5 },
  { text: '6/8', beats: 2 },
  { text: '12/8', beats: 4 },
];
type InMeter = (typeof METERS)[number];

/** Bars of chord tones by leap over the first chord, ended by a rest, so that they neither hide nor make anything. */
const FILLERS = ['1 5 3 1', '5 1 5 3', '3 1 5 1', '1 3 1 5'];

function fillerBar(figures: string, { beats }: InMeter): string {
  return [...figures.split(' ').slice(0, beats - 1), '.'].join(' ');
}

/** The beats of a planted bar in the bars of a meter: the first bar ends at a bar line, the next one starts there. */
function laidOut(bar: string, isFirst: boolean, { beats }: InMeter): { readonly bars: string[]; readonly before: number } {
  const groups = bar.trim().split(/\s+/);
  const rests = Array.from({ length: (beats - (groups.length % beats)) % beats }, () => '.');
  const all = isFirst ? [...rests, ...groups] : [...groups, ...rests];
  return {
    bars: Array.from({ length: all.length / beats }, (_, i) => all.slice(i * beats, (i + 1) * beats).join(' ')),
    before: isFirst ? rests.length : 0,
  };
}

/** A planted phrase in C, and where its device is to be named. */
function planted(
  { over, line, compound, at }: Plant,
  meter: InMeter,
  fillers: readonly string[],
): { readonly text: string; readonly place: string } {
  const lines = (/8$/.test(meter.text) ? (compound ?? line) : line).split(' | ').map((bar, i) => laidOut(bar, i === 0, meter));
  const chords = over.split(' | ').flatMap((chord, i) => lines[i]!.bars.map(() => chord));
  const symbols = [...fillers.map(() => over.split(' | ')[0]!), ...chords];
  const bars = [...fillers.map((figures) => fillerBar(figures, meter)), ...lines.flatMap((one) => one.bars)];
  const [bar, beat] = at.split('.') as [string, string];
  const [whole, part] = beat.split('+') as [string, string | undefined];
  const since =
    (fillers.length + (bar === '2' ? lines[0]!.bars.length : 0)) * meter.beats + (bar === '1' ? lines[0]!.before : 0) + Number(whole) - 1;
  return {
    text: `phrase "Planted"\n  meter ${meter.text}\n  over | ${symbols.join(' | ')} |\n  line | ${bars.join(' | ')} |\n`,
    place: `${Math.floor(since / meter.beats) + 1}.${(since % meter.beats) + 1}${part === undefined ? '' : `+${part}`}`,
  };
}

test('a planted device is named at its place, in every meter and every key', () => {
  const misses: string[] = [];
  let cases = 0;
  PLANTS.forEach((plant, p) =>
    METERS.forEach((meter, m) =>
      KEYS.forEach((shift, k) => {
        // Two plants of a kind take turns; each kind meets every meter in every key.
        const kin = PLANTS.filter(({ kind }) => kind === plant.kind);
        if (kin.indexOf(plant) !== (m + k) % kin.length) return;
        const { text, place } = planted(plant, meter, FILLERS.slice(0, (p + m + k) % 3));
        const { phrase: plain } = openSnapshot('file:///a.phrase', 1, text).phrases[0]!;
        expect(
          plain.problems.filter(({ severity }) => severity === 'error'),
          text,
        ).toEqual([]);
        const edits = transpositionEdits(plain.text, plain.item, shift);
        if (edits === null) return;
        cases += 1;
        const { phrase } = openSnapshot('file:///a.phrase', 1, applyEdits(plain.text, edits)).phrases[0]!;
        const placeOf = (note: number): string => `${phrase.notes[note]!.bar}.${phrase.notes[note]!.beat}`;
        const found = devicesOf(readPhrase(phrase, DEFAULT_THEORY)).some(
          (device) => device.kind === plant.kind && [device.target ?? device.from, device.from].map(placeOf).includes(place),
        );
        if (!found) misses.push(`${plant.kind} at ${place} in ${meter.text}: ${phrase.text}`);
      }),
    ),
  );
  expect(cases).toBeGreaterThan(DEVICE_KINDS.length * METERS.length * 10);
  expect(misses.length, `${misses.length} missed\n${misses.slice(0, 14).join('\n')}`).toBe(0);
});

test('every device is planted', () => {
  expect(new Set(PLANTS.map(({ kind }) => kind))).toEqual(new Set(DEVICE_KINDS));
  expect(new Set(DEVICE_KINDS).size).toBe(DEVICES.length);
});

const ORNAMENTS: ReadonlySet<DeviceKind> = new Set(DEVICES.filter(({ layer }) => layer === 'ornament').map(({ id }) => id));
const EVENTS: ReadonlySet<DeviceKind> = new Set(DEVICES.filter(({ layer }) => layer === 'event').map(({ id }) => id));

const slot = fc.tuple(fc.constantFrom('', '/', '\\'), fc.constantFrom('1', '3', '5')).map((parts) => parts.join(''));
const group = fc.array(slot, { minLength: 1, maxLength: 4 }).map((slots) => slots.join('-'));

test('a line of chord tones over one chord has no ornament, and nothing happens to it in the harmony', () => {
  const chord = fc.constantFrom('Cmaj7', 'Dm7', 'G7', 'Bm7b5', 'F6', 'Am(maj7)', 'Edim7');
  const bars = fc.constantFrom(...METERS).chain((meter) =>
    fc.tuple(
      fc.constant(meter),
      fc.array(
        fc.array(group, { minLength: meter.beats, maxLength: meter.beats }).map((groups) => groups.join(' ')),
        { minLength: 1, maxLength: 3 },
      ),
    ),
  );
  always(
    fc.property(chord, bars, (symbol, [meter, line]) => {
      const { phrase } = openSnapshot(
        'file:///a.phrase',
        1,
        `phrase "Plain"\n  meter ${meter.text}\n  over | ${line.map(() => symbol).join(' | ')} |\n  line | ${line.join(' | ')} |\n`,
      ).phrases[0]!;
      expect(devicesOf(readPhrase(phrase, DEFAULT_THEORY)).filter(({ kind }) => ORNAMENTS.has(kind) || EVENTS.has(kind))).toEqual([]);
    }),
    { ...RUN, numRuns: 400 },
  );
});

test('a note has one ornament at most, and none that passes within a run beside it', () => {
  always(
    fc.property(phraseArbitrary, ({ text }) => {
      const devices = devicesOf(readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY));
      const adorned = devices.filter(({ kind }) => ORNAMENTS.has(kind)).flatMap(({ notes }) => notes);
      expect(new Set(adorned).size).toBe(adorned.length);
      const runs = devices.filter(({ kind }) => kind === 'scale-run');
      expect(
        devices.filter(
          ({ kind, notes, target }) =>
            kind === 'passing-tone' && runs.some((run) => [...notes, target!].every((note) => run.notes.includes(note))),
        ),
      ).toEqual([]);
    }),
    { ...RUN, numRuns: 300 },
  );
});
