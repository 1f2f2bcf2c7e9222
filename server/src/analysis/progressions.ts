/** The progressions of a phrase, with their bars: one finder a kind (THEORY, section 7). */
import type { Fraction } from '../model/fraction';
import { lastNotAfter, startingIn } from '../model/time';
import type { Bar, Phrase } from '../model/types';
import { chroma, soundClass } from '../theory/pitch';
import { functionInKey } from '../theory/key';
import { shiftBetween, transposeName } from '../theory/interval';
import type { Chord, Key, NoteName } from '../theory/types';
import { distanceUp, isPlainTriad, type HarmonicContext, type Harmony } from './harmonies';
import { isDominant, isMinor } from './vocabulary';
import { ofReading } from './of-reading';
import type { Reading } from './types';

export type ProgressionId =
  | 'short-ii-v-i-major'
  | 'short-ii-v-i-minor'
  | 'long-ii-v-i-major'
  | 'long-ii-v-i-minor'
  | 'short-ii-v'
  | 'long-ii-v'
  | 'chromatic-ii-v'
  | 'v-i-major'
  | 'v-i-minor'
  | 'turnaround'
  | 'backdoor'
  | 'tritone-substitute'
  | 'i-iv-v-i'
  | 'cycle'
  | 'passing-diminished'
  | 'line-cliche'
  | 'blues'
  | 'blues-with-substitutes'
  | 'minor-blues'
  | 'major-vamp'
  | 'minor-vamp'
  | 'dominant-vamp'
  | 'suspended-vamp'
  | 'modal-vamp';

export interface Progression {
  readonly id: ProgressionId;
  /** Where it is at home; of an open ii–V, where its V would fall. */
  readonly key: Key;
  /** Bars, inclusive. */
  readonly from: number;
  readonly to: number;
  /** Whether it comes to the tonic of the phrase (of its own key, where the phrase has none). */
  readonly comesHome: boolean;
  /** The Roman numerals of its chords in its key, each once where it goes on. */
  readonly numerals: readonly string[];
  /** The harmonies with which its chords begin, by their indexes. */
  readonly harmonies: readonly number[];
  /** Of an open ii–V: the minor chord that its V falls to and that goes on from there, by its symbol; null elsewhere. */
  readonly leadsTo: string | null;
}

/** Chords of one root and one kind that follow one another (G7sus, G7, G7b9) are one step; Gm6 before Gm7 and C7 is one of its own. */
interface Step {
  readonly chord: Chord;
  readonly kind: Kind;
  /** The index of its first harmony. */
  readonly harmony: number;
  readonly onset: Fraction;
  readonly end: Fraction;
  /** Bars, inclusive. */
  readonly from: number;
  readonly to: number;
}

type Kind = 'dominant' | 'minor' | 'half-diminished' | 'diminished' | 'major' | 'other';

interface Found {
  readonly id: ProgressionId;
  readonly key: Key;
  /** Indexes of steps, inclusive. */
  readonly first: number;
  readonly last: number;
  readonly isHome: boolean;
  /** Bars, inclusive, where it begins or ends within a step. */
  readonly bars?: readonly [number, number];
}

interface Chords {
  readonly steps: readonly Step[];
  readonly context: HarmonicContext;
  readonly phrase: Phrase;
  /** The tonic's pitch class; null where neither key nor chords tell it. */
  readonly tonic: number | null;
  /** Whether they begin with a chorus of a blues with other chords between. */
  readonly isSubstitutes: boolean;
}

/** In order of their first bars, the longest first; none where no chord is written, or nothing known is made of them. */
export const progressionsOf = ofReading(({ phrase, context }): readonly Progression[] => {
  const plain = {
    steps: stepsOf(context.harmonies, phrase),
    context,
    phrase,
    tonic: context.tonic === null ? null : chroma(context.tonic.tonic),
    isSubstitutes: false,
  };
  const chords: Chords = { ...plain, isSubstitutes: isSubstituteChorus(plain, 1) };
  const found = withoutParts([...wholes(chords), ...(context.vamp ? [] : FINDERS.flatMap((find) => find(chords)))]);
  return found
    .map(({ id, key, first, last, isHome, bars }): Progression => {
      const within = chords.steps.slice(first, last + 1);
      return {
        id,
        key,
        from: bars?.[0] ?? (id === 'turnaround' ? turnsFrom(within[0]!) : within[0]!.from),
        to: bars?.[1] ?? within[within.length - 1]!.to,
        comesHome: isHome && (chords.tonic === null || chroma(key.tonic) === chords.tonic),
        numerals: within.map(({ chord }) => numeral(chord, key)),
        harmonies: within.map(({ harmony }) => harmony),
        leadsTo: /-ii-v$/.test(id) && id !== 'chromatic-ii-v' ? leadsTo(chords, last) : null,
      };
    })
    .sort((a, b) => a.from - b.from || b.to - a.to);
});

