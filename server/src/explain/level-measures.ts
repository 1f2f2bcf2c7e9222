/** What makes a line hard to hear and to play, each counted and weighed by itself; common practice, weighed by hand. */
import type { Fraction } from '../model/fraction';
import { homeKey, keySounds } from '../analysis/keys';
import type { NoteReading, Reading } from '../analysis/types';
import { chordOfPlacement, isBasicTone, isDominant } from '../analysis/vocabulary';
import { groupedBy } from '../model/grouped';
import { barLineOf, lastNotAfter } from '../model/time';
import type { Bar, Note, Phrase } from '../model/types';
import { fifthsOf } from '../theory/key';
import { chroma, staffPlace } from '../theory/pitch';
import { withArticle } from '../rules/words';
import { listed, plural } from './note-words';

export interface Measure {
  /** How much of it there is (0 or more), and the words that say what was counted. */
  readonly count: (reading: Reading) => Amount;
  /** So much of it costs nothing. */
  readonly free: number;
  /** Points for each one more, and the most that it can add. */
  readonly each: number;
  readonly most: number;
}

interface Amount {
  readonly amount: number;
  readonly words: string;
}

export const MEASURES: readonly Measure[] = [
  { count: speed, free: 2, each: 0.6, most: 4 }, // notes a second
  { count: divisions, free: 0, each: 0.8, most: 2.4 }, // kinds
  { count: syncopation, free: 0, each: 0.8, most: 2 }, // notes a bar
  { count: ties, free: 0, each: 0.5, most: 1 }, // a bar
  { count: foreignNotes, free: 0, each: 5, most: 2.5 }, // their share of all notes
  { count: range, free: 12, each: 1 / 6, most: 2 }, // half steps
  { count: leaps, free: 0, each: 0.8, most: 1.5 }, // a bar
  { count: signature, free: 2, each: 0.4, most: 2 }, // sharps or flats
  { count: changes, free: 0.5, each: 1.2, most: 2 }, // chords a second
  { count: meters, free: 0, each: 1, most: 1 },
  { count: length, free: 4, each: 0.15, most: 1.5 }, // bars
];

// ── Rhythm ─────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Of the busiest bar: one that rests does not make another slower. */
function speed(reading: Reading): Amount {
  const { notes, tempo } = reading.phrase;
  const byBar = groupedBy(notes, ({ bar }) => [bar]);
  const busiest = wholeBars(reading).reduce(
    (most, bar) => {
      const count = byBar.get(bar.number)?.length ?? 0;
      const rate = count / seconds(bar.length.div(bar.meter.beat), tempo.bpm);
      return rate > most.rate ? { rate, count } : most;
    },
    { rate: 0, count: 0 },
  );
  return { amount: busiest.rate, words: `up to ${plural(busiest.count, 'note')} in a bar at ${tempo.bpm} beats a minute` };
}

/** Kinds of division of the beat beside the plain ones: quarters and eighths, in compound meters thirds of the beat. */
function divisions({ phrase }: Reading): Amount {
  const kinds = new Set(
    phrase.notes.flatMap(({ onset, duration }) => [onset, onset.add(duration)]).flatMap((time) => divisionAt(time, phrase)),
  );
  return { amount: kinds.size, words: listed([...kinds]) };
}

function divisionAt(time: Fraction, phrase: Phrase): string[] {
  const { compound, beat, barLine } = meterAt(time, phrase);
  const parts = Number(time.sub(barLine).div(beat).d);
  const odd = oddPart(compound && parts % 3 === 0 ? parts / 3 : parts);
  if (odd > 1) return [ODD_DIVISIONS[odd] ?? `groups of ${odd}`];
  if (compound && parts % 3 !== 0 && parts > 1) return ['duplets'];
  const value = beat.div(parts).valueOf();
  // Eighths, and the thirds of a compound beat, are plain.
  if (value > 0.25 || (compound && parts === 3)) return [];
  return [value > 0.125 ? 'sixteenths' : 'thirty-seconds'];
}

const ODD_DIVISIONS: Readonly<Record<number, string>> = { 3: 'triplets', 5: 'quintuplets', 7: 'septuplets' };

function oddPart(count: number): number {
  return count % 2 === 0 ? oddPart(count / 2) : count;
}

