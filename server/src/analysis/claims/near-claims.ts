/** What may be meant by words that are no claim. */
import { nearestScaleNames, scaleText } from '../../theory/scale';
import type { Reading } from '../types';
import { nearestDevices } from './devices';
import { FIRST_WORDS } from './kinds';

/** What there is, for the message where nothing is near. */
export const KNOWN_CLAIMS = `${FIRST_WORDS.join(', ')}, or a device such as enclosure, arpeggio or passing-tone`;

/** Claims near some words, likeliest first: `bebop scale`, `ends on 3`, `enclosur`. */
export function nearClaims(words: readonly string[], reading: Reading): readonly string[] {
  const [first] = words;
  const scales =
    words.length > 1 && words[words.length - 1] === 'scale'
      ? nearestScaleNames(words.slice(0, -1).join('-')).map((name) => `scale ${scaleText(name)}`)
      : [];
  const known = FIRST_WORDS.filter((word) => word[0] === first![0] && !landsNear(words, reading).some((claim) => claim.startsWith(word)));
  return [...landsNear(words, reading), ...scales, ...nearestDevices(first!), ...known];
}

/** `ends on 3`, `lands on 3`: the place of the last note is meant. */
function landsNear(words: readonly string[], { phrase }: Reading): readonly string[] {
  const [, degree] =
    /^(?:ends?|lands?|finish(?:es)?|stops?) (?:on|with)(?: the)? ((?:bb?|##?|n)?(?:1[13]|[1-79]))$/.exec(words.join(' ')) ?? [];
  const last = phrase.notes[phrase.notes.length - 1];
  return degree === undefined || last === undefined || last.bar === 0 ? [] : [`lands ${degree} at ${last.bar}.${last.beat}`];
}
