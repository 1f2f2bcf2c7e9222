/** What sounds when: plain data in seconds, for whatever makes the sound. */

export type Voice = 'line' | 'chords' | 'bass' | 'click';

export interface Sound {
  readonly voice: Voice;
  /** Seconds from the start of the take. */
  readonly at: number;
  /** Seconds it sounds; above 0. */
  readonly length: number;
  /** MIDI note numbers, ascending, at concert pitch (60 is middle C). A click has none. */
  readonly midi: readonly number[];
  /** 0 to 1: how hard it is struck. A voice's level is the player's. */
  readonly velocity: number;
  /** For a click: is it beat 1 of its bar? */
  readonly accent: boolean;
}

/** A note of the line while it sounds: where a moving cursor stands. */
export interface CursorStep {
  /** Index of the note in its phrase. */
  readonly note: number;
  /** Index of the pass. */
  readonly pass: number;
  /** Seconds from the start of the take; `until` is the note's end, or the next note's start if that comes first. */
  readonly at: number;
  readonly until: number;
}

/** Once through the music of a take. */
export interface Pass {
  readonly at: number;
  readonly until: number;
  /** Beats a minute. */
  readonly tempo: number;
  /** Long to short of a pair of eighths; 1 is straight. */
  readonly ratio: number;
  /** Half steps from the key as written. */
  readonly shift: number;
  /** The tonic it is heard in, spelled (`Bb`); null where the phrase's key is not known. */
  readonly tonic: string | null;
}

export interface Take {
  readonly sounds: readonly Sound[];
  readonly cursor: readonly CursorStep[];
  readonly passes: readonly Pass[];
  /** Seconds of clicks before the music. */
  readonly countIn: number;
  /** Seconds from the start to the end of the last pass. */
  readonly length: number;
}

/** What is played: the whole phrase, or a stretch of it, in quarters from bar 1 beat 1 (a pickup is negative). */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface TakeOptions {
  /** Null: the whole phrase. */
  readonly stretch: Stretch | null;
  /** Beats a minute; null: as written. Held between 20 and 400, as a written tempo is. */
  readonly tempo: number | null;
  /** Long to short; null: as written, else by tempo. 1 is straight. Held between 1 and 4. */
  readonly ratio: number | null;
  /** Bars of clicks before the music, 0 to 4. */
  readonly countIn: number;
  readonly practice: Practice;
}

/** Once through as written: what a request without options asks for. */
export const DEFAULT_TAKE: TakeOptions = { stretch: null, tempo: null, ratio: null, countIn: 0, practice: { kind: 'plain' } };

export type Practice =
  /** Once through; a loop plays the take again. */
  | { readonly kind: 'plain' }
  /** Again and again, each time faster by `step` beats a minute, up to `top`. */
  | { readonly kind: 'faster'; readonly step: number; readonly top: number }
  /** In all twelve keys, from the one as written. */
  | { readonly kind: 'keys'; readonly order: 'cycle' | 'half-steps' };
