/**
 * Standard MIDI File, type 1, 480 ticks a quarter (SMF 1.0; programs of General MIDI level 1, from memory). The take says what
 * sounds; a phrase or a pass begins at the first bar line after the one before, its pickup in a bar of its own.
 */
import type { MidiEvent } from 'midi-file';
import { homeKey } from '../analysis/keys';
import type { Reading } from '../analysis/types';
import { meterText } from '../model/time';
import type { Bar } from '../model/types';
import { clockOf, quartersOf, quarterSeconds } from '../performance/swing';
import { takeOf } from '../performance/take';
import type { Pass, Sound, Take, Voice } from '../performance/types';
import { fifthsOf } from '../theory/key';
import { parseNoteName } from '../theory/pitch';
import { plainly, type Each } from './each';
import { smfBytes } from './smf';

export interface MidiOptions {
  /** Eighths as written; else swung as the phrase is played. */
  readonly eighths: 'as-played' | 'as-written';
  /** The key as written, or all twelve, from that one round the cycle of fifths. */
  readonly keys: 'written' | 'all';
}

/** What a phrase is called in a key, its name as it stands in the key that it is written in. */
export type NameIn = (reading: Reading, tonic: string) => string;

/** A note that MIDI has no number for (below C-1 or above G9). */
export class UnplayableNote extends Error {}

export const TICKS = 480;

interface Timed {
  readonly tick: number;
  readonly event: Event;
}
type Event = MidiEvent extends infer One ? (One extends { deltaTime: number } ? Omit<One, 'deltaTime'> : never) : never;

const TRACKS: readonly Voice[] = ['line', 'chords', 'bass', 'click'];
/** Channels from 0; 9 is that of percussion. Programs from 0: piano, acoustic bass; the line has its part's. */
const CHANNEL: Readonly<Record<Voice, number>> = { line: 0, chords: 1, bass: 2, click: 9 };
const PROGRAM: Readonly<Record<Exclude<Voice, 'line' | 'click'>, number>> = { chords: 0, bass: 32 };
/** High and low wood block. */
const CLICK = { accent: 76, beat: 77 } as const;
/** How hard a velocity of 1 is struck, of 127: room is left above. */
const HARDEST = 110;

/** The bytes of a file with the phrases in order. Throws {@link UnplayableNote} where a note lies outside MIDI's range. */
export function writeMidiFile(
  readings: readonly Reading[],
  title: string,
  options: MidiOptions,
  nameIn: NameIn = ({ phrase }) => phrase.name,
  each: Each = plainly,
): Uint8Array {
  const conductor: Timed[] = [{ tick: 0, event: { type: 'trackName', text: latin(title) } }];
  const voices = silence();
  for (const voice of ['chords', 'bass'] as const) voices[voice].push(programChange(voice, 0, PROGRAM[voice]));
  let start = 0;
  for (const reading of readings) {
    const written = each(reading.phrase, () => writtenFrom(start, reading, options, nameIn));
    if (written === null) continue;
    conductor.push(...written.conductor);
    for (const voice of TRACKS) for (const one of written.voices[voice]) voices[voice].push(one);
    start = written.end;
  }
  const tracks = [conductor, ...TRACKS.map((voice): Timed[] => [{ tick: 0, event: { type: 'trackName', text: voice } }, ...voices[voice]])];
  return smfBytes(
    tracks.map((track) => withDeltas(track, start)),
    TICKS,
  );
}

function silence(): Record<Voice, Timed[]> {
  return { line: [], chords: [], bass: [], click: [] };
}

/** One phrase, in all its keys, from a tick on. */
function writtenFrom(
  from: number,
  reading: Reading,
  options: MidiOptions,
  nameIn: NameIn,
): { readonly conductor: readonly Timed[]; readonly voices: Readonly<Record<Voice, readonly Timed[]>>; readonly end: number } {
  const take = takeOf(reading, {
    stretch: null,
    tempo: null,
    ratio: options.eighths === 'as-written' ? 1 : null,
    countIn: 0,
    practice: options.keys === 'all' ? { kind: 'keys', order: 'cycle' } : { kind: 'plain' },
  });
  const conductor: Timed[] = [];
  const voices = silence();
  let start = from;
  if (take.passes.length > 0) voices.line.push(programChange('line', start, reading.phrase.part.program - 1));
  for (const pass of take.passes) {
    const placed = placedPass(reading, pass, start);
    conductor.push(...signposts(reading, pass, placed, options, nameIn));
    for (const sound of soundsOf(take, pass)) voices[sound.voice].push(...notesOf(sound, placed, reading));
    start = placed.end;
  }
  return { conductor, voices, end: start };
}

/** Where a pass stands in the file: ticks by seconds of the take. */
interface PlacedPass {
  readonly start: number;
  readonly end: number;
  readonly barTicks: ReadonlyMap<Bar, number>;
  tickAt(seconds: number): number;
}