/** A note off the beat that is held over the next beat, or that follows a silent one. */
function syncopation(reading: Reading): Amount {
  const { phrase } = reading;
  const found = phrase.notes.filter((note) => {
    const { pickup, barLine, beat } = meterAt(note.onset, phrase);
    const before = barLine.add(note.onset.sub(barLine).div(beat).floor().mul(beat));
    if (before.equals(note.onset)) return false;
    const last = phrase.notes[note.index - 1];
    const silent = !pickup && (last === undefined || end(last).compare(before) <= 0);
    return silent || end(note).compare(before.add(beat)) > 0;
  });
  return { amount: found.length / wholeBars(reading).length, words: plural(found.length, 'syncopated note') };
}

function ties(reading: Reading): Amount {
  const { phrase } = reading;
  const found = phrase.notes.filter((note) => {
    const next = phrase.bars[lastNotAfter(phrase.bars, note.onset) + 1];
    return next !== undefined && next.onset.compare(end(note)) < 0;
  });
  return { amount: found.length / wholeBars(reading).length, words: `${plural(found.length, 'note')} tied over a bar line` };
}

/** Meters in felt beats of five, seven and the like. */
function meters({ phrase }: Reading): Amount {
  const uneven = phrase.bars.find(({ meter }) => meter.beatCount >= 5 && meter.beatCount % 2 === 1 && meter.beatCount % 3 !== 0);
  return { amount: uneven === undefined ? 0 : 1, words: uneven === undefined ? '' : `a meter of ${uneven.meter.beatCount} beats` };
}

// ── Notes ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function foreignNotes(reading: Reading): Amount {
  const key = homeKey(reading);
  const sounds = key === null ? null : keySounds(key);
  const found = reading.notes.filter((note) => isForeign(note, reading, sounds)).length;
  return { amount: found / reading.notes.length, words: plural(found, 'altered or chromatic note') };
}

/** Foreign to the key (`sounds` are its pitch classes, null without one), to the chord or altered over a dominant, though the symbol writes it. The sevenths of a blues are at home in it, and so is what lies in a scale that is written over its chord. */
function isForeign({ note, placement, pickup }: NoteReading, reading: Reading, sounds: ReadonlySet<number> | null): boolean {
  const { pitch } = reading.phrase.notes[note]!;
  const chord = chordOfPlacement(reading, placement);
  if (chord !== null && reading.context.blues !== null && isBasicTone(chord, pitch)) return false;
  const isInWritten = placement !== null && reading.phrase.spans[placement.span]!.statedScale !== null && placement.role !== 'outside';
  if (sounds !== null && !sounds.has(chroma(pitch)) && !isInWritten) return true;
  if (placement === null || chord === null || pickup) return false;
  const {
    role,
    borrowed,
    called: { number, alter },
  } = placement;
  return (
    role === 'outside' ||
    (role === 'blue' && alter !== 0) ||
    borrowed ||
    (isDominant(chord) && alter !== 0 && [5, 9, 11, 13].includes(number))
  );
}

function range({ phrase }: Reading): Amount {
  const byHeight = [...phrase.notes].sort((a, b) => a.midi - b.midi || a.index - b.index);
  const [low, high] = [byHeight[0]!, byHeight[byHeight.length - 1]!];
  return { amount: high.midi - low.midi, words: `a range of ${sizeWords(low, high)}` };
}

/** More than a fifth. */
function leaps(reading: Reading): Amount {
  const { notes } = reading.phrase;
  const found = notes.slice(1).filter(({ midi }, i) => Math.abs(midi - notes[i]!.midi) > 7).length;
  return { amount: found / wholeBars(reading).length, words: plural(found, 'wide leap') };
}

/** By letters below the octave, with the half steps of the major or perfect one. */
const SIZES = [
  { name: 'unison', size: 0, isPerfect: true },
  { name: 'second', size: 2, isPerfect: false },
  { name: 'third', size: 4, isPerfect: false },
  { name: 'fourth', size: 5, isPerfect: true },
  { name: 'fifth', size: 7, isPerfect: true },
  { name: 'sixth', size: 9, isPerfect: false },
  { name: 'seventh', size: 11, isPerfect: false },
] as const;
const TRITONE = 6;

