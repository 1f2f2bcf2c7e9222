/** One `note` of a score as it is kept: a pitch with marks and ties, a rest, or nothing. */
import type { Letter } from '../../../grammar/tree';
import { transposePitch, type Shift } from '../theory/interval';
import { midi, pitchInText, writable } from '../theory/pitch';
import type { Pitch } from '../theory/types';
import type { Report } from './report';
import type { ImportMark, TuneNote } from './types';
import { childOf, childrenOf, numberAt, textAt, type XmlNode } from './xml';

/** The kept part of a note; null for a rest and for what sounds no pitch. What is lost is reported. */
export function soundOf(note: XmlNode, shift: Shift, report: Report, measure: string): Pick<TuneNote, 'pitch' | 'marks' | 'tie'> | null {
  if (childOf(note, 'rest') !== undefined) return null;
  reportLost(note, report, measure);
  if (childOf(note, 'unpitched') !== undefined) {
    report.leftOut('percussion notes, which have no pitch: rests stand in their place', measure);
    return null;
  }
  const head = childOf(note, 'notehead');
  if (head !== undefined && /^slash/.test(head.text)) {
    report.leftOut('rhythm slashes: rests stand in their place', measure);
    return null;
  }
  const written = pitchOf(note, report, measure);
  if (written === null) return null;
  const pitch = writable(transposePitch(written, shift));
  if (pitchInText(pitch) === null) {
    report.leftOut('a note in an octave below 0 or above 9: a rest stands in its place', measure);
    return null;
  }
  return { pitch, marks: marksOf(note, head), tie: tieOf(note) };
}

function pitchOf(note: XmlNode, report: Report, measure: string): Pitch | null {
  const letter = textAt(note, 'pitch', 'step');
  const octave = numberAt(note, 'pitch', 'octave');
  const alter = numberAt(note, 'pitch', 'alter') ?? 0;
  if (
    letter === null ||
    !/^[A-G]$/.test(letter) ||
    octave === null ||
    !Number.isInteger(octave) ||
    Math.abs(octave) > 20 ||
    Math.abs(alter) > 4
  ) {
    report.leftOut('a note whose pitch cannot be read: a rest stands in its place', measure);
    return null;
  }
  if (!Number.isInteger(alter)) report.leftOut('quarter tones', measure);
  return writable({ letter: letter as Letter, alter: Math.trunc(alter), octave });
}

function marksOf(note: XmlNode, head: XmlNode | undefined): ImportMark[] {
  const articulations = childrenOf(note, 'notations').flatMap((one) => childrenOf(one, 'articulations'));
  const has = (name: string): boolean => articulations.some((one) => childOf(one, name) !== undefined);
  return [
    ...(has('accent') ? ['accent' as const] : []),
    ...(has('strong-accent') ? ['short-accent' as const] : []),
    ...(head?.attributes['parentheses'] === 'yes' ? ['ghost' as const] : []),
  ];
}

/** Ties as they sound; some files only draw them. */
function tieOf(note: XmlNode): TuneNote['tie'] {
  const drawn = childrenOf(note, 'notations').flatMap((one) => childrenOf(one, 'tied'));
  const types = [...childrenOf(note, 'tie'), ...drawn].map(({ attributes }) => attributes['type']);
  return { from: types.includes('start'), to: types.includes('stop') };
}

const KEPT_NOTATIONS = new Set(['tied', 'tuplet', 'accidental-mark', 'articulations']);
const KEPT_ARTICULATIONS = new Set(['accent', 'strong-accent']);
const NAMES: Readonly<Record<string, string>> = {
  slur: 'slurs',
  slide: 'slides',
  glissando: 'glissandos',
  fermata: 'fermatas',
  arpeggiate: 'arpeggio signs',
  dynamics: 'dynamics',
  scoop: 'scoops',
  plop: 'plops',
  doit: 'doits',
  falloff: 'falls',
};

function reportLost(note: XmlNode, report: Report, measure: string): void {
  if (childOf(note, 'lyric') !== undefined) report.leftOut('lyrics', measure);
  for (const { name, children, attributes } of childrenOf(note, 'notations').flatMap((one) => one.children)) {
    if (name === 'ornaments' || name === 'technical')
      for (const child of children) report.leftOut(`${name === 'ornaments' ? 'ornaments' : 'playing marks'} (${child.name})`, measure);
    else if (name === 'articulations')
      for (const child of children)
        if (!KEPT_ARTICULATIONS.has(child.name)) report.leftOut(NAMES[child.name] ?? `${child.name} marks`, measure);
    if (
      !KEPT_NOTATIONS.has(name) &&
      name !== 'ornaments' &&
      name !== 'technical' &&
      attributes['type'] !== 'stop' &&
      attributes['type'] !== 'continue'
    )
      report.leftOut(NAMES[name] ?? name, measure);
  }
}

/** The higher of two, by sound. */
export function isHigher(a: Pitch, b: Pitch): boolean {
  return midi(a) > midi(b);
}
