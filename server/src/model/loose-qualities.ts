/** Chords whose quality stands apart from them, as it is said: `F major 7`, `G m7`, `C7 b9`. */
import type { ChordBar, ChordWord, Fix, Share } from '../../../grammar/tree';
import { inShort, readChord } from '../theory/chord';
import { isRoman, readRoman } from '../theory/roman';
import type { Key } from '../theory/types';
import { replacing, report, type BuildContext } from './context';

/** A bar in which each of them is the one chord that is meant. Each is an error whose fix joins it; `context` is null where that is told elsewhere. */
export function joinLoose(bar: ChordBar, key: Key | null, context: BuildContext | null): ChordBar {
  if (bar.shares.length < 2) return bar;
  const shares: Share[] = [];
  let isJoined = false;
  for (let i = 0; i < bar.shares.length; i += 1) {
    const share = bar.shares[i]!;
    const joined = share.kind === 'chord' ? joinedFrom(share, bar.shares.slice(i + 1, i + 1 + MOST_LOOSE), key) : null;
    if (share.kind !== 'chord' || joined === null) {
      shares.push(share);
      continue;
    }
    const loose = bar.shares.slice(i + 1, i + 1 + joined.count) as ChordWord[];
    const range = { start: share.range.start, end: loose[loose.length - 1]!.range.end };
    const symbol = { text: joined.text, range: { start: share.range.start, end: loose[loose.length - 1]!.symbol.range.end } };
    shares.push({ kind: 'chord', range, symbol, scale: loose[loose.length - 1]!.scale });
    if (context !== null) tell(symbol, share, loose, context);
    isJoined = true;
    i += joined.count;
  }
  return isJoined ? { ...bar, shares } : bar;
}

/** `F dominant 7 flat 9` has four loose words. */
const MOST_LOOSE = 4;

/** The longest chord that a chord and the loose words after it are; null where they are none. */
function joinedFrom(share: ChordWord, after: readonly Share[], key: Key | null): { readonly text: string; readonly count: number } | null {
  if (share.scale !== null || !isChord(share.symbol.text, key)) return null;
  const words: string[] = [];
  let found: { text: string; count: number } | null = null;
  for (const next of after) {
    if (next.kind !== 'chord' || isRoman(next.symbol.text) || isChord(next.symbol.text, key)) break;
    words.push(next.symbol.text);
    const text = joinedText(share.symbol.text, words, key);
    if (text !== null) found = { text, count: words.length };
    if (next.scale !== null) break;
  }
  return found;
}

function joinedText(first: string, words: readonly string[], key: Key | null): string | null {
  const [sign, ...others] = words;
  // `B flat 7`: the first word belongs to the root.
  const isSign = /^(?:flat|sharp)$/i.test(sign!) && /^[A-G]$/.test(first);
  const head = isSign ? first + inShort(sign!) : first;
  const rest = (isSign ? others : words).map(inShort).join('');
  const glued = head + (rest === 'maj' ? '' : rest);
  // A flat at the front of what follows belongs to a figure and not to the root: `C b9`.
  return [/^[A-G]$/.test(head) && /^[b#♭♯]/.test(rest) ? `${head}(${rest})` : glued].find((text) => isChord(text, key)) ?? null;
}

function isChord(text: string, key: Key | null): boolean {
  return isRoman(text) ? key !== null && 'tones' in readRoman(text, key) : 'tones' in readChord(text);
}

function tell(symbol: ChordWord['symbol'], first: ChordWord, loose: readonly ChordWord[], context: BuildContext): void {
  const [only, ...more] = loose;
  const capital = only!.symbol.text[0]!.toUpperCase() + only!.symbol.text.slice(1);
  // A small root may be meant instead: `C7 b9`.
  const other: Fix[] =
    more.length === 0 && 'tones' in readChord(capital) ? [replacing(only!.symbol.range, capital, `Write ${capital}`)] : [];
  report(context, 'unknown-chord', 'error', symbol.range, {
    facts: {
      symbol: [first, ...loose].map((word) => word.symbol.text).join(' '),
      why: 'a chord is written as one word',
      suggestions: symbol.text,
    },
    fixes: [replacing(symbol.range, symbol.text, `Write ${symbol.text}`), ...other],
  });
}
