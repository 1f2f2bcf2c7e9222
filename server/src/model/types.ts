/**
 * A phrase in exact time: what sounds when, over which chord. All times are exact fractions in quarter notes, 0 at bar 1 beat 1,
 * negative in a pickup. Ranges are those of the phrase's slice.
 */
import type { Fraction } from './fraction';
import type { Direction, LineBar, NoteNode, PhraseItem, Problem, Range, Word } from '../../../grammar/tree';
import type { Chord, Key, Part, Pitch, ScaleName } from '../theory/types';

export interface Meter {
  readonly beats: number; // n of n/d, as written
  readonly unit: number; // d
  readonly compound: boolean;
  /** How many beats a bar has as felt: n, or n/3 in compound meters. */
  readonly beatCount: number;
  /** The length of a felt beat in quarters. */
  readonly beat: Fraction;
  /** The length of a bar in quarters. */
  readonly length: Fraction;
}

export interface Bar {
  /** From 1; a pickup before bar 1 is bar 0. */
  readonly number: number;
  readonly onset: Fraction;
  readonly length: Fraction;
  readonly meter: Meter;
  /** What is written in it is the pickup: it is bar 0, or the bar of chords that ends where the first line's bars begin. */
  readonly pickup: boolean;
  /** Index into `systems`. */
  readonly system: number;
  /** The bar as written in a `line` row; null where only chords are written. */
  readonly node: LineBar | null;
}

/** One chord symbol (or N.C.) sounding for a while. Repeats (`/`, `%`) and equal neighbours from the same word lengthen the span. */
export interface ChordSpan {
  readonly index: number;
  readonly onset: Fraction;
  readonly end: Fraction;
  /** Null over N.C. and where the symbol could not be read. */
  readonly chord: Chord | null;
  /** As written, Roman numerals resolved; `N.C.` for none. */
  readonly symbol: string;
  /** As written, e.g. `V7/ii`. */
  readonly written: string;
  /** The scale the writer states (`:dorian`). */
  readonly statedScale: ScaleName | null;
  /** Where it stands in the phrase (for `over NAME`, the name). */
  readonly range: Range;
  /** Where it stands in the `changes` definition it comes from. */
  readonly definition: { readonly name: string; readonly range: Range } | null;
  readonly roman: boolean;
}

export type Mark = 'intended' | 'accent' | 'short-accent' | 'ghost';

export interface Note {
  readonly index: number;
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly pitch: Pitch; // concert
  readonly midi: number;
  readonly marks: readonly Mark[];
  /** Bar number (0 in the pickup) and beat from 1 with a fraction: `3+1/2`. */
  readonly bar: number;
  readonly beat: string;
  /** The note as written; for a cell's note, the place of the cell's name. */
  readonly range: Range;
  readonly node: NoteNode;
  /** Set where the note comes from a cell: its name, and the note's place in the definition. */
  readonly cell: { readonly name: string; readonly range: Range } | null;
  readonly direction: Direction | null;
  /** The `~` slots that hold it, in order. */
  readonly holds: readonly { readonly range: Range; readonly onset: Fraction; readonly duration: Fraction }[];
  /** Index of the chord span at its onset; null where no chord is written. A pickup note has the first chord's. */
  readonly span: number | null;
}

/** A beat group or cell as laid out in time: what code actions rewrite. */
export interface PlacedGroup {
  readonly bar: number;
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly range: Range;
  /** The group's place among its bar's groups. */
  readonly index: number;
  /** Its slots in time; a cell's notes are one slot each. `note` is the index of the note that starts or is held there. */
  readonly slots: readonly PlacedSlot[];
  readonly cell: string | null;
  /** Weight as written or implied, in beats (exact). */
  readonly beats: Fraction;
  readonly weighted: boolean;
}
export interface PlacedSlot {
  readonly kind: 'note' | 'hold' | 'rest' | 'bad';
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly range: Range;
  readonly note: number | null;
}

export interface System {
  readonly index: number;
  readonly onset: Fraction;
  readonly end: Fraction;
  /** One chord for the whole `over` row. */
  readonly vamp: boolean;
}

export interface Tempo {
  /** Beats a minute. */
  readonly bpm: number;
  readonly feel: 'swing' | 'straight';
  readonly ratio: readonly [number, number] | null;
}

export interface Phrase {
  readonly item: PhraseItem;
  readonly text: string; // the slice's text
  readonly name: string;
  readonly key: Key | null;
  readonly tempo: Tempo;
  readonly part: Part;
  readonly level: number | null;
  readonly tags: readonly string[];
  /** Paragraphs of prose: `say` rows that follow one another are one. */
  readonly says: readonly string[];
  readonly claims: readonly { readonly range: Range; readonly words: readonly Word[]; readonly text: string }[];
  readonly systems: readonly System[];
  /** One after another without a gap; a pickup before bar 1 (number 0) first, where there is one. */
  readonly bars: readonly Bar[];
  readonly spans: readonly ChordSpan[];
  readonly notes: readonly Note[];
  readonly groups: readonly PlacedGroup[];
  /** Figures of the `degrees` rows, each with the note it stands under (null: under none, see `problems`). */
  readonly figures: readonly WrittenFigure[];
  readonly problems: readonly Problem[];
  /** The ends of its lines at which somebody is known to write. */
  readonly writing: readonly Writing[];
}

/** The end of a line row that is being written. */
export interface Writing {
  /** From the start of its last bar, or from behind the bar line that closes that, to where it is written. */
  readonly range: Range;
  /** The `over` row of its system; null where it has none. */
  readonly over: Range | null;
}

export interface WrittenFigure {
  readonly range: Range;
  readonly number: number;
  readonly accidental: string;
  readonly note: number | null;
}

/** The definitions a phrase may use: the file's `changes` and `cell` items by name. */
export interface Definitions {
  readonly changes: ReadonlyMap<string, import('../../../grammar/tree').ChangesItem>;
  readonly cells: ReadonlyMap<string, import('../../../grammar/tree').CellItem>;
}

/** A problem with the offset of the slice whose ranges it uses. */
export interface PlacedProblem {
  readonly start: number;
  readonly problem: Problem;
}
