/** Which scale each chord takes, by where the phrase goes (THEORY: which scale a chord takes). */
import type { Bar, Note, Phrase } from '../model/types';
import { formatFigure } from '../theory/figure';
import { chroma } from '../theory/pitch';
import { holds, scale } from '../theory/scale';
import type { Chord, Scale, ScaleName } from '../theory/types';
import { barsByNumber } from './places';
import { falls, fallsFifth, isPlainTriad, isTonicLike, targetOf, type HarmonicContext, type Harmony } from './harmonies';
import { ofReading } from './of-reading';
import type { Reading } from './types';
import { isDominant, isMinor } from './vocabulary';

/** Scales of which the one that holds most of what is played is taken; ties in the order given. */
type Choice = readonly ScaleName[];

/** One scale a harmony; null over N.C., an unread chord, or a power chord without a key. */
export function chordScales(phrase: Phrase, context: HarmonicContext): readonly (Scale | null)[] {
  let counted: Map<string, number[]> | null = null;
  return context.harmonies.map((harmony) =>
    scaleOf(harmony, context, () => {
      counted ??= pitchesBySymbol(phrase, context);
      return counted.get(harmony.symbol) ?? [];
    }),
  );
}

/** `played` are the pitch classes that count over its symbol, in any order; asked only where they decide. */
function scaleOf(harmony: Harmony, context: HarmonicContext, played: () => readonly number[]): Scale | null {
  const { chord } = harmony;
  if (chord === null) return null;
  if (harmony.span.statedScale !== null) return scale(chord.root, harmony.span.statedScale);
  if (chord.family === 'power')
    return context.tonic === null ? null : scale(context.tonic.tonic, context.tonic.mode === 'major' ? 'ionian' : 'aeolian');
  return pick(chord, choices(chord, harmony, context), played);
}

/** How many notes count for each pitch class over a symbol. */
type Tally = Map<string, number[]>;

const tallyOfAll = ofReading(({ phrase, context }): Tally => tallyOf(phrase.notes, undefined, context, barsByNumber(phrase)));

/** Whether every chord keeps its scale where notes `from` to `to` (exclusive) of a phrase give way to others. What is played over a symbol anywhere decides, hence the whole is asked. */
export function keepScales(
  whole: Reading,
  { from, to, instead }: { readonly from: number; readonly to: number; readonly instead: readonly Note[] },
): boolean {
  const { phrase, context, scales } = whole;
  const bars = barsByNumber(phrase);
  const all = tallyOfAll(whole);
  const next = phrase.notes[to];
  const gone = tallyOf(phrase.notes.slice(from, to), next, context, bars);
  const come = tallyOf(instead, next, context, bars);
  const changed = new Map(
    [...new Set([...gone.keys(), ...come.keys()])].flatMap((symbol) => {
      const before = all.get(symbol) ?? none();
      const after = before.map((count, pitch) => count - (gone.get(symbol)?.[pitch] ?? 0) + (come.get(symbol)?.[pitch] ?? 0));
      return after.some((count, pitch) => count > 0 !== before[pitch]! > 0)
        ? [[symbol, after.flatMap((count, pitch) => (count > 0 ? [pitch] : []))] as const]
        : [];
    }),
  );
  return context.harmonies.every((harmony) => {
    const played = changed.get(harmony.symbol);
    return played === undefined || scaleOf(harmony, context, () => played)?.name === scales[harmony.span.index]?.name;
  });
}

function none(): number[] {
  return Array<number>(12).fill(0);
}

/** `after` is the note that follows the last of them. */
function tallyOf(notes: readonly Note[], after: Note | undefined, context: HarmonicContext, bars: ReadonlyMap<number, Bar>): Tally {
  const tally: Tally = new Map();
  notes.forEach((note, i) => {
    if (note.span === null || !counts(note, notes[i + 1] ?? after, bars)) return;
    const { symbol } = context.harmonies[context.ofSpan[note.span]!]!;
    const found = tally.get(symbol) ?? none();
    found[chroma(note.pitch)]! += 1;
    tally.set(symbol, found);
  });
  return tally;
}

