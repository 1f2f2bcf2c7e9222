/** Chord symbols as jazz writers type them, read into the tones they name (THEORY, section 2). */
import { accidentalAfter } from '../../../grammar/names';
import { assembleChord, type Spelling } from './chord-assembly';
import { suggestQualities } from './chord-lexicon';
import { parseNoteName } from './pitch';
import type { Chord, Unread } from './types';

const memory = new Map<string, Chord | Unread>();
const LONGEST = 60;

/** Reads a chord symbol; never throws. Where it cannot be read, says why and suggests the nearest symbols. */
export function readChord(symbol: string): Chord | Unread {
  const known = memory.get(symbol);
  if (known !== undefined) return known;
  const read = symbol.length > LONGEST ? { why: 'it is too long for a chord symbol', suggestions: [] } : readAfresh(symbol);
  // A document under edit tries many half-typed symbols; the memory must not grow with them for ever.
  if (memory.size > 20_000) memory.clear();
  memory.set(symbol, read);
  return read;
}

/** Nearly every symbol is written so. */
const ASCII = /^[ -~]*$/;

/** The plain letters for the signs that mean the same: one spelling of each sign is left. */
export function plainSigns(text: string): string {
  if (ASCII.test(text)) return text;
  return text
    .replace(/[♭]/g, 'b')
    .replace(/[♯]/g, '#')
    .replace(/[Δ∆△]/g, '^')
    .replace(/[øØ]/g, 'h')
    .replace(/[°º]/g, 'o')
    .replace(/[\u2010-\u2013\u2212]/g, '-');
}

function readAfresh(symbol: string): Chord | Unread {
  const text = plainSigns(symbol);
  const parts = partsOf(text);
  if (parts === null) return withoutRoot(text);
  const { root, quality, bass } = parts;
  const spelling = readQuality(quality);
  if (spelling === null) return unread(text, root, quality, bass);
  return assembleChord(symbol, parseNoteName(root)!, bass === undefined ? null : parseNoteName(bass), spelling);
}

