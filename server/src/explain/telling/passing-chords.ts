/** Chords on the way between two others, told once a phrase where they stand: passing diminished ones, and bVII7 after IV. */
import type { Device } from '../../analysis/devices/device';
import { ofReading } from '../../analysis/of-reading';
import { BLUES_FORMS, kindOf, progressionsOf } from '../../analysis/progressions';
import type { Reading } from '../../analysis/types';
import { chroma, soundClass } from '../../theory/pitch';
import type { Chord } from '../../theory/types';
import { aboveTonic } from '../chord-words';
import { say, type Words } from '../say';
import { namesPassing } from '../setting-words';

/** What is said of a chord, and the first note over it. */
interface PassingChord {
  readonly note: number;
  readonly words: Words;
}

/** Those that begin under a stretch. */
export function passingChordsIn(reading: Reading, { from, to }: { readonly from: number; readonly to: number }): readonly PassingChord[] {
  return toldChords(reading).filter(({ note }) => note >= from && note <= to);
}

/** Each chord once, where it first stands; none that the first sentence has told. */
const toldChords = ofReading((reading): readonly PassingChord[] => {
  const { harmonies, ofSpan } = reading.context;
  const symbol = (index: number): string => harmonies[index]!.symbol;
  const told = new Map<string, { readonly harmony: number; readonly words: Words }>();
  const tell = (harmony: number, words: Words): void => {
    if (!told.has(symbol(harmony))) told.set(symbol(harmony), { harmony, words });
  };
  for (const { before, own, after, numeral } of namesPassing(reading) ? [] : diminishedOf(reading).values())
    tell(own, say`${symbol(own)} (${numeral}) is a passing diminished chord between ${symbol(before)} and ${symbol(after)}`);
  for (const harmony of backdoorsOf(reading)) tell(harmony, say`${symbol(harmony)} (bVII7) is the backdoor dominant`);
  const firstOver = new Map<number, number>();
  for (const { index, span } of reading.phrase.notes) {
    const harmony = span === null ? undefined : ofSpan[span];
    if (harmony !== undefined && !firstOver.has(harmony)) firstOver.set(harmony, index);
  }
  return [...told.values()].flatMap(({ harmony, words }) => {
    const note = firstOver.get(harmony);
    return note === undefined ? [] : [{ note, words }];
  });
});

interface Passing {
  /** Harmonies by their indexes: the chord before, the passing one, the chord after. */
  readonly before: number;
  readonly own: number;
  readonly after: number;
  readonly numeral: string;
}

/** The passing diminished chords by their harmonies. */
const diminishedOf = ofReading((reading): ReadonlyMap<number, Passing> => {
  const found = progressionsOf(reading).flatMap(({ id, harmonies: [before, own, after], numerals }) =>
    id === 'passing-diminished' ? [{ before: before!, own: own!, after: after!, numeral: numerals[1]! }] : [],
  );
  return new Map(found.map((one) => [one.own, one]));
});

/** bVII7 of a major key between IV and I, or the iii that stands for it; no chord of a blues (common practice). */
function backdoorsOf(reading: Reading): number[] {
  const { tonic, harmonies, blues } = reading.context;
  if (tonic?.mode !== 'major' || blues !== null || progressionsOf(reading).some(({ id }) => BLUES_FORMS.has(id))) return [];
  const is = (chord: Chord | null | undefined, above: number, kind: string): boolean =>
    chord != null && aboveTonic(chord, tonic) === above && kindOf(chord) === kind;
  return harmonies.flatMap(({ chord, index }) => {
    const [before, after] = [harmonies[index - 1]?.chord, harmonies[index + 1]?.chord];
    const isBackdoor = is(chord, 10, 'dominant') && is(before, 5, 'major') && (is(after, 0, 'major') || is(after, 4, 'minor'));
    return isBackdoor ? [index] : [];
  });
}

/** Whether a chord tone only goes a half step along with the bass, to a passing diminished chord or on from it: nothing resolves there. */
export function goesWithBass(reading: Reading, from: number, to: number): boolean {
  const passing = diminishedOf(reading);
  if (passing.size === 0) return false;
  const { harmonies } = reading.context;
  const [first, last] = [harmonyOf(reading, from), harmonyOf(reading, to)];
  const isOne = [first, last]
    .map((one) => passing.get(one ?? -1))
    .some((one) => one !== undefined && ((one.before === first && one.own === last) || (one.own === first && one.after === last)));
  if (!isOne) return false;
  const bass = (index: number): number => chroma(harmonies[index]!.chord!.bass ?? harmonies[index]!.chord!.root);
  const moved = reading.phrase.notes[to]!.midi - reading.phrase.notes[from]!.midi;
  return Math.abs(moved) === 1 && soundClass(bass(last!) - bass(first!)) === soundClass(moved);
}

function harmonyOf({ phrase, context }: Reading, note: number): number | null {
  const span = phrase.notes[note]?.span ?? null;
  return span === null ? null : context.ofSpan[span]!;
}

/** Whether a device tells such a note as a guide tone that resolves. */
export function isAlongBass(reading: Reading, { kind, to, target }: Device): boolean {
  return kind === 'guide-tone-resolution' && target !== null && goesWithBass(reading, to, target);
}
