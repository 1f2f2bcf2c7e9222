/**
 * MIDI files against another reader: jzz-midi-smf (MIT) shares no code with the library that writes them. Every pitch, onset and
 * length of the line equals the model's to a tick; what is swung equals the take to a tick, by the tempo written in the file.
 * Standard MIDI Files 1.0: type 1, 480 ticks a quarter. Programs: General MIDI level 1, from memory.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { TICKS, UnplayableNote, writeMidiFile, type MidiOptions } from '../../server/src/exports/midi';
import { openSnapshot } from '../../server/src/model/snapshot';
import { takeOf } from '../../server/src/performance/take';
import { always, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from '../property/arbitrary';
import { notesIn, readSmf, type Message, type Smf, type Track } from './smf';

const PLAIN: MidiOptions = { eighths: 'as-written', keys: 'written' };
const NAMES = ['line', 'chords', 'bass', 'click'];

function readingsOf(text: string): Reading[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
}

function fileOf(readings: readonly Reading[], options: Partial<MidiOptions> = {}): Smf {
  return readSmf(writeMidiFile(readings, 'A lesson', { ...PLAIN, ...options }));
}

const meta = (track: Track, kind: number): Message[] => track.filter(({ ff }) => ff === kind);
const numbers = (data: string): number[] => [...data].map((sign) => sign.charCodeAt(0));

/** The tick of bar 1 where a phrase stands alone in a file: a pickup has a bar of its own. */
function barOne({ phrase }: Reading): number {
  const [first] = phrase.bars;
  return first !== undefined && first.number === 0 ? Number(first.meter.length.valueOf()) * TICKS : 0;
}

const isPlayable = (text: string): boolean =>
  readingsOf(text).every(({ phrase }) => phrase.notes.every(({ midi }) => midi >= 24 && midi < 116));
const anyPhrase = fc
  .tuple(fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary), fc.integer({ min: 40, max: 300 }))
  .map(([{ text }, tempo]) => text.replace(/^ {2}over /m, `  tempo ${tempo}\n  over `))
  .filter(isPlayable);

describe('as written', () => {
  test('every pitch, onset and length of the line is the model’s, to a tick', () => {
    let tried = 0;
    always(
      fc.property(anyPhrase, (text) => {
        const [reading] = readingsOf(text) as [Reading];
        if (reading.phrase.bars.length === 0) return;
        const file = fileOf([reading]);
        const zero = barOne(reading);
        const expected = reading.phrase.notes.map(({ onset, duration, midi, marks }) => {
          const on = Math.round(Number(onset.valueOf()) * TICKS);
          const ends = Number(onset.valueOf()) + Number(duration.valueOf()) * (marks.includes('short-accent') ? 0.5 : 1);
          return { on: on + zero, off: Math.max(on + 1, Math.round(ends * TICKS)) + zero, midi };
        });
        const found = notesIn(file[1]!);
        expect(found.map(({ midi }) => midi)).toEqual(expected.map(({ midi }) => midi));
        found.forEach((note, i) => {
          expect(Math.abs(note.on - expected[i]!.on), text).toBeLessThanOrEqual(1);
          expect(Math.abs(note.off - expected[i]!.off), text).toBeLessThanOrEqual(1);
        });
        tried += found.length;
      }),
      { ...RUN, numRuns: 150 },
    );
    expect(tried).toBeGreaterThan(500);
  });
});

describe('as played', () => {
  test('every sound of every voice is where the take has it, by the tempo in the file', () => {
    always(
      fc.property(anyPhrase, (text) => {
        const [reading] = readingsOf(text) as [Reading];
        if (reading.phrase.bars.length === 0) return;
        const file = fileOf([reading], { eighths: 'as-played' });
        const take = takeOf(reading, { stretch: null, tempo: null, ratio: null, countIn: 0, practice: { kind: 'plain' } });
        const tempos = meta(file[0]!, 0x51).map(({ tt, dd }) => ({ tt, micros: numbers(dd!).reduce((sum, byte) => 256 * sum + byte, 0) }));
        const seconds = (tick: number): number =>
          tempos.reduce(
            (sum, { tt, micros }, i) => sum + (Math.max(0, Math.min(tick, tempos[i + 1]?.tt ?? Infinity) - tt) / TICKS) * (micros / 1e6),
            0,
          );
        // A pickup stands at the end of a bar of its own.
        const [first] = reading.phrase.bars;
        const begin = seconds(barOne(reading) + Math.round(Number(first!.onset.valueOf()) * TICKS));
        NAMES.forEach((voice, i) => {
          const sounds = take.sounds
            .filter((sound) => sound.voice === voice)
            .flatMap(({ at, midi }) => (voice === 'click' ? [at] : midi.map(() => at)));
          const found = notesIn(file[i + 1]!).map(({ on }) => seconds(on) - begin);
          expect(found.length).toBe(sounds.length);
          // A tick, and the rounding of the tempo to whole microseconds over the phrase.
          const tick = Math.max(...tempos.map(({ micros }) => micros)) / 1e6 / TICKS + 1e-4;
          found.forEach((at, k) => expect(Math.abs(at - sounds[k]!), `${voice} ${k}\n${text}`).toBeLessThanOrEqual(tick));
        });
      }),
      { ...RUN, numRuns: 100 },
    );
  });
});

