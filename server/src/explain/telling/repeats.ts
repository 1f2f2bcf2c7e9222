/** Bars that do what bars before them did: a riff struck again, a model taken a step on. They are told once. */
import { ofReading } from '../../analysis/of-reading';
import { barsByNumber } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import type { Bar, Note, Phrase } from '../../model/types';
import { chordUnder, isDominant } from '../../analysis/vocabulary';
import { chroma, soundClass, staffPlace } from '../../theory/pitch';
import { durationWords } from '../../rules/words';
import { figures } from '../note-words';
import { writtenBars } from './bars';
import { breathAfter } from './breath';
import { firstSame, returnsOf, type Return } from './returns';

export interface Repeat {
  /** First and last note of the copy, or of all copies where they go on by one distance. */
  readonly from: number;
  readonly to: number;
  /** First note of each copy. */
  readonly starts: readonly number[];
  /** The notes of the first copy, and those that they copy. */
  readonly copy: readonly number[];
  readonly model: readonly number[];
  /** The number of the bar that it repeats in place, where another bar stands between, or only its beginning comes back; else null. */
  readonly of: number | null;
  /** Whether it goes on otherwise than its model: only the beginning of a bar. */
  readonly partial: boolean;
  /** Letters from the model up to the copy, and half steps where they are the same for every note; null where they differ. */
  readonly letters: number;
  readonly halfSteps: number | null;
  /** Notes of the copy that are not the model's, moved, each with the note that it stands for; where there are several, each is a step from it. */
  readonly changed: readonly Change[];
  /** `a beat later`: of a bar whose notes stand elsewhere in it. */
  readonly later?: string;
}

interface Change {
  readonly note: number;
  readonly instead: number;
}

const FEWEST = 3;
/** Two notes are a motif where they are all of their bar, and the line breathes after them. */
const FEWEST_OF_BAR = 2;
/** Notes with which a bar must begin like another for the ear to notice. */
const FEWEST_BEGINNING = 4;

/** Notes of a bar that may be fitted to another chord before it is another bar. */
const MOST_FITTED = 3;