/** A text with plain signs in its root, what stands between, and the note after its last slash; null where it has no root. */
function partsOf(text: string): { readonly root: string; readonly quality: string; readonly bass: string | undefined } | null {
  const root = /^[A-G][b#]?/.exec(text)?.[0];
  if (root === undefined) return null;
  const afterRoot = text.slice(root.length);
  const bass = /\/([A-G][b#]?)$/.exec(afterRoot)?.[1];
  return { root, bass, quality: bass === undefined ? afterRoot : afterRoot.slice(0, -bass.length - 1) };
}

function withoutRoot(text: string): Unread {
  const turned = accidentalAfter(text);
  if (turned !== text && isReadable(turned)) return { why: 'the accidental stands after the root', suggestions: [turned] };
  if (/^[a-g]/.test(text)) {
    const capital = text[0]!.toUpperCase() + text.slice(1);
    return { why: 'a chord’s root is a capital letter', suggestions: isReadable(capital) ? [capital] : [] };
  }
  if (text.startsWith('H')) {
    const asB = `B${text.slice(1)}`;
    return { why: 'the note is written B here, and its flat Bb', suggestions: isReadable(asB) ? [asB] : [] };
  }
  return { why: 'a chord symbol starts with its root, A to G', suggestions: [] };
}

function unread(text: string, root: string, quality: string, bass: string | undefined): Unread {
  return unreadBass(text) ?? strayComma(text) ?? unreadQuality(text, root, quality, bass);
}

/** A chord that can be read, with a slash after it and no note that could be its bass; null for any other text. */
function unreadBass(text: string): Unread | null {
  const [, chord, bass] = /^(.+)\/([^/]*)$/.exec(text) ?? [];
  if (chord === undefined || bass === undefined || !isReadable(chord)) return null;
  if (bass === '') return { why: 'no bass note follows the slash', suggestions: [chord] };
  const turned = accidentalAfter(bass);
  const capital = turned[0]!.toUpperCase() + turned.slice(1);
  const isGerman = /^[Hh]/.test(bass);
  const meant = isGerman ? `B${bass.slice(1)}` : capital;
  if (!/^[A-G][b#]?$/.test(meant)) return { why: `“${bass}” after the slash is no bass note, A to G`, suggestions: [] };
  return {
    why: isGerman ? 'the bass note is written B here, and its flat Bb' : 'the bass is written as a capital letter, its accidental after it',
    suggestions: [`${chord}/${meant}`],
  };
}

/** A sign of punctuation that is taken away leaves a chord: `Gm7,`, `Gm,7`, `Gm7.`; null for any other text. */
function strayComma(text: string): Unread | null {
  const sign = /[,;.]/.exec(text)?.[0];
  if (sign === undefined) return null;
  const without = text.replace(/[,;.]/g, '');
  const names: Readonly<Record<string, string>> = { ',': 'the comma', ';': 'the semicolon', '.': 'the dot' };
  return isReadable(without) ? { why: `${names[sign]} does not belong in it`, suggestions: [without] } : null;
}

const SHORT: readonly (readonly [RegExp, string])[] = [
  [/^maj(?:or)?/i, 'maj'],
  [/^min(?:or)?/i, 'm'],
  [/^dom(?:inant)?/i, ''],
  [/^dim(?:inished)?/i, 'dim'],
  [/^aug(?:mented)?/i, 'aug'],
  [/^sus(?:pended)?/i, 'sus'],
  [/flat[- ]?/gi, 'b'],
  [/sharp[- ]?/gi, '#'],
  [/^half[- ]?dim(?:inished)?$/i, 'm7b5'],
  [/^(?:seventh|seven)$/i, '7'],
  [/(\d)th$/, '$1'],
];

/** A word of a chord as it is said, as it is written: `minor` is `m`, `flat` is `b`; any other as it is. */
export function inShort(word: string): string {
  return SHORT.reduce((text, [said, written]) => text.replace(said, written), word);
}

/** A quality in whole words: `Fmajor7`, `Gminor`; null where it is none. */
function wholeWords(root: string, quality: string, suffix: string): Unread | null {
  const short = inShort(quality);
  const symbol = root + (short === 'maj' ? '' : short) + suffix;
  return short !== quality && isReadable(symbol) ? { why: 'a chord is written in short', suggestions: [symbol] } : null;
}

function unreadQuality(text: string, root: string, quality: string, bass: string | undefined): Unread {
  const glued = /^(.{1,12})[-,;]([A-G].*)$/.exec(text);
  if (glued !== null && isReadable(glued[1]!) && isReadable(glued[2]!)) {
    return { why: 'two chords are glued together', suggestions: [`${glued[1]} ${glued[2]}`] };
  }
  const suffix = bass === undefined ? '' : `/${bass}`;
  const short = wholeWords(root, quality, suffix);
  if (short !== null) return short;
  const either = /^mj(7|9|11|13)(.*)$/.exec(quality);
  if (either !== null) {
    const both = [`maj${either[1]!}${either[2]!}`, `m(maj${either[1]!})${either[2]!}`].map((one) => root + one + suffix).filter(isReadable);
    return { why: `“${quality}” could be a major seventh, or a minor chord with one`, suggestions: both };
  }
  const suggestions = differing([...withoutDoubled(quality), ...suggestQualities(quality)].map((near) => root + near + suffix));
  return { why: `“${quality}” is no quality after the root ${root}`, suggestions };
}

/** A text without one of two same letters or figures that follow each other, as a key that is hit twice writes them: `majj7`, `m77`. */
function withoutDoubled(quality: string): string[] {
  return [...quality.slice(0, 20)].flatMap((char, i) => (quality[i + 1] === char ? [quality.slice(0, i) + quality.slice(i + 1)] : []));
}

/** The symbols that can be read, of several for the same chord the first. */
function differing(symbols: readonly string[]): string[] {
  const sounds = new Set<string>();
  return symbols.filter(isReadable).filter((symbol) => {
    const chord = readChord(symbol) as Chord;
    const sound = chord.tones.map(({ figure }) => `${figure.number} ${figure.alter}`).join();
    if (sounds.has(sound)) return false;
    sounds.add(sound);
    return true;
  });
}

/** Asked of what is suggested: it looks for no suggestions of its own, which would be asked in turn. */
function isReadable(symbol: string): boolean {
  const parts = partsOf(plainSigns(symbol));
  return parts !== null && readQuality(parts.quality) !== null;
}

// ── The quality, read from left to right ───────────────────────────────────────────────────────────────────────────────────

const FIRST = [
  ['major', /(?:maj|Maj|MAJ|ma(?!dd)|Ma|MA|M(?!I)|\^|j(?=\s*(?:7|9|11|13)))/y],
  ['minor', /(?:min|Min|MIN|mi|Mi|MI|m|-)/y],
  ['half-diminished', /h(?=7|$)7?/y],
  ['diminished', /(?:dim|o)/y],
  ['augmented', /(?:aug|\+)/y],
  ['dominant', /dom(?=7)/y],
] as const;

const LATER = [
  ['major', /(?:maj|Maj|MAJ|ma|Ma|MA|M|\^|j(?=\s*(?:7|9|11|13)))/y],
  ['sus', /sus([24])?/y],
  ['add', /add([b#]?)(2|4|6|9|11|13)/y],
  ['omit', /(?:no|omit)(3|5)/y],
  ['alt', /alt/y],
  ['alter', /([b#+-])(5|9|11|13)/y],
  ['raised-fifth', /\+/y],
  ['number', /(6\/9|69|13|11|9|7|6|5|4|2)/y],
] as const;

/** Reads the text after the root (and before the bass); null where something in it means nothing. */
function readQuality(text: string): Spelling | null {
  const flat = flatten(text);
  // `mj7` could be either of two sevenths.
  if (flat === null || /^mj/.test(flat)) return null;
  const spelling: Spelling = {
    triad: 'major',
    majorSeventh: false,
    numbers: [],
    sus: null,
    adds: [],
    omits: [],
    alters: [],
    altered: false,
    half: false,
  };
  let at = 0;
  let first: (typeof FIRST)[number][0] | null = null;
  for (const [kind, pattern] of FIRST) {
    pattern.lastIndex = at;
    const match = pattern.exec(flat);
    if (match === null) continue;
    at = pattern.lastIndex;
    applyFirst(kind, match[0], flat.slice(at), spelling);
    first = kind;
    break;
  }
  while (at < flat.length) {
    if (flat[at] === ' ' || isBetweenFigures(flat, at)) {
      at += 1;
      continue;
    }
    // A second mark for major is a slip: `majj7`.
    const next = readLater(flat, at, spelling, first === 'major' || first === 'dominant');
    if (next === null) return null;
    at = next;
  }
  return sensible(spelling) ? spelling : null;
}

/** Parentheses become spaces; null where they do not pair or white space stands outside them. */
function flatten(text: string): string | null {
  let depth = 0;
  let flat = '';
  for (const char of text) {
    if (char === '(') depth += 1;
    if (char === ')') depth -= 1;
    if (depth < 0 || depth > 1 || (/\s/.test(char) && depth === 0)) return null;
    flat += /[()\s]/.test(char) ? ' ' : char;
  }
  return depth === 0 ? flat : null;
}

/** A comma between two extensions or alterations: `7b9,#11`; anywhere else it means nothing. */
function isBetweenFigures(flat: string, at: number): boolean {
  return flat[at] === ',' && /(?:\d|sus|alt)\s*$/.test(flat.slice(0, at)) && /^\s*(?:[b#+-]?\d|add|no|omit|sus)/.test(flat.slice(at + 1));
}

function applyFirst(kind: (typeof FIRST)[number][0], text: string, rest: string, spelling: Spelling): void {
  switch (kind) {
    case 'major':
      // A triangle alone is a major seventh; the letters need a number (`Cmaj` is a triad).
      spelling.majorSeventh = text === '^' || /^\s*(?:6\/9|69|7|9|11|13)/.test(rest);
      if (text === '^' && !/^\s*(?:7|9|11|13)/.test(rest)) spelling.numbers.push(7);
      break;
    case 'half-diminished':
      spelling.triad = 'minor';
      spelling.half = true;
      break;
    case 'dominant':
      break;
    default:
      spelling.triad = kind;
  }
}

function readLater(flat: string, at: number, spelling: Spelling, isMajor: boolean): number | null {
  for (const [kind, pattern] of LATER) {
    if (kind === 'major' && isMajor) continue;
    pattern.lastIndex = at;
    const match = pattern.exec(flat);
    if (match === null) continue;
    if (!applyLater(kind, match, flat.slice(pattern.lastIndex), spelling)) continue;
    return pattern.lastIndex;
  }
  return null;
}

function applyLater(kind: (typeof LATER)[number][0], match: RegExpExecArray, rest: string, spelling: Spelling): boolean {
  switch (kind) {
    case 'major':
      // After a minor or augmented triad a major mark raises the seventh: Cm(maj7), C+M7, C-^.
      if (spelling.majorSeventh || spelling.numbers.length > 0) return false;
      spelling.majorSeventh = true;
      if (!/^\s*(?:7|9|11|13)/.test(rest)) {
        if (match[0] !== '^') return false;
        spelling.numbers.push(7);
      }
      return true;
    case 'sus':
      if (spelling.sus !== null) return false;
      spelling.sus = match[1] === '2' ? 2 : 4;
      return true;
    case 'add':
      return addOnce(spelling.adds, { number: Number(match[2]), alter: match[1] === 'b' ? -1 : match[1] === '#' ? 1 : 0 });
    case 'omit':
      if (spelling.omits.includes(Number(match[1]))) return false;
      spelling.omits.push(Number(match[1]));
      return true;
    case 'alt':
      if (spelling.altered) return false;
      spelling.altered = true;
      return true;
    case 'alter':
      return addOnce(spelling.alters, { number: Number(match[2]), alter: match[1] === 'b' || match[1] === '-' ? -1 : 1 });
    case 'raised-fifth':
      if (!spelling.numbers.includes(7) || rest.trim() !== '') return false;
      spelling.alters.push({ number: 5, alter: 1 });
      return true;
    case 'number':
      return applyNumber(match[1]!, spelling);
  }
}

function applyNumber(text: string, spelling: Spelling): boolean {
  if (text === '6/9' || text === '69') {
    spelling.numbers.push(6, 9);
    return true;
  }
  const number = Number(text);
  if (spelling.numbers.length === 0) {
    if (number === 4) return false;
    spelling.numbers.push(number);
    return true;
  }
  // A second number stands for itself alone: C6(9), C7(13).
  if (![9, 11, 13].includes(number) || spelling.numbers.includes(number)) return false;
  return addOnce(spelling.adds, { number, alter: 0 });
}

/** What is written twice is a slip: `C7b9b9`, `C99`. */
function addOnce(entries: Spelling['adds'], entry: Spelling['adds'][number]): boolean {
  if (entries.some(({ number, alter }) => number === entry.number && alter === entry.alter)) return false;
  entries.push(entry);
  return true;
}

function sensible(spelling: Spelling): boolean {
  const [first] = spelling.numbers;
  if (first === 5 && (spelling.triad !== 'major' || spelling.sus !== null || spelling.numbers.length > 1)) return false;
  if (first === 2 && spelling.sus !== null) return false;
  if (spelling.altered && first !== undefined && first !== 7) return false;
  // Eleventh and thirteenth are altered one way each; a b11 would be the third, a #13 the seventh.
  return spelling.alters.every(({ number, alter }) => !(number === 11 && alter < 0) && !(number === 13 && alter > 0));
}

/** The chord's tone of a pitch class above the root (half steps, 0 to 11), if it has one. */
export function toneAt(chord: Chord, interval: number): Chord['tones'][number] | undefined {
  return chord.tones.find((tone) => tone.interval === interval);
}
