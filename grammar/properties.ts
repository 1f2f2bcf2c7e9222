/** Rows that are words: key, meter, tempo, part, level, tag, claim, say, about, and what is none of them. */
import { flatMap } from './flat-map';
import type { IToken } from 'chevrotain';
import { distance } from 'fastest-levenshtein';
import { readKey } from './keys';
import { isMeter, readMeter } from './meters';
import type { RawRow } from './raw-row';
import { rangeOf, wordOf, writing, Problems } from './problems';
import { ROW_WORDS, rowWord } from './rows';
import { readTempo } from './tempos';
import { isClosed, type GoesOn } from './texts';
import { BarLine, Quoted } from './tokens';
import type { Range, Row, StringNode, TextEdit, Word } from './tree';
import { joined, textOf } from './words';

/** What a row is called elsewhere. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  title: 'lesson',
  time: 'meter',
  'time-signature': 'meter',
  timesignature: 'meter',
  timesig: 'meter',
  signature: 'meter',
  bpm: 'tempo',
  instrument: 'part',
  chord: 'over',
  chords: 'over',
  harmony: 'over',
  melody: 'line',
  note: 'line',
  notes: 'line',
};

/** The title of a lesson or phrase; null where there is none (then that is reported). */
export function readTitle(raw: RawRow, problems: Problems): StringNode | null {
  return readText(raw, problems);
}

/** Whether a row of words reads as one, or begins with a word that may be meant for a row's. */
export function isOrMayBeRow(raw: RawRow): boolean {
  if (rowWord(raw.keyword.image) === undefined) return meantFor(raw.keyword.image).length > 0;
  const problems = new Problems();
  readProperty(raw, problems);
  return problems.found.length === 0;
}

/** Reads one row of words. Always answers a row; what is wrong is reported at its place. `word` says what is read, whatever the row begins with. */
export function readProperty(raw: RawRow, problems: Problems, word = raw.keyword.image): Row {
  const tokens = tokensOf(raw);
  const words = tokens.map((token) => wordOf([token]));
  const keyword = wordOf([raw.keyword]);
  const last = words[words.length - 1];
  const base = { keyword, range: { start: keyword.range.start, end: last?.range.end ?? keyword.range.end } };
  switch (word) {
    case 'key':
      return { kind: 'key', ...base, ...readKey(words, base.range, problems) };
    case 'meter':
      return { kind: 'meter', ...base, meter: readMeter(words, base.range, problems) };
    case 'tempo':
      return { kind: 'tempo', ...base, ...readTempo(words, base.range, problems) };
    case 'part':
      if (words.length === 0) problems.report('bad-part', base.range, { facts: { found: '' } });
      return { kind: 'part', ...base, name: joined(words) };
    case 'level':
      return { kind: 'level', ...base, level: readLevel(words, base.range, problems) };
    case 'tag':
      if (words.length === 0) problems.report('missing-text', base.range, { facts: { word: 'tag', wants: 'one word or more' } });
      return { kind: 'tag', ...base, tags: words };
    case 'claim':
      if (words.length === 0) problems.report('missing-claim', base.range);
      return { kind: 'claim', ...base, words };
    case 'say':
      return { kind: 'say', ...base, text: readText(raw, problems) };
    case 'about':
      return { kind: 'about', ...base, text: readText(raw, problems) };
    default:
      return reportUnknown(keyword, raw, problems) ?? { kind: 'unknown', ...base };
  }
}

function tokensOf(raw: RawRow): IToken[] {
  return flatMap(raw.segments, ({ words }) => flatMap(words, (word) => word));
}

