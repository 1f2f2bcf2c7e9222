/**
 * Prose in another key. Names of notes, pitches and chords move; degrees, figures and Roman numerals stay what they are. A text in which
 * a letter may or may not be a note is not moved at all: wrong words under the right notes are worse than none.
 */
import { readChord } from '../../theory/chord';
import { transposeName, transposePitch, type Shift } from '../../theory/interval';
import { formatNoteName, parseNoteName, parsePitch, pitchInText } from '../../theory/pitch';
import { transposeSymbol } from '../../theory/transposition';
import type { NoteName } from '../../theory/types';

/** A text moved by a shift; null where it cannot safely be moved. */
export function movedProse(text: string, shift: Shift): string | null {
  if (shift.diatonic % 7 === 0 && shift.chromatic % 12 === 0) return text;
  if (KEY_BOUND.test(text)) return null;
  const names = namesIn(text);
  if (names === null) return null;
  const style = styleOf(text);
  let result = '';
  let at = 0;
  for (const { start, name } of names) {
    const moved = movedName(name, shift, style);
    if (moved === null) return null;
    result += withArticle(text.slice(at, start), text.slice(start, name.end), moved) + moved;
    at = name.end;
  }
  const whole = result + text.slice(at);
  // A Bb that begins a sentence may have become an A that reads as the article, a pitch B5 a C6 that reads as a chord.
  const again = namesIn(whole);
  return again !== null && again.map(({ name }) => name.kind).join() !== names.map(({ name }) => name.kind).join() ? null : whole;
}

interface PlacedName {
  readonly start: number;
  readonly name: Name;
}

/** The names in a text, in order; null where one cannot be told for sure. */
function namesIn(text: string): PlacedName[] | null {
  const words = wordsOf(text);
  const names: PlacedName[] = [];
  let at = 0;
  for (const [i, { start }] of words.entries()) {
    if (start < at) continue;
    const name = nameAt(words, i);
    if (name === 'unsure') return null;
    if (name === null) continue;
    names.push({ start, name });
    at = name.end;
  }
  return names;
}

/** What is true in one key only, though it names no note. */
const KEY_BOUND =
  /\b(?:(?:white|black) (?:key|note)s?|sharps|flats|key signatures?|accidentals?|middle C|open strings?|frets?|fingerings?|valves?|ledger lines?)\b/i;

// ── Words ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

interface Word {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** What stands between the word before, or the text's start, and this one. */
  readonly gap: string;
}

