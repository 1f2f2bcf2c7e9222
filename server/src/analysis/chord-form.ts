/** The form of a phrase by its chords: sections of eight bars, some of which come again. */
import type { Fraction } from '../model/fraction';
import type { Bar } from '../model/types';
import { chroma } from '../theory/pitch';
import { ofReading } from './of-reading';
import { kindOf } from './progressions';
import type { Harmony } from './harmonies';

export interface ChordForm {
  readonly form: 'AA' | 'AABA' | 'ABAC';
  /** Whether the A sections end alike, too. */
  readonly closesAlike: boolean;
}

/** Bars. */
export const SECTION = 8;
/** Bars in which sections are the same; they may end in other ways. */
const SAME = 6;
const FORMS: readonly string[] = ['AA', 'AABA', 'ABAC'] satisfies readonly ChordForm['form'][];

/** Null where the bars are neither 16 nor 32, or the sections do not come again as they do in these forms. */
export const chordFormOf = ofReading(({ phrase, context }): ChordForm | null => {
  const bars = phrase.bars.filter(({ number }) => number > 0);
  if (bars.length !== 2 * SECTION && bars.length !== 4 * SECTION) return null;
  const chords = bars.map((bar) => chordsIn(bar, context.harmonies));
  const firstBars = bars.flatMap((_, i) => (i % SECTION === 0 ? [i] : []));
  const sections = firstBars.map((i) => chords.slice(i, i + SAME).join('|'));
  const different = [...new Set(sections)];
  const letters = sections.map((section) => 'ABCD'[different.indexOf(section)]!).join('');
  if (!FORMS.includes(letters)) return null;
  const closes = firstBars.filter((_, i) => letters[i] === 'A').map((i) => chords.slice(i + SAME, i + SECTION).join('|'));
  return { form: letters as ChordForm['form'], closesAlike: new Set(closes).size === 1 };
});

/** The chords of a bar by root, kind and place: `0:2:minor 2:7:dominant`. */
function chordsIn({ onset, length }: Bar, harmonies: readonly Harmony[]): string {
  const end = onset.add(length);
  return harmonies
    .filter((one) => one.onset.compare(end) < 0 && one.end.compare(onset) > 0)
    .map(({ chord, onset: at }) => `${beginsAt(at, onset)}${chord === null ? 'N.C.' : `:${chroma(chord.root)}:${kindOf(chord)}`}`)
    .join(' ');
}

/** A chord that goes on from the bar before stands where the bar begins. */
function beginsAt(chord: Fraction, bar: Fraction): string {
  return chord.compare(bar) < 0 ? '0' : chord.sub(bar).toString();
}
