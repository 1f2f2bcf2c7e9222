/** Figures drawn in the scale of a chord, moved a half step and back: whatever their shape, nothing is held against them, and while they are written nothing is told that goes again. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot, whileWritten } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { always, RUN } from './arbitrary';

const FLATS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
/** A chord with its scale stated, in half steps from C. */
const CHORDS = [
  { symbol: 'Dm7:dorian', scale: [0, 2, 4, 5, 7, 9, 11] },
  { symbol: 'Fmaj7:lydian', scale: [0, 2, 4, 5, 7, 9, 11] },
  { symbol: 'C7:mixolydian', scale: [0, 2, 4, 5, 7, 9, 10] },
] as const;

interface Drawn {
  readonly symbol: string;
  readonly bars: readonly string[];
}

/** A bar of quarters or eighths in the scale; it is moved, or it is moved first; then the line comes back, or goes on as it will. */
const drawn: fc.Arbitrary<Drawn> = fc
  .record({
    chord: fc.constantFrom(...CHORDS),
    steps: fc.array(fc.integer({ min: -3, max: 3 }), { minLength: 8, maxLength: 8 }),
    size: fc.constantFrom(4, 8),
    way: fc.constantFrom(1, -1),
    first: fc.boolean(),
    names: fc.constantFrom(FLATS, SHARPS),
    rest: fc.array(fc.integer({ min: 60, max: 72 }), { minLength: 4, maxLength: 4 }),
    isBack: fc.boolean(),
  })
  .map(({ chord: { symbol, scale }, steps, size, way, first, names, rest, isBack }) => {
    let place = 14;
    const degrees = steps.slice(0, size).map((step) => (place = Math.min(21, Math.max(7, place + step))));
    const midis = degrees.map((degree) => 12 * Math.floor(degree / 7) + 36 + scale[degree % 7]!);
    const bar = (notes: readonly number[]): string => {
      const text = notes.map((midi) => `${names[midi % 12]!}${Math.floor(midi / 12) - 1}`);
      return notes.length === 4 ? text.join(' ') : [0, 2, 4, 6].map((i) => text.slice(i, i + 2).join('-')).join(' ');
    };
    const moved = midis.map((midi) => midi + way);
    return {
      symbol,
      bars: [...(first ? [moved, midis] : [midis, moved]), isBack ? midis : rest, rest].map(bar),
    };
  });

const head = ({ symbol, bars }: Drawn): string =>
  `phrase "A"\n  over | ${symbol} |${bars
    .slice(1)
    .map(() => ' % |')
    .join('')}\n  line | `;

test('nothing is held against the notes of a figure that slips, however they are spelled', () => {
  let slipped = 0;
  always(
    fc.property(drawn, (line) => {
      const snapshot = openSnapshot('', 1, `${head(line)}${line.bars.join(' | ')} |\n`);
      const { phrase } = snapshot.phrases[0]!;
      const reading = readPhrase(phrase, DEFAULT_THEORY);
      slipped += reading.slips.size === 0 ? 0 : 1;
      const about = findingsOf(snapshot, DEFAULT_THEORY).flatMap((finding) => finding.about?.note ?? []);
      expect(about.filter((note) => reading.slips.has(note))).toEqual([]);
      // Half a step each way, by one figure that is inside.
      for (const [note, { model, from, way }] of reading.slips)
        expect(phrase.notes[note]!.midi - phrase.notes[note - from + model]!.midi).toBe(way);
    }),
    { ...RUN, numRuns: 200 },
  );
  expect(slipped).toBeGreaterThan(10);
});

test('while it is written nothing is told that goes again', () => {
  always(
    fc.property(drawn, (line) => {
      const whole = `${head(line)}${line.bars.join(' | ')} |`;
      const known = new Set<string>();
      for (let end = head(line).length; end <= whole.length; end += 1) {
        // A name is whole before it is read.
        if (!/[\s|]/.test(whole[end] ?? ' ')) continue;
        const text = whole.slice(0, end);
        const told = findingsOf(whileWritten(openSnapshot('', 1, text), [text.length]), DEFAULT_THEORY)
          .filter(({ early }) => !early)
          .map(({ rule, start }) => `${rule} ${start}`);
        for (const one of known) expect(told, `${one} in ${text}`).toContain(one);
        for (const one of told) known.add(one);
      }
    }),
    { ...RUN, numRuns: 100 },
  );
});
