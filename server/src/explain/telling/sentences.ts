/** Clauses joined to sentences: the chord named once, two sentences where one is long. */
import type { Reading } from '../../analysis/types';

/** A clause with the stretch that it belongs to. */
export interface Part {
  readonly words: string;
  /** As in a clause. */
  readonly verb?: string;
  readonly weight: number;
  readonly stretch: number;
  readonly isPoint: boolean;
  /** The first note that it tells of. */
  readonly from: number;
  readonly target: number | null;
}

/** What a note is, and not where the line goes: it does not follow upon “then”. */
export const STATES = / is the colour of | is the seventh of | comes early$| stays: | comes back as /;

/** The chords of a phrase where a clause names one. */
export function mentionOf({ phrase: { spans } }: Reading): RegExp | null {
  const symbols = [...new Set(spans.map(({ symbol }) => symbol))].sort((a, b) => b.length - a.length).map((symbol) => symbol.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&'));
  return symbols.length === 0 ? null : new RegExp(` (of|over|through|outlines) (${symbols.join('|')})(?=[\\s,;)]|$)`, 'g');
}

/** The chord is named once where it goes on. */
export function sparing(parts: readonly Part[], mention: RegExp | null): readonly Part[] {
  if (mention === null) return parts;
  let last: string | null = null;
  return parts.map((part) => ({
    ...part,
    words: part.words.replace(mention, (whole, word: string, symbol: string) => {
      const isKnown = last === symbol && word === 'of';
      last = symbol;
      return isKnown ? '' : whole;
    }),
  }));
}

/** Characters of a sentence. */
const LONG = 110;

export function inSentences(parts: readonly Part[]): Part[][] {
  const total = parts.reduce((sum, { words }) => sum + words.length, 0);
  if (parts.length < 2 || total <= LONG) return [[...parts]];
  // What only goes on begins no sentence.
  const cuts = parts.map((_, i) => i).slice(1).filter((cut) => !parts[cut]!.words.startsWith('which ')).map((cut) => {
    const left = parts.slice(0, cut).reduce((sum, { words }) => sum + words.length, 0);
    return { cut, cost: Math.abs(total / 2 - left) + (parts[cut]!.isPoint ? 40 : 0) };
  });
  if (cuts.length === 0) return [[...parts]];
  const { cut } = cuts.reduce((one, other) => (other.cost < one.cost ? other : one));
  return [parts.slice(0, cut), parts.slice(cut)];
}

export function joined(parts: readonly Part[]): string {
  return parts.map(({ words, verb, isPoint }, i) => {
    if (i === 0) return words;
    if (words.startsWith('which ')) return `, ${words}`;
    const isSame = verb !== undefined && verb === parts[i - 1]!.verb;
    return `${isPoint || STATES.test(parts[i - 1]!.words) || (i > 1 && !isSame) ? '; ' : ', then '}${isSame ? words.slice(verb.length) : words}`;
  }).join('');
}
