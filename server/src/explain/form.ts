/** The form of a melody of eight bars or more: which of its parts come again, and where it is highest. */
import { chordFormOf } from '../analysis/chord-form';
import { barsByNumber } from '../analysis/places';
import { ofReading } from '../analysis/of-reading';
import type { Reading } from '../analysis/types';
import { capital } from '../rules/words';
import { formatPitch } from '../theory/pitch';
import { listed } from './note-words';
import { writtenBars } from './telling/bars';
import { sharedRhythm } from './telling/rhythm';

/** Bars with notes from which on a line has a highest one. */
const FEWEST_BARS = 8;
/** Forms of four parts, by the bars of a part. */
const SIZES: readonly number[] = [8, 4];
/** The share of the bars of two parts with which they are one part that comes again, and the most with which they are two. */
const SAME = 0.5;
const OTHER = 0.25;

/** A part of the form: its first and last bar. */
interface Part {
  readonly from: number;
  readonly to: number;
}

export interface Form {
  readonly kind: 'AABA' | 'ABAC';
  readonly parts: readonly Part[];
}

/** The form of 16 or 32 bars in four parts; null where it is not plain. */
export const formOf = ofReading((reading): Form | null => {
  const bars = writtenBars(reading);
  const size = SIZES.find((one) => one * 4 === bars.size);
  if (size === undefined) return null;
  const parts = Array.from({ length: 4 }, (_, i): Part => ({ from: 1 + i * size, to: (i + 1) * size }));
  const [a, second, third, fourth] = parts as [Part, Part, Part, Part];
  const isA = (one: Part): boolean => shareOf(bars, a, one) >= SAME;
  const isOther = (one: Part, ...others: readonly Part[]): boolean => others.every((other) => shareOf(bars, one, other) <= OTHER);
  if (isA(second) && isA(fourth) && isOther(third, a, second, fourth)) return { kind: 'AABA', parts };
  return isA(third) && isOther(second, a, third) && isOther(fourth, a, second, third) ? { kind: 'ABAC', parts } : null;
});

/** The share of the bars of two parts that have the same notes; bars without notes are none. */
function shareOf(bars: ReturnType<typeof writtenBars>, one: Part, other: Part): number {
  const size = one.to - one.from + 1;
  const same = Array.from({ length: size }, (_, i) => i).filter((i) => isSame(bars, one.from + i, other.from + i));
  return same.length / size;
}

function isSame(bars: ReturnType<typeof writtenBars>, one: number, other: number): boolean {
  const { notes, line } = bars.get(one)!;
  return notes.length > 0 && line === bars.get(other)!.line;
}

/** `In AABA form: bars 1–8 are A, and come again in bars 9–16 and 25–32; bars 17–24 are the bridge.` Empty where there is no such form. */
export function formSentence(reading: Reading): string {
  const form = formOf(reading);
  if (form === null) return '';
  const names = form.parts.map(({ from, to }) => `${from}–${to}`);
  const told = chordFormOf(reading)?.form === form.kind ? '' : `in ${form.kind} form: `;
  const copies = form.kind === 'AABA' ? [1, 3] : [2];
  const bars = writtenBars(reading);
  const ends = copies.filter((copy) => isOtherEnding(bars, form.parts[0]!, form.parts[copy]!)).length;
  const places = copies.map(
    (copy) =>
      `${names[copy]!}${ends === 1 && copies.length > 1 && isOtherEnding(bars, form.parts[0]!, form.parts[copy]!) ? ' (with another ending)' : ''}`,
  );
  const again = `the A of bars ${names[0]!} comes again${ends === copies.length ? ' with another ending' : ''} in bars ${listed(places)}`;
  return `${capital(`${told}${again}${form.kind === 'AABA' ? `; bars ${names[2]!} are the bridge` : ''}`)}.`;
}

/** Whether the last bar of two parts, or the one before it, has other notes. */
function isOtherEnding(bars: ReturnType<typeof writtenBars>, one: Part, other: Part): boolean {
  return [0, 1].some((back) => bars.get(one.to - back)!.line !== bars.get(other.to - back)!.line);
}

/** `Bars 1–4 and 7 share a rhythm.` Empty where no rhythm goes through the line. */
export function rhythmSentence(reading: Reading): string {
  const ranges: { from: number; to: number }[] = [];
  for (const bar of sharedRhythm(reading)) {
    const last = ranges[ranges.length - 1];
    if (last !== undefined && last.to === bar - 1) last.to = bar;
    else ranges.push({ from: bar, to: bar });
  }
  const words = ranges.map(({ from, to }) => (from === to ? `${from}` : to === from + 1 ? `${from}, ${to}` : `${from}–${to}`));
  return words.length === 0 ? '' : `Bars ${listed(words.flatMap((one) => one.split(', ')))} share a rhythm.`;
}

/** `The line is highest in bar 19, in the bridge: A5.` Empty for a line of few bars, and where the highest note comes in more bars than one. */
export function highestSentence(reading: Reading): string {
  const { notes } = reading.phrase;
  if ([...writtenBars(reading).values()].filter((bar) => bar.notes.length > 0).length < FEWEST_BARS) return '';
  const top = notes.reduce((most, { midi }) => Math.max(most, midi), -Infinity);
  const highest = notes.filter(({ midi }) => midi === top);
  const [first] = highest;
  if (first === undefined || !barsByNumber(reading.phrase).has(first.bar) || highest.some(({ bar }) => bar !== first.bar)) return '';
  const form = formOf(reading);
  const bridge = form?.kind === 'AABA' ? form.parts[2]! : null;
  const isInBridge = bridge !== null && first.bar >= bridge.from && first.bar <= bridge.to;
  return `The line is highest in bar ${first.bar}${isInBridge ? ', in the bridge' : ''}: ${formatPitch(first.pitch)}.`;
}
