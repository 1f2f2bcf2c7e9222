/** Degrees as they are said in class. */
import type { Role } from '../analysis/types';
import { numberWord } from '../rules/words';
import type { Figure } from '../theory/types';

/** `third` for a chord's own tone, whatever its colour; `flat ninth`, `sharp eleventh` for the rest. */
export function degreeWords(figure: Figure, role: Role): string {
  const own = role === 'chord-tone' && [1, 3, 5, 6, 7].includes(figure.number);
  if (!own && figure.alter === 0 && (figure.number === 3 || figure.number === 7)) return `major ${numberWord(figure)}`;
  if (own || figure.alter === 0) return numberWord(figure);
  return `${figure.alter < 0 ? 'flat' : 'sharp'} ${numberWord(figure)}`;
}
