/** The form of a melody of eight bars or more: which of its parts come again, and where it is highest. */
import { chordFormOf } from '../analysis/chord-form';
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

/** `In AABA form: the A of bars 1–8 comes again in bars 9–16 and 25–32; bars 17–24 are the bridge.` Without its name where the chords have told it; empty where there is no such form. */
export function formSentence(reading: Reading): string {
  const form = formOf(reading);
  if (form === null) return '';
  const bars = writtenBars(reading);
  const [a, second, third, fourth] = form.parts as [Part, Part, Part, Part];
  const copies = (form.kind === 'AABA' ? [second, fourth] : [third]).map((part) => ({ part, ends: isOtherEnding(bars, a, part) }));
  const allEnd = copies.every(({ ends }) => ends);
  const places = copies.map(({ part, ends }) => `${barsOf(part)}${ends && !allEnd ? ' (with another ending)' : ''}`);
  const name = chordFormOf(reading)?.form === form.kind ? '' : `in ${form.kind} form: `;
  const bridge = form.kind === 'AABA' ? `; bars ${barsOf(third)} are the bridge` : '';
  return `${capital(`${name}the A of bars ${barsOf(a)} comes again${allEnd ? ' with another ending' : ''} in bars ${listed(places)}${bridge}`)}.`;
}

function barsOf({ from, to }: Part): string {
  return `${from}–${to}`;
}

/** Whether the last bar of two parts, or the one before it, has other notes. */
function isOtherEnding(bars: ReturnType<typeof writtenBars>, one: Part, other: Part): boolean {
  return [0, 1].some((back) => bars.get(one.to - back)!.line !== bars.get(other.to - back)!.line);
}

/** `Bars 1–4 and 7 share a rhythm.` Empty where no rhythm goes through the line. */
export function rhythmSentence(reading: Reading): string {
  const runs: Part[] = [];
  for (const bar of sharedRhythm(reading)) {
    const last = runs[runs.length - 1];
    if (last !== undefined && last.to === bar - 1) runs[runs.length - 1] = { from: last.from, to: bar };
    else runs.push({ from: bar, to: bar });
  }
  // Two bars in a row are two.
  const words = runs.flatMap((run) => (run.to - run.from > 1 ? barsOf(run) : [...new Set([run.from, run.to])].map(String)));
  return words.length === 0 ? '' : `Bars ${listed(words)} share a rhythm.`;
}

/** `The line is highest in bar 19, in the bridge: A5.` Empty for a line of few bars, and where the highest note comes in more bars than one. */
export function highestSentence(reading: Reading): string {
  const { notes } = reading.phrase;
  if ([...writtenBars(reading).values()].filter((bar) => bar.notes.length > 0).length < FEWEST_BARS) return '';
  const top = notes.reduce((most, { midi }) => Math.max(most, midi), -Infinity);
  const highest = notes.filter(({ midi }) => midi === top);
  const [first] = highest;
  if (first === undefined || first.bar < 1 || highest.some(({ bar }) => bar !== first.bar)) return '';
  const form = formOf(reading);
  const bridge = form?.kind === 'AABA' ? form.parts[2]! : null;
  const isInBridge = bridge !== null && first.bar >= bridge.from && first.bar <= bridge.to;
  return `The line is highest in bar ${first.bar}${isInBridge ? ', in the bridge' : ''}: ${formatPitch(first.pitch)}.`;
}