describe('a lesson', () => {
  const folder = resolve(import.meta.dirname, '..', '..', 'samples');
  const samples = readdirSync(folder).filter((file) => file.endsWith('.phrase'));

  test.each(samples)('%s: type 1, 480 ticks, tracks by name, a marker a phrase, tempo, meter and key', (sample) => {
    const readings = readingsOf(readFileSync(join(folder, sample), 'utf8'));
    const file = fileOf(readings);
    expect([file.type, file.ppqn, file.length]).toEqual([1, 480, 5]);
    expect(file.map((track) => meta(track, 0x03)[0]!.dd)).toEqual(['A lesson', ...NAMES]);
    const markers = meta(file[0]!, 0x06);
    expect(markers.map(({ dd }) => dd)).toEqual(readings.map(({ phrase }) => phrase.name));
    const lengths = readings.map(
      (reading) =>
        barOne(reading) +
        reading.phrase.bars.filter(({ number }) => number > 0).reduce((sum, { length }) => sum + Number(length.valueOf()) * TICKS, 0),
    );
    expect(markers.map(({ tt }) => tt)).toEqual(lengths.map((_, i) => lengths.slice(0, i).reduce((sum, length) => sum + length, 0)));
    readings.forEach(({ phrase }, i) => {
      const here = ({ tt }: Message): boolean => tt === markers[i]!.tt;
      const [numerator, power] = numbers(meta(file[0]!, 0x58).find(here)!.dd!);
      expect([numerator, 2 ** power!]).toEqual([phrase.bars[0]!.meter.beats, phrase.bars[0]!.meter.unit]);
      const micros = numbers(meta(file[0]!, 0x51).find(here)!.dd!).reduce((sum, byte) => 256 * sum + byte, 0);
      expect(micros).toBe(Math.round(60e6 / phrase.tempo.bpm / Number(phrase.bars[0]!.meter.beat.valueOf())));
      const program = file[1]!.find((message) => (message[0]! & 0xf0) === 0xc0 && message.tt === markers[i]!.tt);
      expect(program![1]).toBe(phrase.part.program - 1);
    });
  });

  test('all keys: twelve passes, each with its tonic at its marker', () => {
    const readings = readingsOf('phrase "A"\n  key F major\n  over | Gm7 C7 | Fmaj7 |\n  line | Bb4-A G-D E-C Bb-G | A ~ . . |\n');
    const file = fileOf(readings, { keys: 'all' });
    const markers = meta(file[0]!, 0x06);
    expect(markers.map(({ dd }) => dd)).toEqual(
      ['F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G', 'C'].map((tonic) => `A (${tonic})`),
    );
    // Signatures of the circle of fifths: flats are below 0.
    const signatures = meta(file[0]!, 0x59)
      .map(({ dd }) => numbers(dd!))
      .map(([key]) => (key! > 127 ? key! - 256 : key));
    expect(signatures).toEqual([-1, -2, -3, -4, -5, -6, 5, 4, 3, 2, 1, 0]);
    const tonics = [5, 10, 3, 8, 1, 6, 11, 4, 9, 2, 7, 0];
    const notes = notesIn(file[1]!);
    // The last note of each pass is the third of its key.
    markers.forEach(({ tt }, i) => {
      const last = notes.filter(({ on }) => on >= tt && on < tt + 8 * TICKS).at(-1)!;
      expect((last.midi - tonics[i]! + 120) % 12).toBe(4);
    });
  });

  test('a note beyond MIDI’s numbers is refused by the phrase’s name', () => {
    expect(() => fileOf(readingsOf('phrase "Very high"\n  line | A9 C10 . . |\n'))).toThrow(UnplayableNote);
  });
});
