/** What a code action is: a pure function from a place in a phrase to the edits it offers there. */
import type { Range, TextEdit } from '../../../grammar/tree';
import type { Reading, TheoryOptions } from '../analysis/types';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';

export interface AssistContext {
  readonly snapshot: Snapshot;
  readonly placed: PlacedPhrase;
  readonly reading: Reading;
  readonly options: TheoryOptions;
  /** The cursor or selection, in the phrase's slice. */
  readonly selection: Range;
  /** The note under the cursor (or the first one selected); null where there is none. */
  readonly note: number | null;
}

export interface Offer {
  /** A sentence in the imperative that shows the notes that will result: `Wrap E in an enclosure from above and below: F-D E`. */
  readonly title: string;
  /** In the phrase's slice. */
  readonly edits: readonly TextEdit[];
  /** The rule whose finding on the note this removes, if any. */
  readonly repairs: string | null;
  readonly preferred: boolean;
}

export interface Assist {
  /** Hyphenated, stable. */
  readonly id: string;
  /** A fine-grained code action kind: `quickfix`, `refactor.rewrite.enclosure` … */
  readonly kind: string;
  /** One line for the manual. */
  readonly what: string;
  offers(context: AssistContext): readonly Offer[];
}
