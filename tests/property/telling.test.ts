/** The walk-through as sentences: every note is told of once, nothing is told twice, and never too much. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { ADDED } from '../../server/src/analysis/devices/bebop-line';
import { devicesOf } from '../../server/src/analysis/devices/read';
import type { Reading } from '../../server/src/analysis/types';
import { isBasicTone } from '../../server/src/analysis/vocabulary';
import { heldChords } from '../../server/src/explain/telling/held-chord';
import { stretchesOf } from '../../server/src/explain/telling/stretches';
import { chroma, soundClass } from '../../server/src/theory/pitch';
import { tell } from '../../server/src/explain/telling/tell';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, leadingPhraseArbitrary, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from './arbitrary';

const anyPhrase = fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary, leadingPhraseArbitrary);

function readingOf(text: string): Reading {
  return readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY);
}

test('every note lies in exactly one sentence about the line, in every meter', () => {
  const meters = new Set<string>();
  always(
    fc.property(anyPhrase, ({ text }) => {
      const reading = readingOf(text);
      const owned = tell(reading)
        .filter(({ kind }) => kind === 'line')
        .flatMap(({ notes }) => notes);
      expect(
        [...owned].sort((a, b) => a - b),
        text,
      ).toEqual(reading.notes.map(({ note }) => note));
      for (const { meter } of reading.phrase.bars) meters.add(`${meter.beats}/${meter.unit}`);
    }),
    { ...RUN, numRuns: 400 },
  );
  expect([...meters]).toEqual(expect.arrayContaining(['4/4', '3/4', '6/8', '5/4', '12/8']));
});

test('a sentence is whole, is said once in its bar, and there are two a bar at most', () => {
  always(
    fc.property(anyPhrase, ({ text }) => {
      const sentences = tell(readingOf(text)).filter(({ kind }) => kind === 'line');
      for (const { text: words } of sentences) expect(words).toMatch(/^[A-Z“].*[^ ,;]\.$/);
      expect(sentences.filter(({ text: words }) => / {2}|undefined|null|\(\)|, ,|; ;/.test(words))).toEqual([]);
      const byBar = new Map<number, typeof sentences>();
      for (const one of sentences) byBar.set(one.bar, [...(byBar.get(one.bar) ?? []), one]);
      for (const [, said] of byBar) {
        expect(said.length).toBeLessThanOrEqual(2);
        expect(new Set(said.map(({ text: words }) => words)).size).toBe(said.length);
      }
    }),
    { ...RUN, numRuns: 400 },
  );
});

test('a bebop scale is told with the note that it adds', () => {
  always(
    fc.property(anyPhrase, ({ text }) => {
      const reading = readingOf(text);
      for (const { device, from, to } of stretchesOf(reading)) {
        if (device?.kind !== 'bebop-line') continue;
        const sounds = reading.phrase.notes.slice(from, to + 1).map(({ pitch }) => soundClass(chroma(pitch) - chroma(device.scale!.root)));
        expect(sounds, text).toContain(ADDED[device.scale!.name]);
      }
    }),
    { ...RUN, numRuns: 200 },
  );
});

test('what resolves passes no chord tone that is its goal', () => {
  always(
    fc.property(anyPhrase, ({ text }) => {
      const reading = readingOf(text);
      const { notes, spans } = reading.phrase;
      for (const { kind, to, target } of devicesOf(reading)) {
        if (!['guide-tone-resolution', 'tension-resolution'].includes(kind) || target === null) continue;
        for (const between of notes.slice(to + 1, target)) {
          const { placement } = reading.notes[between.index]!;
          const chord = placement === null ? null : spans[placement.span]!.chord;
          expect(chord !== null && isBasicTone(chord, between.pitch) && Math.abs(between.midi - notes[to]!.midi) === 1, text).toBe(false);
        }
      }
    }),
    { ...RUN, numRuns: 200 },
  );
});

/** Figures of the two scales over a dominant that share most notes (common practice). */
const FIGURES: Readonly<Record<string, readonly string[]>> = {
  altered: ['1', 'b9', '#9', '3', '#11', 'b5', 'b13', '#5', 'b7'],
  'half-whole diminished': ['1', 'b9', '#9', '3', '#11', 'b5', '5', '13', 'b7'],
};

test('a run that is told as altered or diminished has all its figures, and one that only that scale has', () => {
  always(
    fc.property(anyPhrase, ({ text }) => {
      for (const { text: words } of tell(readingOf(text))) {
        for (const [, name, said] of words.matchAll(/the \S+ (altered|half-whole diminished) scale from \S+ to \S+, ([-b#\d]+) of /g)) {
          const own = said!.split('-');
          const [other] = Object.keys(FIGURES).filter((one) => one !== name);
          expect(
            own.filter((figure) => !FIGURES[name!]!.includes(figure)),
            text,
          ).toEqual([]);
          expect(
            own.some((figure) => !FIGURES[other!]!.includes(figure)),
            text,
          ).toBe(true);
        }
      }
    }),
    { ...RUN, numRuns: 200 },
  );
});

test('a chord that is held note by note is told as one, or by what a bar before did', () => {
  let count = 0;
  always(
    fc.property(anyPhrase, ({ text }) => {
      const reading = readingOf(text);
      const stretches = stretchesOf(reading);
      for (const { from, to } of heldChords(reading)) {
        const own = stretches.filter((stretch) => stretch.from <= to && stretch.to >= from);
        expect(own.length === 1 || own.some(({ repeat }) => repeat !== null), text).toBe(true);
        count += 1;
      }
    }),
    { ...RUN, numRuns: 400 },
  );
  expect(count).toBeGreaterThan(0);
});

test('what a note in an enclosure does is told without the degree of its target again', () => {
  always(
    fc.property(anyPhrase, ({ text }) => {
      for (const { text: words } of tell(readingOf(text))) expect(words, text).not.toMatch(/enclose [^.;]*; the \S+ is the [^.;]* to the /);
    }),
    { ...RUN, numRuns: 200 },
  );
});

test('a note of two beats or more is never told to be moved off the beat', () => {
  always(
    fc.property(anyPhrase, ({ text }) => {
      const reading = readingOf(text);
      for (const { text: words, notes, kind } of tell(reading)) {
        if (kind !== 'warning' || !/move it off the beat/.test(words)) continue;
        const { onset, duration, bar } = reading.phrase.notes[notes[0]!]!;
        const { meter } = reading.phrase.bars.find(({ number }) => number === bar)!;
        const isCut = reading.phrase.spans.some((span) => span.onset.compare(onset) > 0 && span.onset.compare(onset.add(duration)) < 0);
        expect(isCut || duration.compare(meter.beat.mul(2)) < 0, text).toBe(true);
      }
    }),
    { ...RUN, numRuns: 200 },
  );
});
