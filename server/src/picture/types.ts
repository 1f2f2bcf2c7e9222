/** What a picture shows of a phrase beside its notation: plain data. */
import type { Severity } from '../../../grammar/tree';
import type { Role } from '../analysis/types';

/** What a note is over a chord that it is held into. */
export interface HeldFigure {
  /** The tied part, from 1, that starts over that chord: `n-0-N-2` is the second. */
  readonly part: number;
  readonly figure: string;
  readonly role: Role;
}

export interface PictureNote {
  /** `b3`; null where no chord sounds. */
  readonly figure: string | null;
  readonly role: Role | null;
  /** Of the chords it is held into those that a tied part of it starts over, in order. */
  readonly later: readonly HeldFigure[];
  /** The severest finding on it; `hint`s are not marked. */
  readonly finding: Exclude<Severity, 'hint'> | null;
}

export interface PictureDevice {
  /** `passing tone`. */
  readonly name: string;
  /** Indexes of its first and last note, the target among them where it has one. */
  readonly from: number;
  readonly to: number;
}

export interface PictureData {
  readonly notes: readonly PictureNote[];
  readonly devices: readonly PictureDevice[];
}

/** What of it is drawn. */
export interface PictureOptions {
  readonly degrees: boolean;
  readonly devices: boolean;
  /** How many times as large the names of devices are as they usually are, 1 or more: for a picture that is shown small. */
  readonly names?: number;
  /** In place of degrees and roles a box under each note that has a chord: to write the degree in, or with the degree in it. */
  readonly boxes?: 'blank' | 'filled';
}
