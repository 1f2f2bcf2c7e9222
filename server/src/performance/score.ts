/** What of a phrase is played, in exact time: its notes, strikes and clicks cut to a stretch. The same for every pass. */
import { fractionNear, type Fraction } from '../model/fraction';
import { barLineOf, earlier, lastNotAfter, later, startingIn } from '../model/time';
import type { Bar, ChordSpan, Note, Phrase } from '../model/types';
import type { Chord } from '../theory/types';
import { onQuarter, quartersOf, type Quarter } from './swing';
import type { Stretch } from './types';

export interface Score {
  readonly from: Fraction;
  readonly to: Fraction;
  readonly quarters: readonly Quarter[];
  /** The bars played, in part or whole; at least one. */
  readonly bars: readonly Bar[];
  readonly notes: readonly PlayedNote[];
  readonly chords: readonly Strike[];
  readonly bass: readonly Strike[];
  readonly clicks: readonly { readonly at: Fraction; readonly accent: boolean }[];
}

export interface Played {
  readonly from: Fraction;
  readonly to: Fraction;
}

export interface PlayedNote extends Played {
  readonly note: Note;
  /** It is struck on a quarter (not held into the stretch). */
  readonly onBeat: boolean;
}

export interface Strike extends Played {
  readonly chord: Chord;
  /** For the bass: the middle of the bar, where it goes to the fifth. */
  readonly middle: boolean;
}

/** The score of a stretch; null where the phrase has no bar. */
export function scoreOf(phrase: Phrase, stretch: Stretch | null): Score | null {
  const all = phrase.bars;
  const [first] = all;
  const last = all[all.length - 1];
  if (first === undefined || last === undefined) return null;
  const whole: Played = { from: first.onset, to: last.onset.add(last.length) };
  const played = stretch === null ? whole : clamped(stretch, whole);
  const cut = <T extends Played>(item: T): T[] => {
    const from = later(item.from, played.from);
    const to = earlier(item.to, played.to);
    return from.compare(to) < 0 ? [{ ...item, from, to }] : [];
  };
  const quarters = quartersOf(phrase);
  return {
    ...played,
    quarters,
    bars: all.filter((bar) => cut({ from: bar.onset, to: bar.onset.add(bar.length) }).length > 0),
    notes: phrase.notes.flatMap((note) =>
      cut({
        note,
        from: note.onset,
        to: note.onset.add(note.duration),
        onBeat: note.onset.compare(played.from) >= 0 && onQuarter(quarters, note.onset),
      }),
    ),
    chords: phrase.spans.flatMap((span) => strikes(span, all, false)).flatMap(cut),
    bass: phrase.spans.flatMap((span) => strikes(span, all, true)).flatMap(cut),
    clicks: all.flatMap(beatsOf).filter(({ at }) => at.compare(played.from) >= 0 && at.compare(played.to) < 0),
  };
}

/** A stretch as far as the phrase goes; the whole phrase where nothing is left of it. */
function clamped({ from, to }: Stretch, whole: Played): Played {
  if (Number.isNaN(from) || Number.isNaN(to)) return whole;
  const start = from > Number(whole.from.valueOf()) ? (from < Number(whole.to.valueOf()) ? fractionNear(from) : whole.to) : whole.from;
  const end = to < Number(whole.to.valueOf()) ? (to > Number(whole.from.valueOf()) ? fractionNear(to) : whole.from) : whole.to;
  return start.compare(end) < 0 ? { from: start, to: end } : whole;
}

/** A chord is struck where it comes in and at each bar line it goes across; the bass also in the middle of a bar that is all its. */
function strikes({ chord, onset, end }: ChordSpan, bars: readonly Bar[], bass: boolean): Strike[] {
  if (chord === null) return [];
  const across = startingIn(bars, bars[lastNotAfter(bars, onset)]!.onset, end);
  return across.flatMap((bar): Strike[] => {
    const barEnd = bar.onset.add(bar.length);
    const from = later(onset, bar.onset);
    const to = earlier(end, barEnd);
    if (from.compare(to) >= 0) return [];
    const isWhole = from.equals(bar.onset) && to.equals(barEnd) && bar.number > 0 && bar.meter.beatCount >= 4;
    if (!bass || !isWhole || !chord.tones.some(({ figure }) => figure.number === 5)) return [{ chord, from, to, middle: false }];
    const middle = from.add(bar.meter.beat.mul(Math.floor(bar.meter.beatCount / 2)));
    return [
      { chord, from, to: middle, middle: false },
      { chord, from: middle, to, middle: true },
    ];
  });
}

/** The felt beats of a bar; those of a pickup are the last of a whole bar. */
function beatsOf(bar: Bar): { at: Fraction; accent: boolean }[] {
  const barLine = barLineOf(bar);
  return Array.from({ length: bar.meter.beatCount }, (_, i) => ({ at: barLine.add(bar.meter.beat.mul(i)), accent: i === 0 })).filter(
    ({ at }) => at.compare(bar.onset) >= 0,
  );
}
