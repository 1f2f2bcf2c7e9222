/** Chords that are given beside a file: `| Dm7 | G7 | Cmaj7 | % |`, bar by bar, from the start again where they end. */
import { Fraction } from '../model/fraction';
import { meterText } from '../model/time';
import { parseFile } from '../../../grammar/parser';
import { isRoman } from '../theory/roman';
import { readChord } from '../theory/chord';
import type { BarChord } from './over';
import { finestShares } from './over';
import type { Tune, TuneChord } from './types';
import { Unreadable } from './unreadable';

/** The chords of each bar. Throws `Unreadable` with what is wrong. */
export function readGivenChords(text: string): BarChord[][] {
  if (/[\r\n"]/.test(text)) throw new Unreadable('--chords: write the chords in one row, | Dm7 | G7 |.');
  const [slice] = parseFile(`phrase "Given"\n  over ${text.trim().startsWith('|') ? text : `| ${text} |`}\n`);
  const item = slice?.parsed.item;
  const row = item?.kind === 'phrase' ? item.rows.find((one) => one.kind === 'over') : undefined;
  if (row === undefined || row.bars.length === 0 || row.bars.some(({ broken, shares }) => broken || shares.length === 0))
    throw new Unreadable('--chords: the chords cannot be read. Write them bar by bar, | Dm7 | G7 | Cmaj7 | % |.');
  const bars: BarChord[][] = [];
  for (const { shares } of row.bars) {
    const before = bars[bars.length - 1];
    if (shares.length === 1 && shares[0]!.kind === 'repeat-bar' && before !== undefined) {
      bars.push(before);
      continue;
    }
    bars.push(
      shares.flatMap((share, i): BarChord[] => {
        const at = new Fraction(i).div(shares.length);
        if (share.kind === 'no-chord') return [{ at, symbol: 'N.C.' }];
        if (share.kind !== 'chord') {
          if (bars.length === 0 && i === 0) throw new Unreadable('--chords: there is no chord before the first sign of repeat.');
          return [];
        }
        const symbol = share.symbol.text + (share.scale === null ? '' : `:${share.scale.text}`);
        refuseUnknown(share.symbol.text);
        return [{ at, symbol }];
      }),
    );
  }
  return bars;
}

/** What is wrong with chords that are being written, as a sentence; null where they can be read. */
export function problemOfChords(text: string): string | null {
  try {
    readGivenChords(text);
    return null;
  } catch (error) {
    if (error instanceof Unreadable) return withoutOption(error.message);
    throw error;
  }
}

/** A message for whoever gave the chords in another place than the command line. */
export function withoutOption(message: string): string {
  return message.replace(/^--chords: ./, (start) => start.slice(-1).toUpperCase());
}

function refuseUnknown(symbol: string): void {
  if (isRoman(symbol)) return;
  const read = readChord(symbol);
  if (!('tones' in read))
    throw new Unreadable(
      `--chords: “${symbol}”: ${read.why}.${read.suggestions.length > 0 ? ` Did you mean ${read.suggestions.slice(0, 3).join(', ')}?` : ''}`,
    );
}

/** The tune over these chords in place of its own. */
export function withChords(tune: Tune, given: readonly (readonly BarChord[])[]): Tune {
  let index = -1;
  const chords = tune.bars.flatMap((bar): TuneChord[] => {
    if (bar.isPickup) return [];
    index += 1;
    const own = given[index % given.length]!;
    const finest = finestShares(bar.meter);
    if (own.some(({ at }) => at.mul(finest).d !== 1n))
      throw new Unreadable(
        `--chords: bar ${(index % given.length) + 1} has chords that share no bar of ${meterText(bar.meter)}. Place them with slashes, C7 / / F7.`,
      );
    return own.map(({ at, symbol }) => ({ onset: bar.onset.add(bar.length.mul(at)), symbol, measure: bar.source.number }));
  });
  return { ...tune, chords };
}
