import type { PlacedEdit } from '../../rules/findings';
import type { Template } from './template';

/** What a completion is: what may be written at the cursor, and what it means. */
export interface Completion {
  readonly label: string;
  readonly kind: 'keyword' | 'name' | 'chord' | 'scale' | 'value' | 'template';
  /** A few words beside the label. */
  readonly detail: string;
  readonly template: Template;
  /** What stands between `start` and the cursor is matched with this. */
  readonly filter: string;
  /** Offsets in the file, on one line: what the text takes the place of. */
  readonly start: number;
  readonly end: number;
  /** Once it is written there is something to choose behind it. */
  readonly opens: boolean;
  /** Edits elsewhere that go with it. */
  readonly besides: readonly PlacedEdit[];
}

/** A completion before its place is known. */
export interface Proposal extends Pick<Completion, 'label' | 'kind' | 'detail'> {
  /** Without it the label is written. */
  readonly template?: Template;
  /** The template brings its own indentation: it takes the place of the line's. */
  readonly indented?: true;
  readonly opens?: boolean;
  readonly besides?: readonly PlacedEdit[];
}

/** The row in which the cursor stands. */
export interface RowBefore {
  readonly keyword: string;
  /** What stands between the keyword and the word being written. */
  readonly before: string;
  /** The word being written, up to the cursor: no white space, no bar line; possibly empty. */
  readonly word: string;
  /** The rest of the line, after the cursor. */
  readonly after: string;
}
