/** A device as a clause. */
import type { Device } from '../../analysis/devices/device';
import { devicesOf } from '../../analysis/devices/read';
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import { beatWords } from '../../rules/words';
import { plainCell, talkOf, wordsOf } from '../device-words';
import { noteName } from '../note-words';
import { endsOn, say } from '../say';
import { SCALE_LINES } from '../whole-scale';
import { FIGURED } from './candidates';
import type { Clause } from './clause';
import { inHeardScale } from './heard-scale';
import { landing, restOf } from './landings';
import { halfStepsAround, isGoal, octaveAfter } from './reach';
import { repeatsOf } from './repeats';
import { notesIn, type Stretch } from './stretch';

export function deviceClause(reading: Reading, stretch: Stretch, device: Device): Clause {
  const { clause, weight } = wordsOf(device.kind);
  const octave = octaveOf(reading, stretch, device);
  // A device that stops short of its target says it all the same: the target begins what follows.
  const words = clause(talkOf(toldOf(reading, stretch, device, octave), reading));
  const isFigured = FIGURED.has(device.kind);
  const tellsEnd = isFigured ? endsOn(words) === stretch.to : !SCALE_LINES.has(device.kind);
  const told = isFigured ? inHeardScale(reading, stretch, words) : words;
  return {
    words: say`${told}${endOf(reading, stretch, device, octave)}`,
    weight,
    plain: false,
    target: octave,
    rest: tellsEnd ? [] : restOf(reading, { ...stretch, device }),
  };
}

/** What of a device is told in a stretch: half steps with all that go on from them, others with the notes that belong there. */
function toldOf(reading: Reading, stretch: Stretch, device: Device, octave: number | null): Parameters<typeof talkOf>[0] {
  if (device.kind === 'chromatic-run') {
    const whole = halfStepsAround(reading, device.from, device.target ?? device.to);
    return { ...device, notes: notesIn(whole), target: whole.to };
  }
  const own = device.notes.filter(
    (note) => isInside(stretch, note) || (device.kind === 'scale-run' && belongsToRun(reading, stretch, note)),
  );
  return { ...device, notes: octave === null ? own : [...own, octave], comesAgain: isCellAgain(reading, device) };
}

function isInside({ from, to }: Stretch, note: number): boolean {
  return note >= from && note <= to;
}

/** A run over one chord is told from its first note, though another figure ends there, and to its last; or to the goal after it. */
function belongsToRun(reading: Reading, { from, to }: Stretch, note: number): boolean {
  const end = note < from ? from : to;
  const isOverSame = reading.notes[note]!.placement?.span === reading.notes[end]!.placement?.span;
  if (isOverSame && reading.phrase.notes[note]!.bar === reading.phrase.notes[end]!.bar) return true;
  return note === to + 1 && isGoal(reading, note) && reading.notes[to]!.placement?.role !== 'chord-tone';
}

/** The note after a run that ends it an octave from where it began; null where there is none. */
function octaveOf(reading: Reading, stretch: Stretch, device: Device): number | null {
  const next = stretch.to + 1;
  if (device.kind !== 'scale-run' || !device.notes.includes(next) || belongsToRun(reading, stretch, next)) return null;
  const first = device.notes.find((note) => isInside(stretch, note) || belongsToRun(reading, stretch, note))!;
  return octaveAfter(reading, first, stretch.to);
}

/** What is added to the words of a device: where it lands, or the octave to which it goes on. */
function endOf(reading: Reading, stretch: Stretch, { kind, target }: Device, octave: number | null): string {
  if (kind !== 'chromatic-run' && target !== null && isInside(stretch, target)) return landing(reading, stretch.from, stretch.to);
  return octave === null ? '' : ` to ${noteName(reading, octave)}`;
}

/** Bars in which a cell is still in the ear. */
const STILL_HEARD = 2;

/** Whether a cell with a step in it, 1-2-3-5 of any chord, comes again at its place in a bar over another chord, in a bar that is not told as another one moved. */
function isCellAgain(reading: Reading, { kind, from, notes, detail }: Device): boolean {
  const numbersOf = (cell: Pick<Device, 'detail'>): string => plainCell(cell).replace(/[b#]/g, '');
  if (kind !== 'cell' || !numbersOf({ detail }).split('-').includes('2')) return false;
  const own = reading.phrase.notes[from]!;
  const symbolAt = (note: number): string | undefined => reading.phrase.spans[reading.notes[note]!.placement?.span ?? -1]?.symbol;
  if (repeatedBars(reading).has(own.bar)) return false;
  const before = Array.from({ length: STILL_HEARD }, (_, i) => cellsByBar(reading).get(own.bar - 1 - i) ?? []).flat();
  return before.some((other) => {
    const { beat } = reading.phrase.notes[other.from]!;
    const isSame =
      other.notes.length === notes.length && numbersOf(other) === numbersOf({ detail }) && symbolAt(other.from) !== symbolAt(from);
    return isSame && beatWords(beat) === beatWords(own.beat);
  });
}

const cellsByBar = ofReading((reading) =>
  groupedBy(
    devicesOf(reading).filter(({ kind }) => kind === 'cell'),
    ({ from }) => [reading.phrase.notes[from]!.bar],
  ),
);
const repeatedBars = ofReading(
  (reading): ReadonlySet<number> => new Set(repeatsOf(reading).map(({ from }) => reading.phrase.notes[from]!.bar)),
);
