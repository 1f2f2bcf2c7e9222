/** The notes of a score: where each stands in the text, what it is called aloud, what its hover says. */
import type { Severity } from '../../../../grammar/tree';
import { devicesAt } from '../../analysis/devices/read';
import { shownFigure } from '../../analysis/shown-figure';
import type { Reading } from '../../analysis/types';
import { deviceName } from '../../explain/device-words';
import { piecesOf, type Piece } from '../../exports/musicxml';
import type { Note, Phrase } from '../../model/types';
import type { HeldFigure } from '../../picture/types';
import { beatWords } from '../../rules/words';
import { transposePitch, type Shift } from '../../theory/interval';
import { formatPitch, writable } from '../../theory/pitch';
import { transposeSymbol } from '../../theory/transposition';
import { noteHover } from '../hover/note';
import { figureWords, roleWords } from '../hover/words';
import type { ScoreFinding, ScoreNote } from './types';

const SEVEREST: readonly Severity[] = ['error', 'warning', 'information'];

/** `findings` are those of the phrase; all offsets count from its start. */
export function scoreNotes(reading: Reading, findings: readonly ScoreFinding[]): ScoreNote[] {
  const lengths = lengthsOf(reading.phrase);
  return reading.phrase.notes.map((note): ScoreNote => {
    const { placement } = reading.notes[note.index]!;
    const places = [note.range, ...note.holds.map(({ range }) => range)].map(({ start, end }) => ({ start, end }));
    const own = findings.filter((finding) => isAbout(finding, note, places));
    const finding = SEVEREST.find((severity) => own.some((one) => one.severity === severity)) ?? null;
    const told = own.filter(({ severity }) => severity !== 'hint').map(({ message }) => withoutMarkup(message));
    return {
      ...places[0]!,
      holds: places.slice(1),
      label: labelOf(reading, note, { lengths: lengths.get(note.index) ?? [], devices: deviceNames(reading, note), told, shift: null }),
      lines: [...noteHover(reading, note.index).split('\n\n').map(withoutMarkup), ...told],
      figure: placement === null ? null : shownFigure(reading, placement),
      role: placement?.role ?? null,
      later: heldFigures(reading, note, lengths.get(note.index) ?? []),
      finding: finding === 'hint' ? null : finding,
      onset: note.onset.valueOf(),
      duration: note.duration.valueOf(),
    };
  });
}

/** The names of the notes as they sound in another key. What the findings say is left out: it is about the notes as they are written. */
export function labelsIn(reading: Reading, shift: Shift): string[] {
  const lengths = lengthsOf(reading.phrase);
  return reading.phrase.notes.map((note) => labelOf(reading, note, { lengths: lengths.get(note.index) ?? [], devices: deviceNames(reading, note), told: [], shift }));
}

interface Label {
  readonly lengths: readonly Written[];
  readonly devices: readonly string[];
  readonly told: readonly string[];
  /** Into the key that sounds; null: as written. */
  readonly shift: Shift | null;
}

function labelOf(reading: Reading, note: Note, { lengths, devices, told, shift }: Label): string {
  const sounding = shift === null ? note : { ...note, pitch: writable(transposePitch(note.pitch, shift)) };
  return [noteWords(sounding, lengths), placeWords(note), degreeLabel(reading, note, shift), ...devices, ...told].filter((words) => words !== '').join(', ');
}

function deviceNames(reading: Reading, { index }: Note): string[] {
  return devicesAt(reading, index).map((device) => (device.target === index ? `target of ${deviceName(device.kind)}` : deviceName(device.kind)));
}

/** A finding that names its note is about that one alone; the grammar knows only places, and its findings are about the note that is written there. */
function isAbout(finding: ScoreFinding, { index, cell }: Note, places: readonly { readonly start: number; readonly end: number }[]): boolean {
  if (finding.note !== null) return finding.note === index;
  return cell === null && places.some(({ start, end }) => start === finding.start && end === finding.end);
}

interface Written {
  readonly value: Piece;
  readonly bar: number;
}

/** The values each note is engraved with, tied where there are several. */
function lengthsOf(phrase: Phrase): ReadonlyMap<number, readonly Written[]> {
  const lengths = new Map<number, Written[]>();
  for (const bar of phrase.bars) {
    for (const value of piecesOf(phrase, bar)) {
      if (value.note === null) continue;
      const known = lengths.get(value.note.index);
      if (known === undefined) lengths.set(value.note.index, [{ value, bar: bar.number }]);
      else known.push({ value, bar: bar.number });
    }
  }
  return lengths;
}

/** Under which of its tied parts a held note is figured anew: the first one that starts at the change of chord or after it, before the next. */
function heldFigures(reading: Reading, { index }: Note, written: readonly Written[]): HeldFigure[] {
  return reading.notes[index]!.soundings.flatMap(({ held, at, until, placement }) => {
    const part = held ? written.findIndex(({ value: { onset } }) => onset.compare(at) >= 0 && onset.compare(until) < 0) : -1;
    return part < 1 ? [] : [{ part: part + 1, figure: shownFigure(reading, placement), role: placement.role }];
  });
}

const VALUES: Readonly<Record<string, string>> = { '16th': 'sixteenth' };
const TUPLETS: Readonly<Record<number, string>> = { 3: 'triplet', 5: 'quintuplet', 6: 'sextuplet', 7: 'septuplet' };
/** More tied values than that tell less than where the last one ends. */
const MOST_VALUES = 3;

/** `dotted quarter`; `half tied to triplet eighth`; `quarter, held into bar 9`. */
function lengthWords(written: readonly Written[]): string {
  const words = written.map(({ value: { value, tuplet } }) =>
    [tuplet === null ? '' : (TUPLETS[tuplet.actual] ?? 'tuplet'), value.dots === 1 ? 'dotted' : '', VALUES[value.type] ?? value.type].filter((word) => word !== '').join(' '));
  return words.length > MOST_VALUES ? `${words[0]!}, held into bar ${written[written.length - 1]!.bar}` : words.join(' tied to ');
}

/** `B flat 4, dotted quarter`. */
function noteWords({ pitch, marks }: Note, written: readonly Written[]): string {
  const [letter, octave] = [formatPitch(pitch).replace(/-?\d+$/, ''), pitch.octave];
  const spoken = letter.replace(/##$/, ' double sharp').replace(/#$/, ' sharp').replace(/(?<=.)bb$/, ' double flat').replace(/(?<=.)b$/, ' flat');
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
