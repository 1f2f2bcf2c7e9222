/** Roman numerals: a chord counted from the major scale on the tonic, in both modes. */
import { plainSigns, readChord } from './chord';
import { figureName } from './figure';
import { formatNoteName } from './pitch';
import type { Chord, Figure, Key, NoteName, Unread } from './types';

const NUMERAL = /^([b#]?)(VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)(?![IViv])/;
const VALUES: Readonly<Record<string, number>> = { i: 1, ii: 2, iii: 3, iv: 4, v: 5, vi: 6, vii: 7 };

interface Numeral {
  readonly figure: Figure;
  readonly lower: boolean;
  readonly rest: string;
}

/** Whether a word is to be read as a Roman numeral (no chord root is spelled with I or V). */
export function isRoman(text: string): boolean {
  if (text[0]! >= 'A' && text[0]! <= 'G') return false;
  return NUMERAL.test(plainSigns(text));
}

/** A bare III, VI or VII in a minor key: the major scale's degrees, where a writer often means the flat ones. */
export function isBareInMinor(text: string, key: Key): boolean {
  return key.mode === 'minor' && /^(?:III|VI|VII|iii|vi|vii)(?![IViv])/.test(plainSigns(text)) && !/^vii(?:o|h|dim)/.test(plainSigns(text));
}

/** The chord that a numeral is in a key; its `symbol` is the resolved chord symbol. Never throws. */
export function readRoman(text: string, key: Key): Chord | Unread {
  const numeral = readNumeral(plainSigns(text));
  if (numeral === null) return { why: 'it is no Roman numeral', suggestions: [] };
  const { body, target, bass } = splitSlash(numeral.rest);
  const tonic = target === null ? key.tonic : figureName(key.tonic, target.figure);
  const root = figureName(tonic, numeral.figure);
  if (Math.abs(root.alter) > 1) return spelledOut(root, numeral, body, bass);
  const symbol = formatNoteName(root) + qualityOf(numeral.lower, body) + bass;
  const read = readChord(symbol);
  if ('tones' in read) return read;
  return { why: `“${body}” is no quality of a numeral`, suggestions: [] };
}

function readNumeral(text: string): Numeral | null {
  const match = NUMERAL.exec(text);
  if (match === null) return null;
  const letters = match[2]!;
  const alter = match[1] === 'b' ? -1 : match[1] === '#' ? 1 : 0;
  return {
    figure: { number: VALUES[letters.toLowerCase()] as Figure['number'], alter },
    lower: letters === letters.toLowerCase(),
    rest: text.slice(match[0].length),
  };
}

function splitSlash(rest: string): { body: string; target: Numeral | null; bass: string } {
  const slash = rest.lastIndexOf('/');
  if (slash < 0) return { body: rest, target: null, bass: '' };
  const after = rest.slice(slash + 1);
  if (/^[A-G][b#]?$/.test(after)) return { body: rest.slice(0, slash), target: null, bass: `/${after}` };
  const target = readNumeral(after);
  return target === null ? { body: rest, target: null, bass: '' } : { body: rest.slice(0, slash), target, bass: '' };
}

/** Lower case is minor unless the quality already says minor, diminished or sus. The symbol is written in plain letters. */
function qualityOf(lower: boolean, plain: string): string {
  const body = plain.replace(/^o/, 'dim').replace(/^h7?/, 'm7b5');
  if (lower && /^(?:maj|Maj|\^)/.test(body)) return `m(${body.replace('^', 'maj')})`;
  return !lower || /^(?:m(?!a)|-|mi|o|h|dim|MI|Mi)/.test(body) || body.includes('sus') ? body : `m${body}`;
}

/** A root that would need two accidentals is written as the sounding neighbour (Cbb is Bb): a symbol's root has one at most. */
function spelledOut(root: NoteName, numeral: Numeral, body: string, bass: string): Chord | Unread {
  const letters = 'CDEFGAB';
  const steps = [0, 2, 4, 5, 7, 9, 11];
  const index = letters.indexOf(root.letter);
  const sound = (steps[index]! + root.alter + 24) % 12;
  const neighbour = letters[(index + (root.alter > 0 ? 1 : 6)) % 7]!;
  let alter = sound - steps[letters.indexOf(neighbour)]!;
  if (alter > 6) alter -= 12;
  if (alter < -6) alter += 12;
  const name = formatNoteName({ letter: neighbour as NoteName['letter'], alter });
  return readChord(name + qualityOf(numeral.lower, body) + bass);
}
