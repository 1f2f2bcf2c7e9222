/**
 * The tree of a `.phrase` file: what was written, and where. It knows nothing of music beyond how it is written: a chord
 * symbol is a word here, a cell is a name, a claim is a list of words.
 *
 * Every range counts UTF-16 code units from the start of the *slice* (one top-level item and what belongs to it), never from
 * the start of the file. So an edit elsewhere in the file leaves a slice's tree untouched and reusable.
 */

/** Half-open span of UTF-16 offsets within a slice. */
export interface Range {
  readonly start: number;
  readonly end: number;
}

export type Severity = 'error' | 'warning' | 'information' | 'hint';

export interface TextEdit {
  readonly range: Range;
  readonly text: string;
}

/** A repair for a finding. `safe` fixes may be applied without asking (fix-all); the others change what the writer meant. */
export interface Fix {
  readonly title: string;
  readonly edits: readonly TextEdit[];
  readonly safe: boolean;
  readonly preferred?: boolean;
}

/**
 * A finding as data; its text is rendered last, by the rule named `rule`, from `facts` (so the editor, the command line and the
 * manual share one wording). Facts are strings and numbers ready to be put in a sentence.
 */
export interface Problem {
  readonly rule: string;
  readonly severity: Severity;
  readonly range: Range;
  readonly facts: Readonly<Record<string, string | number>>;
  readonly fixes: readonly Fix[];
  readonly related?: readonly RelatedPlace[];
  /** The note that it is about, where it is about one. */
  readonly about?: AboutNote;
}

/** A note of the phrase by its index, and which of its soundings is meant; null where it is the note as such. */
export interface AboutNote {
  readonly note: number;
  readonly sounding: number | null;
}

/** A second place that explains a finding: in the same slice, or (with `item`) in the definition of that name. */
export interface RelatedPlace {
  readonly range: Range;
  readonly text: string;
  readonly definition?: { readonly kind: 'changes' | 'cell'; readonly name: string };
}

export interface Word {
  readonly text: string;
  readonly range: Range;
}

/** A quoted string: `value` is unescaped, `range` includes the quotes; `closed` is false when the line ended first. */
export interface StringNode {
  readonly value: string;
  readonly range: Range;
  readonly closed: boolean;
}

export interface Comment {
  readonly text: string; // with the leading `//`
  readonly range: Range;
}

// ── Items ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

export type Item = LessonItem | ChangesItem | CellItem | PhraseItem | StrayItem;

interface ItemBase {
  readonly range: Range;
  readonly keyword: Word;
  readonly comments: readonly Comment[];
}

export interface LessonItem extends ItemBase {
  readonly kind: 'lesson';
  readonly title: StringNode | null;
  readonly rows: readonly Row[]; // about, level, tag, say
}

export interface ChangesItem extends ItemBase {
  readonly kind: 'changes';
  readonly name: Word | null;
  readonly bars: readonly ChordBar[];
}

export interface CellItem extends ItemBase {
  readonly kind: 'cell';
  readonly name: Word | null;
  readonly groups: readonly Group[];
}

export interface PhraseItem extends ItemBase {
  readonly kind: 'phrase';
  readonly title: StringNode | null;
  readonly rows: readonly Row[];
  /** Definitions written inside the phrase (an error at each, but they define all the same). */
  readonly nested: readonly (ChangesItem | CellItem)[];
}

/** Text before the first top-level keyword of the file, or rows that belong to nothing. `keyword` is its first word. */
export interface StrayItem extends ItemBase {
  readonly kind: 'stray';
}

// ── Rows ───────────────────────────────────────────────────────────────────────────────────────────────────────────────────

export type Row =
  | KeyRow
  | MeterRow
  | TempoRow
  | PartRow
  | LevelRow
  | TagRow
  | OverRow
  | LineRow
  | DegreesRow
  | ClaimRow
  | SayRow
  | AboutRow
  | UnknownRow;

interface RowBase {
  /** From the keyword to the end of the last thing on the row (continuation lines included, trailing comment excluded). */
  readonly range: Range;
  readonly keyword: Word;
}

export interface KeyRow extends RowBase {
  readonly kind: 'key';
  /** Null where what is written is not a key (then there is a problem). */
  readonly tonic: { readonly letter: Letter; readonly alter: number; readonly range: Range } | null;
  readonly mode: 'major' | 'minor' | null;
}
export interface MeterRow extends RowBase {
  readonly kind: 'meter';
  /** Null where unreadable. `beats` is n, `unit` is d of n/d. */
  readonly meter: { readonly beats: number; readonly unit: 1 | 2 | 4 | 8 | 16 } | null;
}
export interface TempoRow extends RowBase {
  readonly kind: 'tempo';
  readonly bpm: number | null; // beats a minute, 20 to 400
  readonly feel: 'swing' | 'straight' | null; // null: not written
  readonly ratio: readonly [number, number] | null; // `swing 2:1`
}
export interface PartRow extends RowBase {
  readonly kind: 'part';
  readonly name: Word | null;
}
export interface LevelRow extends RowBase {
  readonly kind: 'level';
  readonly level: 1 | 2 | 3 | 4 | 5 | null;
}
export interface TagRow extends RowBase {
  readonly kind: 'tag';
  readonly tags: readonly Word[];
}
export interface ClaimRow extends RowBase {
  readonly kind: 'claim';
  readonly words: readonly Word[];
}
export interface SayRow extends RowBase {
  readonly kind: 'say';
  readonly text: StringNode | null;
}
export interface AboutRow extends RowBase {
  readonly kind: 'about';
  readonly text: StringNode | null;
}
/** A row whose first word is no keyword. Its problem carries the nearest suggestions. */
export interface UnknownRow extends RowBase {
  readonly kind: 'unknown';
}
export interface OverRow extends RowBase {
  readonly kind: 'over';
  /** `over NAME`: the name of a `changes` definition, else null. */
  readonly changes: Word | null;
  readonly bars: readonly ChordBar[];
}
export interface LineRow extends RowBase {
  readonly kind: 'line';
  readonly bars: readonly LineBar[];
}
export interface DegreesRow extends RowBase {
  readonly kind: 'degrees';
  readonly bars: readonly FigureBar[];
}

