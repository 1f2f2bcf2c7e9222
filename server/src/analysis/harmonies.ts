/**
 * Where the chords go: neighbours with one symbol joined, the target of each, which dominants fall, and the tonic the phrase
 * turns on (THEORY: which scale a chord takes).
 */
import type { Fraction } from '../model/fraction';
import type { ChordSpan, Phrase } from '../model/types';
import { chroma } from '../theory/pitch';
import type { Chord, Key } from '../theory/types';
import { isDominant, isMinor } from './vocabulary';

/** One chord as it is heard: spans of one symbol that follow each other are one. */
export interface Harmony {
  readonly index: number;
  readonly onset: Fraction;
  readonly end: Fraction;
  readonly chord: Chord | null;
  readonly symbol: string;
  /** The first span of it. */
  readonly span: ChordSpan;
}

export interface HarmonicContext {
  readonly harmonies: readonly Harmony[];
  /** The harmony of each span. */
  readonly ofSpan: readonly number[];
  /** The key as written, else the one the phrase's own falls suggest, else null. */
  readonly tonic: Key | null;
  /** One root all through. */
  readonly vamp: boolean;
  /** The tonic's pitch class where the phrase is a blues, else null. */
  readonly blues: number | null;
}

export function harmonicContext(phrase: Phrase): HarmonicContext {
  const { harmonies, ofSpan } = joinSpans(phrase.spans);
  const roots = new Set(chordsOf(harmonies).map(({ root }) => chroma(root)));
  const vamp = roots.size === 1;
  const tonic = phrase.key ?? suggestedKey(harmonies, vamp);
  return { harmonies, ofSpan, tonic, vamp, blues: bluesTonic(harmonies, phrase.key, vamp) };
}

function chordsOf(harmonies: readonly Harmony[]): Chord[] {
  return harmonies.map(({ chord }) => chord).filter((chord) => chord !== null);
}

function joinSpans(spans: readonly ChordSpan[]): { harmonies: Harmony[]; ofSpan: number[] } {
  const harmonies: { -readonly [K in keyof Harmony]: Harmony[K] }[] = [];
  const ofSpan: number[] = [];
  for (const span of spans) {
    const last = harmonies[harmonies.length - 1];
    if (last !== undefined && last.symbol === span.symbol && last.span.statedScale === span.statedScale) last.end = span.end;
    else harmonies.push({ index: harmonies.length, onset: span.onset, end: span.end, chord: span.chord, symbol: span.symbol, span });
    ofSpan.push(harmonies.length - 1);
  }
  return { harmonies, ofSpan };
}

/** Half steps up from a root to the next, 0 to 11. */
export function distanceUp(from: Chord, to: Chord): number {
  return (chroma(to.root) - chroma(from.root) + 12) % 12;
}

/** The next chord with another root. */
export function targetOf({ harmonies }: Pick<HarmonicContext, 'harmonies'>, harmony: Harmony): Chord | null {
  if (harmony.chord === null) return null;
  for (let i = harmony.index + 1; i < harmonies.length; i += 1) {
    const chord = harmonies[i]!.chord;
    if (chord !== null && distanceUp(harmony.chord, chord) !== 0) return chord;
  }
  return null;
}

/** The chord with another root that comes just before; null across no chord at all. */
function sourceOf(harmonies: readonly Harmony[], harmony: Harmony): Chord | null {
  if (harmony.chord === null) return null;
  for (let i = harmony.index - 1; i >= 0; i -= 1) {
    const chord = harmonies[i]!.chord;
    if (chord !== null && distanceUp(harmony.chord, chord) !== 0) return chord;
  }
  return null;
}

export function fallsFifth(from: Chord, to: Chord | null): boolean {
  return to !== null && distanceUp(from, to) === 5;
}

function fallsHalfStep(from: Chord, to: Chord | null): boolean {
  return to !== null && distanceUp(from, to) === 11;
}

export function isPlainTriad(chord: Chord): boolean {
  return chord.family === 'major' && chord.alterations.every((figure) => figure.alter === 0);
}

/** Whether a dominant falls: a fifth or a half step, as the key's V7, or as the phrase's last chord (not in a blues). */
export function falls(context: HarmonicContext, harmony: Harmony): boolean {
  const { chord } = harmony;
  if (chord === null || !isDominant(chord) || context.vamp) return false;
  const target = targetOf(context, harmony);
  if (fallsFifth(chord, target) || fallsHalfStep(chord, target)) return true;
  if (context.tonic !== null && chroma(chord.root) === (chroma(context.tonic.tonic) + 7) % 12) return true;
  return target === null && context.blues === null;
}

/** Whether a maj7, 6 or plain triad is heard as home. */
export function isTonicLike(context: HarmonicContext, harmony: Harmony): boolean {
  const { chord } = harmony;
  if (chord === null) return false;
  if (context.vamp) return true;
  if (context.tonic !== null) {
    const above = (chroma(chord.root) - chroma(context.tonic.tonic) + 12) % 12;
    if (above === 0 || (context.tonic.mode === 'minor' && above === 3)) return true;
  }
  return isTargetOfDominant(context.harmonies, harmony);
}

function isTargetOfDominant(harmonies: readonly Harmony[], harmony: Harmony): boolean {
  const source = sourceOf(harmonies, harmony);
  if (source === null || harmony.chord === null || !isDominant(source)) return false;
  return fallsFifth(source, harmony.chord) || fallsHalfStep(source, harmony.chord);
}

const HOME = new Set(['major', 'major-sixth', 'major-seventh']);

/** Without a written key, the first home that a dominant falls to is the tonic; a vamp is its own. */
function suggestedKey(harmonies: readonly Harmony[], vamp: boolean): Key | null {
  const first = harmonies.find(({ chord }) => chord !== null)?.chord;
  if (vamp && first != null) return { tonic: first.root, mode: isMinor(first) ? 'minor' : 'major' };
  for (const harmony of harmonies) {
    const { chord } = harmony;
    if (chord === null || !isTargetOfDominant(harmonies, harmony)) continue;
    if (HOME.has(chord.family)) return { tonic: chord.root, mode: 'major' };
    const next = targetOf({ harmonies }, harmony);
    const isTwo = fallsFifth(chord, next) && next !== null && (isDominant(next) || next.family === 'suspended');
    if (isMinor(chord) && !isTwo) return { tonic: chord.root, mode: 'minor' };
  }
  return null;
}

/**
 * A blues has I7 with IV7 or iv7, or I7 alone as a vamp. Without a key, I7 is the first chord, and comes back after the IV:
 * else any chain of dominants falling by fifths would look like one.
 */
function bluesTonic(harmonies: readonly Harmony[], key: Key | null, vamp: boolean): number | null {
  const chords = chordsOf(harmonies);
  const one = key === null ? chords[0] : chords.find((chord) => isDominant(chord) && chroma(chord.root) === chroma(key.tonic));
  if (one === undefined || !isDominant(one)) return null;
  if (vamp) return key === null || chroma(key.tonic) === chroma(one.root) ? chroma(one.root) : null;
  const four = chords.findIndex((chord) => distanceUp(one, chord) === 5 && (isDominant(chord) || chord.family === 'minor-seventh'));
  if (four < 0) return null;
  const returns = chords.slice(four).some((chord) => distanceUp(one, chord) === 0 && isDominant(chord));
  return key !== null || returns ? chroma(one.root) : null;
}