/** Answers the row that is surely meant, which is read as such. */
function reportUnknown(keyword: Word, raw: RawRow, problems: Problems): Row | null {
  const { text, range } = keyword;
  if (raw.keyword.tokenType === BarLine || text.startsWith('|')) {
    problems.report('stray-bar-line', range);
    return null;
  }
  const sign = /^#+/.exec(text)?.[0];
  if (sign !== undefined) {
    const fix = writing({ start: range.start, end: range.start + sign.length }, '//', false, 'Write it as a comment');
    problems.report('unknown-keyword', range, { facts: { word: text.slice(0, 40), suggestions: '' }, fixes: [fix] });
    return null;
  }
  const tokens = tokensOf(raw);
  if (tokens.length === 0 && isMeter(text)) {
    problems.report('unknown-keyword', range, {
      facts: { word: text, suggestions: `meter ${text}` },
      fixes: [writing(range, `meter ${text}`, true)],
    });
    return { kind: 'meter', keyword, range, meter: readMeter([keyword], range, problems) };
  }
  const near = meantFor(text);
  // `time signature 3/4`.
  const second = near[0] === 'meter' && /^signature$/i.test(tokens[0]?.image ?? '') ? tokens[0]! : null;
  const meant =
    near.length === 1 && READ_AS_MEANT.has(near[0]!)
      ? readAs(near[0]!, second === null ? raw : { ...raw, segments: [{ words: tokens.slice(1).map((token) => [token]), broken: false }] })
      : null;
  const place = second === null ? range : { start: range.start, end: rangeOf(second).end };
  problems.report('unknown-keyword', place, {
    facts: { word: second === null ? text.slice(0, 40) : `${text} ${second.image}`, suggestions: near.join(', ') },
    fixes: near.map((word) => writing(place, word, meant !== null)),
  });
  return meant;
}

/** Rows of words that are read though their first word is only meant for theirs. */
const READ_AS_MEANT: ReadonlySet<string> = new Set(['key', 'meter', 'tempo', 'part', 'level', 'tag', 'claim', 'say']);

/** The row as one of another word; null where it would be wrong as such, too. */
function readAs(word: string, raw: RawRow): Row | null {
  const problems = new Problems();
  const row = readProperty(raw, problems, word);
  return problems.found.length === 0 ? row : null;
}

/** A word that is read as `phrase` all the same: what stands below is a phrase of its own. */
export function reportMistyped({ text, range }: Word, problems: Problems): void {
  problems.report('unknown-keyword', range, { facts: { word: text, suggestions: 'phrase' }, fixes: [writing(range, 'phrase', true)] });
}

/** The words of rows that another may be meant for. */
function meantFor(text: string): readonly string[] {
  return Object.hasOwn(OTHER_NAMES, text.toLowerCase()) ? [OTHER_NAMES[text.toLowerCase()]!] : nearKeywords(text);
}

function nearKeywords(text: string): string[] {
  // A word that has been begun is meant before one of nearly the same letters.
  const begun = text.length < 2 ? [] : ROW_WORDS.filter(({ word }) => word.startsWith(text.toLowerCase()));
  if (begun.length > 0) return begun.map(({ word }) => word);
  return (
    ROW_WORDS.map(({ word }) => ({ word, off: distance(text.slice(0, 20).toLowerCase(), word) }))
      // Who types a row's word gets its first letter right, or only that wrong: `hello` is no slip for `cell`.
      .filter(({ word, off }) => off <= (word[0] === text[0]!.toLowerCase() ? Math.max(1, Math.ceil(word.length / 3)) : 1))
      .sort((a, b) => a.off - b.off)
      .slice(0, 3)
      .map(({ word }) => word)
  );
}

/** A row's one string. */
function readText(raw: RawRow, problems: Problems): StringNode | null {
  const tokens = tokensOf(raw);
  const quoted = tokens.find((token) => token.tokenType === Quoted);
  const extra = tokens.filter((token) => token !== quoted);
  const word = raw.keyword.image;
  const other = raw.goesOn === undefined ? inOtherQuotes(tokens) : null;
  if (other !== null) {
    const { value, range, marks } = other;
    problems.report('missing-text', range, {
      facts: { word, wants: 'a text in quotes', marks },
      fixes: [writing(range, `"${value}"`, true, 'Write double quotes')],
    });
    return { value, range, closed: true };
  }
  if (quoted === undefined) {
    const place = tokens.length === 0 ? rangeOf(raw.keyword) : rangeOf(tokens[0]!, tokens[tokens.length - 1]);
    const text = extra.map((token) => token.image).join(' ');
    const fixes = text === '' ? [] : [writing(place, `"${text}"`, false, 'Put it in quotes')];
    problems.report('missing-text', place, { facts: { word, wants: 'a text in quotes' }, fixes });
    return null;
  }
  if (extra.length > 0)
    problems.report('extra-words', rangeOf(extra[0]!, extra[extra.length - 1]), {
      facts: {
        words: extra
          .map((token) => token.image)
          .join(' ')
          .slice(0, 40),
        word,
      },
    });
  return readString(quoted, raw, problems);
}

