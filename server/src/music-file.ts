/** A lesson, or one phrase of it, as a file for other programs: what the command line and the editor write alike. */
import { homeKey } from './analysis/keys';
import { readPhrase } from './analysis/read';
import type { Reading, TheoryOptions } from './analysis/types';
import { movedName } from './assists/vary/transposing';
import type { Each } from './exports/each';
import { UnplayableNote, writeMidiFile, type MidiOptions, type NameIn } from './exports/midi';
import { writeMusicXml, type MusicXmlOptions } from './exports/musicxml';
import { writeMxl } from './exports/mxl';
import { incompleteWords } from './handout/incomplete';
import { remarksOf, type RemarkKind } from './handout/remarks';
import { quotedName, type LessonText } from './handout/types';
import { findingsIn } from './handout/versions';
import { guarded } from './model/faults';
import { finished, type Pieces } from './model/pieces';
import { lessonTitle, openSnapshot, phraseNear, type PlacedPhrase, type Snapshot } from './model/snapshot';
import type { MusicFormat } from './music-formats';
import { shiftBetween } from './theory/interval';
import { parseNoteName } from './theory/pitch';

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

export interface MusicFile {
  readonly content: string | Uint8Array;
  /** What is not whole in it, a sentence each; what broke off is a fault, and told as such. */
  readonly notices: readonly string[];
}

/** The file; the lesson's title, or its name, is the document's title. Throws a message for people where no phrase could be written. */
export function musicFile(request: MusicRequest): MusicFile {
  return finished(musicFileInPieces(request, chosenOf(request.lesson)));
}

/** The same, put off after each phrase that was read. A phrase whose work throws, or that the format has no room for, is left out. */
export function* musicFileInPieces(
  { lesson, to, options: { musicXml, midi }, theory }: MusicRequest,
  { snapshot, phrases }: Chosen,
): Pieces<MusicFile> {
  const title = lessonTitle(snapshot) || lesson.name;
  const readings: Reading[] = [];
  const read: PlacedPhrase[] = [];
  const remarks: ReturnType<typeof remarksOf>[] = [];
  const { pitch, degrees, remarks: shown } = musicXml;
  for (const placed of phrases) {
    const name = quotedName(placed.phrase.name);
    const reading = guarded(`the reading of ${name}`, null, () => readPhrase(placed.phrase, theory));
    if (reading !== null) {
      readings.push(reading);
      read.push(placed);
      if (to !== 'midi' && shown.length > 0)
        remarks.push(guarded(`what is said of ${name}`, [], () => remarksOf(snapshot, placed, { shown, pitch, theory })));
    }
    yield;
  }
  const leftOut: string[] = [];
  let written = 0;
  const each: Each = (phrase, write) => {
    const made = guarded(`the ${to === 'midi' ? 'sound' : 'notation'} of ${quotedName(phrase.name)}`, null, () =>
      orUnplayable(write, leftOut),
    );
    if (made !== null) written += 1;
    return made;
  };
  const content =
    to === 'midi'
      ? writeMidiFile(readings, title, midi, nameIn, each)
      : writeMusicXml(readings, title, { pitch, degrees, words: 'sheet', remarks }, each);
  if (phrases.length > 0 && written === 0)
    throw new NothingWritten([...leftOut, ...(leftOut.length === 0 ? ['No phrase could be written.'] : [])].join(' '));
  const notices = [
    ...read.flatMap((placed) => incompleteWords(placed.phrase.name, placed.phrase, findingsIn({ snapshot, placed }, theory)) ?? []),
    ...leftOut.map((words) => `${words} It is left out.`),
  ];
  return { content: typeof content === 'string' && to === 'mxl' ? writeMxl(content) : content, notices };
}

/** That a file would have nothing in it. */
export class NothingWritten extends Error {}

/** Null where a note has no number in MIDI, which is the writer's to mend. */
function orUnplayable<T>(write: () => T, leftOut: string[]): T | null {
  try {
    return write();
  } catch (error) {
    if (!(error instanceof UnplayableNote)) throw error;
    leftOut.push(error.message);
    return null;
  }
}

/** A phrase in another key is called as it is when it is moved there. */
const nameIn: NameIn = (reading, tonic) => {
  const [key, there] = [homeKey(reading), parseNoteName(tonic)];
  return key === null || there === null ? reading.phrase.name : movedName(reading.phrase.name, shiftBetween(key.tonic, there));
};
