/** A tune as it is read from a file, before and after its repeats are written out. All times are exact fractions in quarter notes. */
import type { Fraction } from '../model/fraction';
import type { Meter } from '../model/types';
import type { Key, PartName, Pitch } from '../theory/types';

export type ImportMark = 'accent' | 'short-accent' | 'ghost';

export interface TuneNote {
  /** From the start of its measure, or (in a phrase) of the tune. */
  readonly onset: Fraction;
  readonly length: Fraction;
  /** As it sounds. */
  readonly pitch: Pitch;
  readonly marks: readonly ImportMark[];
  readonly tie: { readonly from: boolean; readonly to: boolean };
  /** The measure's number as the file has it. */
  readonly measure: string;
}

export interface TuneChord {
  readonly onset: Fraction;
  /** As it is written in an `over` row; `N.C.` for none. */
  readonly symbol: string;
  readonly measure: string;
}

export interface Tempo {
  /** Quarters a minute. */
  readonly quarters: number;
}

export type Feel = { readonly kind: 'swing'; readonly ratio: string | null } | { readonly kind: 'straight' };

export interface Ending {
  readonly numbers: readonly number[];
}

/** Where a measure sends whoever plays it. Each holds at the measure's end, but for the signs to come back to. */
export interface Signs {
  forward: boolean;
  /** How often what it ends is played; null where there is no such sign. */
  backward: { readonly times: number | null; readonly afterJump: boolean } | null;
  endingStart: Ending | null;
  endingStop: boolean;
  segno: boolean;
  coda: boolean;
  jump: 'da-capo' | 'dal-segno' | null;
  toCoda: boolean;
  fine: boolean;
}

/** A repeat sign inside a bar. */
export interface InnerRepeat {
  /** From the start of the bar. */
  readonly at: Fraction;
  readonly forward: boolean;
  readonly backward: Signs['backward'];
}

/** One measure of the file, in the chosen part and voice. */
export interface SourceMeasure {
  readonly number: string;
  /** It does not count: a pickup, or the second half of a bar. */
  readonly implicit: boolean;
  readonly meter: Meter;
  /** How long what is written in it lasts; 0 where nothing is. */
  readonly length: Fraction;
  readonly key: Key | null;
  readonly part: PartName | null;
  readonly notes: readonly TuneNote[];
  readonly chords: readonly TuneChord[];
  readonly signs: Readonly<Signs>;
  /** In the order of time; none once the measure was split there. */
  readonly inside: readonly InnerRepeat[];
  /** Rehearsal mark, or bold words, at its start. */
  readonly name: string | null;
  /** A double bar line, a rehearsal mark or a repeat sign stands before it. */
  readonly opens: boolean;
  readonly tempo: Tempo | null;
  readonly feel: Feel | null;
}

/** A bar of the tune with its repeats written out. */
export interface TuneBar {
  readonly onset: Fraction;
  /** The meter's, but for a pickup, which is shorter. */
  readonly length: Fraction;
  readonly meter: Meter;
  readonly isPickup: boolean;
  readonly cut: 'must' | 'may' | null;
  /** A note is held over its first bar line. */
  readonly isTiedInto: boolean;
  readonly source: SourceMeasure;
  /** Tempo and feel that hold there. */
  readonly tempo: Tempo | null;
  readonly feel: Feel | null;
}

export interface Tune {
  readonly bars: readonly TuneBar[];
  readonly notes: readonly TuneNote[];
  readonly chords: readonly TuneChord[];
}
