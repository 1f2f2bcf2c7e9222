/** What an exercise is: plain data, made from a phrase by the analysis. */
import type { Reading, TheoryOptions } from '../analysis/types';
import { pageShift } from '../exports/musicxml';
import { readText } from '../assists/writing/whole-phrase';
import { lineText } from '../assists/writing/kept-bars';
import type { Sound } from '../assists/writing/score';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import type { PictureData, PictureOptions } from '../picture/types';
import { problemsOf } from '../rules/findings';
import { beatWords } from '../rules/words';
import { transposeName } from '../theory/interval';
import { formatNoteName } from '../theory/pitch';
import type { Pitch } from '../theory/types';
import type { Random } from './random';

export const EXERCISE_KINDS = ['number-notes', 'wrong-note', 'complete-enclosure', 'name-device'] as const;
export type ExerciseKind = (typeof EXERCISE_KINDS)[number];

export interface Exercise {
  readonly kind: ExerciseKind;
  /** The phrase's name. */
  readonly phrase: string;
  /** What the student is to do. */
  readonly prompt: string;
  readonly asked: Shown;
  readonly answered: Shown;
  /** In words: the right answer, or all of them; empty where the picture says it. */
  readonly answer: string;
}

/** A picture of an exercise, before it is engraved. */
export interface Shown {
  readonly reading: Reading;
  readonly data: PictureData;
  readonly options: PictureOptions;
}

/** The phrase that an exercise is made from. */
export interface Material {
  readonly snapshot: Snapshot;
  readonly placed: PlacedPhrase;
  readonly reading: Reading;
  readonly theory: TheoryOptions;
}

/** The exercise of one kind that a phrase gives, the same for the same random numbers; null where it gives none. */
export type Make = (material: Material, random: Random) => Exercise | null;

/** The phrase with another line, read anew; null where that cannot be written or read. */
export function withLine({ snapshot, placed, reading, theory }: Material, sounds: readonly Sound[]): Reading | null {
  const context = { snapshot, placed, reading, options: theory, selection: { start: 0, end: 0 }, note: null, selected: [], asked: true };
  const text = lineText(context, sounds);
  return text === null ? null : readText(context, text);
}

/** Errors and warnings about the music. Claims are about the line as it was. */
export function faultsOf(reading: Reading): readonly { readonly rule: string; readonly note: number | null }[] {
  return [...problemsOf(reading), ...reading.phrase.problems]
    .filter(({ rule, severity }) => (severity === 'error' || severity === 'warning') && !rule.startsWith('claim-'))
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
