/** What single chords of a progression do, where their numerals do not say it: a substitute, a dominant of another degree, a suspended chord. */
import { distanceUp, fallsFifth, targetOf, type Harmony } from '../analysis/harmonies';
import { placesOf } from '../analysis/places';
import { progressionsOf, type Progression } from '../analysis/progressions';
import { isDominant, isMinor } from '../analysis/vocabulary';
import type { Reading } from '../analysis/types';
import type { Note } from '../model/types';
import { transposeName } from '../theory/interval';
import { chroma, formatNoteName, soundClass } from '../theory/pitch';
import { scale } from '../theory/scale';
import type { Chord, Key } from '../theory/types';
import { listed } from './note-words';

/** Bars from which on two chords may need a word. */
const LONG = 8;

/** The most telling clauses: `Gb7 stands for C7: the third of each is the seventh of the other`. One at most, two of a long phrase; empty where no chord needs one. */
export function chordClauses(reading: Reading): readonly string[] {
  const told = progressionsOf(reading);
  const first = (find: Find): string[] => ofChords(reading, told, find).slice(0, 1);
  const found = [...substitutes(reading, told), ...[suspended, borrowedFour, backdoor, flatSix, secondaryDominant].flatMap(first)];
  return found.slice(0, reading.phrase.bars.length < LONG ? 1 : 2);
}

type Find = (reading: Reading, harmony: Harmony, chord: Chord, told: readonly Progression[]) => string | null;

/** What is found of each chord, in order. */
function ofChords(reading: Reading, told: readonly Progression[], find: Find): string[] {
  return reading.context.harmonies.flatMap((harmony) =>
    harmony.chord === null ? [] : (find(reading, harmony, harmony.chord, told) ?? []),
  );
}

/** `Gb7 stands for C7`; of several `Db7 stands for G7 and B7 for F7`: all of a phrase are one clause. */
function substitutes(reading: Reading, told: readonly Progression[]): string[] {
  const pairs = [...new Set(ofChords(reading, told, substitution))];
  if (pairs.length === 0) return [];
  const words = listed(pairs).replace(' for ', ' stands for ');
  return [`${words}: the third of each is the seventh of the ${pairs.length === 1 ? 'other' : 'chord that it stands for'}`];
}

/** `Gb7 for C7`: a fifth above the chord that it falls to by half step, at home or within a turnaround, stands the dominant that it replaces. */
const substitution: Find = ({ context, phrase }, harmony, chord, told) => {
  const home = targetOf(context, harmony);
  if (!isDominant(chord) || home === null || distanceUp(chord, home) !== 11) return null;
  const bar = placesOf(phrase, context).barAt(harmony.onset).number;
  const isSubstitute = told.some(({ id, key, numerals, from, to }) =>
    id === 'turnaround'
      ? numerals.some((numeral) => /^b(?:II|III)$/.test(numeral)) && from <= bar && bar <= to
      : id === 'tritone-substitute' && chroma(key.tonic) === chroma(home.root),
  );
  const replaced = formatNoteName(transposeName(home.root, { diatonic: 4, chromatic: 7 }));
  return isSubstitute ? `${harmony.symbol} for ${replaced}7` : null;
};

/** Half steps from the tonic up to a chord's root. */
export function aboveTonic({ root }: Chord, { tonic }: Key): number {
  return soundClass(chroma(root) - chroma(tonic));
}

/** Notes over a suspended chord from which on it is heard that none is the third. */
const FEWEST_OVER = 4;

const suspended: Find = (reading, harmony, chord) => {
  const fourth = chord.tones.find(({ figure }) => figure.number === 4 || figure.number === 11);
  if (chord.family !== 'suspended' || fourth === undefined) return null;
  const { phrase, context } = reading;
  const hasThird = ({ onset, end }: Pick<Harmony, 'onset' | 'end'>): boolean =>
    notesOver(phrase.notes, onset, end).some(({ pitch }) => (chroma(pitch) - chroma(chord.root) + 12) % 12 === 4);
  const next = context.harmonies[harmony.index + 1];
  const third = formatNoteName(transposeName(chord.root, { diatonic: 2, chromatic: 4 }));
  const comes =
    next !== undefined && next.chord !== null && distanceUp(chord, next.chord) === 0 && next.chord.family !== 'suspended' && hasThird(next);
  const isLeftOut = !hasThird(harmony) && notesOver(phrase.notes, harmony.onset, harmony.end).length >= FEWEST_OVER;
  const after = hasThird(harmony)
    ? ''
    : comes
      ? `, ${third}, which comes with ${next.symbol}`
      : isLeftOut
        ? ', which the line leaves out'
        : '';
  const roots = new Set(context.harmonies.flatMap((one) => (one.chord?.family === 'suspended' ? [chroma(one.chord.root)] : [])));
  return roots.size > 1
    ? 'in the suspended chords the fourth takes the place of the third'
    : `in ${harmony.symbol} the fourth, ${formatNoteName(fourth.name)}, takes the place of the third${after}`;
};

function notesOver(notes: readonly Note[], onset: Note['onset'], end: Note['onset']): readonly Note[] {
  return notes.filter((note) => note.onset.compare(onset) >= 0 && note.onset.compare(end) < 0);
}