/** Short offbeat notes left by half step do not count. */
function counts(note: Note, next: Note | undefined, bars: ReadonlyMap<number, Bar>): boolean {
  const short = note.beat.includes('+') && note.duration.compare(bars.get(note.bar)!.meter.beat) < 0;
  return !(short && next !== undefined && Math.abs(next.midi - note.midi) === 1);
}

/** The distinct pitch classes that count over each symbol in the phrase. */
function pitchesBySymbol(phrase: Phrase, context: HarmonicContext): Map<string, number[]> {
  const tally = tallyOf(phrase.notes, undefined, context, barsByNumber(phrase));
  return new Map([...tally].map(([symbol, found]) => [symbol, found.flatMap((count, pitch) => (count > 0 ? [pitch] : []))]));
}

function pick(chord: Chord, list: readonly Choice[], played: () => readonly number[]): Scale {
  for (const choice of list) {
    const fitting = choice.map((name) => scale(chord.root, name)).filter((candidate) => holds(candidate, chord));
    if (fitting.length === 0) continue;
    if (fitting.length === 1) return fitting[0]!;
    const held = fitting.map(({ sounds }) => played().filter((pitch) => sounds.has(pitch)).length);
    return fitting[held.indexOf(Math.max(...held))]!;
  }
  // A symbol that no single scale holds (a plain chord with clashing additions): the nearest by its third and seventh.
  return scale(chord.root, list[list.length - 1]?.[0] ?? 'ionian');
}

/** The scales for a chord in its place, first choice first. */
function choices(chord: Chord, harmony: Harmony, context: HarmonicContext): readonly Choice[] {
  if (isDominant(chord)) return dominantChoices(chord, harmony, context);
  if (isMinor(chord)) return minorChoices(chord, harmony, context);
  switch (chord.family) {
    case 'suspended':
      return [...suspendedChoices(chord)];
    case 'half-diminished':
      return [['locrian', 'locrian natural 9']];
    case 'diminished':
      return isOn(chord, context, 11, 'major') ? [['locrian'], ['whole-half diminished']] : [['whole-half diminished']];
    case 'diminished-seventh':
      return [['whole-half diminished']];
    case 'augmented':
      return [['whole tone']];
    case 'augmented-major-seventh':
      return [['lydian augmented']];
    default:
      return majorChoices(chord, harmony, context);
  }
}

function majorChoices(chord: Chord, harmony: Harmony, context: HarmonicContext): readonly Choice[] {
  if (isTonicLike(context, harmony)) return [['ionian'], ['lydian'], ['mixolydian']];
  const onFive = isOn(chord, context, 7, 'any');
  if (isPlainTriad(chord) && (onFive || fallsFifth(chord, targetOf(context, harmony)))) return [['mixolydian'], ['lydian']];
  return [['lydian'], ['ionian']];
}

function minorChoices(chord: Chord, harmony: Harmony, context: HarmonicContext): readonly Choice[] {
  const other: Choice = ['dorian', 'aeolian'];
  if (chord.family === 'minor-sixth') return [['melodic minor', 'dorian']];
  if (chord.family === 'minor-major-seventh') return [['melodic minor', 'harmonic minor']];
  const target = targetOf(context, harmony);
  const isTwo = fallsFifth(chord, target) && target !== null && (isDominant(target) || target.family === 'suspended');
  if (isTwo) return [['dorian'], other];
  if (context.vamp || context.tonic === null) return [['dorian', 'aeolian', 'melodic minor', 'harmonic minor'], other];
  const inKey = minorInKey(chord, context);
  if (inKey !== null) return [inKey, other];
  if (chord.family === 'minor') return [TONIC_MINOR, other];
  return [other];
}

