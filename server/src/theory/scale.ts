/** Chord-scales, spelled on any root. */
import { distance } from 'fastest-levenshtein';
import { figureInterval, figureName, parseFigure } from './figure';
import { chroma, formatNoteName } from './pitch';
import { SCALE_FIGURES } from './scale-data';
import type { Chord, Figure, NoteName, Scale, ScaleName } from './types';

export const SCALE_NAMES = Object.keys(SCALE_FIGURES) as readonly ScaleName[];

const figures = new Map(SCALE_NAMES.map((name) => [name, SCALE_FIGURES[name].split(' ').map((text): Figure => parseFigure(text)!)]));
const memory = new Map<string, Scale>();

/** The scale of that name on a root: one object, so that scales are the same where they are identical. */
export function scale(root: NoteName, name: ScaleName): Scale {
  const key = formatScale({ root, name });
  const known = memory.get(key);
  if (known !== undefined) return known;
  const tones = figures.get(name)!.map((figure) => ({ figure, name: figureName(root, figure), interval: figureInterval(figure) }));
  const made: Scale = { name, root, tones, sounds: new Set(tones.map((tone) => chroma(tone.name))) };
  memory.set(key, made);
  return made;
}

/** `C altered`. */
export function formatScale({ root, name }: Pick<Scale, 'root' | 'name'>): string {
  return `${formatNoteName(root)} ${name}`;
}

export function isPentatonic({ name }: Pick<Scale, 'name'>): boolean {
  return name === 'major pentatonic' || name === 'minor pentatonic';
}

/** Whether a scale holds every tone written in a symbol; an unwritten fifth may give way to b13 or #5. */
export function holds(candidate: Scale, chord: Chord): boolean {
  const held = new Set(candidate.tones.map((tone) => tone.interval));
  return chord.tones.every(
    (tone) => held.has(tone.interval) || (tone.interval === 7 && (held.has(8) || held.has(6)) && isUnwrittenFifth(chord)),
  );
}

/** Symbols name a natural fifth only by their family; none writes it out, except a power chord and a sus chord's frame. */
function isUnwrittenFifth(chord: Chord): boolean {
  return chord.family !== 'power' && chord.family !== 'suspended';
}

/** The scale a writer states after a colon (`lydian-dominant`), or null. */
export function scaleNameFromText(text: string): ScaleName | null {
  const plain = text.toLowerCase().replaceAll('♭', 'b').replaceAll('♯', '#');
  return SCALE_NAMES.find((name) => scaleText(name) === plain) ?? null;
}

/** A scale's name as it is typed: hyphens for spaces. */
export function scaleText(name: ScaleName): string {
  return name.replaceAll(' ', '-');
}

/** Names near a text, nearest first; a part of a name (`blues`, `bebop`) finds those that have it. */
export function nearestScaleNames(text: string): ScaleName[] {
  const words = text
    .slice(0, 40)
    .toLowerCase()
    .split('-')
    .filter((word) => word.length > 3 && word !== 'scale');
  const having = words.length === 0 ? [] : SCALE_NAMES.filter((name) => words.every((word) => name.split(/[ -]/).includes(word)));
  return [...new Set([...having, ...nearest(text.slice(0, 40), SCALE_NAMES, scaleText)])].slice(0, 3);
}

/** The entries whose names are near a text, nearest first; far ones are left out. */
export function nearest<T>(text: string, entries: readonly T[], nameOf: (entry: T) => string): T[] {
  const plain = text.toLowerCase();
  return entries
    .map((entry) => ({ entry, off: distance(plain, nameOf(entry).toLowerCase()) }))
    .filter(({ off }) => off <= Math.max(2, plain.length / 2))
    .sort((a, b) => a.off - b.off)
    .slice(0, 3)
    .map(({ entry }) => entry);
}
