/** What was chosen of an export, read from where it was kept: nothing of it is taken on trust. */
import type { MusicFileOptions, MusicFormat, RemarkKind } from '../../../server/src/export-service';
import { MUSIC_ENDINGS } from '../../../server/src/music-formats';
import { asRecord, listed } from '../kept';

export interface Choice {
  /** Of the lesson in the editor. */
  readonly what: 'lesson' | 'phrase';
  readonly format: MusicFormat;
  readonly options: MusicFileOptions;
}

/** What there is to choose from, as the server's side lists it. */
export interface Choices {
  readonly formats: readonly MusicFormat[];
  readonly remarks: readonly RemarkKind[];
}

/** What is missing or unknown is as it is at first: the lesson as MusicXML at written pitch, with nothing beside the notes; MIDI as it is played, in the written key. */
export function readChoice(raw: unknown, choices: Choices): Choice {
  const given = asRecord(raw);
  const options = asRecord(given['options']);
  const [musicXml, midi] = [asRecord(options['musicXml']), asRecord(options['midi'])];
  return {
    what: given['what'] === 'phrase' ? 'phrase' : 'lesson',
    format: choices.formats.find((format) => format === given['format']) ?? choices.formats[0]!,
    options: {
      musicXml: {
        pitch: musicXml['pitch'] === 'concert' ? 'concert' : 'written',
        degrees: musicXml['degrees'] === true,
        remarks: listed(musicXml['remarks'], choices.remarks),
      },
      midi: { eighths: midi['eighths'] === 'as-written' ? 'as-written' : 'as-played', keys: midi['keys'] === 'all' ? 'all' : 'written' },
    },
  };
}

/** Its name, and what it is for. */
export const FORMAT_WORDS: Readonly<Record<MusicFormat, readonly [string, string]>> = {
  musicxml: ['MusicXML', 'a score that other music programs read'],
  mxl: ['Compressed MusicXML', 'the same in a smaller file'],
  midi: ['MIDI', 'line, chords, bass and click to play; no notation'],
};

export const PITCH_WORDS: Readonly<Record<MusicFileOptions['musicXml']['pitch'], readonly [string, string]>> = {
  written: ['Written pitch', 'as the part reads it'],
  concert: ['Concert pitch', 'as it sounds'],
};

export const EIGHTHS_WORDS: Readonly<Record<MusicFileOptions['midi']['eighths'], readonly [string, string]>> = {
  'as-played': ['As played', 'swung where the tempo row says swing'],
  'as-written': ['Straight', 'as they stand, for a program that swings by itself'],
};

export const KEYS_WORDS: Readonly<Record<MusicFileOptions['midi']['keys'], readonly [string, string]>> = {
  written: ['As written', ''],
  all: ['All twelve', 'one after another, its own first, then round the cycle of fifths'],
};

/** What may stand beside the notes of a score. */
export type Beside = 'degrees' | RemarkKind;

export const BESIDE_WORDS: Readonly<Record<Beside, readonly [string, string]>> = {
  degrees: ['Degrees', 'under the notes'],
  devices: ['Devices', 'as words and brackets over the notes'],
  findings: ['Findings', 'as words at the notes'],
};

export function besideOf({ musicXml: { degrees, remarks } }: MusicFileOptions): Beside[] {
  return [...(degrees ? ['degrees' as const] : []), ...remarks];
}

export function withBeside(options: MusicFileOptions, beside: readonly Beside[], { remarks }: Choices): MusicFileOptions {
  return {
    ...options,
    musicXml: { ...options.musicXml, degrees: beside.includes('degrees'), remarks: remarks.filter((one) => beside.includes(one)) },
  };
}

export function besideWords(options: MusicFileOptions): string {
  const beside = besideOf(options);
  return beside.length === 0 ? 'nothing' : beside.map((one) => BESIDE_WORDS[one][0].toLowerCase()).join(', ');
}

/** What tells files of one lesson apart, with the ending of the format: `-concert.mxl`, `-twelve-keys.mid`. */
export function endingOf({ format, options: { musicXml, midi } }: Choice): string {
  const told =
    format === 'midi'
      ? `${midi.keys === 'all' ? '-twelve-keys' : ''}${midi.eighths === 'as-written' ? '-straight' : ''}`
      : musicXml.pitch === 'concert'
        ? '-concert'
        : '';
  return `${told}.${MUSIC_ENDINGS[format]}`;
}