/** Quotes that others write, from those that open to those that close; „…“ ends in what opens a text here. */
const OTHER_QUOTES = /^(?:„[^"“”„\\]*[“”"]|‚[^"“”‚\\]*[‘’]|‘[^"“”\\]*’|'[^"“”\\]*'|«[^"“”\\]*»|»[^"“”\\]*«)$/;

/** The text of a row that stands in other quotes than ours, with the two marks; null where it does not. */
function inOtherQuotes(tokens: readonly IToken[]): { readonly value: string; readonly range: Range; readonly marks: string } | null {
  if (tokens.length === 0) return null;
  const range = rangeOf(tokens[0]!, tokens[tokens.length - 1]);
  let text = '';
  for (const token of tokens) text = text.padEnd(token.startOffset - range.start) + token.image;
  return text.length > 1 && OTHER_QUOTES.test(text)
    ? { value: text.slice(1, -1), range, marks: `${text[0]}…${text[text.length - 1]}` }
    : null;
}

function readString(token: IToken, { goesOn, text = '' }: RawRow, problems: Problems): StringNode {
  const { image } = token;
  const range = rangeOf(token);
  const closed = isClosed(image);
  const inner = image.slice(1, closed ? -1 : undefined);
  if (goesOn !== undefined) return readOn(inner, range, goesOn, text, problems);
  if (!closed)
    problems.report('unclosed-string', range, { fixes: [writing({ start: range.end, end: range.end }, '"', true, 'Close the quotes')] });
  return { value: unescaped(inner), range, closed };
}

/** A text over several lines: read as one, which the fix makes it. */
function readOn(inner: string, range: Range, { lines, closed }: GoesOn, text: string, problems: Problems): StringNode {
  const last = lines[lines.length - 1]!;
  const pieces = [
    inner.trim(),
    ...lines.map((line) => text.slice(line.start, line === last && closed ? line.end - 1 : line.end).trimEnd()),
  ];
  const edits = lines.map((line, i): TextEdit => {
    const start = i === 0 ? range.start + 1 + inner.trimEnd().length : lines[i - 1]!.end;
    return { range: { start, end: line.start }, text: pieces[i] === '' || pieces[i + 1] === '' ? '' : ' ' };
  });
  const close = closed ? [] : [{ range: { start: last.end, end: last.end }, text: '"' }];
  problems.report(
    'unclosed-string',
    { start: range.start, end: last.end },
    {
      facts: { more: lines.length, closed: closed ? 'yes' : 'no' },
      fixes: [
        {
          title: lines.length === 1 ? 'Join the two lines' : `Join the ${lines.length + 1} lines`,
          safe: closed,
          preferred: true,
          edits: [...edits, ...close],
        },
      ],
    },
  );
  return { value: unescaped(pieces.filter((piece) => piece !== '').join(' ')), range, closed: false };
}

function unescaped(inner: string): string {
  return inner.replace(/\\(["“”\\])/g, '$1');
}

function readLevel(words: readonly Word[], range: Range, problems: Problems): 1 | 2 | 3 | 4 | 5 | null {
  if (words.length === 1 && /^[1-5]$/.test(words[0]!.text)) return Number(words[0]!.text) as 1 | 2 | 3 | 4 | 5;
  problems.report('bad-level', range, { facts: { found: textOf(words) } });
  return null;
}