/** The repeats of a phrase, in order and apart from each other. */
export const repeatsOf = ofReading((reading): readonly Repeat[] => {
  const { phrase } = reading;
  const bars = writtenBars(reading);
  const notesIn = (bar: number): readonly Note[] => bars.get(bar)?.notes ?? [];
  const notesOf = (bar: number, count: number): readonly Note[] =>
    count === 1 ? notesIn(bar) : Array.from({ length: count }, (_, i) => notesIn(bar + i)).flat();
  const barOf = barsByNumber(phrase);
  const last = phrase.bars[phrase.bars.length - 1]?.number ?? 0;
  const found: Repeat[] = [];
  const returns = new Map(returnsOf(reading).map((one) => [one.bar, one]));
  /** What bars do against as many earlier ones, from `of` on; null where there are none, or no such bars. */
  const against = (
    of: number,
    bar: number,
    count: number,
    compare: (model: readonly Note[], copy: readonly Note[], was: Time, is: Time) => Repeat | null,
  ): Repeat | null => {
    const [was, is] = [barOf.get(of)?.onset, barOf.get(bar)?.onset];
    if (of < 1 || was === undefined || is === undefined || bar + count - 1 > last) return null;
    const repeat = compare(notesOf(of, count), notesOf(bar, count), was, is);
    return repeat !== null && (repeat.copy.length >= FEWEST || (count === 1 && isShortMotif(reading, repeat))) ? repeat : null;
  };
  for (let bar = 2; bar <= last; bar += 1) {
    const back = returns.get(bar);
    if (back !== undefined) {
      found.push(sameBars(back, notesOf));
      bar += back.bars - 1;
      continue;
    }
    const first = firstSame(reading, bar);
    const same = first === null ? null : against(first, bar, 1, repeatOf);
    if (same !== null && (same.copy.length >= FEWEST || isMotif(phrase, barOf.get(bar)!, same))) {
      found.push({ ...same, of: first });
      continue;
    }
    const one = against(bar - 1, bar, 1, repeatOf);
    const moved = (count: number): Repeat | null => {
      if (one !== null) return null;
      for (let of = bar - count; of < bar; of += 1) if (notesIn(of).length === 0) return null;
      return against(bar - count, bar, count, repeatOf);
    };
    const four = moved(4);
    if (four !== null && four.halfSteps !== null) {
      found.push(four);
      bar += 3;
      continue;
    }
    // What only seems to be two bars is one bar twice.
    const two = moved(2);
    const goesOn = two === null ? goingOn(found[found.length - 1], bar, phrase, (of) => against(of, bar, 1, repeatOf)) : null;
    if (goesOn !== null) {
      found.push(goesOn);
      continue;
    }
    const inPlace = (of: number): Repeat | null => {
      const repeat = against(of, bar, 1, repeatOf);
      return repeat !== null && isInPlace(repeat) ? { ...repeat, of: firstOf(found, of, phrase) } : null;
    };
    const begun = (of: number): Repeat | null =>
      against(of, bar, 1, (model, copy, was, is) =>
        beginningOf(model, copy, was, is, of, isKnown(found, of, phrase) ? Math.max(FEWEST, model.length) : FEWEST_BEGINNING),
      );
    // What comes back as it was is heard before what is fitted.
    const returned = one === null || one.changed.length > 0 ? inPlace(bar - 2) : null;
    const isFitted = one !== null && returned?.changed.length === 0;
    const displacedBars = (of: number): Repeat | null => {
      for (const model of [of - 1, of - 2]) {
        const repeat = against(model, of, 1, (was, is, from, to) => displaced(was, is, to.sub(from), barOf.get(of)!.meter.beat));
        if (repeat !== null) return { ...repeat, of: firstOf(found, model, phrase) };
      }
      return null;
    };
    const far = (): Repeat | null => {
      const all = Array.from({ length: Math.min(FARTHEST, bar - 1) - 1 }, (_, i) => bar - 2 - i).flatMap((of) => {
        const repeat = against(of, bar, 1, repeatOf);
        return repeat === null || !isMotif(phrase, barOf.get(bar)!, repeat) ? [] : { repeat, of };
      });
      const inPlaceAgain = all.findLast(({ repeat }) => repeat.halfSteps === 0);
      if (inPlaceAgain !== undefined) return { ...inPlaceAgain.repeat, of: firstOf(found, inPlaceAgain.of, phrase) };
      // A motif that goes on through the keys is heard from its last statement on; with a bar between it is known wherever it is moved to.
      const again =
        all.find(({ repeat }) => isSameOverAnother(reading, repeat)) ??
        all.find(({ repeat, of }) => of === bar - 2 && repeat.letters !== 0);
      return again?.repeat ?? displacedBars(bar);
    };
    const repeat = (isFitted ? returned : one) ?? two ?? returned ?? far() ?? nearer(begun(bar - 1), begun(bar - 2), phrase);
    if (repeat === null) continue;
    const before = found[found.length - 1];
    if (
      repeat === one &&
      one !== null &&
      before !== undefined &&
      before.to === repeat.from - 1 &&
      before.of === null &&
      before.letters === repeat.letters &&
      repeat.changed.length === 0 &&
      before.changed.length === 0
    ) {
      found[found.length - 1] = {
        ...before,
        to: repeat.to,
        starts: [...before.starts, repeat.from],
        halfSteps: before.halfSteps === repeat.halfSteps ? before.halfSteps : null,
      };
    } else found.push(repeat);
    if (repeat === two && two !== null) bar += 1;
  }
  return found;
});

/**
 * How a bar goes on after bars that did again what bars before them had done: as the bar that followed those, with a note or two changed;
 * or with the first bar of a third statement, as far away as the second was. Null where it does neither.
 */
function goingOn(before: Repeat | undefined, bar: number, { notes }: Phrase, compare: (of: number) => Repeat | null): Repeat | null {
  if (before === undefined || before.partial || before.starts.length > 1 || notes[before.to]!.bar !== bar - 1) return null;
  const [first, last] = [before.model[0]!, before.model[before.model.length - 1]!].map((note) => notes[note]!.bar) as [number, number];
  if (isInPlace(before) && before.changed.length === 0) {
    const next = compare(last + 1);
    return next !== null && isInPlace(next) && last + 1 < bar - 1 ? { ...next, of: last + 1 } : null;
  }
  const leg = first < last ? compare(notes[before.from]!.bar) : null;
  return leg !== null && leg.letters === before.letters && leg.changed.length === 0 ? leg : null;
}