function leadsTo(chords: Chords, five: number): string | null {
  const next = chords.steps[five + 1];
  return up(chords, five) === 5 && next?.kind === 'minor' ? chords.context.harmonies[next.harmony]!.symbol : null;
}

/** A turnaround is heard from the last two bars of its first chord on, however long that was before. */
function turnsFrom({ from, to }: Step): number {
  return Math.max(from, to - 1);
}

/** The numerals of all chords of a phrase in its key, each once where it goes on; null without a key. */
export function numeralsOf({ phrase, context }: Reading): readonly string[] | null {
  return context.tonic === null ? null : stepsOf(context.harmonies, phrase).map(({ chord }) => numeral(chord, context.tonic!));
}

function numeral(chord: Chord, key: Key): string {
  const plain = passing(chord, key) ?? functionInKey(chord, key);
  return chord.family === 'diminished-seventh' || chord.family === 'diminished'
    ? `${plain}°`
    : chord.family === 'half-diminished'
      ? `${plain}ø`
      : plain;
}

const DEGREES = ['i', 'ii', 'iii', 'iv', 'v', 'vi', 'vii'] as const;
/** Half steps above the tonic. */
const MAJOR = [0, 2, 4, 5, 7, 9, 11] as const;

/** A diminished chord that is spelled on a raised degree leads up from it: C#° in C is #i°. Null for any other. */
function passing({ family, root }: Chord, { tonic }: Key): string | null {
  if (family !== 'diminished-seventh' && family !== 'diminished') return null;
  const { diatonic, chromatic } = shiftBetween(tonic, root);
  return soundClass(chromatic - MAJOR[diatonic]!) === 1 ? `#${DEGREES[diatonic]!}` : null;
}

function stepsOf(harmonies: readonly Harmony[], phrase: Phrase): Step[] {
  const steps: { -readonly [K in keyof Step]: Step[K] }[] = [];
  for (const [index, { chord, onset, end }] of harmonies.entries()) {
    const before = steps[steps.length - 1];
    if (chord === null) continue;
    const kind = kindOf(chord);
    const goesOn =
      before !== undefined &&
      before.end.equals(onset) &&
      distanceUp(before.chord, chord) === 0 &&
      before.kind === kind &&
      !isNewTwo(before.chord, chord, harmonies[index + 1]?.chord ?? null);
    const to = barAt(phrase, end, 'before');
    if (goesOn) Object.assign(before, { end, to });
    else steps.push({ chord, kind, harmony: index, onset, end, from: barAt(phrase, onset, 'at'), to });
  }
  return steps;
}

/** After a minor chord with the sixth, which is a home, the same root with its seventh is the ii of the dominant that follows: Gm6 | Gm7 C7. */
function isNewTwo(before: Chord, own: Chord, next: Chord | null): boolean {
  const isTwoOfNext = next !== null && distanceUp(own, next) === 5 && kindOf(next) === 'dominant';
  return before.family === 'minor-sixth' && own.family === 'minor-seventh' && isTwoOfNext;
}

/** What a chord is in a progression. */
export function kindOf(chord: Chord): Kind {
  if (isDominant(chord) || chord.family === 'suspended') return 'dominant';
  if (isMinor(chord)) return 'minor';
  if (chord.family === 'half-diminished') return 'half-diminished';
  if (chord.family === 'diminished' || chord.family === 'diminished-seventh') return 'diminished';
  return chord.family === 'power' || chord.family === 'augmented' ? 'other' : 'major';
}

