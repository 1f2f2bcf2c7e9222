/** The explanation of a document as data: what `explain --format json` prints. */
import { checkClaims } from '../analysis/claims/check';
import { devicesAt, devicesOf } from '../analysis/devices/read';
import { progressionsOf } from '../analysis/progressions';
import { settingOf } from '../analysis/setting';
import { readPhrase } from '../analysis/read';
import type { NoteReading, Reading, TheoryOptions } from '../analysis/types';
import type { Snapshot } from '../model/snapshot';
import { formatFraction } from '../model/time';
import type { Mark } from '../model/types';
import { formatFigure } from '../theory/figure';
import { formatKey } from '../theory/key';
import { formatPitch } from '../theory/pitch';
import { formatScale } from '../theory/scale';
import { deviceWords } from './device-words';
import { levelOf, type SuggestedLevel } from './level';
import { summaryOf, type Summary } from './summary';
import { tell } from './telling/tell';

export interface ExplainedNote {
  readonly bar: number;
  readonly beat: string;
  /** Exact fractions of a quarter note. */
  readonly onset: string;
  readonly duration: string;
  readonly pitch: string;
  readonly midi: number;
  readonly chord: string | null;
  readonly scale: string | null;
  readonly degree: string | null;
  readonly role: string | null;
  readonly strong: boolean;
  /** The ids of the devices that the note takes part in, or is the target of. */
  readonly devices: readonly string[];
  readonly marks: readonly Mark[];
}

export interface ExplainedDevice {
  readonly id: string;
  readonly kind: string;
  /** Indexes of notes. */
  readonly from: number;
  readonly to: number;
  readonly target: number | null;
  readonly text: string;
}

export interface ExplainedSentence {
  /** 0 in the pickup. */
  readonly bar: number;
  readonly text: string;
  /** Indexes of the notes it is about. */
  readonly notes: readonly number[];
}

/** A progression with its bars, inclusive. */
export interface ExplainedSetting {
  readonly id: string;
  readonly key: string;
  readonly from: number;
  readonly to: number;
}

export interface ExplainedPhrase {
  readonly name: string;
  readonly key: string | null;
  /** The main one of `settings`, `free` where there is none; null without chords. */
  readonly setting: string | null;
  readonly settings: readonly ExplainedSetting[];
  readonly bars: number;
  readonly notes: readonly ExplainedNote[];
  readonly devices: readonly ExplainedDevice[];
  /** The walk-through, sentence by sentence. */
  readonly telling: readonly ExplainedSentence[];
  readonly claims: readonly {
    readonly text: string /** Null where a fault of the program keeps it from being checked. */;
    readonly holds: boolean | null;
    readonly because: string;
  }[];
  readonly summary: Summary & { readonly level: SuggestedLevel };
}

export function explainDocument(snapshot: Snapshot, options: TheoryOptions): readonly ExplainedPhrase[] {
  return snapshot.phrases.map(({ phrase }) => explainPhrase(readPhrase(phrase, options)));
}

export function explainPhrase(reading: Reading): ExplainedPhrase {
  const { phrase } = reading;
  return {
    name: phrase.name,
    key: phrase.key === null ? null : formatKey(phrase.key),
    setting: settingOf(reading),
    settings: progressionsOf(reading).map(({ id, key, from, to }) => ({ id, key: formatKey(key), from, to })),
    bars: phrase.bars.filter((bar) => bar.number > 0).length,
    notes: reading.notes.map((note) => explainNote(note, reading)),
    devices: devicesOf(reading).map((device) => {
      const { id, kind, from, to, target } = device;
      return { id, kind, from, to, target, text: deviceWords(device, reading) };
    }),
    telling: tell(reading).map(({ bar, text, notes }) => ({ bar, text, notes })),
    claims: checkClaims(reading).map(({ claim, status, because }) => ({
      text: claim.text,
      holds: status === 'unchecked' ? null : status === 'holds',
      because,
    })),
    summary: { ...summaryOf(reading), level: levelOf(reading) },
  };
}

function explainNote({ note: index, placement, strong }: NoteReading, reading: Reading): ExplainedNote {
  const { phrase, scales } = reading;
  const note = phrase.notes[index]!;
  const scale = placement === null ? null : (scales[placement.span] ?? null);
  return {
    bar: note.bar,
    beat: note.beat,
    onset: formatFraction(note.onset),
    duration: formatFraction(note.duration),
    pitch: formatPitch(note.pitch),
    midi: note.midi,
    chord: placement === null ? null : phrase.spans[placement.span]!.symbol,
    scale: scale === null ? null : formatScale(scale),
    degree: placement === null ? null : formatFigure(placement.figure),
    role: placement?.role ?? null,
    strong,
    devices: devicesAt(reading, index).map(({ id }) => id),
    marks: note.marks,
  };
}
