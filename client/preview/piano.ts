/** The piano: recordings of some notes; a note between two of them is the nearer one, played faster or slower. */
import { connect } from 'tone/build/esm/core/context/ToneAudioNode.js';
import type { Context } from 'tone/build/esm/core/context/Context.js';
import type { Gain } from 'tone/build/esm/core/context/Gain.js';
import notes from './piano-notes.json';

/** Recordings by the MIDI number of their note: one channel each, from the stroke on. */
export type Piano = ReadonlyMap<number, AudioBuffer>;

export interface PianoNotes {
  /** A note of MIDI number 0 to 127, at a time of the audio clock and for so many seconds; `velocity`: 0 to 1. */
  strike(piano: Piano, midi: number, time: number, length: number, velocity: number): void;
  /** What sounds ends at a time; what would begin later does not begin. */
  hush(time: number): void;
}

/** Seconds in which a note dies away once it is let go: the damper falls. */
const RELEASE = 0.25;

/** Samples a second of the recordings. */
const RATE = 44_100;

/** Seconds of a recording that are kept (a whole note at 40 beats a minute is shorter), and in how many of them it fades at the end. */
const KEPT = 8;
const FADE = 0.5;

/** A recording begins where it first has this share of its highest peak; before that are silence and the noise of the key. */
const STROKE = 0.1;
/** Seconds before that which are kept, so that it does not begin with a click. */
const BEFORE = 0.001;

/** Every recording gets this level (root mean square) over its first seconds, for they were not made evenly. */
const LEVEL = 0.12;
const LEVELLED = 0.4;

/** Seconds a stroke comes before the time of its note: these strings take up to twice that to sound (measured), and then they are heard. */
const RISE = 0.006;

/** Milliseconds to wait for the recordings: who plays does not wait longer for a slow way to the editor. */
const PATIENCE = 6000;

/**
 * Answers the piano, which is loaded from a folder of the extension when it is first asked for; null where it cannot be had, or not
 * soon enough. `onFailure` gets the reason, the first time.
 */
export function pianoFrom(folder: string, onFailure: (reason: string) => void): () => Promise<Piano | null> {
  let loading: Promise<Piano> | null = null;
  let hasFailed = false;
  return async () => {
    loading ??= load(folder);
    const mine = loading;
    try {
      return await within(mine, PATIENCE);
    } catch (error) {
      // What only takes long is still on its way; what failed is tried again.
      mine.catch(() => {
        if (loading === mine) loading = null;
      });
      if (!hasFailed) onFailure(error instanceof Error ? error.message : String(error));
      hasFailed = true;
      return null;
    }
  };
}

export function pianoNotes(context: Context, output: Gain): PianoNotes {
  const native = context.rawContext as unknown as BaseAudioContext;
  const sounding = new Set<AudioBufferSourceNode>();
  return {
    strike(piano, midi, time, length, velocity) {
      const nearest = [...piano.keys()].reduce((best, one) => (Math.abs(one - midi) < Math.abs(best - midi) ? one : best));
      const source = new AudioBufferSourceNode(native, { buffer: piano.get(nearest)!, playbackRate: 2 ** ((midi - nearest) / 12) });
      const envelope = new GainNode(native, { gain: velocity });
      envelope.gain.setValueAtTime(velocity, time + length);
      envelope.gain.linearRampToValueAtTime(0, time + length + RELEASE);
      source.connect(envelope);
      connect(envelope as unknown as Parameters<typeof connect>[0], output);
      source.start(Math.max(time - RISE, native.currentTime));
      source.stop(time + length + RELEASE);
      sounding.add(source);
      source.onended = () => {
        sounding.delete(source);
        envelope.disconnect();
      };
    },
    hush(time) {
      for (const source of sounding) source.stop(time);
      sounding.clear();
    },
  };
}

async function load(folder: string): Promise<Piano> {
  const context = new OfflineAudioContext({ numberOfChannels: 1, length: 1, sampleRate: RATE });
  const read = async (midi: string): Promise<[number, AudioBuffer]> => {
    const answer = await fetch(`${folder}/${midi}.mp3`);
    if (!answer.ok) throw new Error(`${midi}.mp3: ${answer.status}`);
    return [Number(midi), fromStroke(await context.decodeAudioData(await answer.arrayBuffer()))];
  };
  return new Map(await Promise.all(Object.keys(notes).map(read)));
}

/** One channel of what was recorded, from just before the stroke on, for as long as is kept, as loud as the others. */
function fromStroke(recorded: AudioBuffer): AudioBuffer {
  const channels = Array.from({ length: recorded.numberOfChannels }, (_, channel) => recorded.getChannelData(channel));
  const all = channels[0]!.map((_, i) => channels.reduce((sum, channel) => sum + channel[i]!, 0) / channels.length);
  const peak = all.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const begin = Math.max(0, all.findIndex((sample) => Math.abs(sample) >= STROKE * peak) - Math.round(BEFORE * recorded.sampleRate));
  const kept = all.slice(begin, begin + KEPT * recorded.sampleRate);
  const first = kept.subarray(0, Math.round(LEVELLED * recorded.sampleRate));
  const scale = LEVEL / Math.sqrt(first.reduce((sum, sample) => sum + sample * sample, 0) / first.length);
  for (let i = 0; i < kept.length; i += 1) kept[i]! *= scale;
  const fade = Math.min(kept.length, FADE * recorded.sampleRate);
  for (let left = 0; left < fade; left += 1) kept[kept.length - 1 - left]! *= left / fade;
  const buffer = new AudioBuffer({ numberOfChannels: 1, length: kept.length, sampleRate: recorded.sampleRate });
  buffer.copyToChannel(kept, 0);
  return buffer;
}

function within<T>(promise: Promise<T>, milliseconds: number): Promise<T> {
  return new Promise((resolve, reject) => {
    const patience = setTimeout(() => reject(new Error('It takes long to load; it plays as soon as it is there.')), milliseconds);
    promise.then(resolve, reject).finally(() => clearTimeout(patience));
  });
}