function placedPass({ phrase }: Reading, pass: Pass, start: number): PlacedPass {
  const clock = clockOf(quartersOf(phrase), pass.tempo, pass.ratio);
  const [first] = phrase.bars as [Bar, ...Bar[]];
  const pickup = Math.max(0, -ticksOf(first.onset));
  const barLength = ticksOf(first.meter.length);
  const zero = start + Math.ceil(pickup / barLength) * barLength;
  const began = clock(first.onset);
  const bars = phrase.bars.map((bar) => ({
    bar,
    tick: zero + ticksOf(bar.onset),
    seconds: pass.at + clock(bar.onset) - began,
    quarter: quarterSeconds(bar.meter, pass.tempo),
  }));
  const last = phrase.bars[phrase.bars.length - 1]!;
  return {
    start,
    end: zero + ticksOf(last.onset.add(last.length)),
    barTicks: new Map(bars.map(({ bar, tick }) => [bar, tick])),
    tickAt(seconds) {
      const from = bars.findLast((bar) => bar.seconds <= seconds + 1e-9) ?? bars[0]!;
      return Math.round(from.tick + ((seconds - from.seconds) / from.quarter) * TICKS);
    },
  };
}

function ticksOf(quarters: Bar['onset']): number {
  return Math.round(Number(quarters.mul(TICKS).valueOf()));
}

/** The phrase's name, and tempo, meter and key, each where it comes in. */
function signposts(reading: Reading, pass: Pass, { start, barTicks }: PlacedPass, { keys }: MidiOptions, nameIn: NameIn): Timed[] {
  const { phrase } = reading;
  const key = homeKey(reading);
  const tonic = pass.tonic === null ? null : parseNoteName(pass.tonic);
  const name = keys === 'all' && pass.tonic !== null ? `${nameIn(reading, pass.tonic)} (${pass.tonic})` : phrase.name;
  const events: Timed[] = [{ tick: start, event: { type: 'marker', text: latin(name) } }];
  if (key !== null && tonic !== null)
    events.push({
      tick: start,
      event: { type: 'keySignature', key: signature(fifthsOf({ ...key, tonic })), scale: key.mode === 'major' ? 0 : 1 },
    });
  let [meter, quarter] = ['', 0];
  for (const bar of phrase.bars) {
    const tick = bar === phrase.bars[0] ? start : barTicks.get(bar)!;
    const { beats, unit, beat } = bar.meter;
    const microseconds = Math.round(1e6 * quarterSeconds(bar.meter, pass.tempo));
    if (microseconds !== quarter) events.push({ tick, event: { type: 'setTempo', microsecondsPerBeat: microseconds } });
    if (meterText(bar.meter) !== meter)
      events.push({
        tick,
        event: {
          type: 'timeSignature',
          numerator: beats,
          denominator: unit,
          metronome: Math.min(255, Math.round(24 * Number(beat.valueOf()))),
          thirtyseconds: 8,
        },
      });
    [meter, quarter] = [meterText(bar.meter), microseconds];
  }
  return events;
}

/** A key signature holds at most seven accidentals; one with more is written by its sound. */
function signature(fifths: number): number {
  return fifths > 7 ? fifths - 12 : fifths < -7 ? fifths + 12 : fifths;
}

function soundsOf({ sounds, passes }: Take, pass: Pass): Sound[] {
  const isLast = pass === passes[passes.length - 1];
  return sounds.filter(({ at }) => at > pass.at - 1e-9 && (isLast || at < pass.until - 1e-9));
}

function notesOf({ voice, at, length, midi, velocity, accent }: Sound, { tickAt }: PlacedPass, { phrase }: Reading): Timed[] {
  const channel = CHANNEL[voice];
  const on = tickAt(at);
  const off = Math.max(on + 1, tickAt(at + length));
  const numbers = voice === 'click' ? [accent ? CLICK.accent : CLICK.beat] : midi;
  return numbers.flatMap((noteNumber): Timed[] => {
    if (noteNumber < 0 || noteNumber > 127)
      throw new UnplayableNote(`“${phrase.name}” holds a note that MIDI has no number for. Move the phrase by octaves.`);
    return [
      { tick: on, event: { type: 'noteOn', channel, noteNumber, velocity: Math.max(1, Math.round(velocity * HARDEST)) } },
      { tick: off, event: { type: 'noteOff', channel, noteNumber, velocity: 64 } },
    ];
  });
}

function programChange(voice: Voice, tick: number, programNumber: number): Timed {
  return { tick, event: { type: 'programChange', channel: CHANNEL[voice], programNumber } };
}

/** In order of time; what ends comes before what starts with it. Ends with the whole file. */
function withDeltas(track: readonly Timed[], end: number): MidiEvent[] {
  const rank = ({ event }: Timed): number => (event.type === 'noteOff' ? 0 : event.type === 'noteOn' ? 2 : 1);
  const ordered = track
    .map((one, i) => ({ one, i }))
    .sort((a, b) => a.one.tick - b.one.tick || rank(a.one) - rank(b.one) || a.i - b.i)
    .map(({ one }) => one);
  const last = Math.max(end, ordered[ordered.length - 1]?.tick ?? 0);
  let before = 0;
  return [...ordered, { tick: last, event: { type: 'endOfTrack' } } as Timed].map(({ tick, event }) => {
    const deltaTime = tick - before;
    before = tick;
    return { ...event, deltaTime } as MidiEvent;
  });
}

/** Texts of a MIDI file are bytes of Latin-1 by custom: what that lacks is written plainly. */
function latin(text: string): string {
  return text
    .replaceAll('♭', 'b')
    .replaceAll('♯', '#')
    .replace(/[–—]/g, '-')
    .replace(/[‘’]/g, "'")
    .replace(/[“”]/g, '"')
    .replace(/[^\u0020-\u007e\u00a0-\u00ff]/g, '?');
}
