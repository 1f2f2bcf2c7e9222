/** The table of rows: each word that may begin one, and all that is decided by the word alone. Its order is that in which they are offered. */
import { distance } from 'fastest-levenshtein';

export interface RowWord {
  readonly word: string;
  /** How the rest of the row is read. */
  readonly mode: 'notes' | 'chords' | 'words';
  /** What it may stand in; `file`: it begins an item of its own. */
  readonly within: readonly ('file' | 'lesson' | 'phrase')[];
  /** Of several in one item only the last counts. */
  readonly once: boolean;
  /** Whether there is something to choose right behind it. */
  readonly choice: boolean;
  /** Whether the notes or their time are others without it. */
  readonly changesMusic: boolean;
  /** What it means: a sentence or two of Markdown. */
  readonly meaning: string;
}

export const ROW_WORDS = [
  { word: 'phrase', mode: 'words', within: ['file'], once: false, choice: false, changesMusic: true, meaning: 'Starts a phrase.' },
  {
    word: 'changes',
    mode: 'chords',
    within: ['file'],
    once: false,
    choice: false,
    changesMusic: true,
    meaning: 'Names a row of chords: `changes turn = | Gm7 C7 | Fmaj7 |`; use it with `over turn`.',
  },
  {
    word: 'cell',
    mode: 'notes',
    within: ['file'],
    once: false,
    choice: false,
    changesMusic: true,
    meaning: 'Names a few beat groups: `cell climb = 1-2 3-5`; use it by its name in a `line`.',
  },
  {
    word: 'lesson',
    mode: 'words',
    within: ['file'],
    once: false,
    choice: false,
    changesMusic: false,
    meaning: 'The title of the file’s lesson.',
  },
  {
    word: 'about',
    mode: 'words',
    within: ['lesson'],
    once: true,
    choice: false,
    changesMusic: false,
    meaning: 'What the lesson is about.',
  },
  {
    word: 'over',
    mode: 'chords',
    within: ['phrase'],
    once: false,
    choice: true,
    changesMusic: true,
    meaning: 'The chords. `| Gm7 C7 | Fmaj7 |`: chords share a bar equally; `/` repeats a chord, `%` a bar.',
  },
  {
    word: 'line',
    mode: 'notes',
    within: ['phrase'],
    once: false,
    choice: false,
    changesMusic: true,
    meaning: 'The melody: beat groups with spaces between, slots of a beat joined by hyphens; `~` holds, `.` rests.',
  },
  {
    word: 'degrees',
    mode: 'notes',
    within: ['phrase'],
    once: false,
    choice: false,
    changesMusic: false,
    meaning: 'Your own numbering of the notes above, checked figure by figure.',
  },
  {
    word: 'say',
    mode: 'words',
    within: ['lesson', 'phrase'],
    once: false,
    choice: false,
    changesMusic: false,
    meaning: 'Words for the handout, in Markdown.',
  },
  {
    word: 'claim',
    mode: 'words',
    within: ['phrase'],
    once: false,
    choice: true,
    changesMusic: false,
    meaning: 'A teaching point of the lesson, which is proved or refuted by the notes.',
  },
  {
    word: 'key',
    mode: 'words',
    within: ['phrase'],
    once: true,
    choice: true,
    changesMusic: true,
    meaning: 'What spelling, Roman numerals and the function of chords go by: `key F major`.',
  },
  {
    word: 'meter',
    mode: 'words',
    within: ['phrase'],
    once: false,
    choice: true,
    changesMusic: true,
    meaning: 'Beats in a bar, 4/4 unless written: `meter 3/4`.',
  },
  {
    word: 'tempo',
    mode: 'words',
    within: ['phrase'],
    once: true,
    choice: false,
    changesMusic: false,
    meaning: 'Beats a minute, then `swing` or `straight`: `tempo 144 swing`.',
  },
  {
    word: 'part',
    mode: 'words',
    within: ['phrase'],
    once: true,
    choice: true,
    changesMusic: false,
    meaning: 'Whose range and transposition the phrase has: `part tenor-sax`.',
  },
  {
    word: 'level',
    mode: 'words',
    within: ['lesson', 'phrase'],
    once: true,
    choice: true,
    changesMusic: false,
    meaning: 'Your own grading, 1 (simple) to 5 (demanding).',
  },
  {
    word: 'tag',
    mode: 'words',
    within: ['lesson', 'phrase'],
    once: true,
    choice: false,
    changesMusic: false,
    meaning: 'Words to search for.',
  },
] as const satisfies readonly RowWord[];

const TABLE: ReadonlyMap<string, RowWord> = new Map(ROW_WORDS.map((row): [string, RowWord] => [row.word, row]));

/** What the table says of a word; undefined for a word that begins no row. */
export function rowWord(word: string): RowWord | undefined {
  return TABLE.get(word);
}

/** The words that may begin a row there, in their order. */
export function wordsWithin(place: RowWord['within'][number]): readonly string[] {
  return [...TABLE.values()].filter(({ within }) => within.includes(place)).map(({ word }) => word);
}

/** The words whose rows are read so, in their order. */
export function wordsOfMode(mode: RowWord['mode']): readonly string[] {
  return [...TABLE.values()].filter((row) => row.mode === mode).map(({ word }) => word);
}

/** How long a word may be that is meant for `phrase`. */
const LONGEST_SLIP = 8;

/**
 * Whether a word before a name in quotes is `phrase` mistyped: one letter off, two changed round, as it sounds, or in capitals. Other words
 * (`prose "…"`, `parse "…"`) are not.
 */
export function isPhraseMistyped(word: string): boolean {
  if (word.length > LONGEST_SLIP || TABLE.has(word)) return false;
  const plain = word.toLowerCase().replace(/^f/, 'ph');
  const off = distance(plain, 'phrase');
  return off <= 1 || (off === 2 && [...plain].sort().join('') === [...'phrase'].sort().join(''));
}

/** Whether a word begins an item of the file. */
export function beginsItem(word: string): boolean {
  return TABLE.get(word)?.within.includes('file') === true;
}
