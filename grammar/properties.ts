/** Rows that are words: key, meter, tempo, part, level, tag, claim, say, about, and what is none of them. */
import type { IToken } from 'chevrotain';
import { distance } from 'fastest-levenshtein';
import { readKey } from './keys';
import type { RawRow } from './raw-row';
import { rangeOf, wordOf, writing, type Problems } from './problems';
import { ROW_WORDS } from './rows';
import { BarLine, Quoted } from './tokens';
import type { MeterRow, Range, Row, StringNode, Word } from './tree';

/** What a row is called elsewhere. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  title: 'lesson', time: 'meter', chord: 'over', chords: 'over', harmony: 'over', melody: 'line', note: 'line', notes: 'line',
};

/** The title of a lesson or phrase; null where there is none (then that is reported). */
export function readTitle(raw: RawRow, problems: Problems): StringNode | null {
  return readText(raw, problems);
}

/** Reads one row of words. Always answers a row; what is wrong is reported at its place. */
export function readProperty(raw: RawRow, problems: Problems): Row {
  const tokens = tokensOf(raw);
  const words = tokens.map((token) => wordOf([token]));
  const keyword = wordOf([raw.keyword]);
  const last = words[words.length - 1];
  const base = { keyword, range: { start: keyword.range.start, end: last?.range.end ?? keyword.range.end } };
  switch (keyword.text) {
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
      reportUnknown(keyword, raw, problems);
      return { kind: 'unknown', ...base };
  }
}

function tokensOf(raw: RawRow): IToken[] {
  return raw.segments.flatMap((segment) => segment.words.flat());
}

/** Several words as one, as a part's name may be said: `tenor sax`. */
function joined(words: readonly Word[]): Word | null {
  const [first, last] = [words[0], words[words.length - 1]];
  return first === undefined || last === undefined ? null : { text: words.map(({ text }) => text).join(' '), range: { start: first.range.start, end: last.range.end } };
}

function textOf(words: readonly Word[]): string {
  return words.map((word) => word.text).join(' ').slice(0, 40);
}

function reportUnknown(keyword: Word, raw: RawRow, problems: Problems): void {
  const { text, range } = keyword;
  if (raw.keyword.tokenType === BarLine || text.startsWith('|')) {
    problems.report('stray-bar-line', range);
    return;
  }
  const sign = /^#+/.exec(text)?.[0];
  if (sign !== undefined) {
    const fix = writing({ start: range.start, end: range.start + sign.length }, '//', false, 'Write it as a comment');
    problems.report('unknown-keyword', range, { facts: { word: text.slice(0, 40), suggestions: '' }, fixes: [fix] });
    return;
  }
  const meant = Object.hasOwn(OTHER_NAMES, text.toLowerCase()) ? OTHER_NAMES[text.toLowerCase()]! : null;
  const near = meant !== null ? [meant] : nearKeywords(text);
  problems.report('unknown-keyword', range, {
    facts: { word: text.slice(0, 40), suggestions: near.join(', ') },
    fixes: near.map((word) => writing(range, word)),
  });
}

/** A word that is read as `phrase` all the same: what stands below is a phrase of its own. */
export function reportMistyped({ text, range }: Word, problems: Problems): void {
  problems.report('unknown-keyword', range, { facts: { word: text, suggestions: 'phrase' }, fixes: [writing(range, 'phrase', true)] });
}

function nearKeywords(text: string): string[] {
  // A word that has been begun is meant before one of nearly the same letters.
  const begun = text.length < 2 ? [] : ROW_WORDS.filter(({ word }) => word.startsWith(text.toLowerCase()));
  if (begun.length > 0) return begun.map(({ word }) => word);
  return ROW_WORDS.map(({ word }) => ({ word, off: distance(text.slice(0, 20).toLowerCase(), word) }))
    .filter(({ word, off }) => off <= Math.max(1, Math.ceil(word.length / 3)))
    .sort((a, b) => a.off - b.off)
    .slice(0, 3)
    .map(({ word }) => word);
}

