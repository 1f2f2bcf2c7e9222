/** A phrase in another key, in the octave that suits its part. */
import { applyEdits, dressed, formatText } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import type { Reading } from '../../analysis/types';
import type { Phrase } from '../../model/types';
import { soundingRange } from '../../theory/part';
import { shiftBetween, transposePitch, type Shift } from '../../theory/interval';
import { formatNoteName, midi, parseNoteName, pitchInText } from '../../theory/pitch';
import type { Key } from '../../theory/types';
import type { AssistContext } from '../assist';
import { barsTold } from '../writing/bars-told';
import { readText } from '../writing/whole-phrase';
import { movedProse } from './prose';
import { hasAbsoluteChord, transposedText } from './transposing';

export function keyWords(tonic: string, { mode }: Key): string {
  return `${tonic} ${mode}`;
}

/** The phrase's text in the key of another tonic, laid out; null where something in it cannot be moved. */
export function inKeyOf(context: AssistContext, key: Key, tonic: string): string | null {
  const text = movedToKeyOf(context, key, tonic);
  // Names of other lengths move the columns.
  return text === null ? null : formatText(text);
}

const movedTexts = new WeakMap<Reading, Map<string, string | null>>();

/** The same as it comes out, before it is laid out; worked out once, since several actions of a menu ask for it. */
export function movedToKeyOf(context: AssistContext, key: Key, tonic: string): string | null {
  const known = movedTexts.get(context.reading) ?? new Map<string, string | null>();
  movedTexts.set(context.reading, known);
  const found = known.get(tonic);
  if (found !== undefined) return found;
  const text = movedAfresh(context, key, tonic);
  known.set(tonic, text);
  return text;
}

function movedAfresh(context: AssistContext, key: Key, tonic: string): string | null {
  const { phrase } = context.reading;
  const up = shiftBetween(key.tonic, parseNoteName(tonic)!);
  const shifts = OCTAVES.map((octaves): Shift => ({ diatonic: up.diatonic + 7 * octaves, chromatic: up.chromatic + 12 * octaves }));
  const shift = shifts.sort((a, b) => strain(phrase, a.chromatic) - strain(phrase, b.chromatic))[0]!;
  const moved = transposedText(context.snapshot, phrase, shift, hasAbsoluteChord(phrase), walkedThrough(context, shift));
  return moved === null ? null : settled(context, moved, shift);
}

/** The octaves that a key is tried in, counted from the next tonic up. */
const OCTAVES = [0, -1, 1, -2, 2, -3, 3, -4, 4, -5] as const;

/** A note outside the range weighs more than any distance. */
const OUTSIDE = 1000;

/** How far a shift takes the phrase out of its part's range, then how far it moves it at all (half steps). */
function strain(phrase: Phrase, halfSteps: number): number {
  const { low, high } = soundingRange(phrase.part);
  const outside = phrase.notes.filter((note) => note.midi + halfSteps < midi(low) || note.midi + halfSteps > midi(high)).length;
  return outside * OUTSIDE + Math.abs(halfSteps);
}

/**
 * A first note without an octave figure is placed by the part's range, in any key; where that parts it from notes that have one, or takes the
 * phrase out of the range, it gets its figure.
 */
function settled(context: AssistContext, text: string, shift: Shift): string {
  const { phrase } = context.reading;
  const first = phrase.notes[0]!;
  if (first.node.head.kind === 'pitch' && first.node.head.octave !== null) return text;
  const after = readText(context, text)?.phrase;
  const start = after?.notes[0];
  if (after === undefined || start === undefined || start.cell !== null || start.node.head.kind !== 'pitch') return text;
  const by = start.midi - first.midi;
  const isWhole = after.notes.every((note, i) => note.midi - phrase.notes[i]!.midi === by);
  if (isWhole && strain(phrase, by) < strain(phrase, shift.chromatic) + OUTSIDE / 2) return text;
  const placed = pitchInText(transposePitch(first.pitch, shift));
  return placed === null
    ? text
    : applyEdits(text, [{ range: start.node.range, text: dressed({ ...start.node, direction: null }, placed) }]);
}

/** What is said in the other key: of a bar's walk-through, that of the bar there; else the text moved. */
function walkedThrough(context: AssistContext, shift: Shift): (text: string) => string | null {
  const { reading, snapshot } = context;
  const { phrase } = reading;
  const moved = (text: string): string | null => movedProse(text, shift);
  if (phrase.says.length === 0) return moved;
  const bars = barsTold(reading);
  if (!phrase.says.some((text) => bars.includes(text))) return moved;
  const text = transposedText(snapshot, phrase, shift, hasAbsoluteChord(phrase));
  const there = text === null ? null : readText(context, text);
  const barsThere = there === null ? [] : barsTold(there);
  return (said) => (bars.includes(said) ? (barsThere[bars.indexOf(said)] ?? null) : moved(said));
}

/** A phrase's text with an addition to its name, from its keyword on. */
export function titled(text: string, addition: string): string {
  const { item } = parseSlice(text);
  if (item.kind !== 'phrase') return text;
  const { title, keyword } = item;
  const name = title === null ? '' : text.slice(title.range.start + 1, title.range.end - (title.closed ? 1 : 0));
  // A copy of a copy names its key already.
  if (name.endsWith(`(${addition})`)) return text.slice(keyword.range.start).trimEnd();
  const said = `"${`${name} (${addition})`.trim()}"`;
  const edit =
    title === null ? { range: { start: keyword.range.end, end: keyword.range.end }, text: ` ${said}` } : { range: title.range, text: said };
  return applyEdits(text, [edit]).slice(keyword.range.start).trimEnd();
}

/** `Bb`, `G minor`: a key as an addition to a name. */
export function shortKey(tonic: string, { mode }: Key): string {
  return `${formatNoteName(parseNoteName(tonic)!)}${mode === 'minor' ? ' minor' : ''}`;
}
