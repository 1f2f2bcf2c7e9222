/** What can be asked of a handout, and what it is made of: plain data. */
import type { PartName } from '../theory/types';
import type { Words } from '../picture/emphasis';

/** Everything; boxes to write degrees in; the same with the degrees in them; exercises made from the phrases, and what is right. */
export type Sheet = 'teacher' | 'student' | 'answers' | 'exercises' | 'exercise-answers';
export const SHEETS = ['teacher', 'student', 'answers', 'exercises', 'exercise-answers'] as const satisfies readonly Sheet[];

/** Whether a sheet is made of exercises, which are chosen by a seed. */
export function isOfExercises(sheet: Sheet): boolean {
  return sheet === 'exercises' || sheet === 'exercise-answers';
}

/** What a sheet may show beside notes and chord symbols. */
export type Extra = 'degrees' | 'devices' | 'findings' | 'says' | 'walkthrough' | 'claims';
export const EXTRAS = ['degrees', 'devices', 'findings', 'says', 'walkthrough', 'claims'] as const satisfies readonly Extra[];

export interface HandoutOptions {
  readonly sheet: Sheet;
  readonly paper: 'a4' | 'letter';
  /** Each phrase as it is, in all twelve keys (its own first, then round the cycle of fifths), or in those of some tonics (`Bb`). */
  readonly keys: 'written' | 'all' | readonly string[];
  /** Each in a section of its own; none: every phrase for the part it names. */
  readonly parts: readonly PartName[];
  /** What is left out of what the sheet shows. */
  readonly without: readonly Extra[];
  /** Of exercises: the same whole number, from 0, gives the same ones. */
  readonly seed: number;
}

/** Seeds are below this. */
export const SEED_LIMIT = 2 ** 32;

export const DEFAULT_HANDOUT: HandoutOptions = { sheet: 'teacher', paper: 'a4', keys: 'written', parts: [], without: [], seed: 1 };

const SHOWN: Readonly<Record<Sheet, readonly Extra[]>> = {
  teacher: EXTRAS,
  student: ['says'],
  answers: ['says'],
  exercises: [],
  'exercise-answers': [],
};

/** Whether a handout shows something. Claims and walk-throughs tell the degrees, so that a sheet with boxes has none. */
export function shows({ sheet, without }: HandoutOptions, extra: Extra): boolean {
  return SHOWN[sheet].includes(extra) && !without.includes(extra);
}

/** What a sheet can show. */
export function extrasOf(sheet: Sheet): readonly Extra[] {
  return SHOWN[sheet];
}

/** What the name of a sheet's file ends in. */
export const SHEET_ENDINGS: Readonly<Record<Sheet, string>> = {
  teacher: '-teacher',
  student: '-student',
  answers: '-answers',
  exercises: '-exercises',
  'exercise-answers': '-exercise-answers',
};

/** A lesson to be handed out; `name` stands for its title where it has none. */
export interface LessonText {
  readonly name: string;
  readonly text: string;
  /** An offset: only the phrase there is handed out, between phrases the next one. Left out: all of them. */
  readonly at?: number;
}

/** How sentences call a phrase of a name. */
export function quotedName(name: string): string {
  return name === '' ? 'a phrase without a name' : `“${name}”`;
}

/** A drawn system: an SVG that stands for itself, with the width and height of its `viewBox`. */
export interface DrawnSystem {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/** The parts of a handout in order, before they have a place on a page. `id` is what contents and outline point at. */
export type Block =
  /** Begins a page: a lesson, or the part it is written for. `name` is how contents, outline and the foot of each page call it. */
  | { readonly kind: 'section'; readonly id: string; readonly title: string; readonly note: string; readonly name: string }
  /** The line for teacher, student and date. */
  | { readonly kind: 'names' }
  | { readonly kind: 'contents'; readonly entries: readonly { readonly id: string; readonly words: string; readonly level: 0 | 1 }[] }
  /** `listed`: its name in the contents; null where it is not listed. `startsPage`: nothing before it stands on its page. */
  | {
      readonly kind: 'phrase';
      readonly id: string;
      readonly name: string;
      readonly heading: string;
      readonly listed: string | null;
      readonly startsPage?: true;
    }
  /** `isWhole`: they stay on one page, where one holds them. */
  | { readonly kind: 'systems'; readonly systems: readonly DrawnSystem[]; readonly isWhole?: true }
  | { readonly kind: 'label'; readonly words: string }
  | { readonly kind: 'prose'; readonly words: readonly Words[] }
  | { readonly kind: 'item'; readonly words: string };

export interface Handout {
  /** Of all of it, for the document's properties. */
  readonly title: string;
  readonly blocks: readonly Block[];
  /** What could not be done as asked, a sentence each, with the phrase's name; what broke off is a fault, and told as such. */
  readonly notices: readonly string[];
}
