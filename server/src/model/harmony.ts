/** `over` rows in time: which chord sounds when. */
import type { Fraction } from './fraction';
import type { ChordBar, ChordWord, OverRow, Range, Share } from '../../../grammar/tree';
import { readChord } from '../theory/chord';
import { isBareInMinor, isRoman, readRoman } from '../theory/roman';
import { scaleNameFromText, nearestScaleNames } from '../theory/scale';
import type { Chord, ScaleName, Unread } from '../theory/types';
import { findChanges, listNames, replacing, report, type BuildContext } from './context';
import { between, takingAway } from './doubled-bar-lines';
import { joinLoose } from './loose-qualities';
import type { ChordSpan, Meter } from './types';

/** A chord as read once, to be laid in time one or more times. */
interface Sounding {
  readonly chord: Chord | null;
  readonly symbol: string;
  readonly written: string;
  readonly statedScale: ScaleName | null;
  readonly range: Range;
  readonly definition: ChordSpan['definition'];
  readonly roman: boolean;
}

interface Share0 {
  readonly sounding: Sounding | null;
  /** The share begins with a written chord (else it goes on with the one before). */
  readonly fresh: boolean;
}

/** The harmony of a phrase as it grows from system to system. */
export interface HarmonyInProgress {
  readonly spans: { -readonly [K in keyof ChordSpan]: ChordSpan[K] }[];
  /** The last bar's shares, for `%`. */
  lastBar: { readonly shares: readonly Share0[]; readonly lengths: readonly Fraction[] } | null;
}

export interface LaidOver {
  readonly bars: number;
  /** The whole row holds one chord symbol. */
  readonly vamp: boolean;
}

/** Lays one `over` row from `onset` on and returns how many bars it has. Errors go to the context; nothing throws. */
export function layOver(row: OverRow, onset: Fraction, meter: Meter, harmony: HarmonyInProgress, context: BuildContext): LaidOver {
  const { bars, definition } = barsOf(row, context);
  const symbols = new Set<string>();
  bars.forEach((bar, index) => {
    const place = definition === null ? null : { name: definition, over: row.changes!.range };
    const laid = layBar(bar, meter, harmony, context, place);
    let at = onset.add(meter.length.mul(index));
    laid.shares.forEach((share, i) => {
      const end = at.add(laid.lengths[i]!);
      sound(harmony, share, at, end);
      if (share.sounding !== null) symbols.add(share.sounding.symbol);
      at = end;
    });
    harmony.lastBar = laid;
  });
  return { bars: bars.length, vamp: symbols.size <= 1 };
}

function barsOf(row: OverRow, context: BuildContext): { bars: readonly ChordBar[]; definition: string | null } {
  if (row.changes === null) return { bars: row.bars, definition: null };
  const found = findChanges(context, row.changes.text);
  if (found !== undefined) return { bars: found.bars, definition: row.changes.text };
  const asChord = row.changes.text[0]!.toUpperCase() + row.changes.text.slice(1);
  const readable = 'tones' in readChord(asChord);
  report(context, 'undefined-name', 'error', row.changes.range, {
    facts: { name: row.changes.text, kind: 'changes', known: listNames(context, 'changes') },
    fixes: readable ? [replacing(row.changes.range, asChord, `Write the chord ${asChord}`)] : [],
  });
  return { bars: [], definition: null };
}

type Place = { readonly name: string; readonly over: Range } | null;

function layBar(
  written: ChordBar,
  meter: Meter,
  harmony: HarmonyInProgress,
  context: BuildContext,
  place: Place,
): NonNullable<HarmonyInProgress['lastBar']> {
  const bar = joinLoose(written, context.key, place === null ? context : null);
  const whole = bar.shares.length === 1 ? bar.shares[0] : undefined;
  if (whole?.kind === 'repeat-bar') {
    if (harmony.lastBar !== null) return { ...harmony.lastBar, shares: harmony.lastBar.shares.map((s) => ({ ...s, fresh: false })) };
    if (place === null) nothingBefore(whole, context);
    return { shares: [{ sounding: null, fresh: false }], lengths: [meter.length] };
  }
  const lengths = shareLengths(bar, meter, context, place);
  let last = harmony.spans.length > 0 ? currentSounding(harmony) : null;
  const shares = bar.shares.map((share): Share0 => {
    if (share.kind === 'repeat' || share.kind === 'repeat-bar') {
      if (last === null && place === null) nothingBefore(share, context);
      return { sounding: last, fresh: false };
    }
    last = readShare(share, context, place);
    return { sounding: last, fresh: true };
  });
  if (shares.length === 0) {
    if (place === null && !bar.broken)
      report(context, 'empty-chord-bar', 'warning', between(bar), {
        fixes: [replacing(bar.range, ' % ', 'Repeat the bar before: %'), ...takingAway(bar)],
      });
    return { shares: [{ sounding: last, fresh: false }], lengths: [meter.length] };
  }
  return { shares, lengths };
}