/** Notes that come again as they were, in their place. */
function inPlaceOf(model: readonly Note[], copy: readonly Note[]): Repeat {
  const indexes = (notes: readonly Note[]): number[] => notes.map(({ index }) => index);
  const [from, to] = [copy[0]!.index, copy[copy.length - 1]!.index];
  const notes = { from, to, starts: [from], copy: indexes(copy), model: indexes(model) };
  return { ...notes, of: null, partial: false, letters: 0, halfSteps: 0, changed: [] };
}

/** Bars that come again as they were. */
function sameBars({ bar, of, bars }: Return, notesOf: (bar: number, count: number) => readonly Note[]): Repeat {
  return { ...inPlaceOf(notesOf(of, bars), notesOf(bar, bars)), of };
}

/** The bar that a bar is the same as, told by its number; itself where it is the first of them. */
function firstOf(found: readonly Repeat[], bar: number, { notes }: Phrase): number {
  const same = found.find(
    ({ copy, of, partial, changed, halfSteps, later }) =>
      of !== null && !partial && later === undefined && changed.length === 0 && halfSteps === 0 && notes[copy[0]!]!.bar === bar,
  );
  return same?.of ?? bar;
}

type Time = Note['onset'];

function isShortMotif(reading: Reading, { model, copy, changed }: Repeat): boolean {
  const isOne = ([first, last]: readonly number[]): boolean => !breathAfter(reading, first!) && breathAfter(reading, last!);
  return changed.length === 0 && isOne(model) && isOne(copy);
}

/** Bars after which a motif that is moved with the chord is still known. */
const FARTHEST = 8;

/** Whether a bar is known bars later: it has enough notes, or few that a rest of a beat sets apart. */
function isMotif({ notes }: Phrase, bar: Bar, { copy, halfSteps }: Repeat): boolean {
  if (halfSteps === null) return false;
  const last = notes[copy[copy.length - 1]!]!;
  const left = bar.onset.add(bar.length).sub(last.onset.add(last.duration));
  return copy.length >= FEWEST_BEGINNING || left.compare(bar.meter.beat) >= 0;
}

/** Whether notes come again over another chord, moved with it: each is the degree that it was, a blue third too, which over one dominant is a ninth by name. */
function isSameOverAnother(reading: Reading, repeat: Repeat): boolean {
  return repeat.halfSteps !== null && repeat.halfSteps % 12 !== 0 && isSameByDegrees(reading, repeat);
}

function isSameByDegrees(reading: Reading, { model, copy }: Repeat): boolean {
  if (figures(reading, copy) === figures(reading, model)) return true;
  const [was, is] = [model, copy].map((notes) => overDominants(reading, notes));
  return was != null && was === is;
}

/** The half steps of notes above the roots of their chords; null where one is over no dominant. */
function overDominants(reading: Reading, notes: readonly number[]): string | null {
  const sizes = notes.map((note) => {
    const chord = chordUnder(reading, note);
    return chord === null || !isDominant(chord) ? null : soundClass(reading.phrase.notes[note]!.midi - chroma(chord.root));
  });
  return sizes.includes(null) ? null : sizes.join();
}

/** Whether a bar is one that has come again before in its place: it is known by all of it, though it be short. */
export function isKnown(repeats: readonly Repeat[], bar: number, { notes }: Phrase): boolean {
  return repeats.some(
    (repeat) => isInPlace(repeat) && !repeat.partial && [repeat.model, repeat.copy].some(([first]) => notes[first!]!.bar === bar),
  );
}

/** Of two bars that a bar begins like, the one that it follows longer, or that has its chord. */
function nearer(one: Repeat | null, other: Repeat | null, { notes, spans }: Phrase): Repeat | null {
  if (one === null || other === null) return one ?? other;
  const hasChord = ({ from, model }: Repeat): boolean =>
    notes[from]!.span !== null &&
    notes[model[0]!]!.span !== null &&
    spans[notes[from]!.span!]!.symbol === spans[notes[model[0]!]!.span!]!.symbol;
  return other.copy.length > one.copy.length || (other.copy.length === one.copy.length && hasChord(other) && !hasChord(one)) ? other : one;
}