function barAt({ bars }: Phrase, time: Fraction, where: 'at' | 'before'): number {
  const starts = ({ onset, number }: Bar): boolean => number > 0 && (where === 'at' ? onset.compare(time) <= 0 : onset.compare(time) < 0);
  let index = lastNotAfter(bars, time);
  while (index >= 0 && bars[index] !== undefined && !starts(bars[index]!)) index -= 1;
  return bars[index]?.number ?? 1;
}

/** Blues of all kinds: what a phrase is as a whole, whatever its chords do besides. */
export const BLUES_FORMS: ReadonlySet<ProgressionId> = new Set(['blues', 'blues-with-substitutes', 'minor-blues']);

/** Smaller ones that a larger one is made of are told by that: the open ii–V of a turnaround, the V–I of a ii–V–I or a cycle. */
function withoutParts(found: readonly Found[]): readonly Found[] {
  const PARTS: readonly ProgressionId[] = ['short-ii-v', 'long-ii-v', 'v-i-major', 'v-i-minor'];
  const onStep: Found[][] = [];
  for (const one of found) for (let step = one.first; step <= one.last; step += 1) (onStep[step] ??= []).push(one);
  const inside = (one: Found): boolean =>
    onStep[one.first]!.some((other) => {
      if (other === one || other.last < one.last) return false;
      if (other.last - other.first <= one.last - one.first && !['backdoor', 'tritone-substitute'].includes(other.id)) return false;
      return !BLUES_FORMS.has(other.id);
    });
  const isOfTurnaround = (one: Found): boolean =>
    one.id === 'tritone-substitute' && onStep[one.first]!.some(({ id, last }) => id === 'turnaround' && last >= one.last);
  return found.filter((one) => !(PARTS.includes(one.id) && inside(one)) && !isOfTurnaround(one));
}

// ── Steps ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Half steps up from one step to the next one; null where something parts them. */
function up({ steps }: Chords, index: number): number | null {
  const [from, to] = [steps[index], steps[index + 1]];
  return from === undefined || to === undefined || !from.end.equals(to.onset) ? null : distanceUp(from.chord, to.chord);
}

function keyOn(tonic: NoteName, mode: Key['mode']): Key {
  return { tonic, mode };
}

function modeOf(chord: Chord): Key['mode'] {
  return isMinor(chord) || chord.family === 'half-diminished' ? 'minor' : 'major';
}

/** Whether a chord can be come home to: a major or minor one that is no ii of what follows, or the tonic's own dominant seventh in a blues. */
function isHome(chords: Chords, index: number): boolean {
  const step = chords.steps[index];
  if (step === undefined) return false;
  if (isTonic(chords, step))
    return step.kind === 'major' || step.kind === 'minor' || (step.kind === 'dominant' && chords.context.blues !== null);
  if (step.kind === 'major') return true;
  return step.kind === 'minor' && !isTwoOfNext(chords, index);
}

/** Whether the next step is the dominant of a minor chord that is its ii, or the substitute of that, on its way home: Fm7 Bb7, Fm7 E7 Ebmaj7. */
function isTwoOfNext(chords: Chords, index: number): boolean {
  if (chords.steps[index + 1]?.kind !== 'dominant') return false;
  const size = up(chords, index);
  return size === 5 || (size === 11 && up(chords, index + 1) === 11 && isHome(chords, index + 2));
}

function isTonic({ tonic }: Chords, { chord }: Step): boolean {
  return tonic !== null && chroma(chord.root) === tonic;
}

function isTwo({ kind }: Step): boolean {
  return kind === 'minor' || kind === 'half-diminished';
}

// ── Finders ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

type Find = (chords: Chords) => Found[];

function eachStep(chords: Chords, find: (index: number) => Found | null): Found[] {
  return chords.steps.flatMap((_, index) => find(index) ?? []);
}

