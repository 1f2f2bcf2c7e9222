/** Where a phrase is broken into systems, so that its bars spread evenly. */

/** More than that of the width is not asked of a system: the engraver can press bars together a little. */
const PRESSED = 1.08;
const WHOLE = 0.99;
/** What a bar more or less than in the other systems weighs against uneven widths: players count in even groups of bars. */
const COUNT = 0.03;

/** Natural widths of bars in parts of the room of a system, and of what stands before them there (clef and key). */
export interface BarWidths {
  readonly bars: readonly number[];
  readonly head: number;
}

/** The bars that begin a system, but for the first: as few systems as there can be, as even as they can be. */
export function evenBreaks({ bars, head }: BarWidths): number[] {
  const sums = bars.reduce<number[]>((all, width) => [...all, all[all.length - 1]! + width], [0]);
  // The first bar's width has its clef and key in it.
  const fill = (from: number, to: number): number => (from === 0 ? 0 : head) + sums[to]! - sums[from]!;
  const fits = (from: number, to: number): boolean => fill(from, to) <= PRESSED || to === from + 1;
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
  let best: ({ cost: number; begins: readonly number[] } | null)[] = bars.map((_, i) => (fits(0, i + 1) ? { cost: cost(0, i + 1), begins: [] } : null));
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

/** The widths of bars as the engraver sets them on one endless line: read from the lines of its staves. */
export function barWidths(picture: string, room: number): BarWidths {
  const bars = picture.split(/<g [^>]*class="measure"/).slice(1).map((measure) => {
    const [, left, right] = /<path d="M(-?[\d.]+) [\d.]+ L(-?[\d.]+) [\d.]+"/.exec(measure) ?? [];
    return (Number(right ?? 0) - Number(left ?? 0)) / room;
  });
  // The meter stands where the first bar begins on later systems.
  const [, meter] = /class="meterSig"[\s\S]*?translate\((-?[\d.]+)/.exec(picture) ?? [];
  return { bars, head: Number(meter ?? 0) / room };
}

/** The document with new systems at these bars. */
export function withBreaks(musicXml: string, begins: readonly number[]): string {
  let bar = -1;
  return musicXml.replace(/<measure\b[^>]*[^/]>/g, (tag) => {
    bar += 1;
    return begins.includes(bar) ? `${tag}<print new-system="yes"/>` : tag;
  });
}
