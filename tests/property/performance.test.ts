/** What must hold of a take of any phrase under any options. */
import { Fraction } from '../../server/src/model/fraction';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { homeKey } from '../../server/src/analysis/keys';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { openSnapshot } from '../../server/src/model/snapshot';
import { BASS } from '../../server/src/performance/bass';
import { clockOf, quartersOf } from '../../server/src/performance/swing';
import { takeOf } from '../../server/src/performance/take';
import type { Practice, Sound, Take, TakeOptions, Voice } from '../../server/src/performance/types';
import { CHORDS } from '../../server/src/performance/voicings';
import { chroma } from '../../server/src/theory/pitch';
import { always, junk, phraseArbitrary, RUN } from './arbitrary';

const WHOLE: TakeOptions = { stretch: null, tempo: null, ratio: null, countIn: 0, practice: { kind: 'plain' } };

const practice: fc.Arbitrary<Practice> = fc.oneof(
  fc.constant<Practice>({ kind: 'plain' }),
  fc.record({ kind: fc.constant('faster' as const), step: fc.integer({ min: 1, max: 40 }), top: fc.integer({ min: 20, max: 400 }) }),
  fc.record({ kind: fc.constant('keys' as const), order: fc.constantFrom('cycle' as const, 'half-steps' as const) }),
);
const options: fc.Arbitrary<TakeOptions> = fc.record({
  stretch: fc.constant(null),
  tempo: fc.option(fc.integer({ min: 20, max: 400 })),
  ratio: fc.option(fc.double({ min: 1, max: 4, noNaN: true })),
  countIn: fc.integer({ min: 0, max: 4 }),
  practice,
});
const place = fc.oneof(fc.double(), fc.double({ min: -4, max: 20 }), fc.integer({ min: -3, max: 20 }));
/** Numbers of any kind, also those that are none. */
const wild: fc.Arbitrary<TakeOptions> = fc.record({
  stretch: fc.option(fc.record({ from: place, to: place })),
  tempo: fc.option(fc.double()),
  ratio: fc.option(fc.double()),
  countIn: fc.double(),
  practice: fc.oneof(practice, fc.record({ kind: fc.constant('faster' as const), step: fc.double(), top: fc.double() })),
});

function readingOf(text: string): Reading {
  return readPhrase(openSnapshot('file:///a.phrase', 1, text).phrases[0]!.phrase, DEFAULT_THEORY);
}

function voice({ sounds }: Take, name: Voice): Sound[] {
  return sounds.filter((sound) => sound.voice === name);
}

function checkOrder(take: Take): void {
  // One comparison for many sounds: a call of `expect` for each would be most of the time.
  const wrongSounds = take.sounds.filter(
    ({ at, length, velocity, midi }, i) =>
      ![at, length, velocity, ...midi].every(Number.isFinite) ||
      at < (take.sounds[i - 1]?.at ?? 0) ||
      length <= 0 ||
      velocity <= 0 ||
      velocity > 1 ||
      midi.some((note, k) => note <= (midi[k - 1] ?? -Infinity)),
  );
  expect(wrongSounds).toEqual([]);
  expect(take.cursor.filter(({ at, until }, i) => until <= at || (take.cursor[i + 1]?.at ?? Infinity) < until)).toEqual([]);
  expect(take.passes.filter(({ at, until }, i) => until <= at || (take.passes[i + 1]?.at ?? take.length) !== until)).toEqual([]);
}

test('any text and any options make finite sounds in order', () => {
  always(
    fc.property(
      fc.oneof(
        junk,
        phraseArbitrary.map(({ text }) => text),
      ),
      wild,
      (text, chosen) => {
        for (const { phrase } of openSnapshot('file:///a.phrase', 1, text).phrases) {
          const reading = readPhrase(phrase, DEFAULT_THEORY);
          const take = takeOf(reading, chosen);
          checkOrder(take);
          expect(takeOf(reading, chosen)).toEqual(take);
        }
      },
    ),
    { ...RUN, numRuns: 300 },
  );
});

