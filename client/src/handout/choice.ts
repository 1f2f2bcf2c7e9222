/** What was chosen of a handout, read from where it was kept: nothing of it is taken on trust. */
import type { Extra, HandoutOptions, Sheet } from '../../../server/src/handout/types';
import type { PartName } from '../../../server/src/theory/types';
import { asRecord, listed } from '../kept';

export interface Choice {
  /** Of the lesson in the editor. */
  readonly what: 'lesson' | 'phrase';
  readonly format: 'pdf' | 'html';
  readonly options: HandoutOptions;
}

/** What there is to choose from, as the server's side lists it. */
export interface Choices {
  readonly sheets: readonly Sheet[];
  readonly extras: readonly Extra[];
  /** What a sheet shows, so that it can be left out. */
  readonly extrasOf: (sheet: Sheet) => readonly Extra[];
  readonly parts: readonly { readonly name: PartName; readonly label: string }[];
  readonly tonics: readonly string[];
}

/** What is missing or unknown is as it is at first: the teacher's sheet of the lesson, A4, as a PDF. */
export function readChoice(raw: unknown, choices: Choices): Choice {
  const given = asRecord(raw);
  const options = asRecord(given['options']);
  const keys = options['keys'];
  const tonics = listed(keys, choices.tonics);
  return {
    what: given['what'] === 'phrase' ? 'phrase' : 'lesson',
    format: given['format'] === 'html' ? 'html' : 'pdf',
    options: {
      sheet: choices.sheets.find((sheet) => sheet === options['sheet']) ?? choices.sheets[0]!,
      paper: options['paper'] === 'letter' ? 'letter' : 'a4',
      keys: keys === 'all' ? 'all' : tonics.length > 0 ? tonics : 'written',
      parts: listed(
        options['parts'],
        choices.parts.map(({ name }) => name),
      ),
      without: listed(options['without'], choices.extras),
      seed:
        typeof options['seed'] === 'number' && Number.isInteger(options['seed']) && options['seed'] > 0 && options['seed'] < MOST_SETS
          ? options['seed']
          : 1,
    },
  };
}

/** Sets of exercises, by their numbers. */
const MOST_SETS = 1_000_000;

/** What is left out of the sheet that is chosen: another sheet may not show it anyhow. */
export function leftOut({ sheet, without }: HandoutOptions, choices: Choices): Extra[] {
  return without.filter((extra) => choices.extrasOf(sheet).includes(extra));
}

export const SHEET_WORDS: Readonly<Record<Sheet, readonly [string, string]>> = {
  teacher: ['Teacher', 'degrees, devices, findings, prose, walk-through, claims'],
  student: ['Student', 'boxes to write the degrees in'],
  answers: ['Answers', 'the student’s sheet with the degrees in the boxes'],
  exercises: ['Exercises', 'made from the phrases'],
  'exercise-answers': ['Answers to exercises', 'what is right in the set of that number'],
};

export const EXTRA_WORDS: Readonly<Record<Extra, string>> = {
  degrees: 'Degrees',
  devices: 'Devices',
  findings: 'Findings',
  says: 'Prose',
  walkthrough: 'Walk-through',
  claims: 'Claims',
};

export const PAPER_WORDS: Readonly<Record<HandoutOptions['paper'], readonly [string, string]>> = {
  a4: ['A4', '210 × 297 mm'],
  letter: ['Letter', '8.5 × 11 in'],
};

export const FORMAT_WORDS: Readonly<Record<Choice['format'], readonly [string, string]>> = {
  pdf: ['PDF', 'pages to print'],
  html: ['HTML', 'one file for a browser, which prints too'],
};

export function keysWords(keys: HandoutOptions['keys']): string {
  return keys === 'written' ? 'as written' : keys === 'all' ? 'all twelve' : keys.join(', ');
}

export function partsWords(parts: HandoutOptions['parts'], choices: Choices): string {
  return parts.length === 0
    ? 'each phrase for the part it names'
    : parts.map((name) => choices.parts.find((part) => part.name === name)?.label ?? name).join(', ');
}

export function leftOutWords(options: HandoutOptions, choices: Choices): string {
  const without = leftOut(options, choices);
  return without.length === 0 ? 'nothing' : without.map((extra) => EXTRA_WORDS[extra].toLowerCase()).join(', ');
}

/** Whether a sheet is made of exercises, which are chosen by a seed. */
export function isOfExercises(sheet: Sheet): boolean {
  return sheet === 'exercises' || sheet === 'exercise-answers';
}
