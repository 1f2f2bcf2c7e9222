/** The qualities that writers type, for suggestions: each a text that may follow a root. */
import { nearest } from './scale';

export const QUALITIES: readonly string[] = (
  'm m7 7 maj7 m7b5 dim7 dim aug 6 m6 6/9 m6/9 maj9 9 m9 13 m11 11 maj13 m13 7b9 7#9 7#11 7b13 7#5 7b5 7alt 7sus 7sus4 9sus 13sus sus sus2 sus4 ' +
  'add9 madd9 mMaj7 maj7#11 maj7#5 7b9b13 7b9#11 7#9#5 7#9b13 13b9 13#11 9#11 9b5 9#5 7susb9 5 +7 mi7 ma7 min7'
).split(' ');

/** Spellings that are offered by the usual one. */
const USUAL: Readonly<Record<string, string>> = { mi7: 'm7', min7: 'm7', ma7: 'maj7' };

/** Qualities near a text, nearest first. */
export function suggestQualities(text: string): string[] {
  return [...new Set(nearest(text.slice(0, 20), QUALITIES, (quality) => quality).map((quality) => USUAL[quality] ?? quality))];
}
