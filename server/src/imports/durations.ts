/** How long a note lasts, exactly: many files round tuplets to whole divisions, while type, dots and tuplet say what is meant. */
import { Fraction } from '../model/fraction';
import { Unreadable } from './unreadable';
import { childOf, childrenOf, numberAt, textAt, type XmlNode } from './xml';

/** Note types of MusicXML 4.0 (`note-type-value`) in quarters. */
const TYPES: Readonly<Record<string, Fraction>> = Object.fromEntries(
  ['1024th', '512th', '256th', '128th', '64th', '32nd', '16th', 'eighth', 'quarter', 'half', 'whole', 'breve', 'long', 'maxima'].map(
    (type, i) => [type, new Fraction(2).pow(i - 8)!],
  ),
);

/** A length in divisions as it stands; throws `Unreadable` where there is none or it is below zero. */
export function ticksOf(node: XmlNode, measure: string): number {
  const ticks = numberAt(node, 'duration');
  if (ticks === null) throw new Unreadable(`measure ${measure}: a ${node.name} has no duration that can be read.`);
  if (ticks < 0)
    throw new Unreadable(`measure ${measure}: a ${node.name} lasts ${ticks} divisions; a duration is above zero. Export the score again.`);
  return ticks;
}

/** The note's length in quarters. Where its type with dots and tuplet is less than a division away from its duration, the type decides. */
export function lengthOf(note: XmlNode, ticks: number, divisions: number): Fraction {
  const counted = new Fraction(ticks).div(divisions);
  const meant = typeLength(note);
  if (meant === null || childOf(note, 'time-modification') === undefined) return counted;
  return meant.sub(counted).abs().compare(new Fraction(1).div(divisions)) < 0 ? meant : counted;
}

/** More than anybody reads. */
const MOST_DOTS = 4;

/** A type's length in quarters; null for a type that is none, and with more dots than are read. */
export function valueOf(type: string | null, dots: number): Fraction | null {
  if (type === null || !Object.hasOwn(TYPES, type) || dots > MOST_DOTS) return null;
  // One dot makes it 3/2 as long, two 7/4.
  return TYPES[type]!.mul(new Fraction(2).sub(new Fraction(1, 2).pow(dots)!));
}

function typeLength(note: XmlNode): Fraction | null {
  const plain = valueOf(textAt(note, 'type'), childrenOf(note, 'dot').length);
  const actual = numberAt(note, 'time-modification', 'actual-notes');
  const normal = numberAt(note, 'time-modification', 'normal-notes');
  return plain === null || actual === null || normal === null || actual <= 0 || normal <= 0
    ? null
    : plain.mul(new Fraction(normal)).div(new Fraction(actual));
}
