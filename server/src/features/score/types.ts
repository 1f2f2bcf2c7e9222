/** What a picture of phrases needs: plain data, so that it can cross to any viewer. Offsets are UTF-16 from the start of the file. */
import type { Severity } from '../../../../grammar/tree';
import type { Length, Paragraph } from '../../explain/walkthrough';
import type { Take } from '../../performance/types';
import type { PictureDevice, PictureNote } from '../../picture/types';

/** A note of the picture, and where it stands in the text, what it is called, what is said of it. */
export interface ScoreNote extends PictureNote {
  readonly start: number;
  readonly end: number;
  /** Where it is held: the `~` slots. */
  readonly holds: readonly { readonly start: number; readonly end: number }[];
  /** A name to be read aloud: pitch, length, place, degree, role, devices, findings. */
  readonly label: string;
  /** The hover of the text, one fact a line, without markup. */
  readonly lines: readonly string[];
  /** Quarters from bar 1 beat 1 (negative in a pickup), for choosing what is played. */
  readonly onset: number;
  readonly duration: number;
}

export interface ScoreBar {
  /** From 1; the pickup is 0. */
  readonly number: number;
  readonly from: number;
  readonly to: number;
}

export interface ScoreFinding {
  readonly severity: Severity;
  readonly message: string;
  /** Index of the note it is about; null where it is about none. */
  readonly note: number | null;
  readonly start: number;
  readonly end: number;
}

export interface ScorePhrase {
  /** The same as long as nothing of the phrase changed but its place in the file; 0 while all but name and place is still to come. */
  readonly revision: number;
  readonly name: string;
  readonly start: number;
  readonly end: number;
  /** `F major, 4/4, 144 swing, alto saxophone`. */
  readonly heading: string;
  /** Beats a minute, as written. */
  readonly tempo: number;
  /** MusicXML 4.0 of this phrase alone; its notes are called `n-0-N`. */
  readonly musicXml: string;
  readonly notes: readonly ScoreNote[];
  readonly devices: readonly PictureDevice[];
  readonly bars: readonly ScoreBar[];
  /** Of severity warning and error, in the order of the text. */
  readonly findings: readonly ScoreFinding[];
  readonly says: readonly string[];
  /** The walk-through, paragraph by paragraph, each sentence with the indexes of its notes; empty where there is no note to explain. */
  readonly walkthrough: readonly Paragraph[];
  /** The first error that keeps the music from being read whole; null where there is none. */
  readonly broken: ScoreFinding | null;
  /** Whether something that is being written leaves notes out: an error of `ScoreOptions.waiting`. */
  readonly unfinished: boolean;
}

/** In place of a phrase that the asker has: where it begins now. */
export interface SamePhrase {
  readonly same: number;
  readonly start: number;
}

/** A score as it is sent: of phrases that are as they were only the revision. */
export interface SentScore extends Omit<Score, 'phrases'> {
  readonly phrases: readonly (ScorePhrase | SamePhrase)[];
}

export interface Score {
  /** The version of the document it was made of. */
  readonly version: number;
  /** The index of the phrase at the offset; between phrases of the next one, after the last one of that; null where the file has none. */
  readonly here: number | null;
  /** The title of the lesson, where all of it is shown. */
  readonly lesson: string | null;
  /** How many phrases the file has. */
  readonly count: number;
  readonly phrases: readonly ScorePhrase[];
}

export interface ScoreOptions {
  /** `phrase`: the one at the offset; `lesson`: all of the file. */
  readonly scope: 'phrase' | 'lesson';
  /** As the part reads it, or as it sounds. */
  readonly pitch: 'written' | 'concert';
  /** How much the walk-through tells. */
  readonly length?: Length;
  /** Findings that the client does not show yet: the score is silent about them. */
  readonly waiting?: readonly WaitingFinding[];
  /** Revisions of phrases that the asker has: they are not sent again. */
  readonly known?: readonly number[];
  /** Of the others those nearest to the offset, at most so many, come whole in this answer; the rest can be asked for again. */
  readonly most?: number;
}

/** What a request without options asks for. */
export const DEFAULT_SCORE: ScoreOptions = { scope: 'phrase', pitch: 'written' };

/** A finding by its rule and place. */
export interface WaitingFinding {
  readonly rule: string;
  readonly start: number;
  readonly end: number;
}

/** A phrase in the key of one pass. */
export interface KeyPicture {
  /** MusicXML 4.0. */
  readonly musicXml: string;
  /** The name of each note to be read aloud, as it sounds. */
  readonly labels: readonly string[];
}

/** A take, and what it looks like. */
export interface PlayedTake extends Take {
  /** One a pass, where the passes are in several keys; else none. */
  readonly pictures: readonly KeyPicture[];
}