const TONIC_MINOR: Choice = ['aeolian', 'dorian', 'melodic minor', 'harmonic minor'];

function minorInKey(chord: Chord, context: HarmonicContext): Choice | null {
  if (isOn(chord, context, 0, 'minor')) return TONIC_MINOR;
  if (isOn(chord, context, 2, 'major')) return ['dorian'];
  if (isOn(chord, context, 4, 'major')) return ['phrygian'];
  if (isOn(chord, context, 9, 'major')) return ['aeolian'];
  if (isOn(chord, context, 5, 'minor')) return ['dorian'];
  if (isOn(chord, context, 7, 'minor')) return ['phrygian'];
  return null;
}

/** Whether a chord stands so many half steps above the tonic of a key of that mode. */
function isOn(chord: Chord, { tonic }: HarmonicContext, halfSteps: number, mode: 'major' | 'minor' | 'any'): boolean {
  if (tonic === null || (mode !== 'any' && tonic.mode !== mode)) return false;
  return (chroma(chord.root) - chroma(tonic.tonic) + 12) % 12 === halfSteps;
}

function suspendedChoices(chord: Chord): readonly Choice[] {
  if (chord.tones.some((tone) => tone.interval === 11)) return [['ionian'], ['lydian']];
  if (chord.alterations.some((figure) => figure.number === 9 && figure.alter === -1)) return [['dorian b2'], ['mixolydian']];
  return [['mixolydian'], ['dorian b2']];
}

function dominantChoices(chord: Chord, harmony: Harmony, context: HarmonicContext): readonly Choice[] {
  const bySymbol = alteredChoices(chord);
  if (bySymbol !== null) return [bySymbol, ...ALTERED_FALLBACKS];
  const plain = plainDominant(chord, harmony, context);
  return [...plain, ['mixolydian'], ['lydian dominant'], ...ALTERED_FALLBACKS];
}

/** What else may hold an altered dominant where the first choice does not. */
const ALTERED_FALLBACKS: readonly Choice[] = [
  ['half-whole diminished'],
  ['altered'],
  ['mixolydian b9 b13'],
  ['mixolydian b13'],
  ['lydian dominant'],
  ['whole tone'],
  ['mixolydian'],
];

/** The scale that the alterations written in a dominant's symbol call for; null where there are none. */
function alteredChoices(chord: Chord): Choice | null {
  if (chord.family === 'altered') return ['altered'];
  const written = new Set(chord.tones.map((tone) => formatFigure(tone.figure)));
  const has = (figure: string): boolean => written.has(figure);
  if (has('#9') && (has('b13') || has('#5'))) return ['altered'];
  if (has('b9') && has('#5')) return ['altered'];
  if (has('#9') || (has('b9') && (has('13') || has('#11') || has('b5')))) return ['half-whole diminished'];
  if (has('b9') && has('b13')) return ['mixolydian b9 b13'];
  if (has('b9')) return ['mixolydian b9 b13', 'half-whole diminished'];
  if (has('b13')) return ['mixolydian b13'];
  if (has('#11') || has('b5')) return ['lydian dominant'];
  if (has('#5')) return ['whole tone'];
  return null;
}

function plainDominant(chord: Chord, harmony: Harmony, context: HarmonicContext): readonly Choice[] {
  if (context.blues !== null || context.vamp) return [['mixolydian']];
  const target = targetOf(context, harmony);
  const lastOnMinorFive = target === null && isOn(chord, context, 7, 'minor');
  if ((fallsFifth(chord, target) && target !== null && (isMinor(target) || target.family === 'half-diminished')) || lastOnMinorFive) {
    return [['mixolydian b9 b13'], ['mixolydian b13'], ['mixolydian']];
  }
  const fallsSomehow = fallsFifth(chord, target) || isOn(chord, context, 7, 'any') || (target === null && falls(context, harmony));
  return fallsSomehow ? [['mixolydian']] : [['lydian dominant']];
}