function nothingBefore(share: Share, context: BuildContext): void {
  report(context, 'repeat-of-nothing', 'error', share.range, {
    facts: { sign: share.kind === 'repeat' ? '/' : '%' },
    fixes: [replacing(share.range, 'N.C.', 'Write N.C. (no chord)')],
  });
}

function currentSounding(harmony: HarmonyInProgress): Sounding {
  return harmony.spans[harmony.spans.length - 1]!;
}

/** Chords share a bar equally; a number of shares that cannot be placed keeps the bar's length all the same. */
function shareLengths(bar: ChordBar, meter: Meter, context: BuildContext, place: Place): Fraction[] {
  const count = bar.shares.length;
  if (count === 0) return [];
  const finest = meter.compound ? meter.beats : meter.beatCount * 2;
  if (finest % count === 0) {
    const length = meter.length.div(count);
    offBeatChange(bar, length, meter, context, place);
    return Array<Fraction>(count).fill(length);
  }
  if (!bar.broken) {
    report(context, 'chord-shares', 'error', place?.over ?? bar.range, {
      facts: { chords: count, beats: meter.beatCount },
      fixes: place === null ? placements(bar, meter.beatCount, context) : [],
    });
  }
  const step = count <= meter.beatCount ? meter.beat : meter.length.div(count);
  return bar.shares.map((_, i) => (i === count - 1 ? meter.length.sub(step.mul(count - 1)) : step));
}

function offBeatChange(bar: ChordBar, length: Fraction, meter: Meter, context: BuildContext, place: Place): void {
  const written = bar.shares.every((share) => share.kind === 'chord' || share.kind === 'no-chord');
  if (!written || bar.shares.length < 2 || bar.shares.length > meter.beatCount || length.div(meter.beat).isWhole) return;
  report(context, 'change-off-the-beat', 'information', place?.over ?? bar.range, {
    facts: { chords: bar.shares.length, beats: meter.beatCount },
    fixes: place === null ? placements(bar, meter.beatCount, context) : [],
  });
}

/** The ways to place k chords on the beats of a bar with slashes, the most even first, of which at most four are offered; last, a bar for each. */
function placements(bar: ChordBar, beats: number, context: BuildContext): ReturnType<typeof replacing>[] {
  const words = bar.shares.map((share) => context.text.slice(share.range.start, share.range.end));
  if (words.length > beats || bar.broken) return [];
  const placed = compositions(beats, words.length)
    .sort((a, b) => Math.max(...a) - Math.max(...b))
    .slice(0, 4)
    .map((lengths) => {
      const text = words.map((word, i) => [word, ...Array<string>(lengths[i]! - 1).fill('/')].join(' ')).join(' ');
      return replacing(bar.range, text, `Write ${text}`);
    });
  const barred = words.join(' | ');
  return [...placed, replacing(bar.range, barred, `Give each chord a bar: ${barred}`)];
}

/** All ways to write `total` as an ordered sum of `parts` positive numbers; small numbers only (beats of a bar). */
function compositions(total: number, parts: number): number[][] {
  if (parts === 1) return [[total]];
  const found: number[][] = [];
  for (let first = total - parts + 1; first >= 1 && found.length < 200; first -= 1) {
    for (const rest of compositions(total - first, parts - 1)) found.push([first, ...rest]);
  }
  return found;
}

function readShare(share: Share, context: BuildContext, place: Place): Sounding {
  if (share.kind === 'chord') return readWord(share, context, place);
  const symbol = share.kind === 'no-chord' ? 'N.C.' : '?';
  return { chord: null, symbol, written: symbol, statedScale: null, roman: false, ...placeOf(share.range, place) };
}

