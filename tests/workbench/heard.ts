/** What is heard in samples, found without our code: when something begins, and how loud it is. */
import { expect } from 'vitest';
import type { Take } from '../../server/src/performance/types';

export interface Wav {
  readonly rate: number;
  /** -1 to 1. */
  readonly samples: Float64Array;
  /** Those of 16 bits, as they stand in the file. */
  readonly raw: Int16Array;
}

/** Reads WAVE of one channel and 16 bits; chunk by chunk, so that no order is taken for granted (RIFF, Microsoft and IBM 1991, from memory). */
export function readWav(bytes: Buffer): Wav {
  const tag = (at: number): string => bytes.toString('latin1', at, at + 4);
  if (tag(0) !== 'RIFF' || tag(8) !== 'WAVE' || bytes.readUInt32LE(4) !== bytes.length - 8)
    throw new Error('This is no WAVE file, or its length is wrong.');
  let rate = 0;
  for (let at = 12; at < bytes.length; at += 8 + bytes.readUInt32LE(at + 4)) {
    if (tag(at) === 'fmt ') {
      const [format, channels, bits] = [bytes.readUInt16LE(at + 8), bytes.readUInt16LE(at + 10), bytes.readUInt16LE(at + 22)];
      if (format !== 1 || channels !== 1 || bits !== 16)
        throw new Error(`Not linear, one channel, 16 bits: ${format}, ${channels}, ${bits}.`);
      rate = bytes.readUInt32LE(at + 12);
    } else if (tag(at) === 'data') {
      const raw = new Int16Array(Uint8Array.from(bytes.subarray(at + 8, at + 8 + bytes.readUInt32LE(at + 4))).buffer);
      return { rate, raw, samples: Float64Array.from(raw, (sample) => sample / 32_768) };
    }
  }
  throw new Error('The file has no samples.');
}

/** The same from a time on, in seconds. */
export function heardFrom(wav: Wav, seconds: number): Wav {
  const first = Math.round(seconds * wav.rate);
  return { ...wav, samples: wav.samples.slice(first), raw: wav.raw.slice(first) };
}

export const decibels = (value: number): number => 20 * Math.log10(value);

export function peakOf(samples: Float64Array): number {
  return samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
}

/** The mean level while something sounds: of those stretches of a tenth of a second that are above -50 dB of full scale. */
export function levelOf({ samples, rate }: Wav, from: number, to: number): number {
  const powers: number[] = [];
  for (let at = Math.round(from * rate); at + rate / 10 <= to * rate; at += rate / 10) {
    powers.push(samples.subarray(at, at + rate / 10).reduce((sum, sample) => sum + sample * sample, 0) / (rate / 10));
  }
  const sounding = powers.filter((power) => 10 * Math.log10(power) > -50);
  return 10 * Math.log10(sounding.reduce((sum, power) => sum + power, 0) / sounding.length);
}

/** Samples of a window and between two windows: 17 and 1.5 ms at 44,100 a second. */
const WINDOW = 768;
const HOP = 64;
/** Seconds; two onsets are further apart. */
const APART = 0.06;

/**
 * When something begins, in seconds: peaks of the spectral flux, the sum over the spectrum of what grows (common practice in onset
 * detection; Dixon 2006, from memory). A change in the middle of a window is where the flux is greatest.
 */
export function onsetsIn({ samples, rate }: Wav, share = 0.12, lowest = 110): number[] {
  // From 110 Hz (or a higher one, for what sounds above others) to 3.5 kHz in half steps: more than a window this short tells apart.
  const bands = Array.from({ length: 60 }, (_, i) => 110 * 2 ** (i / 12)).filter((frequency) => frequency >= lowest);
  const hann = Float64Array.from({ length: WINDOW }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / WINDOW));
  const padded = new Float64Array(samples.length + 2 * WINDOW);
  padded.set(samples, WINDOW);
  const waves = bands.map((frequency) => {
    const turn = (2 * Math.PI * frequency) / rate;
    return { cosine: hann.map((weight, i) => weight * Math.cos(turn * i)), sine: hann.map((weight, i) => weight * Math.sin(turn * i)) };
  });
  const flux: number[] = [];
  let before = bands.map(() => 0);
  for (let at = 0; at + WINDOW <= padded.length; at += HOP) {
    const now = waves.map(({ cosine, sine }) => {
      let [real, imaginary] = [0, 0];
      for (let i = 0; i < WINDOW; i += 1) {
        real += padded[at + i]! * cosine[i]!;
        imaginary += padded[at + i]! * sine[i]!;
      }
      return Math.log1p(Math.hypot(real, imaginary));
    });
    flux.push(now.reduce((sum, magnitude, i) => sum + Math.max(0, magnitude - before[i]!), 0));
    before = now;
  }
  const time = (index: number): number => (index * HOP - WINDOW / 2) / rate;
  const threshold = share * flux.reduce((most, one) => Math.max(most, one), 0);
  const reach = Math.round((APART / 2) * (rate / HOP));
  return flux.flatMap((one, i) =>
    one > threshold && flux.slice(Math.max(0, i - reach), i + reach + 1).every((other) => other <= one) ? [time(i)] : [],
  );
}

/** Hertz: the click is heard up there, of the bass little more than the pluck. */
export const ABOVE_BASS = 1000;

/** Seconds. */
export const CLOSE = 0.01;

/** That in a file begins what should, when it should, and nothing else. */
export function expectOnsets(found: readonly number[], expected: readonly number[]): void {
  expectEach(expected, found);
  expectEach(found, expected);
}

export function expectEach(times: readonly number[], among: readonly number[]): void {
  expect(
    times.filter((at) => !among.some((one) => Math.abs(one - at) <= CLOSE)),
    `within ${CLOSE} s of ${among.map((at) => at.toFixed(3)).join(' ')}`,
  ).toEqual([]);
}

/** Decibels of full scale: the highest peak is below. */
export const PEAK = -1;

/** The level of the music in a file of the phrase, in dB, without the clicks of the count-in. */
export function levelOfMusic(wav: Wav, take: Take): number {
  return levelOf(wav, take.countIn + 0.02, take.length);
}