const twoFive: Find = (chords) =>
  eachStep(chords, (index) => {
    const { steps } = chords;
    const [two, five, one] = [steps[index]!, steps[index + 1], steps[index + 2]];
    if (!isTwo(two) || five === undefined || five.kind !== 'dominant' || up(chords, index) !== 5) return null;
    const length = two.from === five.from ? 'short' : 'long';
    if (up(chords, index + 1) === 5 && isHome(chords, index + 2)) {
      const mode = modeOf(one!.chord);
      return { id: `${length}-ii-v-i-${mode}`, key: keyOn(one!.chord.root, mode), first: index, last: index + 2, isHome: true };
    }
    // A backdoor dominant and one that falls by half step are told as such.
    if (backdoorAt(chords, index) !== null || (up(chords, index + 1) === 11 && isHome(chords, index + 2))) return null;
    const tonic = transposeName(five.chord.root, { diatonic: 3, chromatic: 5 });
    const isKey = chords.context.tonic !== null && chords.tonic === chroma(tonic);
    // It slips down to the next one, and nobody hears a key of its own.
    if (!isKey && isHalfStepAboveNext(chords, index))
      return {
        id: 'chromatic-ii-v',
        key: chords.context.tonic ?? keyOn(transposeName(tonic, { diatonic: 0, chromatic: -1 }), 'major'),
        first: index,
        last: index + 1,
        isHome: false,
      };
    // An altered dominant is borrowed; the ii tells the key.
    return {
      id: `${length}-ii-v`,
      key: isKey ? chords.context.tonic! : keyOn(tonic, two.kind === 'half-diminished' ? 'minor' : 'major'),
      first: index,
      last: index + 1,
      isHome: false,
    };
  });

/** Whether a ii–V stands a half step above the ii–V that comes next. */
function isHalfStepAboveNext(chords: Chords, index: number): boolean {
  const [two, five] = [chords.steps[index + 2], chords.steps[index + 3]];
  return (
    two !== undefined &&
    isTwo(two) &&
    five?.kind === 'dominant' &&
    up(chords, index + 1) === 6 &&
    up(chords, index + 2) === 5 &&
    chords.steps[index]!.kind === 'minor'
  );
}

const fiveOne: Find = (chords) =>
  eachStep(chords, (index) => {
    const [five, one] = [chords.steps[index]!, chords.steps[index + 1]];
    if (one === undefined || up(chords, index) !== 5 || !isHome(chords, index + 1) || isMinorFour(chords, one)) return null;
    const isFive = five.kind === 'dominant' || (isPlainTriad(five.chord) && isTonic(chords, one));
    const mode = modeOf(one.chord);
    return isFive ? { id: `v-i-${mode}`, key: keyOn(one.chord.root, mode), first: index, last: index + 1, isHome: true } : null;
  });

/** The iv of a minor key has its dominant, and is no home (common practice). */
function isMinorFour(chords: Chords, step: Step): boolean {
  return chords.context.tonic?.mode === 'minor' && step.kind === 'minor' && isAbove(chords, step, 5);
}

/** iv–bVII7–I; without the I where iii stands for it, or where IV comes before (common practice). */
const backdoor: Find = (chords) => eachStep(chords, (index) => backdoorAt(chords, index));

function backdoorAt(chords: Chords, index: number): Found | null {
  const { steps, context } = chords;
  const [four, seven, one] = [steps[index]!, steps[index + 1], steps[index + 2]];
  if (!isTwo(four) || seven?.kind !== 'dominant' || up(chords, index) !== 5) return null;
  if (up(chords, index + 1) === 2 && isBackdoor(chords, index + 2))
    return { id: 'backdoor', key: keyOn(one!.chord.root, 'major'), first: index, last: index + 2, isHome: true };
  if (context.tonic?.mode !== 'major' || four.kind !== 'minor' || !isAbove(chords, four, 5)) return null;
  const isAfterFour = up(chords, index - 1) === 0 && steps[index - 1]!.kind === 'major';
  const goesToThree = up(chords, index + 1) === 6 && one?.kind === 'minor';
  return isAfterFour || goesToThree ? { id: 'backdoor', key: context.tonic, first: index, last: index + 1, isHome: false } : null;
}

function isBackdoor(chords: Chords, index: number): boolean {
  const one = chords.steps[index];
  return one?.kind === 'major' && (chords.tonic === null || isTonic(chords, one));
}