/** Whether it is struck again where it was, and not moved. */
export function isInPlace({ letters, halfSteps, changed }: Repeat): boolean {
  return letters === 0 && (halfSteps === 0 || changed.length > 0);
}

/** A bar moved over another chord, in which its notes are other degrees: that it comes again is said before what they are. */
export function isToldAnew(reading: Reading, repeat: Repeat): boolean {
  const { starts, copy, partial } = repeat;
  const bars = new Set(copy.map((note) => reading.phrase.notes[note]!.bar));
  return !partial && starts.length === 1 && bars.size === 1 && !isInPlace(repeat) && !isSameByDegrees(reading, repeat);
}

/** The same notes in the same rhythm, by half a beat or more elsewhere in their bar; `apart`: from bar to bar. */
function displaced(model: readonly Note[], copy: readonly Note[], apart: Time, beat: Time): Repeat | null {
  const [first, own] = [model[0], copy[0]];
  if (first === undefined || own === undefined || model.length !== copy.length || model.length < FEWEST) return null;
  const shift = own.onset.sub(first.onset).sub(apart);
  const isSame = model.every((note, i) => {
    const other = copy[i]!;
    const isHeld = i === model.length - 1 || note.duration.equals(other.duration);
    return note.midi === other.midi && isHeld && other.onset.sub(note.onset).sub(apart).equals(shift);
  });
  const beats = shift.div(beat);
  if (!isSame || beats.compare(0) === 0 || !beats.mul(2).isWhole) return null;
  const later =
    beats.compare(0) > 0 ? `${durationWords(beats.toFraction())} later` : `${durationWords(beats.mul(-1).toFraction())} earlier`;
  return { ...inPlaceOf(model, copy), later };
}

/** The notes with which a bar begins as another one did, at least half of both; null where they are few, or all. */
function beginningOf(model: readonly Note[], copy: readonly Note[], was: Time, is: Time, of: number, fewest: number): Repeat | null {
  const isSame = (note: Note | undefined, other: Note): boolean =>
    note !== undefined && note.midi === other.midi && note.onset.sub(was).equals(other.onset.sub(is));
  const other = copy.findIndex((note, i) => !isSame(model[i], note));
  const count = other < 0 ? copy.length : other;
  if (
    count < Math.min(fewest, FEWEST_BEGINNING) ||
    count * 2 < Math.max(model.length, copy.length) ||
    (count === copy.length && count === model.length)
  )
    return null;
  return { ...inPlaceOf(model.slice(0, count), copy.slice(0, count)), of, partial: true };
}

function repeatOf(model: readonly Note[], copy: readonly Note[], was: Time, is: Time): Repeat | null {
  if (model.length !== copy.length || model.length < FEWEST_OF_BAR) return null;
  const sameRhythm = model.every((note, i) => {
    const other = copy[i]!;
    return note.onset.sub(was).equals(other.onset.sub(is)) && (i === model.length - 1 || note.duration.equals(other.duration));
  });
  if (!sameRhythm) return null;
  const letters = staffPlace(copy[0]!.pitch) - staffPlace(model[0]!.pitch);
  if (Math.abs(letters) > 7) return null;
  const sizes = model.map((note, i) => copy[i]!.midi - note.midi);
  // A step on, each note by its letter, or by as many half steps; in place, one note may be another, or a few may be fitted to another chord.
  const isExact = sizes[0] !== 0 && sizes.every((size) => size === sizes[0]);
  // A note that stays, or goes the other way, is not moved with the rest: G#, written for Ab.
  const isMoved =
    isExact ||
    model.every(
      (note, i) => staffPlace(copy[i]!.pitch) - staffPlace(note.pitch) === letters && Math.sign(sizes[i]!) === Math.sign(letters),
    );
  const changed =
    letters === 0 && !isExact ? copy.flatMap((note, i) => (sizes[i] === 0 ? [] : [{ note: note.index, instead: model[i]!.index }])) : [];
  const isFitted = changed.length * 2 <= copy.length && changed.length <= MOST_FITTED && sizes.every((size) => Math.abs(size) <= 2);
  if (letters === 0 && !isExact ? changed.length > 1 && !isFitted : !isMoved) return null;
  return {
    ...inPlaceOf(model, copy),
    letters,
    halfSteps: isExact || sizes.every((size) => size === 0) ? sizes[0]! : null,
    changed,
  };
}