/** The minor chord on the fourth degree of a major key, where it is no ii of another (common practice). */
const borrowedFour: Find = (reading, harmony, chord) => {
  const { context } = reading;
  const { tonic } = context;
  if (tonic?.mode !== 'major' || !isMinor(chord) || aboveTonic(chord, tonic) !== 5) return null;
  const next = context.harmonies.slice(harmony.index + 1).find((one) => one.chord !== null && distanceUp(chord, one.chord) !== 0)?.chord;
  const isTwo = next != null && fallsFifth(chord, next) && isDominant(next);
  return isTwo
    ? null
    : `${harmony.symbol}, the minor iv, is borrowed from ${formatNoteName(tonic.tonic)} minor${loweredThird(reading, harmony, chord)}`;
};

/** The iv and the bVII7 of a backdoor cadence in a major key, each of which is at home in the minor one. */
const backdoor: Find = ({ context, phrase }, harmony, chord, told) => {
  const { tonic } = context;
  if (tonic?.mode !== 'major' || !isMinor(chord) || aboveTonic(chord, tonic) !== 5) return null;
  const bar = placesOf(phrase, context).barAt(harmony.onset).number;
  const next = context.harmonies.slice(harmony.index + 1).find((one) => one.chord !== null && distanceUp(chord, one.chord) !== 0);
  const isOfOne = told.some(({ id, from, to }) => id === 'backdoor' && from <= bar && bar <= to);
  if (!isOfOne || next === undefined || !isDominant(next.chord!) || !fallsFifth(chord, next.chord)) return null;
  const { sounds } = scale(tonic.tonic, 'aeolian');
  const isOfMinor = [chord, next.chord!].every(({ tones }) => tones.every(({ name, basic }) => !basic || sounds.has(chroma(name))));
  return isOfMinor ? `${harmony.symbol} and ${next.symbol} are borrowed from ${formatNoteName(tonic.tonic)} minor` : null;
};

const [THIRD, FLAT_THIRD] = [4, 3];

/** `: G, the third, becomes Gb`: where the line has both after a major chord on the same root, not one right after the other, for that is told where it happens. */
function loweredThird({ phrase, context }: Reading, harmony: Harmony, chord: Chord): string {
  const before = context.harmonies[harmony.index - 1];
  if (before?.chord == null || distanceUp(before.chord, chord) !== 0 || !before.end.equals(harmony.onset)) return '';
  const isAbove = (note: Note | undefined, size: number): boolean =>
    note !== undefined && soundClass(chroma(note.pitch) - chroma(chord.root)) === size;
  const thirds = notesOver(phrase.notes, before.onset, before.end).filter((note) => isAbove(note, THIRD));
  const hasFlat = notesOver(phrase.notes, harmony.onset, harmony.end).some((note) => isAbove(note, FLAT_THIRD));
  if (thirds.length === 0 || !hasFlat || thirds.some(({ index }) => isAbove(phrase.notes[index + 1], FLAT_THIRD))) return '';
  const [third, flat] = [THIRD, FLAT_THIRD].map((chromatic) => formatNoteName(transposeName(chord.root, { diatonic: 2, chromatic })));
  return `: ${third!}, the third, becomes ${flat!}`;
}

/** bVI7 before V7, where no progression has it in its numerals (common practice: it stands for the dominant of V). */
const flatSix: Find = ({ context, phrase }, harmony, chord, told) => {
  const { tonic } = context;
  const next = context.harmonies[harmony.index + 1];
  if (tonic === null || context.vamp || next?.chord == null || !isDominant(chord) || !isDominant(next.chord)) return null;
  if (aboveTonic(chord, tonic) !== 8 || aboveTonic(next.chord, tonic) !== 7) return null;
  const bar = placesOf(phrase, context).barAt(harmony.onset).number;
  const isTold = told.some(({ id, from, to }) => (id === 'turnaround' || id === 'cycle') && from <= bar && bar <= to);
  return isTold ? null : `${harmony.symbol} (bVI7) falls a half step to ${next.symbol}, the dominant`;
};

/** A dominant that falls to another degree than the tonic, where no progression is at home there. */
const secondaryDominant: Find = ({ context, phrase }, harmony, chord, told) => {
  const to = targetOf(context, harmony);
  const { tonic } = context;
  if (to === null || tonic === null || context.vamp || !isDominant(chord) || !fallsFifth(chord, to)) return null;
  // I7 of a major key goes to IV in every blues; in a minor key the tonic's chord becomes a dominant for it.
  const isExpected = aboveTonic(chord, tonic) === 7 || (aboveTonic(chord, tonic) === 0 && tonic.mode === 'major');
  if (aboveTonic(to, tonic) === 0 || isExpected) return null;
  const bar = placesOf(phrase, context).barAt(harmony.onset).number;
  const isTold = told.some(
    ({ id, key, from, to: last }) =>
      (id === 'cycle' || (id !== 'turnaround' && chroma(key.tonic) === chroma(to.root))) && from <= bar && last >= bar,
  );
  // A minor chord on the same root, which comes between, leads on by itself.
  const next = context.harmonies
    .slice(harmony.index + 1)
    .find((one) => one.chord !== null && !(distanceUp(chord, one.chord) === 0 && isDominant(one.chord)));
  return isTold || next === undefined || distanceUp(chord, next.chord!) === 0
    ? null
    : `${harmony.symbol} is the dominant of ${next.symbol}`;
};