/** The dominant a half step above its home, its ii before it where there is one. */
const tritoneSubstitute: Find = (chords) =>
  eachStep(chords, (index) => {
    const [five, one] = [chords.steps[index]!, chords.steps[index + 1]];
    if (
      five.kind !== 'dominant' ||
      five.chord.family === 'suspended' ||
      one === undefined ||
      up(chords, index) !== 11 ||
      !isHome(chords, index + 1)
    )
      return null;
    // IV7 of a blues goes where it likes, and stands for no other.
    const isFour = isAbove(chords, five, 5);
    if (isFour && (chords.context.blues !== null || chords.isSubstitutes)) return null;
    const two = chords.steps[index - 1];
    const hasTwo = two !== undefined && isTwo(two) && [11, 5].includes(up(chords, index - 1) ?? -1);
    const mode = modeOf(one.chord);
    return { id: 'tritone-substitute', key: keyOn(one.chord.root, mode), first: hasTwo ? index - 1 : index, last: index + 1, isHome: true };
  });

/** I VI ii V, iii VI ii V, a diminished chord or a dominant a tritone away for any of them; counted from the tonic that the V would fall to. */
const turnaround: Find = (chords) => {
  const found: Found[] = [];
  for (let index = 0; index + 3 < chords.steps.length; index += 1) {
    const four = chords.steps.slice(index, index + 4);
    if (found.some(({ last }) => last >= index) || [0, 1, 2].some((i) => up(chords, index + i) === null)) continue;
    // Nothing but dominants is a cycle.
    if (four[3]!.kind !== 'dominant' || four.every(({ kind }) => kind === 'dominant')) continue;
    const key = turnKey(chords, four);
    if (key !== null && !fallsElsewhere(chords, index + 3, key))
      found.push({ id: 'turnaround', key, first: index, last: index + 3, isHome: false });
  }
  return found;
};

/** Whether a dominant falls a fifth to another chord than the tonic of a key: then it turns nothing round to that. */
function fallsElsewhere(chords: Chords, index: number, key: Key): boolean {
  return up(chords, index) === 5 && chroma(chords.steps[index + 1]!.chord.root) !== chroma(key.tonic);
}

function turnKey({ context }: Chords, [one, six, two, five]: readonly Step[]): Key | null {
  const above = (step: Step, tonic: number): number => soundClass(chroma(step.chord.root) - tonic);
  for (const [fall, diatonic, chromatic] of [
    [7, 3, 5],
    [1, 6, 11],
  ] as const) {
    const tonic = soundClass(chroma(five!.chord.root) - fall);
    const starts = above(one!, tonic) === 0 ? one!.kind !== 'half-diminished' : above(one!, tonic) === 4 && one!.kind !== 'major';
    const turns =
      [9, 3].includes(above(six!, tonic)) ||
      (above(six!, tonic) === 1 && six!.kind === 'diminished') ||
      (above(six!, tonic) === 8 && six!.kind === 'major');
    if (!starts || !turns || ![2, 8].includes(above(two!, tonic))) continue;
    if (context.tonic !== null && chroma(context.tonic.tonic) !== tonic) continue;
    if (context.tonic !== null) return context.tonic;
    const isFirst = above(one!, tonic) === 0;
    return keyOn(
      isFirst ? one!.chord.root : transposeName(five!.chord.root, { diatonic, chromatic }),
      isFirst ? modeOf(one!.chord) : 'major',
    );
  }
  return null;
}

const oneFourFiveOne: Find = (chords) =>
  eachStep(chords, (index) => {
    const [one, , five, last] = chords.steps.slice(index, index + 4);
    if (last === undefined || up(chords, index) !== 5 || up(chords, index + 1) !== 2 || up(chords, index + 2) !== 5) return null;
    const isFive = five!.kind === 'dominant' || isPlainTriad(five!.chord);
    if (
      !isFive ||
      !isHome(chords, index + 3) ||
      !['major', 'minor'].includes(one!.kind) ||
      (chords.tonic !== null && !isTonic(chords, one!))
    )
      return null;
    return { id: 'i-iv-v-i', key: keyOn(one!.chord.root, modeOf(last.chord)), first: index, last: index + 3, isHome: true };
  });

