/** The figures of notes as they are counted in the walk-through. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { chordUnder, isLeap } from '../../analysis/vocabulary';
import { chroma } from '../../theory/pitch';
import { figures as tensionFigures } from '../note-words';
import { isOnHome, wholeScale } from '../whole-scale';
import { stretchesOf } from './stretches';

/** In a scale that is told, notes count as the scale's: 1-b3-4-5-b7; so they do by step beside a cell that counts so. */
export function figures(reading: Reading, notes: readonly number[]): string {
  const written = tensionFigures(reading, notes);
  const whole = wholeScale(reading);
  const chord = chordUnder(reading, notes[0]!);
  const isOfScale = whole !== null && (isOnHome(reading) || (chord !== null && chroma(chord.root) === chroma(whole.root)));
  return isOfScale || isSecondToldAgain(reading, notes)
    ? written
        .split('-')
        .map((one) => OF_SCALE[one] ?? one)
        .join('-')
    : written;
}

/** Whether a ninth, eleventh or thirteenth by step from its neighbour counts as 2, 4 or 6: over the same chord a 2 was told, in 1-2-3-5. */
function isSecondToldAgain(reading: Reading, notes: readonly number[]): boolean {
  const { phrase, notes: read } = reading;
  return (
    spansWithSecond(reading).has(read[notes[0]!]!.placement?.span ?? -1) &&
    notes.some((note, i) => {
      const called = read[note]!.placement?.called;
      return (
        called !== undefined &&
        called.number > 7 &&
        called.alter === 0 &&
        [notes[i - 1], notes[i + 1]].some((other) => other !== undefined && !isLeap(phrase.notes[note]!, phrase.notes[other]!))
      );
    })
  );
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
