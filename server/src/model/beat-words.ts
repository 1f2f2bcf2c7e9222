/** A place in a bar as it is said. */

/** `beat 3`, `the “and” of 3`, `the last third of beat 3`; with the exact fraction where no one has words for it. */
export function beatWords(beat: string): string {
  const [whole, fraction] = beat.split('+');
  if (fraction === undefined) return `beat ${whole}`;
  if (fraction === '1/2') return `the “and” of ${whole}`;
  const [count, size] = fraction.split('/').map(Number) as [number, number];
  const [place, part] = [count + 1 === size ? 'last' : ORDINALS[count], PARTS[size]];
  return place === undefined || part === undefined ? `beat ${beat}` : `the ${place} ${part} of beat ${whole}`;
}

const ORDINALS: Readonly<Record<number, string>> = { 1: 'second', 2: 'third', 3: 'fourth', 4: 'fifth', 5: 'sixth', 6: 'seventh' };

/** Equal parts of a beat by their number. */
export const PARTS: Readonly<Record<number, string>> = {
  2: 'half',
  3: 'third',
  4: 'quarter',
  5: 'fifth',
  6: 'sixth',
  7: 'seventh',
  8: 'eighth',
  12: 'twelfth',
};