/** Three dominants or more, each falling a fifth or a half step to the next; the home they come to is one of them. */
const cycle: Find = (chords) => {
  const { steps } = chords;
  const found: Found[] = [];
  const falls = (index: number): boolean => [5, 11].includes(up(chords, index) ?? -1);
  // From I7 to IV7 a blues moves; it does not go round.
  const isBluesMove = (index: number): boolean => chords.context.blues === chroma(steps[index]!.chord.root);
  for (let first = 0; first < steps.length; first += 1) {
    let last = first;
    while (steps[last]!.kind === 'dominant' && falls(last) && steps[last + 1]!.kind === 'dominant' && !isBluesMove(last)) last += 1;
    if (last - first < 2) continue;
    const isAtHome = falls(last) && isHome(chords, last + 1);
    const end = steps[isAtHome ? last + 1 : last]!.chord;
    found.push({
      id: 'cycle',
      first,
      last: isAtHome ? last + 1 : last,
      isHome: isAtHome,
      key: isAtHome
        ? keyOn(end.root, modeOf(end))
        : (chords.context.tonic ?? keyOn(transposeName(end.root, { diatonic: 3, chromatic: 5 }), 'major')),
    });
    first = last;
  }
  return found;
};

/** IV, #iv°, I: the fifth of I, which the bass would pass to, is often left unwritten (common practice). */
function isFourToOne(chords: Chords, ...steps: readonly Step[]): boolean {
  return steps.every((step, i) => isAbove(chords, step, [5, 6, 0][i]!));
}

/** A diminished seventh between two chords, its bass a half step from both on the way through. */
const passingDiminished: Find = (chords) =>
  eachStep(chords, (index) => {
    const [before, passing, after] = [chords.steps[index]!, chords.steps[index + 1], chords.steps[index + 2]];
    if (passing?.kind !== 'diminished' || after === undefined || up(chords, index) === null || up(chords, index + 1) === null) return null;
    const bass = ({ chord }: Step): number => chroma(chord.bass ?? chord.root);
    const moves = [soundClass(bass(passing) - bass(before)), soundClass(bass(after) - bass(passing))];
    const isThrough = moves.every((size) => size === 1) || moves.every((size) => size === 11);
    if (!isThrough && !isFourToOne(chords, before, passing, after)) return null;
    return {
      id: 'passing-diminished',
      key: chords.context.tonic ?? keyOn(before.chord.root, modeOf(before.chord)),
      first: index,
      last: index + 2,
      isHome: false,
    };
  });

/** One root, its minor chord's 1 moving down: C, B, Bb (and A) over Cm, by the symbol or by its bass. */
const lineCliche: Find = ({ steps, context: { harmonies } }) => {
  const lead = ({ chord }: Harmony): number | null => {
    if (chord === null || !isMinor(chord)) return null;
    if (chord.bass !== null) return soundClass(chroma(chord.bass) - chroma(chord.root));
    return { minor: 0, 'minor-major-seventh': 11, 'minor-seventh': 10, 'minor-sixth': 9 }[
      chord.family as 'minor' | 'minor-major-seventh' | 'minor-seventh' | 'minor-sixth'
    ];
  };
  return steps.flatMap((step, index): Found[] => {
    const within = startingIn(harmonies, step.onset, step.end)
      .filter(({ chord }) => chord !== null)
      .map(lead);
    const starts = within.some((_, i) => [0, 11, 10].every((wanted, k) => within[i + k] === wanted));
    return starts ? [{ id: 'line-cliche', key: keyOn(step.chord.root, 'minor'), first: index, last: index, isHome: true }] : [];
  });
};

const FINDERS: readonly Find[] = [
  twoFive,
  fiveOne,
  backdoor,
  tritoneSubstitute,
  turnaround,
  oneFourFiveOne,
  cycle,
  passingDiminished,
  lineCliche,
];

