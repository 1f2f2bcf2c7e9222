/** How a repeat is said: the same a step lower, with what it becomes over another chord. */
import type { Reading } from '../../analysis/types';
import { isOverOneChord } from '../device-words';
import { lineFigures } from '../line-figures';
import { chordName, distance, figures as tensionFigures, foreignNotes, inRole, listed, noteName, ofChord } from '../note-words';
import { listedWords, say, type Words } from '../say';
import { newMeaning } from './harmony-points';
import { isInPlace, type Repeat } from './repeats';

/** `the same a step lower over C7`. */
export function repeated(reading: Reading, repeat: Repeat): Words {
  const { copy, model, starts, of, partial } = repeat;
  const chordsOfAll = [model, copy, ...starts.slice(1).map((start) => [start])].map((notes) => chordsOver(reading, notes).join());
  const bars = modelBars(reading, repeat);
  const isOfNoOther = of !== null || starts.length > 1 || (bars !== null && isInPlace(repeat));
  const isOverSame = isOfNoOther && new Set(chordsOfAll).size === 1;
  const isToldOver = reading.notes[copy[0]!]!.placement !== null && !isOverSame;
  const chords = chordWords(reading, copy);
  const now = isToldOver ? figuresNow(reading, repeat) : null;
  if (partial) return say`begins like bar ${of!}${now !== null ? say`, now ${now}` : isToldOver ? say`, over ${chords}` : []}`;
  const more = starts.slice(1).map((start) => chordWords(reading, [start]));
  const over = isToldOver ? say` over ${chords}${more.length === 0 ? [] : say`, then over ${listedWords(more)}`}` : [];
  if (bars !== null)
    return say`${bars} come again${isInPlace(repeat) ? '' : ` ${distanceOf(reading, repeat)}`}${over}${withChanges(reading, repeat)}`;
  const moved = more.length === 0 ? movedBy(reading, repeat) : `${distanceOf(reading, repeat)} each time${isToldOver ? ',' : ''}`;
  const way = of !== null ? `as bar ${of}${repeat.later === undefined ? '' : `, ${repeat.later}`}` : isInPlace(repeat) ? 'again' : moved;
  return now !== null ? say`the same ${way}, now ${now}` : say`the same ${way}${over}${withChanges(reading, repeat)}`;
}

/** Figures of a riff that can be told at once. */
const FEW_OF_RIFF = 5;

/** `2-3-5 of Ab7`: what the notes of a riff that comes again in its place are over another chord, up to where one comes back; null where one note at most is another degree, a blue third tells it, or they are many. */
function figuresNow(reading: Reading, repeat: Repeat): Words | null {
  const { copy, model, letters, changed, starts } = repeat;
  const { phrase, notes } = reading;
  const isOverOne = [copy, model].every((all) => isOverOneChord(reading, all));
  if (letters !== 0 || changed.length > 0 || starts.length > 1 || !isOverOne || newMeaning(reading, repeat).length > 0) return null;
  const pitches = copy.map((note) => phrase.notes[note]!.midi);
  const back = pitches.findIndex((midi, i) => pitches.indexOf(midi) < i);
  const own = back < 0 ? copy : copy.slice(0, back);
  const isAll = new Set(pitches).size === own.length;
  const others = own.filter((note, i) => tensionFigures(reading, [note]) !== tensionFigures(reading, [model[i]!]));
  return !isAll || own.length > FEW_OF_RIFF || others.length < 2
    ? null
    : say`${lineFigures(reading, own)}${ofChord(reading, notes[copy[0]!]!.placement!)}`;
}

/** Whether one note is another, struck once or more: then it is told what it is. */
export function isOneChange({ phrase: { notes } }: Reading, changed: Repeat['changed']): boolean {
  return new Set(changed.map(({ note }) => notes[note]!.midi)).size === 1;
}

/** `, with Eb, the seventh, for E`, `, with Eb for E and Bb for B`: one note with its role, several by their names. */
function withChanges(reading: Reading, repeat: Repeat): Words {
  const { changed } = repeat;
  const [only] = changed;
  if (only === undefined) {
    const altered = alteredNote(reading, repeat);
    return altered === null ? [] : say`, with ${inRole(reading, altered)}`;
  }
  if (isOneChange(reading, changed)) return say`, with ${inRole(reading, only.note)}, for ${noteName(reading, only.instead)}`;
  return [
    `, with ${listed([...new Set(changed.map(({ note, instead }) => `${noteName(reading, note)} for ${noteName(reading, instead)}`))])}`,
  ];
}

/** Of a figure that is moved exactly but for one note, that note, where it is foreign to the key: the letters alone would hide it. */
function alteredNote(reading: Reading, { copy, model, halfSteps, starts }: Repeat): number | null {
  if (halfSteps !== null || starts.length > 1) return null;
  const { notes } = reading.phrase;
  const sizes = copy.map((note, i) => notes[note]!.midi - notes[model[i]!]!.midi);
  const others = copy.filter((_, i) => sizes[i] !== sizes[0]);
  const isOdd = others.length === 1 && foreignNotes(reading, others).length === 1;
  return isOdd ? others[0]! : null;
}

/** `bars 9–10`, where more than one is done again; else null. */
function modelBars({ phrase: { notes } }: Reading, { model }: Repeat): string | null {
  const [first, last] = [notes[model[0]!]!.bar, notes[model[model.length - 1]!]!.bar];
  return first === last ? null : `bars ${first}–${last}`;
}

/** `a step lower`, `a fourth lower than bar 2`. */
export function movedBy(reading: Reading, repeat: Repeat): string {
  return `${distanceOf(reading, repeat)}${thanBar(reading, repeat)}`;
}

function distanceOf(reading: Reading, { letters, halfSteps, copy, model }: Repeat): string {
  const { notes } = reading.phrase;
  const isOfKey = foreignNotes(reading, [...model, ...copy]).length === 0;
  return distance(letters, halfSteps, isOfKey ? notes[copy[0]!]!.midi - notes[model[0]!]!.midi : null);
}

/** ` than bar 2`: where more bars than one come before, or another one stands between. */
function thanBar({ phrase: { notes } }: Reading, { model, copy }: Repeat): string {
  const [bar, own] = [notes[model[0]!]!.bar, notes[copy[0]!]!.bar];
  return bar > 1 || own > bar + 1 ? ` than bar ${bar}` : '';
}

/** The chords over which notes stand, each once. */
function chordsOver(reading: Reading, notes: readonly number[]): readonly string[] {
  return [
    ...new Set(
      notes.flatMap((note) => {
        const { placement } = reading.notes[note]!;
        return placement === null ? [] : [chordName(reading, placement)];
      }),
    ),
  ];
}

/** `Dm7 and G7`. */
function chordWords(reading: Reading, notes: readonly number[]): Words {
  return listedWords(chordsOver(reading, notes).map((chord): Words => [{ before: '', chord }]));
}
