/**
 * The four voices of a take, made by synthesis; the piano may take the place of two of them (piano.ts). Oscillators run all the time behind closed envelopes: a note is then only
 * a change of values at a time, which can be taken back until it sounds, while a source that was started cannot.
 *
 * The parts of the library are imported one by one: its index opens an audio context and a worker as soon as it is loaded.
 */
import { Compressor } from 'tone/build/esm/component/dynamics/Compressor.js';
import { AmplitudeEnvelope } from 'tone/build/esm/component/envelope/AmplitudeEnvelope.js';
import type { Envelope } from 'tone/build/esm/component/envelope/Envelope.js';
import { FrequencyEnvelope } from 'tone/build/esm/component/envelope/FrequencyEnvelope.js';
import { Filter } from 'tone/build/esm/component/filter/Filter.js';
import type { Context } from 'tone/build/esm/core/context/Context.js';
import 'tone/build/esm/core/context/Destination.js';
import { Gain } from 'tone/build/esm/core/context/Gain.js';
import { Oscillator } from 'tone/build/esm/source/oscillator/Oscillator.js';
import type { PianoVoice, Sound, Voice } from '../src/score/messages';
import { pianoNotes, type Piano, type PianoNotes } from './piano';

export interface Instruments {
  /** Strikes a sound at a time of the audio clock. One voice's sounds come in order. */
  strike(sound: Sound, time: number): void;
  /** 0 to 1, at once but without a click. */
  setLevel(voice: Voice, level: number): void;
  /** Which voices have the sound of the piano; without one (null) none has. What is struck from now on. */
  setPiano(piano: Piano | null, voices: readonly PianoVoice[]): void;
  /** Nothing is heard before; from then on it is. */
  open(time: number): void;
  /** Fades at once and drops what is struck for later. */
  hush(): void;
}

/** Seconds the limiter looks ahead, by which all sound is later than the audio clock says. */
export const LIMITER_DELAY = 0.006;

/** Seconds from `hush` on before which it must not be opened again. */
export const HUSH = 0.07;

/** Seconds of a fade or a change of level: shorter ones click. */
const FADE = 0.02;

/** Seconds a note of the line ends before its time, so that one that is played again is heard to start. */
const GAP = 0.01;

/** Chords of this many notes ring on while the next one sounds. */
const CHORD_NOTES = 16;

/** How loud the voices are beside each other at equal levels: the chords are some 9 dB under the line, the bass some 5 dB. */
const TRIMS: Readonly<Record<Voice, number>> = { line: 0.5, chords: 0.19, bass: 0.5, click: 1.4 };

/** The same of the piano, so that a voice is as loud with it as without it (measured). */
const PIANO_TRIMS: Readonly<Record<PianoVoice, number>> = { line: 1.64, chords: 0.89 };

const MASTER = 0.9;

/** After the limiter, which makes up in loudness for what it takes away: brings the loudest back to its threshold. */
const CEILING = 0.7;

/** One note at a time. */
interface Note {
  strike(frequency: number, time: number, length: number, velocity: number): void;
  hush(time: number): void;
}

type Player = (sound: Sound, time: number) => void;

export function createInstruments(context: Context): Instruments {
  const gate = new Gain({ context, gain: 0 });
  const master = new Gain({ context, gain: MASTER });
  // A hard knee: below the threshold nothing changes.
  const limiter = new Compressor({ context, threshold: -3, ratio: 20, knee: 0, attack: 0.001, release: 0.1 });
  gate.chain(master, limiter, new Gain({ context, gain: CEILING }), context.destination);

  const channel = (voice: Voice) => {
    const trim = new Gain({ context, gain: TRIMS[voice] });
    const level = new Gain({ context, gain: 0 });
    trim.chain(level, gate);
    return { trim, level };
  };
  const channels = { line: channel('line'), chords: channel('chords'), bass: channel('bass'), click: channel('click') };

  const line = lineNote(context, channels.line.trim);
  const bass = bassNote(context, channels.bass.trim);
  const click = clickNote(context, channels.click.trim);
  const chords = Array.from({ length: CHORD_NOTES }, () => ({ note: chordNote(context, channels.chords.trim), until: 0 }));

  const pianos = {
    line: pianoChannel(context, channels.line.level, PIANO_TRIMS.line),
    chords: pianoChannel(context, channels.chords.level, PIANO_TRIMS.chords),
  };
  let piano: Piano | null = null;
  let onPiano: readonly PianoVoice[] = [];
  /** The piano in the place of another sound, where it is there and wanted. */
  const orPiano =
    (voice: PianoVoice, other: Player): Player =>
    (sound, time) => {
      if (piano === null || !onPiano.includes(voice)) return other(sound, time);
      const midi = numbers(sound.midi);
      for (const number of voice === 'line' ? midi.slice(-1) : midi)
        pianos[voice].strike(piano, number, time, sound.length, clamped(sound.velocity));
    };

  const alone =
    (note: Note): Player =>
    ({ midi, length, velocity }, time) => {
      const frequency = frequencies(midi).at(-1);
      if (frequency !== undefined) note.strike(frequency, time, length, clamped(velocity));
    };
  const players: Readonly<Record<Voice, Player>> = {
    line: orPiano('line', alone(line)),
    bass: alone(bass),
    chords: orPiano('chords', ({ midi, length, velocity }, time) => {
      for (const frequency of frequencies(midi)) {
        // The one that has been silent for longest, or else the one that will be first.
        const chosen = chords.reduce((first, other) => (other.until < first.until ? other : first));
        chosen.until = time + length;
        chosen.note.strike(frequency, time, length, clamped(velocity));
      }
    }),
    click: ({ accent, length, velocity }, time) => click.strike(accent ? 1760 : 1175, time, length, clamped(velocity)),
  };

  return {
    strike: (sound, time) => players[sound.voice](sound, time),
    setLevel: (voice, level) => {
      // The ear hears a square about as a straight line.
      channels[voice].level.gain.linearRampTo(clamped(level) ** 2, FADE, context.currentTime);
    },
    setPiano: (given, voices) => {
      piano = given;
      onPiano = voices;
    },
    open: (time) => void gate.gain.setValueAtTime(1, time),
    hush: () => {
      const now = context.currentTime;
      gate.gain.linearRampTo(0, FADE, now);
      // Only when the gate is shut: values that are taken back jump.
      const shut = now + FADE + 0.005;
      for (const note of [line, bass, click, pianos.line, pianos.chords, ...chords.map((chord) => chord.note)]) note.hush(shut);
      for (const chord of chords) chord.until = 0;
    },
  };
}

