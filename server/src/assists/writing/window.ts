/**
 * The bars around an edit, before and after it, read in the harmony of the whole phrase. What a rule or a device sees near a note it sees
 * there as it sees it in the whole: the bars reach on until the notes at their edge cannot be connected with those of the edit.
 */
import { applyEdits } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import type { TextEdit } from '../../../../grammar/tree';
import { isOfBluesLine } from '../../analysis/blue';
import { keepScales } from '../../analysis/chord-scales';
import { placesOf } from '../../analysis/places';
import { readExcerpt } from '../../analysis/read';
import type { Reading } from '../../analysis/types';
import { movedFigures } from '../../analysis/side-slips';
import { connected, isHalfStep, move } from '../../analysis/vocabulary';
import { excerptOf, firstNoteOf, isSameNote, type Stretch, type Writing } from '../../model/excerpt';
import { ZERO } from '../../model/time';
import type { Note, Phrase } from '../../model/types';
import { chroma } from '../../theory/pitch';
import type { AssistContext } from '../assist';

export interface Window {
  readonly before: Reading;
  readonly after: Reading;
}

/** Null where only the whole phrase can tell: an edit outside the bars of a line, in a pickup, beside what cannot be read, in a figure that may slip and that the bars cut, or one that gives a chord another scale. */
export function windowOf(context: AssistContext, edits: readonly TextEdit[]): Window | null {
  const { reading, options } = context;
  const { phrase } = reading;
  const touched = touchedBars(phrase, edits);
  const around = touched === null ? null : surroundings(context, touched);
  if (around === null) return null;
  const { stretch, before } = around;
  const excerpt = written(context, stretch, edits);
  const last = excerpt?.notes[excerpt.notes.length - 1];
  if (
    excerpt === null ||
    (stretch.to < phrase.bars.length - 1 && (last === undefined || !isSameNote(last, before.phrase.notes[before.phrase.notes.length - 1]!)))
  )
    return null;
  const from = firstNoteOf(phrase, stretch.from);
  const to = from + before.phrase.notes.length;
  if (!keepScales(reading, { from, to, instead: excerpt.notes })) return null;
  const after = [...phrase.notes.slice(0, from), ...excerpt.notes, ...phrase.notes.slice(to)];
  if (isCutFigure(phrase.notes, from, to) || isCutFigure(after, from, from + excerpt.notes.length)) return null;
  return { before, after: readExcerpt(reading, excerpt, options) };
}

/** Whether a figure that comes again a half step away, with what follows as far as a third statement, lies in part between two notes (the second exclusive). */
function isCutFigure(notes: readonly Note[], from: number, to: number): boolean {
  return movedFigures(notes).some(({ from: first, size }) => {
    const end = Math.min(notes.length, first + 3 * size + 1);
    return first < to && end > from && (first < from || end > to);
  });
}

/** The first and the last bar in which an edit stands. */
function touchedBars({ bars }: Phrase, edits: readonly TextEdit[]): Stretch | null {
  const found = edits.map(({ range }) =>
    bars.findIndex(({ node }) => node !== null && node.range.start <= range.start && range.end <= node.range.end),
  );
  if (found.length === 0 || found.some((bar) => bar < 0 || bars[bar]!.pickup)) return null;
  return { from: Math.min(...found), to: Math.max(...found) };
}

interface Surroundings {
  readonly stretch: Stretch;
  readonly before: Reading;
}

const known = new WeakMap<Reading, Map<string, Surroundings | null>>();

/** The bars to be read for an edit in some; the same bars are looked at by one candidate after another. */
function surroundings(context: AssistContext, touched: Stretch): Surroundings | null {
  const { reading } = context;
  const byBars = known.get(reading) ?? new Map<string, Surroundings | null>();
  known.set(reading, byBars);
  const name = `${touched.from} ${touched.to}`;
  const found = byBars.get(name);
  if (found !== undefined) return found;
  const fresh = surroundingsAfresh(context, touched);
  byBars.set(name, fresh);
  return fresh;
}

function surroundingsAfresh(context: AssistContext, touched: Stretch): Surroundings | null {
  const { phrase } = context.reading;
  // A line that begins before its chords is laid over none.
  if (phrase.spans.length > 0 && phrase.spans[0]!.onset.compare(ZERO) > 0) return null;
  const stretch = { from: edge(context.reading, touched, -1), to: edge(context.reading, touched, 1) };
  const excerpt = written(context, stretch, []);
  const from = firstNoteOf(phrase, stretch.from);
  const isThere =
    excerpt !== null &&
    from + excerpt.notes.length === noteAfter(phrase, stretch.to) &&
    excerpt.notes.every((note, i) => isSameNote(note, phrase.notes[from + i]!));
  return isThere ? { stretch, before: readExcerpt(context.reading, excerpt, context.options) } : null;
}

