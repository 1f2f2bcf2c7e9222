/** A lesson, or one phrase of it, as a file for other programs: what the command line and the editor write alike. */
import { readPhrase } from './analysis/read';
import type { Reading, TheoryOptions } from './analysis/types';
import { writeMidiFile, type MidiOptions } from './exports/midi';
import { writeMusicXml, type MusicXmlOptions } from './exports/musicxml';
import { writeMxl } from './exports/mxl';
import { remarksOf, type RemarkKind } from './handout/remarks';
import type { LessonText } from './handout/types';
import { finished, type Pieces } from './model/pieces';
import { lessonTitle, openSnapshot, phraseNear, type PlacedPhrase, type Snapshot } from './model/snapshot';

export const MUSIC_FORMATS = ['musicxml', 'mxl', 'midi'] as const;
export type MusicFormat = (typeof MUSIC_FORMATS)[number];

export interface MusicFileOptions {
  readonly musicXml: Pick<MusicXmlOptions, 'pitch' | 'degrees'> & {
    /** What is said of the phrases beside their notes. */
    readonly remarks: readonly RemarkKind[];
  };
  readonly midi: MidiOptions;
}

export interface MusicRequest {
  readonly lesson: LessonText;
  readonly to: MusicFormat;
  readonly options: MusicFileOptions;
  readonly theory: TheoryOptions;
}

/** The phrases that a file is made of. */
export interface Chosen {
  readonly snapshot: Snapshot;
  readonly phrases: readonly PlacedPhrase[];
}

/** All phrases of a lesson, or the one that it asks for. */
export function chosenOf({ name, text, at }: LessonText): Chosen {
  const snapshot = openSnapshot(name, 1, text);
  const chosen = at === undefined ? null : phraseNear(snapshot, at);
  return { snapshot, phrases: chosen === null ? snapshot.phrases : [chosen] };
}

/** The content of the file; the lesson's title, or its name, is the document's title. Throws `UnplayableNote` where MIDI has no number for a note. */
export function musicFile(request: MusicRequest): string | Uint8Array {
  return finished(musicFileInPieces(request, chosenOf(request.lesson)));
}

/** The same, put off after each phrase that was read. */
export function* musicFileInPieces({ lesson, to, options: { musicXml, midi }, theory }: MusicRequest, { snapshot, phrases }: Chosen): Pieces<string | Uint8Array> {
  const title = lessonTitle(snapshot) || lesson.name;
  const readings: Reading[] = [];
  const remarks: ReturnType<typeof remarksOf>[] = [];
  const { pitch, degrees, remarks: shown } = musicXml;
  for (const placed of phrases) {
    readings.push(readPhrase(placed.phrase, theory));
    if (to !== 'midi' && shown.length > 0) remarks.push(remarksOf(snapshot, placed, { shown, pitch, theory }));
    yield;
  }
  if (to === 'midi') return writeMidiFile(readings, title, midi);
  const score = writeMusicXml(readings, title, { pitch, degrees, words: 'sheet', remarks });
  return to === 'mxl' ? writeMxl(score) : score;
}