function pianoChannel(context: Context, level: Gain, trim: number): PianoNotes {
  const output = new Gain({ context, gain: trim });
  output.connect(level);
  return pianoNotes(context, output);
}

/** Clear and warm: low partials, each weaker than the one below. */
function lineNote(context: Context, output: Gain): Note {
  const oscillator = running(context, [1, 0.42, 0.26, 0.12, 0.07, 0.035, 0.02]);
  const envelope = new AmplitudeEnvelope({ context, attack: 0.01, decay: 0.3, sustain: 0.7, release: 0.08 });
  oscillator.chain(envelope, output);
  return {
    strike: (frequency, time, length, velocity) => {
      oscillator.frequency.setValueAtTime(frequency, time);
      envelope.triggerAttackRelease(Math.max(length - GAP, length / 2), time, velocity);
    },
    hush: (time) => {
      oscillator.frequency.cancelScheduledValues(time);
      close(envelope, time);
    },
  };
}

/** Like a soft electric piano: a sine bent by another one at its own frequency, brighter at the start and when struck harder. */
function chordNote(context: Context, output: Gain): Note {
  const carrier = running(context, [1]);
  const modulator = running(context, [1]);
  const envelope = new AmplitudeEnvelope({ context, attack: 0.006, decay: 4, sustain: 0.3, release: 0.3 });
  const brightness = new AmplitudeEnvelope({ context, attack: 0.003, decay: 1.5, sustain: 0.2, release: 0.3 });
  const depth = new Gain({ context, gain: 0 });
  modulator.chain(brightness, depth);
  depth.connect(carrier.frequency);
  carrier.chain(envelope, output);
  return {
    strike: (frequency, time, length, velocity) => {
      carrier.frequency.setValueAtTime(frequency, time);
      modulator.frequency.setValueAtTime(frequency, time);
      depth.gain.setValueAtTime(frequency * 1.6, time);
      envelope.triggerAttackRelease(length, time, velocity);
      brightness.triggerAttackRelease(length, time, velocity);
    },
    hush: (time) => {
      for (const value of [carrier.frequency, modulator.frequency, depth.gain]) value.cancelScheduledValues(time);
      close(envelope, time);
      close(brightness, time);
    },
  };
}

/** Round and plucked: the filter closes after the start. */
function bassNote(context: Context, output: Gain): Note {
  const oscillator = running(context, [1, 0.6, 0.35, 0.2, 0.1, 0.05]);
  const filter = new Filter({ context, type: 'lowpass', rolloff: -12, Q: 0.8 });
  const envelope = new AmplitudeEnvelope({ context, attack: 0.006, decay: 2, sustain: 0.35, release: 0.08 });
  const pluck = new FrequencyEnvelope({ context, baseFrequency: 180, octaves: 3, attack: 0.004, decay: 0.6, sustain: 0.15, release: 0.08 });
  pluck.connect(filter.frequency);
  oscillator.chain(filter, envelope, output);
  return {
    strike: (frequency, time, length, velocity) => {
      oscillator.frequency.setValueAtTime(frequency, time);
      envelope.triggerAttackRelease(Math.max(length - GAP, length / 2), time, velocity);
      pluck.triggerAttackRelease(length, time, velocity);
    },
    hush: (time) => {
      oscillator.frequency.cancelScheduledValues(time);
      close(envelope, time);
      close(pluck, time);
    },
  };
}

/** A tick dies away by itself, however long it is asked to sound. */
function clickNote(context: Context, output: Gain): Note {
  const oscillator = running(context, [1, 0, 0.2]);
  const envelope = new AmplitudeEnvelope({ context, attack: 0.001, decay: 0.06, sustain: 0, release: 0.01 });
  oscillator.chain(envelope, output);
  return {
    strike: (frequency, time, _length, velocity) => {
      oscillator.frequency.setValueAtTime(frequency, time);
      envelope.triggerAttack(time, velocity);
    },
    hush: (time) => {
      oscillator.frequency.cancelScheduledValues(time);
      close(envelope, time);
    },
  };
}

/** An oscillator of harmonic partials by their strength. */
function running(context: Context, partials: number[]): Oscillator {
  return new Oscillator({ context, type: 'custom', partials, frequency: 220 }).start(context.currentTime);
}

function close(envelope: Envelope, time: number): void {
  const { release } = envelope;
  envelope.cancel(time);
  envelope.release = FADE;
  envelope.triggerRelease(time);
  envelope.release = release;
}

/** In equal temperament from a at 440 Hz. */
function frequencies(midi: readonly number[]): number[] {
  return numbers(midi).map((number) => 440 * 2 ** ((number - 69) / 12));
}

/** What is no MIDI number is left out. */
function numbers(midi: readonly number[]): number[] {
  return midi.filter((number) => number >= 0 && number <= 127);
}

function clamped(value: number): number {
  // Also what is no number is silent.
  return value > 0 ? Math.min(value, 1) : 0;
}