/** The number of notes that begin before the end of a bar. */
function noteAfter(phrase: Phrase, bar: number): number {
  return bar + 1 < phrase.bars.length ? firstNoteOf(phrase, bar + 1) : phrase.notes.length;
}

/** The last bar that way, from those touched, that is to be read. */
function edge(reading: Reading, touched: Stretch, way: -1 | 1): number {
  const { phrase } = reading;
  const end = way < 0 ? 0 : phrase.bars.length - 1;
  for (let bar = way < 0 ? touched.from : touched.to; bar !== end; bar += way) {
    const notes =
      way < 0
        ? phrase.notes.slice(firstNoteOf(phrase, bar), firstNoteOf(phrase, touched.from)).reverse()
        : phrase.notes.slice(noteAfter(phrase, touched.to), noteAfter(phrase, bar));
    // What is cut there must not be a note held on.
    const cut = way < 0 ? bar : bar + 1;
    if (!isHeldInto(phrase, cut) && isOutOfReach(notes, reading)) return bar;
  }
  return end;
}

function isHeldInto(phrase: Phrase, bar: number): boolean {
  const { onset, number } = phrase.bars[bar]!;
  const before = phrase.notes[firstNoteOf(phrase, bar) - 1];
  const isHeld = before !== undefined && before.onset.add(before.duration).compare(onset) > 0;
  return isHeld || phrase.groups.find((group) => group.bar === number)?.slots[0]?.kind === 'hold';
}

/** An excuse and an ornament look at no more than this many moves from a note to another pitch. */
const REACH = 6;

/**
 * Whether nothing beyond some notes, in order from an edit outward, can be connected with it. What runs farther than a few notes is a
 * line of half steps, the same note struck again, and a stretch of the blues scale: each must end among them. So does all at a rest of a beat.
 */
function isOutOfReach(notes: readonly Note[], { phrase, context }: Reading): boolean {
  const places = placesOf(phrase, context);
  const tonic = context.tonic === null ? null : chroma(context.tonic.tonic);
  let moves = 0;
  let isRun = true;
  let isBlue = tonic !== null;
  for (const [i, note] of notes.entries()) {
    if (tonic !== null && !isOfBluesLine(note, context, tonic)) isBlue = false;
    const next = notes[i + 1];
    if (next === undefined) break;
    const [early, late] = note.index < next.index ? [note, next] : [next, note];
    if (!connected(early, late, places) && notes.length - i > 2) return true;
    if (move(note, next) !== 0) moves += 1;
    if (move(note, next) !== 0 && !isHalfStep(note, next)) isRun = false;
  }
  return moves >= REACH && !isRun && !isBlue;
}

/** A stretch as it is after some edits; null where it does not read as that many sound bars. */
function written({ placed: { phrase }, snapshot }: AssistContext, stretch: Stretch, edits: readonly TextEdit[]): Phrase | null {
  const bars = phrase.bars.slice(stretch.from, stretch.to + 1);
  const texts = bars.map(({ node, pickup, number }, i) => {
    // The bar of a pickup into a later system holds no more than its end.
    if (node === null || node.broken || (pickup && (number > 0 || i > 0))) return null;
    const inside = edits.filter(({ range }) => node.range.start <= range.start && range.end <= node.range.end);
    const own = inside.map(({ range, text }) => ({
      range: { start: range.start - node.range.start, end: range.end - node.range.start },
      text,
    }));
    return `${pickup ? '' : '| '}${applyEdits(phrase.text.slice(node.range.start, node.range.end), own)}`;
  });
  if (texts.includes(null)) return null;
  const writing = read(`phrase ""\n  line ${texts.join(' ')} |\n`);
  return writing === null || writing.nodes.length !== bars.length ? null : excerptOf(phrase, stretch, writing, snapshot.definitions);
}

function read(text: string): Writing | null {
  const { item, problems } = parseSlice(text);
  if (item.kind !== 'phrase' || problems.length > 0) return null;
  const [row] = item.rows;
  return item.rows.length === 1 && row!.kind === 'line' && row.bars.every(({ broken }) => !broken) ? { text, nodes: row.bars } : null;
}
