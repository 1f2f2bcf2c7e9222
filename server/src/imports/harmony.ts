/** A `harmony` of MusicXML as a chord symbol of the language, or the reason why it is none. */

import { formatNoteName, nameOf, plainSpelling } from '../theory/pitch';
import type { NoteName } from '../theory/types';
import { qualityOf, sameTones, tonesOf, tonesRead, type KindDegree, type Tones } from './chord-kinds';
import { childOf, childrenOf, numberAt, textAt, type XmlNode } from './xml';
import type { Letter } from '../../../grammar/tree';

export type HarmonyRead =
  | { readonly symbol: string; readonly left: readonly string[] }
  /** What the file says, to be told. */
  | { readonly unknown: string };

export const NO_CHORD = 'N.C.';

/** More accidentals than that have no sign. */
const MOST_ALTERED = 3;

/** `toConcert` takes a name as written to the one that sounds. */
export function readHarmony(node: XmlNode, toConcert: (name: NoteName) => NoteName): HarmonyRead {
  const kind = childOf(node, 'kind');
  if (kind === undefined) return { unknown: 'a chord without a kind' };
  const left = childrenOf(node, 'kind').length > 1 ? ['the upper of two chords at once'] : [];
  if (kind.text === 'none') return { symbol: NO_CHORD, left };
  const written = noteName(node, 'root');
  const bass = noteName(node, 'bass');
  if ([written, bass].some((name) => name !== null && Math.abs(name.alter) > MOST_ALTERED))
    return { unknown: `the chord of kind “${kind.text}” on a note with more than ${MOST_ALTERED} accidentals` };
  if (written === null)
    return { unknown: `the chord “${textAt(node, 'function') ?? textAt(node, 'numeral', 'numeral-root') ?? kind.text}” without a root` };
  const root = writtenName(toConcert(written));
  const quality = qualityRead(kind, degreesOf(node));
  if (quality === null) return { unknown: `the chord ${root}${kind.attributes['text'] ?? ''} of kind “${kind.text}”${degreesText(node)}` };
  const inversion = numberAt(node, 'inversion');
  if (inversion !== null && inversion > 0 && bass === null) left.push('the inversion of a chord');
  return { symbol: root + quality + (bass === null ? '' : `/${writtenName(toConcert(bass))}`), left };
}

function noteName(node: XmlNode, role: 'root' | 'bass'): NoteName | null {
  const letter = textAt(node, role, `${role}-step`);
  if (letter === null || !/^[A-G]$/.test(letter)) return null;
  return { letter: letter as Letter, alter: Math.trunc(numberAt(node, role, `${role}-alter`) ?? 0) };
}

/** A root has one accidental at most. */
function writtenName(name: NoteName): string {
  return formatNoteName(Math.abs(name.alter) < 2 ? name : nameOf(plainSpelling({ ...name, octave: 4 })));
}

function degreesOf(node: XmlNode): (KindDegree & { readonly text: string })[] {
  return childrenOf(node, 'degree').flatMap((degree) => {
    const number = numberAt(degree, 'degree-value');
    const type = textAt(degree, 'degree-type');
    if (number === null || (type !== 'add' && type !== 'alter' && type !== 'subtract')) return [];
    const isShown = degree.attributes['print-object'] !== 'no';
    return [
      {
        number,
        type,
        alter: Math.trunc(numberAt(degree, 'degree-alter') ?? 0),
        text: isShown ? (childOf(degree, 'degree-value')?.attributes['text'] ?? '') : '',
      },
    ];
  });
}

function degreesText(node: XmlNode): string {
  const degrees = degreesOf(node).map(({ type, number, alter }) => `${type} ${alter < 0 ? 'b' : alter > 0 ? '#' : ''}${number}`);
  return degrees.length === 0 ? '' : ` (${degrees.join(', ')})`;
}

/**
 * The spelling of the file where it says just what the kind and its degrees say, or what the kind alone can only come near to; else the
 * usual spelling of the tones. Null where no symbol has them.
 */
function qualityRead(kind: XmlNode, degrees: ReturnType<typeof degreesOf>): string | null {
  const tones = tonesOf(kind.text, degrees);
  const printed = kind.attributes['use-symbols'] === 'yes' ? '' : plainText(kind.attributes['text'] ?? '');
  const spellings = [printed + degrees.map(({ text }) => plainText(text)).join(''), printed].filter((text) => text !== '');
  for (const spelling of spellings) {
    const read = tonesRead(`C${spelling}`);
    if (read === null) continue;
    if (tones === null ? kind.text === 'other' : sameTones(read, tones) || (degrees.length === 0 && saysMore(read, tones))) return spelling;
  }
  return tones === null ? null : qualityOf(tones);
}

function plainText(text: string): string {
  return text.replace(/\s+/g, '');
}

/** Whether a printed symbol holds the kind and more; its fifth may differ, for `7alt` has none. */
function saysMore(printed: Tones, kind: Tones): boolean {
  return [...kind].every((tone) => printed.has(tone) || tone.endsWith('5'));
}
