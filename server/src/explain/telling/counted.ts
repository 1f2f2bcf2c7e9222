/** The figures of notes as they are counted in the walk-through. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { chordUnder, isLeap } from '../../analysis/vocabulary';
import { chroma } from '../../theory/pitch';
import { figures as tensionFigures } from '../note-words';
import { isOnHome, wholeScale } from '../whole-scale';
import { stretchesOf } from './stretches';

/** In a scale that is told, notes count as the scale's: 1-b3-4-5-b7; so they do beside a cell that counts so, and by step where the line goes 1-2-3. */
export function figures(reading: Reading, notes: readonly number[]): string {
  const written = tensionFigures(reading, notes).split('-');
  const whole = wholeScale(reading);
  const chord = chordUnder(reading, notes[0]!);
  const isOfScale = whole !== null && (isOnHome(reading) || (chord !== null && chroma(chord.root) === chroma(whole.root)));
  if (isOfScale || isSecondToldAgain(reading, notes)) return written.map((one) => OF_SCALE[one] ?? one).join('-');
  const isCounted = notes.some((_, i) => isSecond(reading, notes.slice(i, i + 3)));
  return written.map((one, i) => (isCounted && isByStep(reading, notes, i) ? (OF_STEPS[one] ?? one) : one)).join('-');
}

/** Whether a note lies a step from the one before or after it. */
function isByStep({ phrase }: Reading, notes: readonly number[], index: number): boolean {
  const own = phrase.notes[notes[index]!]!;
  return [notes[index - 1], notes[index + 1]].some((other) => other !== undefined && !isLeap(own, phrase.notes[other]!));
}

/** Whether a natural ninth, eleventh or thirteenth lies by step from its neighbour, and over the same chord a 2 was told, in 1-2-3-5. */
function isSecondToldAgain(reading: Reading, notes: readonly number[]): boolean {
  const { notes: read } = reading;
  const isTension = (note: number): boolean => {
    const called = read[note]!.placement?.called;
    return called !== undefined && called.number > 7 && called.alter === 0;
  };
  return (
    spansWithSecond(reading).has(read[notes[0]!]!.placement?.span ?? -1) &&
    notes.some((note, i) => isTension(note) && isByStep(reading, notes, i))
  );
}

/** Whether three notes go one way from the root by step to the natural ninth, and on to the third, fourth or fifth of one chord, or back. */
function isSecond({ phrase, notes }: Reading, three: readonly number[]): boolean {
  const placed = three.map((note) => notes[note]!.placement);
  const [first, second, third] = three.map((note) => phrase.notes[note]!);
  if (!/^(?:1,9,[345]|[345],9,1)$/.test(placed.map((one) => one?.called.number).join()) || placed[1]!.called.alter !== 0) return false;
  const root = placed[0]!.called.number === 1 ? first! : third!;
  const isOneWay = Math.sign(second!.midi - first!.midi) === Math.sign(third!.midi - second!.midi);
  return isOneWay && !isLeap(root, second!) && placed.every((one) => one!.span === placed[0]!.span);
}

const spansWithSecond = ofReading(
  (reading): ReadonlySet<number> =>
    new Set(
      stretchesOf(reading).flatMap(({ device, from }) => {
        const span = reading.notes[from]!.placement?.span;
        return device?.kind === 'cell' && span !== undefined && /(?:^|-)2(?:-|$| )/.test(device.detail) ? [span] : [];
      }),
    ),
);

const OF_SCALE: Readonly<Record<string, string>> = { '9': '2', '11': '4', '13': '6', b13: 'b6' };
const OF_STEPS: typeof OF_SCALE = { ...OF_SCALE, '#11': '#4' };
