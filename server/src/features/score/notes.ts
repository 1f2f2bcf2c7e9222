/** The notes of a score: where each stands in the text, what it is called aloud, what its hover says. */
import { devicesAt } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { deviceName } from '../../explain/device-words';
import { isAbout, pictureNote, placesOf, writtenValues, type Written } from '../../handout/picture-data';
import { guarded } from '../../model/faults';
import type { Pieces } from '../../model/pieces';
import type { Note } from '../../model/types';
import { beatWords } from '../../rules/words';
import { transposePitch, type Shift } from '../../theory/interval';
import { formatPitch, writable } from '../../theory/pitch';
import { transposeSymbol } from '../../theory/transposition';
import { noteHover } from '../hover/note';
import { figureWords, roleWords } from '../hover/words';
import type { PictureNote } from '../../picture/types';
import type { ScoreFinding, ScoreNote } from './types';

/** A label, a line or what is drawn of a note that breaks off is missing, the note stays. `asRead` is the same phrase as its part reads it, for the words; `findings` are those of the phrase; all offsets count from the start of `reading`’s. A piece is some notes. */
export function* scoreNotes(reading: Reading, asRead: Reading, findings: readonly ScoreFinding[]): Pieces<ScoreNote[]> {
  const lengths = guarded('the written values of a score', new Map<number, readonly Written[]>(), () => writtenValues(reading.phrase));
  const notes: ScoreNote[] = [];
  for (const note of reading.phrase.notes) {
    if (note.index % NOTES_A_PIECE === NOTES_A_PIECE - 1) yield;
    const places = placesOf(note);
    const own = findings.filter((finding) => isAbout(finding, note));
    const told = own.filter(({ severity }) => severity !== 'hint').map(({ message }) => withoutMarkup(message));
    notes.push({
      ...places[0]!,
      holds: places.slice(1),
      label: guarded('the label of a note', formatPitch(note.pitch), () =>
        labelOf(asRead, asRead.phrase.notes[note.index]!, {
          lengths: lengths.get(note.index) ?? [],
          devices: deviceNames(asRead, note),
          told,
          shift: null,
        }),
      ),
      lines: [
        ...noteHover(asRead, note.index)
          .split('\n\n')
          .map(withoutMarkup)
          .filter((line) => line !== ''),
        ...told,
      ],
      ...guarded('what is drawn of a note', NOTHING_DRAWN, () => pictureNote(reading, note, lengths.get(note.index) ?? [], own)),
      onset: note.onset.valueOf(),
      duration: note.duration.valueOf(),
    });
  }
  return notes;
}

const NOTES_A_PIECE = 64;
const NOTHING_DRAWN: PictureNote = { figure: null, role: null, later: [], finding: null };

/** The names of the notes moved, as a picture in another key has them. What the findings say is left out: it is about the notes as they are written. */
export function labelsIn(reading: Reading, shift: Shift): string[] {
  const lengths = writtenValues(reading.phrase);
  return reading.phrase.notes.map((note) =>
    labelOf(reading, note, { lengths: lengths.get(note.index) ?? [], devices: deviceNames(reading, note), told: [], shift }),
  );
}

interface Label {
  readonly lengths: readonly Written[];
  readonly devices: readonly string[];
  readonly told: readonly string[];
  /** Into the key of the picture; null: as the reading has them. */
  readonly shift: Shift | null;
}

function labelOf(reading: Reading, note: Note, { lengths, devices, told, shift }: Label): string {
  const sounding = shift === null ? note : { ...note, pitch: writable(transposePitch(note.pitch, shift)) };
  return [noteWords(sounding, lengths), placeWords(note), degreeLabel(reading, note, shift), ...devices, ...told]
    .filter((words) => words !== '')
    .join(', ');
}

function deviceNames(reading: Reading, { index }: Note): string[] {
  return devicesAt(reading, index).map((device) =>
    device.target === index ? `target of ${deviceName(device.kind)}` : deviceName(device.kind),
  );
}

const VALUES: Readonly<Record<string, string>> = { '16th': 'sixteenth' };
const TUPLETS: Readonly<Record<number, string>> = { 3: 'triplet', 5: 'quintuplet', 6: 'sextuplet', 7: 'septuplet' };
/** More tied values than that tell less than where the last one ends. */
const MOST_VALUES = 3;

/** `dotted quarter`; `half tied to triplet eighth`; `quarter, held into bar 9`. */
function lengthWords(written: readonly Written[]): string {
  const words = written.map(({ value: { value, tuplet } }) =>
    [tuplet === null ? '' : (TUPLETS[tuplet.actual] ?? 'tuplet'), value.dots === 1 ? 'dotted' : '', VALUES[value.type] ?? value.type]
      .filter((word) => word !== '')
      .join(' '),
  );
  return words.length > MOST_VALUES ? `${words[0]!}, held into bar ${written[written.length - 1]!.bar}` : words.join(' tied to ');
}

/** `B flat 4, dotted quarter`. */
function noteWords({ pitch, marks }: Note, written: readonly Written[]): string {
  const [letter, octave] = [formatPitch(pitch).replace(/-?\d+$/, ''), pitch.octave];
  const spoken = letter
    .replace(/##$/, ' double sharp')
    .replace(/#$/, ' sharp')
    .replace(/(?<=.)bb$/, ' double flat')
    .replace(/(?<=.)b$/, ' flat');
  const length = written.length === 0 ? '' : `, ${lengthWords(written)}`;
  const ghost = marks.includes('ghost') ? ', ghost note' : '';
  const accent = marks.includes('accent') || marks.includes('short-accent') ? ', accented' : '';
  return `${spoken} ${octave}${length}${ghost}${accent}`;
}

function placeWords({ bar, beat }: Note): string {
  // A plus sign would be read as a sum.
  const words = beatWords(beat).replace('+', ' and ');
  return bar === 0 ? `pickup, ${words}` : `bar ${bar}, ${words}`;
}

function degreeLabel(reading: Reading, { index }: Note, shift: Shift | null): string {
  const { placement } = reading.notes[index]!;
  if (placement === null) return 'no chord';
  const { symbol } = reading.phrase.spans[placement.span]!;
  const sounding = shift === null ? symbol : (transposeSymbol(symbol, shift) ?? symbol);
  return `${figureWords(reading, index, placement, sounding)}, ${roleWords(placement.role)}`;
}

/** A hover in plain words: the signs of Markdown that our hovers use are taken off. */
function withoutMarkup(line: string): string {
  return line.replaceAll('**', '').replaceAll('`', '');
}