// ── Bars ───────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/**
 * What stands between two bar lines (or a bar line and an end of the row). A row `| a | b |` has two bars; `a | b` has two, the
 * first with `open` null (a pickup, if the row is the phrase's first line). An empty bar (`| |`) is a bar with no content.
 */
interface BarBase {
  /** The content, first thing to last; where empty, an empty range just after the opening bar line. */
  readonly range: Range;
  readonly open: Range | null;
  readonly close: Range | null;
  /** Closed by `||`. */
  readonly double: boolean;
  /** Something in the bar could not be read: it is not reformatted, and no fix rewrites it whole. */
  readonly broken: boolean;
}

export interface LineBar extends BarBase {
  readonly groups: readonly Group[];
}
export interface ChordBar extends BarBase {
  readonly shares: readonly Share[];
}
export interface FigureBar extends BarBase {
  readonly groups: readonly FigureGroup[];
}

// ── Line content ───────────────────────────────────────────────────────────────────────────────────────────────────────────

export type Group = SlotGroup | CellUse;

export interface Weight {
  readonly beats: number; // positive whole number
  readonly range: Range; // of `2:`
}

export interface SlotGroup {
  readonly kind: 'slots';
  readonly range: Range;
  readonly weight: Weight | null;
  readonly slots: readonly Slot[]; // at least one
}

export interface CellUse {
  readonly kind: 'cell';
  readonly range: Range;
  readonly weight: Weight | null;
  readonly direction: Direction | null;
  readonly name: Word;
}

export type Slot = NoteNode | HoldNode | RestNode | BadSlot;

export type Direction = 'up' | 'down'; // `/` and `\`
export type Letter = 'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G';

export interface NoteNode {
  readonly kind: 'note';
  /** Direction, parentheses and marks included. */
  readonly range: Range;
  readonly direction: Direction | null;
  readonly ghost: boolean;
  readonly intended: boolean; // !
  readonly accent: boolean; // >
  readonly shortAccent: boolean; // ^
  readonly head: PitchHead | DegreeHead;
}
export interface PitchHead {
  readonly kind: 'pitch';
  readonly range: Range;
  readonly letter: Letter;
  readonly alter: number; // half steps, -2 to 2; `n` and nothing are 0
  readonly octave: number | null; // scientific; null where not written
}
export interface DegreeHead {
  readonly kind: 'degree';
  readonly range: Range;
  readonly number: 1 | 2 | 3 | 4 | 5 | 6 | 7 | 9 | 11 | 13;
  readonly accidental: Accidental;
}
export type Accidental = '' | 'b' | 'bb' | '#' | '##' | 'n';

export interface HoldNode {
  readonly kind: 'hold';
  readonly range: Range;
} // ~
export interface RestNode {
  readonly kind: 'rest';
  readonly range: Range;
} // .
/** An unreadable slot; it keeps its place in time and sounds nothing. */
export interface BadSlot {
  readonly kind: 'bad';
  readonly range: Range;
}

// ── Chord content ──────────────────────────────────────────────────────────────────────────────────────────────────────────

export type Share = ChordWord | RepeatChord | RepeatBar | NoChord | BadShare;

/** A chord symbol or Roman numeral, unread: `text` is the symbol without its `:scale`. */
export interface ChordWord {
  readonly kind: 'chord';
  readonly range: Range; // with the scale
  readonly symbol: Word;
  readonly scale: Word | null;
}
export interface RepeatChord {
  readonly kind: 'repeat';
  readonly range: Range;
} // /
export interface RepeatBar {
  readonly kind: 'repeat-bar';
  readonly range: Range;
} // %
export interface NoChord {
  readonly kind: 'no-chord';
  readonly range: Range;
} // N.C.
export interface BadShare {
  readonly kind: 'bad';
  readonly range: Range;
}

// ── The writer's numbering ─────────────────────────────────────────────────────────────────────────────────────────────────

export interface FigureGroup {
  readonly range: Range;
  readonly slots: readonly FigureSlot[];
}
export type FigureSlot =
  | { readonly kind: 'figure'; readonly range: Range; readonly head: DegreeHead }
  | { readonly kind: 'blank'; readonly range: Range } // `*`, `~` or `.`
  | { readonly kind: 'bad'; readonly range: Range };

// ── Files ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** A top-level item's text, where it starts in the file, and what parsing found. Equal texts give equal trees. */
export interface ParsedSlice {
  readonly text: string;
  readonly item: Item;
  readonly problems: readonly Problem[];
}

export interface PlacedSlice {
  readonly start: number; // UTF-16 offset in the file
  readonly parsed: ParsedSlice;
}