const WORD = /[A-G][b#♭♯]?-\d[\p{L}\p{N}#♭♯]*|[\p{L}\p{N}#♭♯Δø°+/'’]+(?:\([\p{L}\p{N}#♭♯]+\)[\p{L}\p{N}#♭♯/]*)*/gu;

function wordsOf(text: string): Word[] {
  let at = 0;
  return [...text.matchAll(WORD)]
    .map(({ 0: found, index }) => {
      // Quotation marks and slashes round a word are none of it.
      const lead = /^['’/+]*/.exec(found)![0].length;
      const word = found.slice(lead).replace(/['’/]+$/, '');
      const gap = text.slice(at, index + lead);
      at = index + lead + word.length;
      return { text: word, start: index + lead, end: at, gap };
    })
    .filter(({ text: word }) => word !== '');
}

/** A name in a text, up to its end: `B-flat` is two words. */
type Name =
  | {
      readonly kind: 'note';
      readonly name: NoteName;
      readonly spelling: 'letter' | 'words';
      readonly joint: string;
      readonly suffix: string;
      readonly end: number;
    }
  | { readonly kind: 'pitch'; readonly text: string; readonly suffix: string; readonly end: number }
  | { readonly kind: 'chord'; readonly text: string; readonly suffix: string; readonly end: number };

const SIGNS: Readonly<Record<string, number>> = { flat: -1, sharp: 1, natural: 0 };

/** The name that begins with a word; null where the word is none. */
function nameAt(words: readonly Word[], index: number): Name | 'unsure' | null {
  const word = words[index]!;
  const [, bare, suffix] = /^(.*?)((?:['’]s)?)$/su.exec(word.text)!;
  const end = word.end;
  if (/^[a-g]/.test(bare!)) return isLowerCaseName(words, index) ? 'unsure' : null;
  if (!/^[A-G]/.test(bare!)) return null;
  if (/^[A-G]$/.test(bare!)) return letterAt(words, index, suffix!);
  if (/^[A-G](?:['’]|[b#♭♯]{2}$)/.test(bare!)) return 'unsure';
  if (/^[A-G](?:[b#♭♯])$/.test(bare!))
    return isOtherThing(words, index)
      ? 'unsure'
      : { kind: 'note', name: parseNoteName(bare!)!, spelling: 'letter', joint: '', suffix: suffix!, end };
  // Several of a note: two Cs. `As` is a word.
  const plural = /^([B-G]|[A-G][b#♭♯])s$/.exec(bare!);
  if (plural !== null)
    return bare === 'Abs'
      ? 'unsure'
      : { kind: 'note', name: parseNoteName(plural[1]!)!, spelling: 'letter', joint: '', suffix: `s${suffix!}`, end };
  if (bare === 'As') return startsSentence(word) ? null : 'unsure';
  // A figure of a chord, or an octave: those of an instrument's middle are octaves.
  if (/^[A-G][b#♭♯]?[0-58]$/.test(bare!)) return { kind: 'pitch', text: bare!, suffix: suffix!, end };
  return chordAt(word, bare!, suffix!);
}

function chordAt(word: Word, bare: string, suffix: string): Name | 'unsure' | null {
  if (/^[A-G]\p{L}+$/u.test(bare) && !/^[A-G]b?(?:m|maj|min|mi|ma|dim|aug|sus)$/.test(bare)) return null;
  if (bare === 'Am' && startsSentence(word)) return 'unsure';
  if ('tones' in readChord(bare)) return { kind: 'chord', text: bare, suffix, end: word.end };
  return /[\p{N}#♭♯/]/u.test(bare) ? 'unsure' : null;
}

// ── Single letters ─────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Words that may follow a note that begins a sentence, and no article. */
const AFTER_NOTE = new Set(
  (
    'and or to then falls rises goes leads moves resolves steps lands leaps jumps drops climbs is was are were wants belongs stays comes becomes pulls ' +
    'sounds needs leans returns hangs over on in into against at as before after above below under from by with would can could may might has had does lasts makes wraps approaches'
  ).split(' '),
);
const AFTER_LETTER = new Set(
  'chord chords note notes major minor dorian phrygian lydian mixolydian aeolian locrian ionian blues dominant'.split(' '),
);
const OF_A_MODE = new Set(['major', 'minor', 'sharp', 'flat', 'natural', 'dominant', 'blues']);
/** A letter beside one of these is a part of a form, a string, a clef or the pitch of an instrument. */
const OTHER_THINGS =
  /^(?:sections?|parts?|letters?|theme|forms?|plan|figure|example|exercise|version|take|variation|ending|strings?|clefs?|side|instruments?|trumpets?|clarinets?|tenors?|altos?|sopranos?|baritones?|horns?|sax|saxes|saxophones?|players?)$/i;
const NUMBERS =
  /^(?:\d+|two|three|four|five|six|seven|nine|eleven|thirteen|seconds?|thirds?|fourths?|fifths?|sixths?|sevenths?|ninths?|elevenths?|thirteenths?)$/i;
const HYPHEN = /^[-‐‑]$/;

function letterAt(words: readonly Word[], index: number, suffix: string): Name | 'unsure' | null {
  const [before, word, next, afterNext] = [words[index - 1], words[index]!, words[index + 1], words[index + 2]];
  const note = (): Name => ({
    kind: 'note',
    name: { letter: word.text[0] as NoteName['letter'], alter: 0 },
    spelling: 'letter',
    joint: '',
    suffix,
    end: word.end,
  });
  if (before?.text === 'N' && word.gap === '.' && word.text === 'C') return null;
  if (next?.gap === '.' || word.gap === '.' || isOtherThing(words, index)) return 'unsure';
  const sign = next === undefined || suffix !== '' ? undefined : SIGNS[next.text];
  if (sign !== undefined && HYPHEN.test(next!.gap)) return inWords(word, next!, sign);
  if (sign !== undefined && next!.gap === ' ') {
    const isNumbered = afterNext?.gap === ' ' && NUMBERS.test(afterNext.text);
    return isNumbered || (word.text === 'A' && startsSentence(word)) ? 'unsure' : inWords(word, next!, sign);
  }
  const follows = next !== undefined && next.gap === ' ' && suffix === '' ? next.text : null;
  if (next !== undefined && HYPHEN.test(next.gap) && /^\p{Ll}/u.test(next.text)) return 'unsure';
  if (
    before !== undefined &&
    HYPHEN.test(word.gap) &&
    /\p{Ll}$/u.test(before.text) &&
    !/^[A-G]/.test(before.text) &&
    SIGNS[before.text] === undefined
  )
    return 'unsure';
  if (isShouted(before) || isShouted(next)) return 'unsure';
  if (startsSentence(word)) {
    if (follows === null || AFTER_NOTE.has(follows)) return note();
    if (word.text === 'A') return afterArticle(follows, afterNext);
    return AFTER_LETTER.has(follows.toLowerCase()) || /^[A-G0-9]/.test(follows) ? note() : 'unsure';
  }
  const isTitle = before !== undefined && isCapitalized(before) && follows !== null && isCapitalized(next!);
  return isTitle ? 'unsure' : note();
}

/** An A that begins a sentence before a word: the article, as far as the word allows. */
function afterArticle(follows: string, then: Word | undefined): 'unsure' | null {
  if (!/^\p{Ll}/u.test(follows)) return /^\d/.test(follows) ? null : 'unsure';
  if (OF_A_MODE.has(follows))
    return then !== undefined && then.gap === ' ' && NUMBERS.test(then.text) && follows !== 'sharp' && follows !== 'flat' ? null : 'unsure';
  return /[^sui]s$/.test(follows) ? 'unsure' : null;
}

function inWords(word: Word, sign: Word, alter: number): Name {
  return {
    kind: 'note',
    name: { letter: word.text[0] as NoteName['letter'], alter },
    spelling: 'words',
    joint: sign.gap,
    suffix: '',
    end: sign.end,
  };
}

function isOtherThing(words: readonly Word[], index: number): boolean {
  const [before, next] = [words[index - 1], words[index + 1]];
  const sign = next !== undefined && SIGNS[next.text] !== undefined ? words[index + 2] : next;
  return (
    (before !== undefined && OTHER_THINGS.test(before.text) && words[index]!.gap === ' ') ||
    (sign !== undefined && OTHER_THINGS.test(sign.text) && /^[-‐‑ ]$/.test(sign.gap))
  );
}

/** `b-flat`, `eb`, `f#`: names all the same, but not told from other words surely enough. */
function isLowerCaseName(words: readonly Word[], index: number): boolean {
  const [word, next] = [words[index]!, words[index + 1]];
  if (/^[a-g](?:b|#|♭|♯)$/.test(word.text)) return true;
  const isSigned = next !== undefined && (next.text === 'flat' || next.text === 'sharp');
  return isSigned && /^[a-g]$/.test(word.text) && (HYPHEN.test(next.gap) || word.text !== 'a');
}

function startsSentence({ gap, start }: Word): boolean {
  return start === gap.length || /[.!?…:;]["”’')]*\s+["“‘'(]*$|["“‘(]$|[–—]\s*$|[*_>#]\s*$|\n/u.test(gap);
}

function isCapitalized({ text }: Word): boolean {
  return /^\p{Lu}\p{Ll}+$/u.test(text);
}

function isShouted(word: Word | undefined): boolean {
  return word !== undefined && /^\p{Lu}{2,}$/u.test(word.text) && !/^[IV]+$/.test(word.text);
}

// ── Moving ─────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** How a text writes flats and sharps: as it does already, else as the language does. */
type Style = 'words' | 'signs' | 'ascii';

function styleOf(text: string): Style {
  if (/[♭♯]/.test(text)) return 'signs';
  return /\b[A-G][-‐‑ ](?:flat|sharp)\b/.test(text) ? 'words' : 'ascii';
}

function movedName(name: Name, shift: Shift, style: Style): string | null {
  if (name.kind === 'chord') {
    const moved = transposeSymbol(name.text, shift);
    return moved === null || /(?:^|\/)[A-G](?:##|bb)/.test(moved) ? null : styledRoot(moved, style) + name.suffix;
  }
  if (name.kind === 'pitch') {
    const moved = transposePitch(parsePitch(name.text)!, shift);
    const text = Math.abs(moved.alter) > 1 ? null : pitchInText(moved);
    return text === null ? null : styledRoot(text, style) + name.suffix;
  }
  const moved = transposeName(name.name, shift);
  if (Math.abs(moved.alter) > 1) return null;
  const isPlain = moved.alter === 0 && (name.spelling === 'letter' || name.name.alter !== 0);
  if (isPlain || (style !== 'words' && name.spelling === 'letter')) return styledRoot(formatNoteName(moved), style) + name.suffix;
  const joint = name.joint === '' ? '-' : name.joint;
  return `${moved.letter}${joint}${moved.alter === 0 ? 'natural' : moved.alter < 0 ? 'flat' : 'sharp'}${name.suffix}`;
}

function styledRoot(text: string, style: Style): string {
  return style !== 'signs'
    ? text
    : text.replace(/(^|\/)([A-G])([b#])/g, (_, lead: string, letter: string, sign: string) => lead + letter + (sign === 'b' ? '♭' : '♯'));
}

/** `an A` is `a C`: the article before a name goes with its letter's sound, if it did before. */
function withArticle(before: string, old: string, moved: string): string {
  const article = /(^|[^\p{L}])([Aa]n?)(\s+)$/u.exec(before);
  if (article === null || needsN(old) !== article[2]!.endsWith('n')) return before;
  return (
    before.slice(0, before.length - article[2]!.length - article[3]!.length) + article[2]![0] + (needsN(moved) ? 'n' : '') + article[3]!
  );
}

function needsN(name: string): boolean {
  return /^[AEF]/.test(name);
}