/**
 * `an octave and a fifth`, `an octave and a diminished fourth`: as it is spelled, the quality where it is no usual one; both spellings of a
 * tritone are called so. What is an octave by its letters alone, or has its names crossed, is told by what sounds.
 */
function sizeWords(low: Note, high: Note): string {
  const halfSteps = high.midi - low.midi;
  const letters = staffPlace(high.pitch) - staffPlace(low.pitch);
  const isSpelled = letters % 7 > 0;
  const octaves = Math.floor(isSpelled ? letters / 7 : halfSteps / 12);
  const above = halfSteps - 12 * octaves;
  const { name, size, isPerfect } = isSpelled ? SIZES[letters % 7]! : SIZES.findLast((one) => one.size - (one.isPerfect ? 0 : 1) <= above)!;
  const quality = !isSpelled ? '' : above > size ? 'augmented ' : above < size - (isPerfect ? 0 : 1) ? 'diminished ' : '';
  const rest = above === TRITONE ? 'tritone' : `${quality}${name}`;
  const parts = [octaves === 0 ? '' : octaves === 1 ? 'an octave' : `${octaves} octaves`, name === 'unison' ? '' : withArticle(rest)];
  return parts.filter((part) => part !== '').join(' and ');
}

// ── Key, chords, length ────────────────────────────────────────────────────────────────────────────────────────────────────

/** Of the key as the part reads it. */
function signature(reading: Reading): Amount {
  const key = reading.phrase.key;
  if (key === null) return { amount: 0, words: '' };
  const { diatonic, chromatic } = reading.phrase.part.transpose;
  const plain = fifthsOf(key) - 7 * chromatic + 12 * diatonic;
  // A part that is transposed takes the spelling with the fewest accidentals, with flats on a tie, as the score does.
  const written =
    chromatic % 12 === 0 ? plain : [plain - 12, plain, plain + 12].reduce((best, one) => (Math.abs(one) < Math.abs(best) ? one : best));
  return { amount: Math.abs(written), words: `a key signature of ${plural(Math.abs(written), written < 0 ? 'flat' : 'sharp')}` };
}

/** How fast chords go by: chords a second, over the bars that the line fills. */
function changes({ phrase, context }: Reading): Amount {
  const from = phrase.notes[0]!.onset;
  const until = end(phrase.notes[phrase.notes.length - 1]!);
  const heard = context.harmonies.filter(
    ({ chord, onset, end: last }) => chord !== null && last.compare(from) > 0 && onset.compare(until) < 0,
  );
  const beats = phrase.bars
    .filter(({ onset, length: size, number }) => number > 0 && onset.add(size).compare(from) > 0 && onset.compare(until) < 0)
    .reduce((sum, { length: size, meter }) => sum + size.div(meter.beat).valueOf(), 0);
  if (beats === 0) return { amount: 0, words: '' };
  const time = (beats * 60) / phrase.tempo.bpm;
  return { amount: heard.length / time, words: `${plural(heard.length, 'chord')} in ${plural(Math.max(1, Math.round(time)), 'second')}` };
}

function length(reading: Reading): Amount {
  const bars = wholeBars(reading).length;
  return { amount: bars, words: plural(bars, 'bar') };
}

// ── Time ───────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** The bars that count; a pickup alone is one. */
function wholeBars({ phrase: { bars } }: Reading): readonly Bar[] {
  const whole = bars.filter(({ number }) => number > 0);
  return whole.length === 0 ? bars : whole;
}

/** The bar line that a time is counted from, and the beat that it is counted in (quarters). */
function meterAt(
  time: Fraction,
  { bars }: Phrase,
): { readonly barLine: Fraction; readonly beat: Fraction; readonly compound: boolean; readonly pickup: boolean } {
  const bar = bars[lastNotAfter(bars, time)]!;
  return { barLine: barLineOf(bar), beat: bar.meter.beat, compound: bar.meter.compound, pickup: bar.pickup };
}

function end({ onset, duration }: Note): Fraction {
  return onset.add(duration);
}

function seconds(beats: Fraction, bpm: number): number {
  return (beats.valueOf() * 60) / bpm;
}
