/** What a title says of the time values that a form changes. */
import type { PlacedGroup } from '../../model/types';

/** `in sixteenths`, `as a triplet`: a group in so many equal parts, as a title says it; empty for quarters, eighths, and as many parts as it has. */
export function valueWords({ slots, duration, beats }: Pick<PlacedGroup, 'slots' | 'duration' | 'beats'>, parts: number): string {
  if (slots.length === parts) return '';
  // In quarters; one over a power of two has a note value.
  const value = duration.div(parts);
  const short = NOTE_VALUES.find((one) => value.mul(one.to).equals(1));
  if (short !== undefined || value.compare(1) >= 0) return short?.words ?? '';
  const tuplet = TUPLETS[parts / Number(beats.valueOf())];
  return tuplet === undefined ? 'in other time values' : beats.equals(1) ? `as a ${tuplet}` : `in ${tuplet}s`;
}

const NOTE_VALUES = [
  { to: 2, words: '' },
  { to: 4, words: 'in sixteenths' },
  { to: 8, words: 'in thirty-seconds' },
] as const;
const TUPLETS: Readonly<Record<number, string>> = { 2: 'duplet', 3: 'triplet', 4: 'quadruplet', 5: 'quintuplet', 6: 'sextuplet' };

/** A title with what the form changes besides. */
export function withChanges(title: string, changes: string): string {
  return changes === '' ? title : `${title}, ${changes}`;
}
