/** What a finder of devices answers, and what the reading of a phrase makes of it. */
import type { Scale } from '../../theory/types';
import type { Study } from './study';
import type { DeviceKind } from './table';

export type { DeviceKind };

/** What a finder finds: a device of its kind. */
export interface Found {
  /** The notes that the device is made of, without its target. */
  readonly notes: readonly number[];
  readonly target: number | null;
  /** What kind of it, in words: `above–below, diatonic`. Empty where there is nothing to add. */
  readonly detail: string;
  /** The scale that a line lies in, where that is what makes it a device. */
  readonly scale?: Scale | undefined;
}

/** All valid matches of a device in a phrase, those to prefer first. */
export type Find = (study: Study) => readonly Found[];

export interface Match extends Found {
  readonly kind: DeviceKind;
}

/** A device as the reading of a phrase names it. */
export interface Device extends Match {
  /** Unique in the phrase: `enclosure-1`. */
  readonly id: string;
  readonly from: number;
  readonly to: number;
}
