/** Where a line comes to rest, and how that is said. */
import { devicesAt } from '../../analysis/devices/read';
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { isJoined } from '../../analysis/vocabulary';
import { beatWords } from '../../rules/words';
import { degreeWords, inRole, noteName } from '../note-words';
import { say, type Words } from '../say';
import { SCALE_LINES } from '../whole-scale';
import { breathAfter } from './breath';
import type { Clause, PlainTold } from './clause';
import type { Stretch } from './stretch';

/** A note that the line comes to rest on. */
export function isLanding(reading: Reading, note: number): boolean {
  const own = reading.phrase.notes[note]!;
  const { beat } = placesOf(reading.phrase, reading.context).barAt(own.onset).meter;
  return breathAfter(reading, note) && own.duration.compare(beat) >= 0;
}

/** How the line comes to rest on the last note of the phrase: ` and comes to rest on F, the fifth`; empty where it does not. */
export function restOf(reading: Reading, { from, to, device }: Pick<Stretch, 'from' | 'to' | 'device'>): Words {
  const { notes } = reading.phrase;
  const { placement } = reading.notes[to]!;
  if (to !== notes.length - 1 || placement === null || !isLanding(reading, to)) return [];
  // What is told by its scale has named no chord.
  if (device !== null && SCALE_LINES.has(device.kind)) return say`, and comes to rest on ${inRole(reading, to)}`;
  // Figures have named the last note: it is told again where it is held longer than the one before.
  const isHeld = to - from >= 2 && (notes[to]!.duration.compare(notes[to - 1]!.duration) > 0 || breathAfter(reading, to - 1));
  if (!isHeld) return [];
  const place = notes[to]!.bar === notes[from]!.bar ? '' : onBeat(reading, from, to);
  return say` and comes to rest on ${noteName(reading, to)}, the ${degreeWords(reading, placement)}${place}`;
}

export function landing(reading: Reading, from: number, note: number): string {
  return note === reading.phrase.notes.length - 1 && isLanding(reading, note) ? onBeat(reading, from, note) : '';
}

/** `, on beat 3`; of another bar than that of `from`, `, on beat 1 of bar 4`. */
function onBeat({ phrase: { notes } }: Reading, from: number, note: number): string {
  const { bar, beat } = notes[note]!;
  return `, on ${beatWords(beat)}${notes[from]!.bar === bar ? '' : ` of bar ${bar}`}`;
}

/** `lands on F, the fifth of Bb7, on beat 1`. */
export function arrival(reading: Reading, stretch: Pick<Stretch, 'from' | 'to'>, note: number): PlainTold {
  const verb = landingVerb(reading, stretch);
  return {
    verb,
    words: say`${verb === 'goes ' ? 'to' : 'on'} ${inRole(reading, note)}, on ${beatWords(reading.phrase.notes[note]!.beat)}${stretch.from === note ? stepInto(reading, note) : ''}`,
    tellsEnd: true,
  };
}

/** `comes to rest on C, the root of Cm7, on beat 3`: the last note of the phrase, where all before it was told; null where the line does not rest there. */
export function landingAtEnd(reading: Reading, note: number): Pick<Clause, 'words' | 'verb'> | null {
  if (note !== reading.phrase.notes.length - 1 || reading.notes[note]!.placement === null || !isLanding(reading, note)) return null;
  const { tellsEnd: _, ...told } = arrival(reading, { from: note - 1, to: note }, note);
  return told;
}

/** What begins a phrase lands nowhere, nor does what only leaves a note that clashes; after one with a mere remark, which passes, the line does land. */
function landingVerb({ notes, phrase }: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): string {
  if (from > 0 && from === to && notes[from - 1]!.verdict?.level === 'warning') return 'goes ';
  if (from > 0 && from === to && isTail(phrase, from)) return 'ends ';
  return from === 0 && to === from ? 'starts ' : to > from ? 'comes to rest ' : 'lands ';
}

/** A short note or two into a longer one on which the line comes to rest, and which it did not come from. */
export function isUpbeat(reading: Reading, { from, to, as }: Pick<Stretch, 'from' | 'to' | 'as'>): boolean {
  const { notes } = reading.phrase;
  // At the end of the phrase it comes to rest though it came from there.
  return (
    as === 'plain' &&
    to > from &&
    to - from <= 2 &&
    isLanding(reading, to) &&
    notes[to]!.duration.compare(notes[from]!.duration) > 0 &&
    (notes[from - 1]?.midi !== notes[to]!.midi || (to === notes.length - 1 && !isLanding(reading, from - 1)))
  );
}

/** The last two notes, a half step into a chord tone. */
export function isCadence(reading: Reading, { from, to, as }: Stretch): boolean {
  const { notes } = reading.phrase;
  return (
    as === 'plain' &&
    to === from + 1 &&
    to === notes.length - 1 &&
    Math.abs(notes[to]!.midi - notes[from]!.midi) === 1 &&
    reading.notes[to]!.placement?.role === 'chord-tone'
  );
}

/** The last note, after a rest, of a bar in which the line has arrived. */
function isTail({ notes }: Reading['phrase'], note: number): boolean {
  const [before, own] = [notes[note - 1]!, notes[note]!];
  return note === notes.length - 1 && before.bar === own.bar && !isJoined(before, own);
}

/** `, from D a step below`: how the last note is reached by a whole step over the change, or from the colour of a mode; a half step is told where it begins. */
function stepInto(reading: Reading, note: number): string {
  const [before, own] = [reading.phrase.notes[note - 1], reading.phrase.notes[note]!];
  if (before === undefined || note !== reading.phrase.notes.length - 1) return '';
  const size = own.midi - before.midi;
  const isOverChange =
    reading.notes[note - 1]!.placement?.span !== reading.notes[note]!.placement?.span &&
    !breathAfter(reading, note - 1) &&
    !devicesAt(reading, note).some(({ target }) => target === note);
  const isFromColour = isJoined(before, own) && devicesAt(reading, note - 1).some(({ kind }) => kind === 'modal-colour');
  return Math.abs(size) === 2 && (isOverChange || isFromColour)
    ? `, from ${noteName(reading, note - 1)} a step ${size > 0 ? 'below' : 'above'}`
    : '';
}
