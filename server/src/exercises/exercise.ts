/** What an exercise is: plain data, made from a phrase by the analysis. */
import { readPhrase } from '../analysis/read';
import type { Reading, TheoryOptions } from '../analysis/types';
import type { AssistContext } from '../assists/assist';
import { withText } from '../handout/versions';
import { pageShift } from '../exports/musicxml';
import { readText } from '../assists/writing/whole-phrase';
import { lineText } from '../assists/writing/kept-bars';
import type { Sound } from '../assists/writing/score';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import type { PictureData, PictureOptions } from '../picture/types';
import { isSevere, severeProblemsOf } from '../rules/severe';
import { beatWords } from '../rules/words';
import { transposeName, transposePitch, type Shift } from '../theory/interval';
import { formatNoteName, midi, staffPlace } from '../theory/pitch';
import type { Pitch } from '../theory/types';
import type { Random } from './random';

export const EXERCISE_KINDS = ['number-notes', 'wrong-note', 'complete-enclosure', 'name-device', 'another-key', 'other-mode'] as const;
export type ExerciseKind = (typeof EXERCISE_KINDS)[number];

export interface Exercise {
  readonly kind: ExerciseKind;
  /** The phrase's name. */
  readonly phrase: string;
  /** What the student is to do. */
  readonly prompt: string;
  /** One picture under another. */
  readonly asked: readonly Shown[];
  readonly answered: readonly Shown[];
  /** In words: the right answer, or all of them; empty where the picture says it. */
  readonly answer: string;
}

/** A picture of an exercise, before it is engraved. */
export interface Shown {
  readonly reading: Reading;
  readonly data: PictureData;
  readonly options: PictureOptions;
  /** Left out: as it is. `blank`: room for it, to be written in. */
  readonly line?: 'blank';
}

/** The phrase that an exercise is made from. */
export interface Material {
  readonly snapshot: Snapshot;
  readonly placed: PlacedPhrase;
  readonly reading: Reading;
  readonly theory: TheoryOptions;
  /** Which phrase it is of those that exercises are made from, and its key (`F major`) where it may be there in several. Left out: each is another one, as it is written. */
  readonly version?: { readonly phrase: number; readonly key: string };
}

/** The exercise of one kind that a phrase gives, the same for the same random numbers; null where it gives none. */
export type Make = (material: Material, random: Random) => Exercise | null;

/** The phrase with another line, read anew; null where that cannot be written or read. */
export function withLine(material: Material, sounds: readonly Sound[]): Reading | null {
  const context = contextOf(material);
  const text = lineText(context, sounds);
  return text === null ? null : readText(context, text);
}

/** The phrase as code actions are asked for it, at its first letter. */
export function contextOf({ snapshot, placed, reading, theory }: Material): AssistContext {
  return { snapshot, placed, reading, options: theory, selection: { start: 0, end: 0 }, note: null, selected: [], asked: true };
}

/** The phrase with another text, in its lesson. */
export function rewrittenAs({ snapshot, placed, theory }: Material, text: string): Material {
  const after = withText({ snapshot, placed }, text);
  return { ...after, reading: readPhrase(after.placed.phrase, theory), theory };
}

/** How far the first note of a phrase is from that of another, as the page is spelled: both read at written pitch. */
export function shiftOf(before: Reading, after: Reading): Shift {
  const [from, to] = [before, after].map((reading) =>
    transposePitch(reading.phrase.notes[0]!.pitch, pageShift(reading, { pitch: 'written', degrees: false, words: 'notes' })),
  );
  return { diatonic: staffPlace(to!) - staffPlace(from!), chromatic: midi(to!) - midi(from!) };
}

/** Errors and warnings about the music. Claims are about the line as it was. */
export function faultsOf(reading: Reading): readonly { readonly rule: string; readonly note: number | null }[] {
  return [...severeProblemsOf(reading), ...reading.phrase.problems]
    .filter((problem) => isSevere(problem) && !problem.rule.startsWith('claim-'))
    .map(({ rule, about }) => ({ rule, note: about?.note ?? null }));
}

/** A note as its part reads it. */
export function nameAsRead(reading: Reading, { letter, alter }: Pitch): string {
  return formatNoteName(transposeName({ letter, alter }, pageShift(reading, { pitch: 'written', degrees: false, words: 'notes' })));
}

/** `bar 2, beat 1`; `the pickup, the “and” of 4`. */
export function placeWords({ bar, beat }: { readonly bar: number; readonly beat: string }): string {
  return `${bar === 0 ? 'the pickup' : `bar ${bar}`}, ${beatWords(beat)}`;
}