function readWord(share: ChordWord, context: BuildContext, place: Place): Sounding {
  const text = share.symbol.text;
  const roman = isRoman(text);
  // A problem inside a definition is reported once, where it is written, by `checkChanges`.
  const loud = place === null;
  let chord: Chord | null = null;
  if (roman && context.key === null) {
    report(context, 'numeral-without-key', 'error', place?.over ?? share.symbol.range, { facts: { numeral: text } });
  } else {
    const read = roman ? readRoman(text, context.key!) : readChord(text);
    if ('tones' in read) chord = read;
    else if (loud) unknownChord(share, read, context);
    if (roman && loud && isBareInMinor(text, context.key!)) numeralInMinor(share, context);
  }
  const { range, definition } = placeOf(share.range, place);
  return {
    chord,
    symbol: chord?.symbol ?? text,
    written: text,
    statedScale: share.scale === null ? null : statedScale(share.scale.text, share, loud ? context : null),
    roman,
    range,
    definition,
  };
}

function numeralInMinor(share: ChordWord, context: BuildContext): void {
  const numeral = share.symbol.text;
  report(context, 'numeral-in-minor', 'hint', share.symbol.range, {
    facts: { numeral },
    fixes: [replacing(share.symbol.range, `b${numeral}`, `Write b${numeral}`)],
  });
}

function unknownChord(share: ChordWord, { why, suggestions }: Unread, context: BuildContext): void {
  const near = suggestions.slice(0, 3);
  report(context, 'unknown-chord', 'error', share.symbol.range, {
    facts: { symbol: share.symbol.text, why, suggestions: near.join(', ') },
    fixes: near.map((symbol) => replacing(share.symbol.range, symbol, `Write ${symbol}`)),
  });
}

function statedScale(text: string, share: ChordWord, context: BuildContext | null): ScaleName | null {
  const name = scaleNameFromText(text);
  if (name === null && context !== null) {
    const near = nearestScaleNames(text).map((n) => n.replaceAll(' ', '-'));
    report(context, 'unknown-scale', 'error', share.scale!.range, {
      facts: { name: text, suggestions: near.slice(0, 3).join(', ') },
      fixes: near.slice(0, 3).map((n) => replacing(share.scale!.range, n, `Write ${n}`)),
    });
  }
  return name;
}

function placeOf(range: Range, place: Place): { range: Range; definition: ChordSpan['definition'] } {
  return place === null ? { range, definition: null } : { range: place.over, definition: { name: place.name, range } };
}

/** Adds a share to the spans: a written chord starts a span, a repeat lengthens the one before. */
function sound(harmony: HarmonyInProgress, share: Share0, onset: Fraction, end: Fraction): void {
  const last = harmony.spans[harmony.spans.length - 1];
  const sounding = share.sounding;
  if (sounding === null) return;
  if (!share.fresh && last !== undefined && last.symbol === sounding.symbol && last.end.equals(onset)) {
    last.end = end;
    return;
  }
  harmony.spans.push({
    index: harmony.spans.length,
    onset,
    end,
    chord: sounding.chord,
    symbol: sounding.symbol,
    written: sounding.written,
    statedScale: sounding.statedScale,
    range: sounding.range,
    definition: sounding.definition,
    roman: sounding.roman,
  });
}

/** Lets the last chord sound on to `end` (a line longer than its chords). */
export function holdLast(harmony: HarmonyInProgress, end: Fraction): void {
  const last = harmony.spans[harmony.spans.length - 1];
  if (last !== undefined && last.end.compare(end) < 0) last.end = end;
}

/** Reports what is wrong inside a `changes` definition, once, at the definition. Numerals need a phrase's key to be judged. */
export function checkChanges(bars: readonly ChordBar[], context: BuildContext): void {
  for (const bar of bars) {
    for (const share of joinLoose(bar, null, context).shares) {
      if (share.kind !== 'chord') continue;
      if (!isRoman(share.symbol.text)) {
        const read = readChord(share.symbol.text);
        if (!('tones' in read)) unknownChord(share, read, context);
      }
      if (share.scale !== null) statedScale(share.scale.text, share, context);
    }
  }
}