/** A row's one string. */
function readText(raw: RawRow, problems: Problems): StringNode | null {
  const tokens = tokensOf(raw);
  const quoted = tokens.find((token) => token.tokenType === Quoted);
  const extra = tokens.filter((token) => token !== quoted);
  const word = raw.keyword.image;
  if (quoted === undefined) {
    const place = tokens.length === 0 ? rangeOf(raw.keyword) : rangeOf(tokens[0]!, tokens[tokens.length - 1]);
    const text = extra.map((token) => token.image).join(' ');
    const fixes = text === '' ? [] : [writing(place, `"${text}"`, false, 'Put it in quotes')];
    problems.report('missing-text', place, { facts: { word, wants: 'a text in quotes' }, fixes });
    return null;
  }
  if (extra.length > 0) problems.report('extra-words', rangeOf(extra[0]!, extra[extra.length - 1]), { facts: { words: extra.map((token) => token.image).join(' ').slice(0, 40), word } });
  return readString(quoted, problems);
}

function readString(token: IToken, problems: Problems): StringNode {
  const { image } = token;
  const range = rangeOf(token);
  const closed = image.length > 1 && /["“”]$/.test(image) && !/(?:^|[^\\])(?:\\\\)*\\["“”]$/.test(image);
  if (!closed) problems.report('unclosed-string', range, { fixes: [writing({ start: range.end, end: range.end }, '"', true, 'Close the quotes')] });
  const inner = image.slice(1, closed ? -1 : undefined);
  return { value: inner.replace(/\\(["“”\\])/g, '$1'), range, closed };
}

function readMeter(words: readonly Word[], range: Range, problems: Problems): MeterRow['meter'] {
  const match = /^(\d{1,2})\/(\d{1,2})$/.exec(words[0]?.text ?? '');
  const beats = Number(match?.[1]);
  const unit = Number(match?.[2]);
  if (words.length === 1 && match !== null && beats >= 1 && beats <= 32 && [1, 2, 4, 8, 16].includes(unit)) {
    return { beats, unit: unit as 1 | 2 | 4 | 8 | 16 };
  }
  problems.report('bad-meter', words.length === 0 ? range : words[0]!.range, { facts: { found: textOf(words) } });
  return null;
}

function readTempo(words: readonly Word[], range: Range, problems: Problems): Pick<Extract<Row, { kind: 'tempo' }>, 'bpm' | 'feel' | 'ratio'> {
  const [bpmWord, feelWord, ratioWord] = words;
  const bpm = /^\d{2,3}$/.test(bpmWord?.text ?? '') ? Number(bpmWord!.text) : null;
  const feel = feelWord?.text === 'swing' || feelWord?.text === 'straight' ? feelWord.text : null;
  const ratioMatch = /^([1-9]\d?):([1-9]\d?)$/.exec(ratioWord?.text ?? '');
  const ratio = feel === 'swing' && ratioMatch !== null ? ([Number(ratioMatch[1]), Number(ratioMatch[2])] as const) : null;
  const inRange = bpm !== null && bpm >= 20 && bpm <= 400;
  const wellFormed = inRange && (feelWord === undefined || feel !== null) && (ratioWord === undefined || ratio !== null) && words.length <= 3;
  if (!wellFormed) problems.report('bad-tempo', range, { facts: { found: textOf(words) } });
  return { bpm: inRange ? bpm : null, feel, ratio };
}

function readLevel(words: readonly Word[], range: Range, problems: Problems): 1 | 2 | 3 | 4 | 5 | null {
  if (words.length === 1 && /^[1-5]$/.test(words[0]!.text)) return Number(words[0]!.text) as 1 | 2 | 3 | 4 | 5;
  problems.report('bad-level', range, { facts: { found: textOf(words) } });
  return null;
}
