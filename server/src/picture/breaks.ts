/** Where a phrase is broken into systems, so that its bars spread evenly. */

/** More than that of the width is not asked of a system: the engraver can press bars together a little. */
const PRESSED = 1.08;
const WHOLE = 0.99;
/** What a bar more or less than in the other systems weighs against uneven widths: players count in even groups of bars. */
const COUNT = 0.03;

/** Bars on one endless line; widths in parts of the room that a system has for bars after its clef and key. */
export interface BarWidths {
  readonly bars: readonly number[];
  /** How many times as wide each bar has to be at least, so that nothing in it touches and figures can be read: below 1 where it may be pressed. */
  readonly crowded: readonly number[];
}

/** How many times as wide as its room a system has to be for its fullest bar: 1 where there is room. */
export function overfull({ bars, crowded }: BarWidths): number {
  return bars.reduce((most, width, i) => Math.max(most, width * Math.max(crowded[i]!, 1 / PRESSED)), 1);
}

/** Whether the last system needs all of its width though it is short. */
export function lastIsCrowded({ crowded }: BarWidths, begins: readonly number[]): boolean {
  return crowded.slice(begins[begins.length - 1] ?? 0).some((times) => times > 1);
}

/** The bars that begin a system, but for the first: as few systems as there can be, as even as they can be. */
export function evenBreaks({ bars, crowded }: BarWidths): number[] {
  const sums = bars.reduce<number[]>((all, width) => [...all, all[all.length - 1]! + width], [0]);
  const fill = (from: number, to: number): number => sums[to]! - sums[from]!;
  const fits = (from: number, to: number): boolean =>
    to === from + 1 || fill(from, to) * crowded.slice(from, to).reduce((most, times) => Math.max(most, times), 1 / PRESSED) <= 1;
  let systems = 1;
  for (let from = 0, to = 1; to < bars.length; to += 1) {
    if (fits(from, to + 1)) continue;
    systems += 1;
    from = to;
  }
  // A document without a break would be broken where the engraver likes.
  if (systems === 1 && bars.length > 1 && fill(0, bars.length) > WHOLE) systems = 2;
  const mean = bars.length / systems;
  const cost = (from: number, to: number): number => fill(from, to) ** 2 + COUNT * (to - from - mean) ** 2;
  // The cheapest way to set the first bars in so many systems, and where the last of these begins.
  let best: ({ cost: number; begins: readonly number[] } | null)[] = bars.map((_, i) =>
    fits(0, i + 1) ? { cost: cost(0, i + 1), begins: [] } : null,
  );
  for (let system = 1; system < systems; system += 1) {
    const before = best;
    best = bars.map((_, last) => {
      let found: { cost: number; begins: readonly number[] } | null = null;
      // From the shortest end on: once it is too wide, longer ones are. Of two ways as even as each other the shorter end stays.
      for (let from = last; from >= 1 && fits(from, last + 1); from -= 1) {
        const start = before[from - 1];
        if (start == null) continue;
        const whole = start.cost + cost(from, last + 1);
        if (found === null || whole < found.cost - 1e-9) found = { cost: whole, begins: [...start.begins, from] };
      }
      return found;
    });
  }
  return [...(best[bars.length - 1]?.begins ?? [])];
}

/** The document with new systems at these bars. */
export function withBreaks(musicXml: string, begins: readonly number[]): string {
  let bar = -1;
  return musicXml.replace(/<measure\b[^>]*[^/]>/g, (tag) => {
    bar += 1;
    return begins.includes(bar) ? `${tag}<print new-system="yes"/>` : tag;
  });
}