/** What a phrase is as a whole: a blues, a vamp. */
function wholes(chords: Chords): Found[] {
  const { steps, context } = chords;
  const [first] = steps;
  if (first === undefined) return [];
  const whole = (id: ProgressionId, tonic: NoteName, mode: Key['mode']): Found => ({
    id,
    key: keyOn(tonic, mode),
    first: 0,
    last: steps.length - 1,
    isHome: true,
  });
  if (context.vamp) {
    const cliche = lineCliche(chords);
    return cliche.length > 0 ? cliche : [whole(vampOf(first.chord), first.chord.root, modeOf(first.chord))];
  }
  const blues = bluesOf(chords);
  if (blues !== null) return choruses(chords, whole('blues', blues, 'major'), isChorus);
  if (chords.isSubstitutes) return choruses(chords, whole('blues-with-substitutes', first.chord.root, 'major'), isSubstituteChorus);
  const minorBlues = minorBluesOf(chords);
  if (minorBlues !== null) return choruses(chords, whole('minor-blues', minorBlues, 'minor'), isChorus);
  return isModalVamp(chords) ? [whole('modal-vamp', first.chord.root, modeOf(first.chord))] : [];
}

function vampOf(chord: Chord): ProgressionId {
  if (isDominant(chord)) return 'dominant-vamp';
  if (chord.family === 'suspended') return 'suspended-vamp';
  return modeOf(chord) === 'minor' || chord.family.startsWith('diminished') ? 'minor-vamp' : 'major-vamp';
}

/** I7 with IV7 and I7 as home: it begins or ends there, or comes back to it; never where I is a major seventh, or minor. */
function bluesOf({ steps, context: { blues } }: Chords): NoteName | null {
  if (blues === null) return null;
  const onOne = steps.filter(({ chord }) => chroma(chord.root) === blues);
  const one = onOne.find(({ kind }) => kind === 'dominant');
  const isOther = ({ kind, chord }: Step): boolean =>
    kind === 'minor' || (kind === 'major' && chord.tones.some(({ interval }) => interval === 11));
  if (one === undefined || onOne.some(isOther)) return null;
  const isFour = ({ chord }: Step): boolean => soundClass(chroma(chord.root) - blues) === 5;
  const four = steps.findIndex(isFour);
  const comesBack = four >= 0 && steps.some((step, i) => i > four && step.kind === 'dominant' && chroma(step.chord.root) === blues);
  return comesBack || steps[0] === one ? one.chord.root : null;
}

const CHORUS = 12;

/** The choruses of twelve bars that a longer blues begins with; the whole where it is of another form, or shorter. */
function choruses(chords: Chords, whole: Found, isOne: (chords: Chords, from: number) => boolean): Found[] {
  const { steps } = chords;
  const last = steps[steps.length - 1]!.to;
  const found: Found[] = [];
  for (let from = 1; from + CHORUS - 1 <= last && isOne(chords, from); from += CHORUS) {
    const to = from + CHORUS - 1;
    found.push({ ...whole, first: stepIn(chords, from)!, last: stepIn(chords, to) ?? steps.length - 1, bars: [from, to] });
  }
  return found.length === 0 || (found.length === 1 && last === CHORUS) ? [whole] : found;
}

/** Whether twelve bars are a chorus of a blues: I in bars 1 and 11, IV in bar 5, V7 in bar 9 or 10 (common practice). */
function isChorus(chords: Chords, from: number): boolean {
  return isIn(chords, from, 0) && isIn(chords, from + 4, 5) && hasFive(chords, from) && isIn(chords, from + 10, 0);
}

/**
 * The form of twelve bars with other chords between: I, no dominant, in bar 1, IV7 in bar 5, V7 in bar 9 or 10. A IV that is no dominant
 * is reached by its own dominant or the substitute of that, and ii stands in bar 9, I or iii in bar 11 (common practice).
 */
function isSubstituteChorus(chords: Chords, from: number): boolean {
  const { steps } = chords;
  const [one, four] = [stepIn(chords, from), stepIn(chords, from + 4)];
  if (one === null || four === null || steps[one]!.kind !== 'major' || steps[four]!.from !== from + 4) return false;
  if (!isIn(chords, from, 0) || !isIn(chords, from + 4, 5) || !hasFive(chords, from)) return false;
  const last = steps[steps.length - 1]!.to;
  if (steps[four]!.kind === 'dominant') return last === CHORUS || (last > CHORUS && isIn(chords, from + 10, 0));
  const isReached = steps[four - 1]!.kind === 'dominant' && [5, 11].includes(up(chords, four - 1) ?? -1);
  const turns = isIn(chords, from + 10, 0) || isIn(chords, from + 10, 4);
  return steps[four]!.kind === 'major' && isReached && isIn(chords, from + 8, 2) && turns && last >= from + CHORUS - 1;
}

