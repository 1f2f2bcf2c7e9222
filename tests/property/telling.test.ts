/** The walk-through as sentences: every note is told of once, nothing is told twice, and never too much. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { ADDED } from '../../server/src/analysis/devices/bebop-line';
import { devicesOf } from '../../server/src/analysis/devices/read';
import type { Reading } from '../../server/src/analysis/types';
import { isBasicTone } from '../../server/src/analysis/vocabulary';
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
  always(fc.property(anyPhrase, ({ text }) => {
    const reading = readingOf(text);
    const owned = tell(reading).filter(({ kind }) => kind === 'line').flatMap(({ notes }) => notes);
    expect([...owned].sort((a, b) => a - b), text).toEqual(reading.notes.map(({ note }) => note));
    for (const { meter } of reading.phrase.bars) meters.add(`${meter.beats}/${meter.unit}`);
  }), { ...RUN, numRuns: 400 });
  expect([...meters]).toEqual(expect.arrayContaining(['4/4', '3/4', '6/8', '5/4', '12/8']));
});

test('a sentence is whole, is said once in its bar, and there are two a bar at most', () => {
  always(fc.property(anyPhrase, ({ text }) => {
    const sentences = tell(readingOf(text)).filter(({ kind }) => kind === 'line');
    for (const { text: words } of sentences) expect(words).toMatch(/^[A-Z“].*[^ ,;]\.$/);
    expect(sentences.filter(({ text: words }) => / {2}|undefined|null|\(\)|, ,|; ;/.test(words))).toEqual([]);
    const byBar = new Map<number, typeof sentences>();
    for (const one of sentences) byBar.set(one.bar, [...(byBar.get(one.bar) ?? []), one]);
    for (const [, said] of byBar) {
      expect(said.length).toBeLessThanOrEqual(2);
      expect(new Set(said.map(({ text: words }) => words)).size).toBe(said.length);
    }
  }), { ...RUN, numRuns: 400 });
});

test('a bebop scale is told with the note that it adds', () => {
  always(fc.property(anyPhrase, ({ text }) => {
    const reading = readingOf(text);
    for (const { device, from, to } of stretchesOf(reading)) {
      if (device?.kind !== 'bebop-line') continue;
      const sounds = reading.phrase.notes.slice(from, to + 1).map(({ pitch }) => soundClass(chroma(pitch) - chroma(device.scale!.root)));
      expect(sounds, text).toContain(ADDED[device.scale!.name]);
    }
  }), { ...RUN, numRuns: 200 });
});

test('what resolves passes no chord tone that is its goal', () => {
  always(fc.property(anyPhrase, ({ text }) => {
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
  }), { ...RUN, numRuns: 200 });
});
