/** What a completion is: a word that may stand at the cursor, and what it means. */
export interface Completion {
  readonly label: string;
  readonly kind: 'keyword' | 'name' | 'chord' | 'scale' | 'value';
  /** A few words beside the label. */
  readonly detail: string;
  /** Offsets in the file: what the label takes the place of. */
  readonly start: number;
  readonly end: number;
}

/** A completion before its place is known. */
export type Proposal = Pick<Completion, 'label' | 'kind' | 'detail'>;

/** The row in which the cursor stands, up to the cursor. */
export interface RowBefore {
  readonly keyword: string;
  /** What stands between the keyword and the word being written. */
  readonly before: string;
  /** The word being written: no white space, no bar line; possibly empty. */
  readonly word: string;
}
