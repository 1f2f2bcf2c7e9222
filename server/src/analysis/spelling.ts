/** Chord tones that are spelled otherwise than their chord spells them, for no reason that a player has (THEORY: Spelling). */
import type { Note } from '../model/types';
import { figureName } from '../theory/figure';
import { shiftBetween, transposeName } from '../theory/interval';
import { keyScale } from '../theory/key';
import { chroma, formatNoteName, parseNoteName, sameName, soundClass } from '../theory/pitch';
import { scale } from '../theory/scale';
import { hasTwoNames } from '../theory/two-names';
import type { Chord, Figure, NoteName } from '../theory/types';
import { distanceUp, targetOf } from './harmonies';
import type { Reading } from './types';
import { isDominant } from './vocabulary';

export interface StrangeSpelling {
  readonly note: number;
  /** Index of the chord span whose tone it is. */
  readonly span: number;
  /** As the chord spells it. */
  readonly own: NoteName;
  /** Null for the bass of a slash chord that is no other tone of it. */
  readonly figure: Figure | null;
}

/** In the order of the notes. Notes next to one another over one chord are judged as one: all of them, or none. */
export function strangeSpellings(reading: Reading): readonly StrangeSpelling[] {
  // Another name of a note without an accidental is none that a reader expects.
  if (reading.phrase.notes.every(({ pitch }) => pitch.alter === 0)) return [];
  const all = struckTogether(reading.phrase.notes);
  const found = all.flatMap((struck, i) => {
    const spellings = struck.flatMap((note) => spelledOtherwise(reading, note) ?? []);
    if (spellings.length === 0 || leads(struck, all[i + 1], all[i + 2]) || isRightElsewhere(reading, struck)) return [];
    return spellings.filter((spelling) => [isBlue, isOfKey, isOfFlatTwo].every((isMeant) => !isMeant(reading, spelling)));
  });
  return neighbours(found, reading)
    .filter((group) => readsBetter(group, reading))
    .flat();
}

/** Notes of the same sound and spelling that follow one another, together. */
function struckTogether(notes: readonly Note[]): Note[][] {
  const all: Note[][] = [];
  for (const note of notes) {
    const before = notes[note.index - 1];
    if (before !== undefined && before.midi === note.midi && sameName(before.pitch, note.pitch)) all[all.length - 1]!.push(note);
    else all.push([note]);
  }
  return all;
}

function spelledOtherwise({ phrase, notes, slips }: Reading, note: Note): StrangeSpelling | null {
  const { placement, pickup } = notes[note.index]!;
  if (
    placement === null ||
    placement.role !== 'chord-tone' ||
    pickup ||
    slips.has(note.index) ||
    note.node.head.kind !== 'pitch' ||
    note.cell !== null ||
    note.marks.includes('intended')
  )
    return null;
  const chord = phrase.spans[placement.span]!.chord!;
  if (spells(chord, note.pitch)) return null;
  const tone = chord.tones.find(({ name }) => chroma(name) === chroma(note.pitch));
  const own = tone?.name ?? chord.bass;
  const figure = tone?.figure ?? null;
  if (own === null || hasTwoNames(chord, figure, own)) return null;
  return { note: note.index, span: placement.span, own, figure };
}

/** Whether a chord has a tone, or its bass, of that very name. */
function spells({ tones, bass }: Chord, note: NoteName): boolean {
  return tones.some(({ name }) => sameName(name, note)) || (bass !== null && sameName(bass, note));
}

// ── On purpose ─────────────────────────────────────────────────────────────────────────────────────────────────────────────

type Struck = readonly Note[];

/** A sharp on its way up, a flat on its way down, by a half step to the next letter: at once, or after one note on the other side. */
function leads([note]: Struck, next: Struck | undefined, second: Struck | undefined): boolean {
  if (next === undefined) return false;
  if (isLeading(note!, next[0]!)) return true;
  return (
    second !== undefined && isLeading(note!, second[0]!) && Math.sign(next[0]!.midi - second[0]!.midi) === Math.sign(note!.pitch.alter)
  );
}

function isLeading({ pitch, midi }: Note, goal: Note): boolean {
  const way = Math.sign(pitch.alter);
  if (way === 0 || goal.midi - midi !== way) return false;
  return (way > 0 ? shiftBetween(pitch, goal.pitch) : shiftBetween(goal.pitch, pitch)).diatonic === 1;
}

/** Held over a change or struck again, it may be right for one of the chords, or for its scale. */
function isRightElsewhere(reading: Reading, struck: Struck): boolean {
  return struck.some(({ index, span, pitch }) => {
    const spans = [span, ...reading.notes[index]!.soundings.map(({ placement }) => placement.span)];
    return spans.some((at) => at !== null && isRightOver(reading, at, pitch));
  });
}

function isRightOver({ phrase, scales }: Reading, span: number, note: NoteName): boolean {
  const { chord } = phrase.spans[span]!;
  return (chord !== null && spells(chord, note)) || scales[span]?.tones.some(({ name }) => sameName(name, note)) === true;
}

/** The third or fifth of the tonic over a dominant of a blues, which are spelled from above and from below. */
function isBlue({ phrase, context: { blues } }: Reading, { span, own }: StrangeSpelling): boolean {
  return blues !== null && isDominant(phrase.spans[span]!.chord!) && [3, 6].includes(soundClass(chroma(own) - blues));
}