/** Whether the chord that a bar begins with stands so many half steps above the tonic. */
function isIn(chords: Chords, bar: number, above: number): boolean {
  const step = stepIn(chords, bar);
  return step !== null && isAbove(chords, chords.steps[step]!, above);
}

function isAbove({ tonic }: Chords, { chord }: Step, above: number): boolean {
  return tonic !== null && soundClass(chroma(chord.root) - tonic) === above;
}

/** Whether V7 begins in the ninth or tenth bar of a chorus. */
function hasFive(chords: Chords, from: number): boolean {
  const ninth = stepIn(chords, from + 8);
  const within = ninth === null ? [] : chords.steps.slice(ninth, ninth + MOST_IN_TWO_BARS);
  return within.some((step) => step.kind === 'dominant' && isAbove(chords, step, 7) && [from + 8, from + 9].includes(step.from));
}

const MOST_IN_TWO_BARS = 8;

/** The index of the step that sounds where a bar begins; null where there is none. */
function stepIn({ steps, phrase: { bars } }: Chords, bar: number): number | null {
  const written = bars[bar - 1 + bars.findIndex(({ number }) => number === 1)];
  if (written?.number !== bar) return null;
  const index = lastNotAfter(steps, written.onset);
  const step = steps[index];
  const sounds = step !== undefined && step.onset.compare(written.onset) <= 0 && written.onset.compare(step.end) < 0;
  return sounds ? index : null;
}

/** i iv i, where I7 may lead to iv, and a dominant that leads back to i, over eight bars at least. */
function minorBluesOf(chords: Chords): NoteName | null {
  const { steps } = chords;
  const isOn = (step: Step | undefined, above: number, kind: Step['kind']): boolean =>
    step !== undefined && step.kind === kind && isAbove(chords, step, above);
  const fourAfter = (one: number): number => (isOn(steps[one + 1], 0, 'dominant') ? one + 2 : one + 1);
  const at = steps.findIndex(
    (step, i) => isOn(step, 0, 'minor') && isOn(steps[fourAfter(i)], 5, 'minor') && isOn(steps[fourAfter(i) + 1], 0, 'minor'),
  );
  if (at < 0) return null;
  const leadsBack = steps.some((step, i) => i > fourAfter(at) + 1 && isOn(step, 7, 'dominant') && isOn(steps[i + 1], 0, 'minor'));
  const isLong = steps[steps.length - 1]!.to - steps[0]!.from >= 7;
  return leadsBack && isLong ? steps[at]!.chord.root : null;
}

/** Two chords of one mode, there and back, or a step apart; not one that falls to the other as its dominant. */
function isModalVamp(chords: Chords): boolean {
  const { steps } = chords;
  const [one, two] = steps;
  if (one === undefined || two === undefined) return false;
  if (
    steps.some(({ chord, kind }, i) => distanceUp(chord, (i % 2 === 0 ? one : two).chord) !== 0 || kind !== (i % 2 === 0 ? one : two).kind)
  )
    return false;
  const apart = distanceUp(one.chord, two.chord);
  const isStep = [1, 2, 10, 11].includes(apart) && one.kind === two.kind;
  const falls = (from: Step, to: Step): boolean => from.kind === 'dominant' && [5, 11].includes(distanceUp(from.chord, to.chord));
  const isOpenTwoFive =
    isTwo(one) && two.kind === 'dominant' && apart === 5 && (chords.context.tonic === null ? steps.length < 4 : !isTonic(chords, one));
  // I–IV–I moves within a major key, i–iv–i within a minor one.
  const isFour = one.kind === two.kind && ['major', 'minor'].includes(one.kind) && [5, 7].includes(apart);
  if (isFour || (steps.length < 3 && !isStep) || falls(one, two) || falls(two, one) || isOpenTwoFive) return false;
  const sounds = new Set([...one.chord.tones, ...two.chord.tones].map(({ name }) => chroma(name)));
  return Array.from({ length: 12 }, (_, root) => [0, 2, 4, 5, 7, 9, 11].map((tone) => (root + tone) % 12)).some((mode) =>
    [...sounds].every((sound) => mode.includes(sound)),
  );
}
