/** Transposing what is written: chord symbols and keys. */
import { readChord } from './chord';
import { transposeName, type Shift } from './interval';
import { formatNoteName } from './pitch';
import type { Key } from './types';

/** Moves a chord symbol's root and bass; the rest of its text stays as written. Null where it is no chord symbol. */
export function transposeSymbol(symbol: string, shift: Shift): string | null {
  const chord = readChord(symbol);
  if (!('tones' in chord)) return null;
  const rootLength = /^[A-G][b#♭♯]?/.exec(symbol)![0].length;
  const bassLength = chord.bass === null ? 0 : /\/[A-G][b#♭♯]?$/.exec(symbol)![0].length;
  const quality = symbol.slice(rootLength, symbol.length - bassLength);
  const bass = chord.bass === null ? '' : `/${formatNoteName(transposeName(chord.bass, shift))}`;
  return formatNoteName(transposeName(chord.root, shift)) + quality + bass;
}

export function transposeKey(key: Key, shift: Shift): Key {
  return { tonic: transposeName(key.tonic, shift), mode: key.mode };
}
