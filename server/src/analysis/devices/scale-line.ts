/** Five notes or more over one chord, wholly in a scale: what pentatonic, blues and bebop lines share. */
import { chroma, soundClass } from '../../theory/pitch';
import { formatScale } from '../../theory/scale';
import type { Chord, NoteName, Scale } from '../../theory/types';
import type { Found } from './device';
import { inScale, type Event, type Study } from './study';

const LEAST = 5;

export interface ScaleLine {
  /** The closed list of scales that such a line may lie in over a chord; `home` is the tonic, or the chord's own root. */
  scales(chord: Chord, home: NoteName): readonly Scale[];
  /** What makes a run in the scale a line of this kind, and not an arpeggio or a plain run; `above` are half steps above the scale's root. */
  isTold(run: readonly Event[], above: readonly number[], scale: Scale): boolean;
}

/** The lines of a kind, one a chord at most: the first scale of the list that tells one. */
export function scaleLines(study: Study, line: ScaleLine): Found[] {
  return stretches(study).flatMap((stretch) => {
    const { chord } = stretch[0]!;
    const home = study.reading.context.tonic?.tonic ?? chord!.root;
    return line
      .scales(chord!, home)
      .flatMap((scale) => lineIn(stretch, scale, line))
      .slice(0, 1);
  });
}

function lineIn(stretch: readonly Event[], scale: Scale, line: ScaleLine): Found[] {
  const run = longestInside(stretch, scale);
  const above = run.map((event) => soundClass(event.sound - chroma(scale.root)));
  if (run.length < LEAST || new Set(above).size < 4 || !line.isTold(run, above, scale)) return [];
  return [{ notes: run.flatMap((event) => event.notes), target: null, detail: formatScale(scale), scale }];
}

/** The events over one chord symbol, unparted. */
function stretches({ events, reading }: Study): Event[][] {
  const found: Event[][] = [];
  for (const event of events) {
    const last = found[found.length - 1];
    const previous = last?.[last.length - 1];
    const sameChord =
      previous?.span != null && event.span !== null && reading.context.ofSpan[previous.span] === reading.context.ofSpan[event.span];
    if (sameChord && !event.opens) last!.push(event);
    else found.push([event]);
  }
  return found.filter((stretch) => stretch.length >= LEAST && stretch[0]!.chord !== null);
}

function longestInside(stretch: readonly Event[], wanted: Scale): Event[] {
  let [best, length, start] = [0, 0, 0];
  stretch.forEach((event, i) => {
    if (!inScale(wanted, event)) start = i + 1;
    else if (i + 1 - start > length) [best, length] = [start, i + 1 - start];
  });
  return stretch.slice(best, best + length);
}
