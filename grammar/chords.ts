/** The words of `over` and `changes`: chord symbols, repeats, no chord. A symbol is not read here. */
import type { IToken } from 'chevrotain';
import { rangeOf, wordOf, writing, type Problems } from './problems';
import { NoChordWord, Percent, Slash } from './tokens';
import type { Share } from './tree';

/** A weight before what may be a chord: its brackets, if any, hold something. */
const WEIGHTED = /^(\d+):((?:[^()]|\([^()]+\))+)$/;

export function readShare(tokens: readonly IToken[], problems: Problems): Share {
  const { text, range } = wordOf(tokens);
  if (tokens.length === 1) {
    const [token] = tokens;
    if (token!.tokenType === NoChordWord) return { kind: 'no-chord', range };
    if (token!.tokenType === Percent) return { kind: 'repeat-bar', range };
    if (token!.tokenType === Slash) return { kind: 'repeat', range };
  }
  const colon = text.indexOf(':');
  const weight = colon < 0 ? null : WEIGHTED.exec(text);
  if (weight !== null) {
    const beats = Math.min(16, Math.max(1, Number(weight[1])));
    const written = [weight[2], ...Array<string>(beats - 1).fill('/')].join(' ');
    problems.report('weight-in-chords', range, { facts: { word: text.slice(0, 40), written }, fixes: [writing(range, written)] });
    return { kind: 'bad', range };
  }
  const symbolText = colon < 0 ? text : text.slice(0, colon);
  if (symbolText === '' || text === '=') {
    problems.report('unreadable-word', range, { facts: { word: text.slice(0, 40), offer: '' } });
    return { kind: 'bad', range };
  }
  if (colon < 0) return { kind: 'chord', range, symbol: { text, range }, scale: null };
  const split = range.start + symbolText.length;
  const symbol = { text: symbolText, range: { start: range.start, end: split } };
  return { kind: 'chord', range, symbol, scale: { text: text.slice(colon + 1), range: { start: split + 1, end: range.end } } };
}

/** A `%` stands for a whole bar. */
export function reportLonelyPercent(shares: readonly Share[], problems: Problems): void {
  if (shares.length < 2) return;
  for (const share of shares) {
    if (share.kind === 'repeat-bar') problems.report('bar-repeat-not-alone', share.range, { fixes: [writing(share.range, '/')] });
  }
}

const CHORD_LIKE = /^(?:\|{1,2}|%|\/|[A-G][b#♭♯]?[\w#+()^°øΔ,/-]{0,14})$/;

/** A comment that is nothing but chords was most likely meant as slashes: `C7 // F7`. */
export function reportHiddenChords(comment: IToken, problems: Problems): void {
  const words = comment.image.slice(2).trim().split(/\s+/);
  if (words[0] === '' || !words.every((word) => CHORD_LIKE.test(word))) return;
  const slashes = { start: comment.startOffset, end: comment.startOffset + 2 };
  problems.report('hidden-by-comment', rangeOf(comment), {
    severity: 'warning',
    facts: { hidden: words.join(' ').slice(0, 40) },
    fixes: [writing(slashes, '/ /')],
  });
}
