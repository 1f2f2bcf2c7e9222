/** The figures of a line: 2, 4 and 6 where it moves by step, 9, 11 and 13 where a note stands as a tension (THEORY.md, section 4). */
import { placesOf } from '../analysis/places';
import type { Reading } from '../analysis/types';
import { isJoined, isLeap } from '../analysis/vocabulary';
import { figures as tensionFigures } from './note-words';

/** `b7-6-5`, `1-2-3`, but `5-b7-9`: all of one figure in one way. */
export function lineFigures(reading: Reading, notes: readonly number[]): string {
  const written = tensionFigures(reading, notes).split('-');
  const goesUpFromRoot = notes.some((_, i) => isSecond(reading, notes.slice(i, i + 3)));
  const isPlain = notes.every((_, i) => !isCompound(reading, notes[i]!) || isOfLine(reading, notes, i));
  if (!goesUpFromRoot && !isPlain) return written.join('-');
  const simple = goesUpFromRoot ? OF_STEPS : OF_SCALE;
  return written.map((one, i) => (/^\d/.test(one) || isByStep(reading, notes, i) ? (simple[one] ?? one) : one)).join('-');
}

/** What tensions are called as notes of a scale. */
export const OF_SCALE: Readonly<Record<string, string>> = { '9': '2', '11': '4', '13': '6', b13: 'b6' };
const OF_STEPS: typeof OF_SCALE = { ...OF_SCALE, '#11': '#4' };

/** Whether a note lies a step from the one before or after it. */
export function isByStep({ phrase }: Reading, notes: readonly number[], index: number): boolean {
  const own = phrase.notes[notes[index]!]!;
  return [notes[index - 1], notes[index + 1]].some((other) => other !== undefined && !isLeap(own, phrase.notes[other]!));
}

/** A ninth, eleventh or thirteenth, altered or not. */
function isCompound({ notes }: Reading, note: number): boolean {
  return (notes[note]!.placement?.called.number ?? 0) > 7;
}

/** Whether such a note goes by in its figure: natural, none that the symbol writes, by step, and neither held, leaning nor on top of an arpeggio. */
function isOfLine(reading: Reading, notes: readonly number[], index: number): boolean {
  const note = notes[index]!;
  const { called, role } = reading.notes[note]!.placement!;
  if (role === 'chord-tone' || called.alter !== 0 || !isByStep(reading, notes, index)) return false;
  return isNeighbour(reading, notes, index) || !(isHeld(reading, note) || leans(reading, note) || isOnTop(reading, note));
}

/** Whether a note comes between two of the same pitch. */
function isNeighbour({ phrase }: Reading, notes: readonly number[], index: number): boolean {
  const [before, after] = [notes[index - 1], notes[index + 1]];
  return before !== undefined && after !== undefined && phrase.notes[before]!.midi === phrase.notes[after]!.midi;
}

/** A beat or longer, and longer than the note after it, or before silence. */
function isHeld({ phrase, context }: Reading, note: number): boolean {
  const [own, next] = [phrase.notes[note]!, phrase.notes[note + 1]];
  const { beat } = placesOf(phrase, context).barAt(own.onset).meter;
  const goesOn = next !== undefined && isJoined(own, next) && own.duration.compare(next.duration) <= 0;
  return own.duration.compare(beat) >= 0 && !goesOn;
}

/** On a strong place, by leap one way and on by step the other. */
function leans({ phrase, context }: Reading, note: number): boolean {
  const [before, own, next] = [phrase.notes[note - 1], phrase.notes[note]!, phrase.notes[note + 1]];
  if (before === undefined || next === undefined || !placesOf(phrase, context).isStrong(own.onset)) return false;
  return isLeap(before, own) && !isLeap(own, next) && Math.sign(own.midi - before.midi) === -Math.sign(next.midi - own.midi);
}

/** A third above the seventh that came before it, or above a note that is so. */
function isOnTop(reading: Reading, note: number): boolean {
  const { phrase, notes } = reading;
  const [before, own] = [phrase.notes[note - 1], phrase.notes[note]!];
  const [lower, upper] = [notes[note - 1]?.placement, notes[note]!.placement!];
  if (before === undefined || lower == null || lower.span !== upper.span || !isJoined(before, own)) return false;
  if (lower.called.number !== upper.called.number - 2 || ![3, 4].includes(own.midi - before.midi)) return false;
  return lower.called.number === 7 || isOnTop(reading, before.index);
}

/** Whether three notes go one way from the root by step to the natural ninth, and on to the third, fourth or fifth of one chord, or back. */
function isSecond({ phrase, notes }: Reading, three: readonly number[]): boolean {
  const placed = three.map((note) => notes[note]!.placement);
  const [first, second, third] = three.map((note) => phrase.notes[note]!);
  if (!/^(?:1,9,[345]|[345],9,1)$/.test(placed.map((one) => one?.called.number).join()) || placed[1]!.called.alter !== 0) return false;
  const root = placed[0]!.called.number === 1 ? first! : third!;
  const isOneWay = Math.sign(second!.midi - first!.midi) === Math.sign(third!.midi - second!.midi);
  return isOneWay && !isLeap(root, second!) && placed.every((one) => one!.span === placed[0]!.span);
}
