/** Renders sounds to samples without waiting for them: the instruments that play, on a clock of their own. */
import { Context } from 'tone/build/esm/core/context/Context.js';
import type { Track, TrackSamples } from '../src/score/messages';
import { createInstruments, LIMITER_DELAY } from './instruments';
import type { Piano } from './piano';

/** Samples a second, which every player and every editor of sound reads. */
const RATE = 44_100;

/** Seconds before the first sound, in which all comes to life; they are cut off again. */
const LEAD = 0.5;

/** When sounds are struck, in seconds: what is struck before anything runs may be lost (seen in Chromium, with the first sounds of a page). */
const ALIVE = 0.25;

/** Seconds after the last sound is let go, so that it rings out. */
const RING = 0.5;

/** The highest peak: 1.2 dB below full scale, so that players that work out what is between the samples do not clip either. */
const CEILING = 10 ** (-1.2 / 20);

/** The first sample is the beginning of the take. Sounds come in order of time. `piano`: null where there is none to be had. Throws what the browser says where it cannot render. */
export async function renderTrack(
  { sounds, length, levels, piano: onPiano }: Track,
  piano: Piano | null,
): Promise<Omit<TrackSamples, 'lacksPiano'>> {
  const end = sounds.reduce((latest, sound) => Math.max(latest, sound.at + sound.length), length) + RING;
  const cut = Math.round((LEAD + LIMITER_DELAY) * RATE);
  const native = new OfflineAudioContext({ numberOfChannels: 1, sampleRate: RATE, length: cut + Math.ceil(end * RATE) });
  const context = new Context({ context: native as unknown as Context['rawContext'], clockSource: 'timeout', lookAhead: 0 });
  try {
    const instruments = createInstruments(context);
    for (const voice of ['line', 'chords', 'bass', 'click'] as const) instruments.setLevel(voice, levels[voice]);
    instruments.setPiano(piano, onPiano);
    instruments.open(0);
    const strike = (): void => sounds.forEach((sound) => instruments.strike(sound, LEAD + sound.at));
    const struck = whenAlive(native, strike);
    const [buffer] = await Promise.all([native.startRendering(), struck]);
    return { rate: RATE, samples: quantized(buffer.getChannelData(0).subarray(cut)) };
  } finally {
    context.dispose();
  }
}

/** Does something at a moment of a rendering that is still to start; where the browser cannot hold one, at once. */
async function whenAlive(native: OfflineAudioContext, action: () => void): Promise<void> {
  if (!('suspend' in native)) return action();
  await native.suspend(ALIVE);
  // An error must not leave the rendering held for good.
  try {
    action();
  } finally {
    void native.resume();
  }
}

/** Samples of -1 to 1 as whole numbers of 16 bits; what is louder than the ceiling is made softer as a whole, never cut. */
function quantized(samples: Float32Array): Int16Array<ArrayBuffer> {
  const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const scale = 32_767 * Math.min(1, CEILING / peak);
  return Int16Array.from(samples, (sample) => Math.round(sample * scale));
}
