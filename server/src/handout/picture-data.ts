/** What the picture of a phrase shows beside its notation: on the page of the score and on paper. */
import type { Severity } from '../../../grammar/tree';
import { devicesOf } from '../analysis/devices/read';
import { shownFigure } from '../analysis/shown-figure';
import type { Reading } from '../analysis/types';
import { deviceName } from '../explain/device-words';
import { piecesOf, type Piece } from '../exports/musicxml';
import type { Note, Phrase } from '../model/types';
import type { HeldFigure, PictureData, PictureDevice, PictureNote } from '../picture/types';

/** A finding of a phrase; offsets count from the phrase's start. `note` is the index of the note it is about. */
export interface NoteFinding {
  readonly severity: Severity;
  readonly note: number | null;
  readonly start: number;
  readonly end: number;
}

/** The notes and devices of a phrase, with its findings. */
export function pictureData(reading: Reading, findings: readonly NoteFinding[]): PictureData {
  const values = writtenValues(reading.phrase);
  const notes = reading.phrase.notes.map((note) =>
    pictureNote(
      reading,
      note,
      values.get(note.index) ?? [],
      findings.filter((finding) => isAbout(finding, note)),
    ),
  );
  return { notes, devices: pictureDevices(reading) };
}

const SEVEREST: readonly Severity[] = ['error', 'warning', 'information'];

/** `written` are the values it is engraved with, `findings` those about it. */
export function pictureNote(reading: Reading, note: Note, written: readonly Written[], findings: readonly NoteFinding[]): PictureNote {
  const { placement } = reading.notes[note.index]!;
  const finding = SEVEREST.find((severity) => findings.some((one) => one.severity === severity)) ?? null;
  return {
    figure: placement === null ? null : shownFigure(reading, placement),
    role: placement?.role ?? null,
    later: heldFigures(reading, note, written),
    finding: finding === 'hint' ? null : finding,
  };
}

/** The devices of the chosen reading, each from its first note to its last, the target among them. */
export function pictureDevices(reading: Reading): PictureDevice[] {
  return devicesOf(reading).map((device) => ({
    name: deviceName(device.kind),
    from: Math.min(device.from, device.target ?? device.from),
    to: Math.max(device.to, device.target ?? device.to),
  }));
}

/** Where a note stands in the text: the note, then what holds it. */
export function placesOf(note: Note): { readonly start: number; readonly end: number }[] {
  return [note.range, ...note.holds.map(({ range }) => range)].map(({ start, end }) => ({ start, end }));
}

/** A finding that names its note is about that one alone; the grammar knows only places, and its findings are about the note that is written there. */
export function isAbout(finding: NoteFinding, note: Note): boolean {
  if (finding.note !== null) return finding.note === note.index;
  return note.cell === null && placesOf(note).some(({ start, end }) => start === finding.start && end === finding.end);
}

/** A value that a note is written with, and the bar it stands in. */
export interface Written {
  readonly value: Piece;
  readonly bar: number;
}

/** The values each note is engraved with, tied where there are several. */
export function writtenValues(phrase: Phrase): ReadonlyMap<number, readonly Written[]> {
  const values = new Map<number, Written[]>();
  for (const bar of phrase.bars) {
    for (const value of piecesOf(phrase, bar)) {
      if (value.note === null) continue;
      const known = values.get(value.note.index);
      if (known === undefined) values.set(value.note.index, [{ value, bar: bar.number }]);
      else known.push({ value, bar: bar.number });
    }
  }
  return values;
}

/** Under which of its tied parts a held note is figured anew: the first one that starts at the change of chord or after it, before the next. */
function heldFigures(reading: Reading, { index }: Note, written: readonly Written[]): HeldFigure[] {
  return reading.notes[index]!.soundings.flatMap(({ held, at, until, placement }) => {
    const part = held ? written.findIndex(({ value: { onset } }) => onset.compare(at) >= 0 && onset.compare(until) < 0) : -1;
    return part < 1 ? [] : [{ part: part + 1, figure: shownFigure(reading, placement), role: placement.role }];
  });
}
