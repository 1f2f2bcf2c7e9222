/** Which MusicXML 4.0 `kind` (data type kind-value) fits a chord best. */
import type { ChordFamily, Figure } from './types';

export function kindOf(family: ChordFamily, figures: readonly Figure[]): string {
  const natural = (number: number): boolean => figures.some((figure) => figure.number === number && figure.alter === 0);
  // A ninth, eleventh or thirteenth kind implies those below it; what is missing or altered is said by degree elements.
  const top = natural(13) ? '13th' : natural(11) ? '11th' : natural(9) ? 'ninth' : null;
  const extended = (stem: string, plain: string): string => (top === null ? plain : `${stem}-${top}`);
  switch (family) {
    case 'major':
    case 'minor':
    case 'diminished':
    case 'augmented':
    case 'major-sixth':
    case 'minor-sixth':
    case 'half-diminished':
    case 'diminished-seventh':
    case 'augmented-seventh':
    case 'power':
      return family;
    case 'major-seventh':
      return extended('major', 'major-seventh');
    case 'dominant':
      return extended('dominant', 'dominant');
    case 'minor-seventh':
      return extended('minor', 'minor-seventh');
    case 'minor-major-seventh':
      return 'major-minor';
    case 'augmented-major-seventh':
      return 'major-seventh';
    case 'altered':
      return 'dominant';
    case 'suspended':
      return figures.some((figure) => figure.number === 2) ? 'suspended-second' : 'suspended-fourth';
  }
}
