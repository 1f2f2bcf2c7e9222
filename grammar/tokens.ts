/**
 * The words of the language. The lexer has a mode for each kind of row: `top` sees a row's first word and opens the row's mode;
 * `notes` reads lines, figures and cells, `chords` reads harmony, `words` reads everything else. Every mode ends in a catch-all,
 * so lexing never fails.
 */
import { createToken, Lexer, type CustomPatternMatcherFunc, type ILexingResult, type IMultiModeLexerDefinition } from 'chevrotain';
import { wordsOfMode } from './rows';

const NEWLINE = /(?:\r\n|\r|\n)[^\S\r\n]*/y;

/** The offsets of line ends after which the row goes on, for the text being lexed (lexing is synchronous). */
let continuations: ReadonlySet<number> = new Set();

const NONE: ReadonlySet<number> = new Set();

/** A bar line that stands first on its line: without one, no row goes on. */
const FIRST_BAR_LINE = /^[^\S\r\n]*\|/m;

/** Line ends whose next line with content starts with a bar line: the row above goes on there. One pass from the end. */
function findContinuations(text: string): ReadonlySet<number> {
  if (!FIRST_BAR_LINE.test(text)) return NONE;
  const found = new Set<number>();
  const lineEnds = [...text.matchAll(/\r\n|\r|\n/g)];
  let goesOn = false;
  for (let i = lineEnds.length - 1; i >= 0; i -= 1) {
    const start = lineEnds[i]!.index + lineEnds[i]![0].length;
    const end = lineEnds[i + 1]?.index ?? text.length;
    const line = text.slice(start, Math.min(end, start + 200)).trimStart();
    if (line !== '' && !line.startsWith('//')) goesOn = line.startsWith('|');
    if (goesOn) found.add(lineEnds[i]!.index);
  }
  return found;
}

const matchNewline =
  (goesOn: boolean): CustomPatternMatcherFunc =>
  (text, offset) => {
    const char = text[offset];
    if ((char !== '\n' && char !== '\r') || continuations.has(offset) !== goesOn) return null;
    NEWLINE.lastIndex = offset;
    return NEWLINE.exec(text);
  };

/** A comment needs the start of a line or white space before it; glued to other text it is an error. */
const matchComment =
  (glued: boolean): CustomPatternMatcherFunc =>
  (text, offset) => {
    if (text[offset] !== '/' || text[offset + 1] !== '/') return null;
    const free = offset === 0 || /\s/.test(text[offset - 1]!);
    if (free === glued) return null;
    COMMENT.lastIndex = offset;
    return COMMENT.exec(text);
  };
const COMMENT = /[^\r\n]+/y;

/**
 * The characters a token can begin with, for the lexer, which cannot tell them from a pattern that says what they are not; without them it
 * tries every pattern of a mode at every token. It looks up those from 256 on in groups of 255, so that one of each group will do: a pattern that
 * is tried in vain takes time and nothing else.
 */
const beginningWith = (first: RegExp): number[] => [
  ...Array.from({ length: 256 }, (_, code) => code).filter((code) => first.test(String.fromCharCode(code))),
  ...Array.from({ length: 1024 - 4 }, (_, i) => 256 + 64 * i),
];

export const NewLine = createToken({ name: 'NewLine', pattern: /\r\n|\r|\n/, line_breaks: true });
export const RowEnd = createToken({
  name: 'RowEnd',
  pattern: { exec: matchNewline(false) },
  start_chars_hint: ['\n', '\r'],
  line_breaks: true,
  pop_mode: true,
});
export const LineBreak = createToken({
  name: 'LineBreak',
  pattern: { exec: matchNewline(true) },
  start_chars_hint: ['\n', '\r'],
  line_breaks: true,
});
/** It parts words, which offsets tell, and says nothing else: the parser never sees it. */
export const Space = createToken({
  name: 'Space',
  pattern: /[^\S\r\n]+/,
  group: Lexer.SKIPPED,
  start_chars_hint: beginningWith(/[^\S\r\n]/),
});
export const Comment = createToken({
  name: 'Comment',
  pattern: { exec: matchComment(false) },
  start_chars_hint: ['/'],
  line_breaks: false,
});
export const GluedComment = createToken({
  name: 'GluedComment',
  pattern: { exec: matchComment(true) },
  start_chars_hint: ['/'],
  line_breaks: false,
});

// The first word of a row.
const keyword = (words: readonly string[]): RegExp => new RegExp(`(?:${words.join('|')})(?![^\\s"“”|])`);
export const NotesKeyword = createToken({ name: 'NotesKeyword', pattern: keyword(wordsOfMode('notes')), push_mode: 'notes' });
export const ChordsKeyword = createToken({ name: 'ChordsKeyword', pattern: keyword(wordsOfMode('chords')), push_mode: 'chords' });
export const WordsKeyword = createToken({
  name: 'WordsKeyword',
  pattern: /[^\s"“”|]+|["“”|]/,
  push_mode: 'words',
  start_chars_hint: beginningWith(/\S/),
});

