/** The figures of notes as they are counted in the walk-through. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { chordUnder } from '../../analysis/vocabulary';
import { chroma } from '../../theory/pitch';
import { isByStep, lineFigures, OF_SCALE } from '../line-figures';
import { figures as tensionFigures } from '../note-words';
import { isOnHome, wholeScale } from '../whole-scale';
import { stretchesOf } from './stretches';

/** In a scale that is told, notes count as the scale's: 1-b3-4-5-b7; so they do beside a cell that counts so; elsewhere as the line goes. */
export function figures(reading: Reading, notes: readonly number[]): string {
  const whole = wholeScale(reading);
  const chord = chordUnder(reading, notes[0]!);
  const isOfScale = whole !== null && (isOnHome(reading) || (chord !== null && chroma(chord.root) === chroma(whole.root)));
  if (!isOfScale && !isSecondToldAgain(reading, notes)) return lineFigures(reading, notes);
  return tensionFigures(reading, notes)
    .split('-')
    .map((one) => OF_SCALE[one] ?? one)
    .join('-');
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

/** A cell that comes again over another chord is counted there as it was. */
const spansWithSecond = ofReading((reading): ReadonlySet<number> => {
  const spanOf = (note: number): number | undefined => reading.notes[note]!.placement?.span;
  const spans = new Set<number | undefined>();
  for (const { device, repeat, from } of stretchesOf(reading)) {
    const isCell = device?.kind === 'cell' && /(?:^|-)2(?:-|$| )/.test(device.detail);
    if (isCell || (repeat !== null && repeat.changed.length === 0 && spans.has(spanOf(repeat.model[0]!)))) spans.add(spanOf(from));
  }
  return new Set([...spans].filter((span) => span !== undefined));
});