test('every pass has each note once, moved by its shift, in range with its chords', () => {
  always(
    fc.property(phraseArbitrary, options, ({ text }, chosen) => {
      const reading = readingOf(text);
      const { notes } = reading.phrase;
      const take = takeOf(reading, chosen);
      checkOrder(take);
      expect(voice(take, 'line').map(({ midi }) => midi)).toEqual(
        take.passes.flatMap(({ shift }) => notes.map((note) => [note.midi + shift])),
      );
      expect(take.cursor.map(({ note, pass }) => [note, pass])).toEqual(
        take.passes.flatMap((_, pass) => notes.map(({ index }) => [index, pass])),
      );
      expect(take.cursor.map(({ at }) => at)).toEqual(voice(take, 'line').map(({ at }) => at));
      if (chosen.practice.kind !== 'keys') return;
      expect(new Set(take.passes.map(({ shift }) => (shift + 12) % 12)).size).toBe(12);
      expect(take.passes.every(({ tonic }) => (tonic === null) === (homeKey(reading) === null))).toBe(true);
    }),
    { ...RUN, numRuns: 200 },
  );
});

test('chords and bass are made of the chord, shifted, in their ranges', () => {
  always(
    fc.property(phraseArbitrary, options, ({ text }, chosen) => {
      const reading = readingOf(text);
      const take = takeOf(reading, { ...chosen, ratio: 1 });
      const quarters = quartersOf(reading.phrase);
      const first = reading.phrase.bars[0]!.onset;
      take.passes.forEach(({ at: begin, until, tempo, shift }) => {
        const clock = clockOf(quarters, tempo, 1);
        const chordAt = (at: number) =>
          reading.phrase.spans.findLast(({ onset }) => begin + clock(onset) - clock(first) <= at + 1e-9)!.chord!;
        const classes = (at: number): Set<number> => new Set(chordAt(at).tones.map(({ name }) => (chroma(name) + shift + 12) % 12));
        const inPass = ({ at }: Sound): boolean => at > begin - 1e-9 && at < until - 1e-9;
        for (const { at, midi } of voice(take, 'chords').filter(inPass)) {
          expect(midi.length).toBe(3);
          expect(midi.every((note) => classes(at).has(note % 12) && note >= CHORDS.low && note <= CHORDS.high)).toBe(true);
        }
        for (const { at, midi } of voice(take, 'bass').filter(inPass))
          expect(classes(at).has(midi[0]! % 12) && midi[0]! >= BASS.low && midi[0]! <= BASS.high).toBe(true);
      });
    }),
    { ...RUN, numRuns: 200 },
  );
});

test('swung time goes forward only, and a swung bar lasts as long as a straight one', () => {
  always(
    fc.property(
      phraseArbitrary,
      fc.double({ min: 1, max: 4, noNaN: true }),
      fc.integer({ min: 20, max: 400 }),
      ({ text }, ratio, tempo) => {
        const { phrase } = readingOf(text);
        const quarters = quartersOf(phrase);
        const [swung, straight] = [clockOf(quarters, tempo, ratio), clockOf(quarters, tempo, 1)];
        const last = phrase.bars.at(-1)!;
        const first = phrase.bars[0]!.onset;
        const length = last.onset.add(last.length).sub(first);
        const seconds = Array.from({ length: 97 }, (_, i) => swung(first.add(length.mul(new Fraction(i, 96)))));
        seconds.forEach((value, i) => expect(value).toBeGreaterThan(seconds[i - 1] ?? -Infinity));
        for (const bar of phrase.bars.filter(({ number }) => number > 0)) {
          const end = bar.onset.add(bar.length);
          expect(swung(end) - swung(bar.onset)).toBeCloseTo((bar.meter.beatCount * 60) / tempo, 9);
          expect(swung(bar.onset) - swung(new Fraction(0))).toBeCloseTo(straight(bar.onset) - straight(new Fraction(0)), 9);
        }
      },
    ),
    { ...RUN, numRuns: 200 },
  );
});

test('without swing all sounds are where they are written', () => {
  always(
    fc.property(phraseArbitrary, fc.integer({ min: 20, max: 400 }), fc.integer({ min: 0, max: 4 }), ({ text }, tempo, countIn) => {
      const reading = readingOf(text);
      const { notes, bars } = reading.phrase;
      const take = takeOf(reading, { ...WHOLE, tempo, ratio: 1, countIn });
      const { meter, onset } = bars[0]!;
      voice(take, 'line').forEach(({ at }, i) => {
        const beats = notes[i]!.onset.sub(onset).div(meter.beat);
        expect(at).toBeCloseTo(take.countIn + (Number(beats.valueOf()) * 60) / tempo, 9);
      });
      // The count-in is whole bars up to bar 1, whatever comes before it.
      const pickup = onset.compare(0) < 0 ? -Number(onset.div(meter.beat).valueOf()) : 0;
      expect(take.countIn + (pickup * 60) / tempo).toBeCloseTo((Math.max(countIn * meter.beatCount, pickup) * 60) / tempo, 9);
    }),
    { ...RUN, numRuns: 200 },
  );
});
