/** What the extension and the page of the score tell each other: types, and what both know. The two run apart. */
import type { PlayedTake, SentScore } from '../../../server/src/features/score/types';
import type { Practice, Sound, Stretch, Voice } from '../../../server/src/performance/types';

export type {
  KeyPicture,
  PlayedTake,
  Score,
  ScoreFinding,
  ScoreNote,
  ScorePhrase,
  SentScore,
  WaitingFinding,
} from '../../../server/src/features/score/types';
export type { CursorStep, Pass, Practice, Sound, Stretch, Take, Voice } from '../../../server/src/performance/types';

/** What the reader of a score may choose; kept from one session to the next. */
export interface ViewOptions {
  readonly scope: 'phrase' | 'lesson';
  readonly pitch: 'written' | 'concert';
  readonly degrees: boolean;
  readonly devices: boolean;
  readonly walkthrough: boolean;
  /** Of the staff and all that stands with it; 1: the usual one. */
  readonly size: number;
  readonly loop: boolean;
  /** Bars of clicks before the music. */
  readonly countIn: number;
  /** Long to short of a pair of eighths; null: as written, else by tempo. */
  readonly ratio: number | null;
  /** Beats a minute that each time round adds, and how many more than at first are the most. */
  readonly step: number;
  readonly rise: number;
  readonly order: 'cycle' | 'half-steps';
  /** 0 to 1. */
  readonly levels: Readonly<Record<Voice, number>>;
  /** To play along with chords and bass. */
  readonly lineMuted: boolean;
  /** The voices that the piano plays, in the order of `PIANO_VOICES`; the others have a synthesized sound. */
  readonly piano: readonly PianoVoice[];
}

/** The voices that may have the sound of the piano. */
export const PIANO_VOICES = ['chords', 'line'] as const satisfies readonly Voice[];
export type PianoVoice = (typeof PIANO_VOICES)[number];

/** Levels leave room above: sound starts at a moderate loudness. */
export const DEFAULT_OPTIONS: ViewOptions = {
  scope: 'phrase',
  pitch: 'written',
  degrees: true,
  devices: true,
  walkthrough: true,
  size: 1,
  loop: false,
  countIn: 1,
  ratio: null,
  step: 5,
  rise: 40,
  order: 'cycle',
  levels: { line: 0.6, chords: 0.5, bass: 0.55, click: 0.3 },
  lineMuted: false,
  piano: ['chords'],
};

/** What can be played. */
export type What = 'phrase' | 'selection' | 'bar';

/** What a command asks of the page. */
export type Order =
  /** The walk-through of the phrase is to be seen. */
  | { readonly kind: 'explain' }
  | { readonly kind: 'play'; readonly what: What; readonly practice: Practice['kind'] }
  | { readonly kind: 'stop' }
  | { readonly kind: 'mute-line' };

/** A note of a score, by the index of its phrase and its own. */
export interface NotePlace {
  readonly phrase: number;
  readonly note: number;
}

/** Sounds to be put into a file. */
export interface Track {
  /** In order of time. */
  readonly sounds: readonly Sound[];
  /** Seconds. */
  readonly length: number;
  readonly levels: Readonly<Record<Voice, number>>;
  readonly piano: readonly PianoVoice[];
}

/** One channel of sound, 16 bits a sample, from the beginning of the take until all has rung out; `rate` is samples a second; `lacksPiano`: it was wanted and could not be had. */
export interface TrackSamples {
  readonly samples: Int16Array<ArrayBuffer>;
  readonly rate: number;
  readonly lacksPiano: boolean;
}

export type ToView =
  | { readonly type: 'options'; readonly options: ViewOptions }
  /** `instead`: what would be done, where the score is of the text as it would be; null for the text as it is. */
  | { readonly type: 'score'; readonly uri: string; readonly score: SentScore; readonly instead: string | null }
  /** Where the text's cursor is, and the stretch of the phrase that is selected (null: nothing is). */
  | { readonly type: 'cursor'; readonly phrase: number; readonly note: number | null; readonly selection: Stretch | null }
  | { readonly type: 'take'; readonly ask: number; readonly take: PlayedTake | null }
  | { readonly type: 'order'; readonly order: Order }
  | { readonly type: 'pong'; readonly sent: number }
  /** Files, or folders of them, have other addresses now. */
  | { readonly type: 'renamed'; readonly files: readonly Renamed[] }
  | { readonly type: 'render'; readonly ask: number; readonly track: Track };

/** A file or a folder that was renamed or moved, by its addresses. */
export interface Renamed {
  readonly from: string;
  readonly to: string;
}

/** A question for a take; `ask` comes back with the answer. */
export interface TakeAsk {
  readonly ask: number;
  /** The document, and the phrase in it: its name, and the offset where it was last seen, which decides between two of one name. */
  readonly uri: string;
  readonly name: string;
  readonly start: number;
  readonly stretch: Stretch | null;
  readonly tempo: number | null;
  readonly ratio: number | null;
  readonly countIn: number;
  readonly practice: Practice;
}

export type FromView =
  | { readonly type: 'ready' }
  /** The parts of a long lesson that came are shown: more of it may come. */
  | { readonly type: 'more' }
  /** A lesson is to be begun in the empty file. */
  | { readonly type: 'begin' }
  | { readonly type: 'options'; readonly options: ViewOptions }
  /** A note was chosen; `focus`: go on writing there. */
  | { readonly type: 'select'; readonly place: NotePlace; readonly focus: boolean }
  /** The place of a finding was asked for. */
  | { readonly type: 'go-to-finding'; readonly phrase: number; readonly finding: number }
  | { readonly type: 'take'; readonly question: TakeAsk }
  /** The note that sounds; null: none. `sent` is the page's clock; it comes back. */
  | { readonly type: 'sounding'; readonly place: NotePlace | null; readonly sent: number }
  /** Something plays, or no longer does. */
  | { readonly type: 'playing'; readonly isPlaying: boolean }
  /** The sound that was asked for, its samples as bytes; or what kept it from being made, in words. */
  | {
      readonly type: 'rendered';
      readonly ask: number;
      readonly made: { readonly bytes: ArrayBuffer; readonly rate: number; readonly lacksPiano: boolean } | string;
    }
  /** The piano is wanted and cannot be loaded, the first time; a synthesized sound takes its place. */
  | { readonly type: 'without-piano'; readonly reason: string }
  /** `sent` is the page's clock; it comes back. */
  | { readonly type: 'ping'; readonly sent: number };
