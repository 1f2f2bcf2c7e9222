/** Chords of a bar as equal shares: `C7 / / F7`. */
import { Fraction } from '../model/fraction';
import type { Meter } from '../model/types';

export interface BarChord {
  /** Its place in the bar, 0 to 1. */
  readonly at: Fraction;
  readonly symbol: string;
}

/** The finest shares that a bar may have: halves of its beats, in compound meters its eighths. */
export function finestShares({ compound, beats, beatCount }: Meter): number {
  return compound ? beats : beatCount * 2;
}

/** Chords on the nearest share; of two in one place the later counts. `moved`: those that are not where they were, `lost`: those that have no place. */
export function placedChords(
  chords: readonly BarChord[],
  meter: Meter,
): { readonly placed: readonly BarChord[]; readonly moved: readonly BarChord[]; readonly lost: readonly BarChord[] } {
  const finest = finestShares(meter);
  const snapped = chords.map((chord) => {
    const share = chord.at.mul(finest).round();
    return { chord, at: (share.compare(finest) >= 0 ? new Fraction(finest - 1) : share).div(finest) };
  });
  const placed = snapped.filter(({ at }, i) => !snapped.slice(i + 1).some((later) => later.at.equals(at)));
  return {
    placed: placed.map(({ chord, at }) => ({ ...chord, at })),
    moved: placed.filter(({ chord, at }) => !chord.at.equals(at)).map(({ chord }) => chord),
    lost: snapped.filter((one) => !placed.includes(one)).map(({ chord }) => chord),
  };
}

/** The words of a bar in as few shares as may be. `before`: how many the bar before has, 0 at the start of a phrase. */
export function overBar(chords: readonly BarChord[], meter: Meter, before: number): string[] {
  if (chords.length === 0) return [before === 0 ? 'N.C.' : before === 1 ? '%' : '/'];
  const finest = finestShares(meter);
  const fits = (shares: number): boolean =>
    finest % shares === 0 &&
    chords.every(({ at }) => at.mul(shares).d === 1n) &&
    // Changes off the beat are said by slashes.
    (shares === 1 || shares > meter.beatCount || meter.beatCount % shares === 0);
  const shares = Array.from({ length: finest }, (_, i) => i + 1).find(fits) ?? finest;
  return Array.from(
    { length: shares },
    (_, i) => chords.find(({ at }) => at.mul(shares).equals(i))?.symbol ?? (i === 0 && before === 0 ? 'N.C.' : '/'),
  );
}
