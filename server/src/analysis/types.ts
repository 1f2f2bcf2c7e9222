/** What the analysis says of a phrase: plain data, no wording. */
import type { Fraction } from '../model/fraction';
import type { Phrase } from '../model/types';
import type { Figure, Scale } from '../theory/types';
import type { Numbers } from '../theory/called';
import type { BlueNote } from './blue';
import type { HarmonicContext } from './harmonies';
import type { SideSlip } from './side-slips';

export type Profile = 'melodic' | 'harmonic';

/** The cells of the avoid-note table on which teachers differ. True: the note is available (a tension). */
export interface TheoryOptions {
  readonly profile: Profile;
  readonly natural9OfHalfDiminished: boolean; // default true
  readonly flat6OfTonicMinor: boolean; // default false
  readonly thirteenthOfLydianAugmented: boolean; // default false
  readonly thirdOfSuspended: boolean; // default true
  /** What the natural 2, 4 and 6 are called where the chord does not write them; it judges nothing. */
  readonly numbers: Numbers; // default tensions
}

export type Role = 'chord-tone' | 'tension' | 'avoid' | 'outside' | 'blue';

/** What a note is over one chord. */
export interface ChordPlacement {
  /** Index of the chord span. */
  readonly span: number;
  /** Counted from the major scale on the root, by the note's letter where nothing else decides: for data. */
  readonly figure: Figure;
  /** What the note is called: a figure of the trade. */
  readonly called: Figure;
  readonly role: Role;
  /** The blue note of the tonic that it is, where its role is blue. */
  readonly blue: BlueNote | null;
  /** A tension by borrowing (THEORY section 4, rule 3). */
  readonly borrowed: boolean;
  /** The chord tone a half step below that an avoid note rubs against. */
  readonly against: Figure | null;
  /** A note of the key that the chord's scale does not hold (over iii and vi in major). */
  readonly ofKey: boolean;
}

/** A place where a note sounds: its onset, and each change of chord it is held into. */
export interface Sounding {
  readonly at: Fraction;
  readonly bar: number;
  readonly beat: string;
  readonly strong: boolean;
  readonly held: boolean;
  readonly placement: ChordPlacement;
  /** When it ends over this chord: the note's end, or the change that follows. */
  readonly until: Fraction;
  /** Why it may stand, where it is an avoid or outside note here and something excuses it. */
  readonly excuse: Excuse | null;
}

/** Why an avoid or outside note may stand. The device that a teacher would name is one of the note's (`deviceInto` in `devices/read.ts`). */
export interface Excuse {
  readonly kind: 'step' | 'chromatic-line' | 'enclosure' | 'side-slip';
  /** The note it goes to; of a side-slip the one on which the line comes back. */
  readonly to: number;
}

export interface NoteReading {
  readonly note: number;
  /** Null over N.C. or without chords. The note's own: an anticipation's is the next chord's. */
  readonly placement: ChordPlacement | null;
  readonly strong: boolean;
  readonly anticipation: boolean;
  readonly pickup: boolean;
  readonly soundings: readonly Sounding[];
  readonly verdict: Verdict | null;
}

/** What is said about a note (THEORY section 5, the table). */
export interface Verdict {
  readonly level: 'warning' | 'information' | 'hint';
  readonly reason: 'strong' | 'long' | 'push' | 'beat' | 'offbeat-long' | 'borrowed-leap';
  /** Index into `soundings`. */
  readonly sounding: number;
}

export interface Reading {
  readonly phrase: Phrase;
  readonly context: HarmonicContext;
  /** One a span: its chord-scale; null over N.C. or an unread chord. */
  readonly scales: readonly (Scale | null)[];
  readonly notes: readonly NoteReading[];
  /** The side-slips that the line makes evident, by their notes: nothing is held against these, and nothing else told of them. */
  readonly slips: ReadonlyMap<number, SideSlip>;
  /** What the natural 2, 4 and 6 are called. */
  readonly numbers: Numbers;
}