/** The key spells the note so, and has no other note of that sound: Eb over B7 in B-flat. */
function isOfKey({ phrase, context: { tonic } }: Reading, { note, own }: StrangeSpelling): boolean {
  if (tonic === null) return false;
  const scales = tonic.mode === 'major' ? [keyScale(tonic)] : [keyScale(tonic), scale(tonic.tonic, 'melodic minor')];
  const has = (wanted: NoteName): boolean => scales.some(({ tones }) => tones.some(({ name }) => sameName(name, wanted)));
  return has(phrase.notes[note]!.pitch) && !has(own);
}

/**
 * A dominant that falls a half step is the flat two of where it falls, however its symbol is spelled (B7 before Bbmaj7 is Cb7), and its
 * seventh may be spelled as what leads on to that root (F# over Ab7 before G7).
 */
function isOfFlatTwo({ phrase, context }: Reading, { note, span, figure }: StrangeSpelling): boolean {
  const harmony = context.harmonies[context.ofSpan[span]!]!;
  const { chord } = phrase.spans[span]!;
  const target = targetOf(context, harmony);
  if (chord === null || figure === null || target === null || !isDominant(chord) || distanceUp(chord, target) !== 11) return false;
  const { pitch } = phrase.notes[note]!;
  const root = transposeName(target.root, { diatonic: 1, chromatic: 1 });
  return sameName(pitch, figureName(root, figure)) || sameName(pitch, transposeName(target.root, { diatonic: -1, chromatic: -1 }));
}

// ── The notes beside it ────────────────────────────────────────────────────────────────────────────────────────────────────

/** Those that follow one another over one harmony, together. */
function neighbours(found: readonly StrangeSpelling[], { context: { ofSpan } }: Reading): StrangeSpelling[][] {
  const groups: StrangeSpelling[][] = [];
  for (const spelling of found) {
    const group = groups[groups.length - 1];
    const before = group?.[group.length - 1];
    if (before !== undefined && before.note + 1 === spelling.note && ofSpan[before.span] === ofSpan[spelling.span]) group!.push(spelling);
    else groups.push([spelling]);
  }
  return groups;
}

/**
 * Whether the line reads better with the chord's spelling: fewer intervals that only a rare name tells (C-D# is an augmented second), to
 * the notes beside over the same chord too. Where those say nothing, the chord does, but over a root that has two usual names.
 */
function readsBetter(group: readonly StrangeSpelling[], reading: Reading): boolean {
  const { notes } = reading.phrase;
  const [first, last] = [group[0]!, group[group.length - 1]!];
  const stretch = notes.slice(Math.max(0, first.note - 1), last.note + 2).filter(({ index }) => isOverSame(reading, index, first.span));
  const own = stretch.map(({ pitch }) => ownName(reading, first.span, pitch));
  const moves = stretch.slice(1).map((note, i) => Math.sign(note.midi - stretch[i]!.midi));
  const asWritten = moves.filter((way, i) => isRare(stretch[i]!.pitch, stretch[i + 1]!.pitch, way)).length;
  // What the chord and its scale hold is no rare interval over them: Eb-F# over D7b9.
  const asTheChord = moves.filter(
    (way, i) => (own[i] === null || own[i + 1] === null) && isRare(own[i] ?? stretch[i]!.pitch, own[i + 1] ?? stretch[i + 1]!.pitch, way),
  ).length;
  return asTheChord < asWritten || (asWritten === 0 && asTheChord === 0 && !group.every((spelling) => isOfTwin(reading, spelling)));
}

/** What chord or scale call a sound; null where they do not hold it. */
function ownName({ phrase, scales }: Reading, span: number, note: NoteName): NoteName | null {
  const isIt = ({ name }: { readonly name: NoteName }): boolean => chroma(name) === chroma(note);
  const { tones, bass } = phrase.spans[span]!.chord!;
  return tones.find(isIt)?.name ?? (bass !== null && chroma(bass) === chroma(note) ? bass : (scales[span]?.tones.find(isIt)?.name ?? null));
}

function isOverSame({ notes, context: { ofSpan } }: Reading, index: number, span: number): boolean {
  const placement = notes[index]!.placement;
  return placement !== null && ofSpan[placement.span] === ofSpan[span];
}

/** F#, A# and C# over Gb7: the tones of F#7. */
function isOfTwin({ phrase }: Reading, { note, span, figure }: StrangeSpelling): boolean {
  const twin = TWINS[formatNoteName(phrase.spans[span]!.chord!.root)];
  return twin !== undefined && figure !== null && sameName(phrase.notes[note]!.pitch, figureName(parseNoteName(twin)!, figure));
}

/** Roots that have two usual names. */
const TWINS: Readonly<Record<string, string>> = {
  'C#': 'Db',
  Db: 'C#',
  'D#': 'Eb',
  Eb: 'D#',
  'F#': 'Gb',
  Gb: 'F#',
  'G#': 'Ab',
  Ab: 'G#',
  'A#': 'Bb',
  Bb: 'A#',
  B: 'Cb',
  Cb: 'B',
};

/** Half steps up from a letter to the next ones, as they are usual: perfect, major and minor intervals and the two names of the tritone. */
const USUAL: readonly (readonly number[])[] = [[0], [1, 2], [3, 4], [5, 6], [6, 7], [8, 9], [10, 11]];

/** `way` is 1 up, -1 down. On one letter a line goes up to the sharper note and down to the flatter one. */
function isRare(from: NoteName, to: NoteName, way: number): boolean {
  const { diatonic, chromatic } = shiftBetween(from, to);
  return !USUAL[diatonic]!.includes(chromatic) && !(from.letter === to.letter && to.alter - from.alter === way);
}
