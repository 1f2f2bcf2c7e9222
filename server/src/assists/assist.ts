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
  /** The notes the selection touches, in order. */
  readonly selected: readonly number[];
  /** The action was asked for by its own kind (a key, a command): what is otherwise offered at one place is then offered anywhere in the phrase. */
  readonly asked: boolean;
  /** Proves a form, or leaves it untried: a menu that shows one of its kind already, and knows that there are more, wants no other. Absent where every form is wanted. */
  readonly tries?: Tries;
}

export type Tries = (form: TriedForm, prove: () => Offer[]) => Offer[];

/** What is known of a form before it is proved. */
export type TriedForm = Pick<Offer, 'device' | 'repairs' | 'each'>;

/** The offers that a proof finds. It reads a phrase, so it is made only where the form is wanted. */
export function tried({ tries }: AssistContext, form: TriedForm, prove: () => Offer[]): Offer[] {
  return tries === undefined ? prove() : tries(form, prove);
}

export interface Offer {
  /** A sentence in the imperative that shows the notes that will result: `Enclose E: F-D E`. */
  readonly title: string;
  /** What tells it from other forms: `above–below, diatonic, from the hold before`. */
  readonly detail?: string;
  /** What it plants, in the words of the analysis, where that is not what the action is named after: `double chromatic`. */
  readonly device?: string;
  /** The shape of the device, by which a list of all forms is parted: `above–below`. */
  readonly shape?: string;
  /** In the phrase's slice; a function where working them out is worth putting off until the offer is taken. */
  readonly edits: readonly TextEdit[] | (() => readonly TextEdit[]);
  /** The rule whose finding on the note this removes, if any. */
  readonly repairs: string | null;
  readonly preferred: boolean;
  /** What to call doing the same to each note of a selection: `Enclose each target above–below (diatonic)`. Only of an assist that `repeats`. */
  readonly each?: string;
}

export function editsOfOffer({ edits }: Offer): readonly TextEdit[] {
  return typeof edits === 'function' ? edits() : edits;
}

export interface Assist {
  /** Hyphenated, stable. */
  readonly id: string;
  /** A fine-grained code action kind: `quickfix`, `refactor.rewrite.enclosure` … */
  readonly kind: string;
  /** One line for the manual. */
  readonly what: string;
  /** It changes one note at a time and can do the same to each note of a selection: its offers name that in `each`. Of the others, none does. */
  readonly repeats?: true;
  offers(context: AssistContext): readonly Offer[];
}