// Shared by music rows.
export const RepeatSign = createToken({ name: 'RepeatSign', pattern: /\|{1,2}:|:\|{1,2}/ });
export const BarLine = createToken({ name: 'BarLine', pattern: /\|\|?/ });
/** Any piece of music text; the parser gathers neighbours with nothing between them into one word. */
export const Piece = createToken({ name: 'Piece', pattern: Lexer.NA });

// Notes.
const ACCIDENTAL = '(?:bb?|##?|n|♭♭?|♯♯?|♮)';
const piece = (name: string, pattern: RegExp, first?: RegExp) =>
  createToken({ name, pattern, categories: [Piece], ...(first === undefined ? {} : { start_chars_hint: beginningWith(first) }) });
export const Weight = piece('Weight', /\d+:(?!\|)/);
export const Figure = piece('Figure', new RegExp(`${ACCIDENTAL}?\\d+(?![A-Za-z_])`));
export const PitchWord = piece('PitchWord', new RegExp(`[A-G]${ACCIDENTAL}?\\d?(?![A-Za-z0-9_#♭♯♮])`));
export const NameWord = piece('NameWord', /[a-z][A-Za-z0-9_]*/);
export const Hyphen = piece('Hyphen', /[-\u2010-\u2013\u2212]/);
export const Hold = piece('Hold', /~/);
export const Rest = piece('Rest', /\./);
export const Star = piece('Star', /\*/);
export const Open = piece('Open', /\(/);
export const Close = piece('Close', /\)/);
export const Up = piece('Up', /\//);
export const Down = piece('Down', /\\/);
export const Mark = piece('Mark', /[!>^]/);
export const Equals = piece('Equals', /=/);
export const Junk = piece('Junk', /[^\s|\-\u2010-\u2013\u2212~.*()/\\!>^=]+/, /[^\s|\-~.*()/\\!>^=]/);

// Chords: a chord is one word; white space is allowed only inside its parentheses.
export const NoChordWord = piece('NoChordWord', /N\.?C\.?(?![^\s|])/);
export const Percent = piece('Percent', /%(?![^\s|])/);
export const Slash = piece('Slash', /\/(?![^\s|])/);
export const EqualsWord = piece('EqualsWord', /=/);
export const ChordText = piece('ChordText', /(?:[^\s|()=]|\([^()|\r\n]*\))+/, /[^\s|)=]/);
export const ChordJunk = piece('ChordJunk', /[^\s|]/, /[^\s|]/);

// Words.
export const Quoted = createToken({ name: 'Quoted', pattern: /["“”](?:\\[^\r\n]|[^"“”\\\r\n])*(?:["“”]|\\)?/ });
export const PlainWord = createToken({ name: 'PlainWord', pattern: /[^\s"“”]+/, start_chars_hint: beginningWith(/[^\s"“”]/) });

/** The modes of the lexer, each with its tokens in the order in which they are tried. */
export const MODES: IMultiModeLexerDefinition = {
  defaultMode: 'top',
  modes: {
    top: [NewLine, Space, Comment, NotesKeyword, ChordsKeyword, WordsKeyword],
    notes: [
      RowEnd,
      LineBreak,
      Space,
      Comment,
      GluedComment,
      RepeatSign,
      BarLine,
      Weight,
      Figure,
      PitchWord,
      NameWord,
      Hyphen,
      Hold,
      Rest,
      Star,
      Open,
      Close,
      Up,
      Down,
      Mark,
      Equals,
      Junk,
    ],
    chords: [
      RowEnd,
      LineBreak,
      Space,
      Comment,
      GluedComment,
      RepeatSign,
      BarLine,
      NoChordWord,
      Percent,
      Slash,
      EqualsWord,
      ChordText,
      ChordJunk,
    ],
    words: [RowEnd, LineBreak, Space, Comment, Quoted, PlainWord],
  },
};

// Throws where it cannot tell by the first character which tokens to try.
const lexer = new Lexer(MODES, { ensureOptimizations: true, positionTracking: 'onlyOffset', skipValidations: false });

export const ALL_TOKENS = [Piece, ...new Set(Object.values(MODES.modes).flat())];

/** The tokens of one slice. Never fails: what no pattern takes (there should be nothing) is reported in `errors`. */
export function tokenize(text: string): ILexingResult {
  continuations = findContinuations(text);
  return lexer.tokenize(text);
}
