import { Fraction } from '../model/fraction';
import { verdictProblems } from './clash-facts';
import type { AnalysisRule, Facts } from './rule';
import { durationWords } from './words';

export const clash: AnalysisRule = {
  id: 'clash',
  severity: 'warning',
  what: 'An avoid note or a note outside the chord-scale is exposed: on a strong beat, held for two beats or more, pushed over a strong beat, or, outside the scale, on another beat for a whole beat or more; and it does not resolve in time.',
  why: 'A listener measures the harmony on strong beats. A note a half step above a chord tone, or outside the scale, sounds like a mistake there unless it moves on by step.',
  example: 'phrase "Clash"\n  key  C major\n  over | Cmaj7 |\n  line | F4-A C5-E G ~ |\n',
  instead: 'phrase "Clash"\n  key  C major\n  over | Cmaj7 |\n  line | E4-A C5-E G ~ |\n',
  fix: 'Move it to the chord tone a step away, move it off the beat, wrap the chord tone in an enclosure, or mark it as intended with `!`.',
  message: (facts) => `${opening(facts)}: ${reasonWords(facts)}. ${remedy(facts)}`,
  check: (reading) => verdictProblems(reading, 'clash', (verdict) => verdict.level === 'warning'),
};

/** `F lands on beat 1 over Cmaj7`: the note and how it is exposed. */
export function opening(facts: Facts): string {
  const { note, place, chord } = facts;
  if (facts['held'] === 'yes') return `${note} is held into ${chord} on ${place}`;
  switch (facts['reason']) {
    case 'long':
      return `${note} lasts ${durationWords(String(facts['beats']))} over ${chord}`;
    case 'push':
      return `${note} on ${place} is pushed over a strong beat of ${chord} and stays`;
    case 'offbeat-long':
      return `${note} on ${place} lasts a beat or more over ${chord}`;
    case 'beat':
      return `${note} falls on ${place} over ${chord}${isWholeBeat(facts) ? ` for ${wholeBeats(facts)}` : ''}`;
    default:
      return `${note} lands on ${place} over ${chord}`;
  }
}

/** On a weak beat only a note outside the scale that lasts a beat or more is a clash: how long it lasts is why it counts. */
function isWholeBeat({ role, beats }: Facts): boolean {
  return role === 'outside' && new Fraction(String(beats)).compare(1) >= 0;
}

function wholeBeats({ beats }: Facts): string {
  const words = durationWords(String(beats));
  return words === 'a beat' ? 'a whole beat' : words;
}

/** Why it rubs: `it is the 11, a half step above the third`. */
export function reasonWords(facts: Facts): string {
  const degree = `it is the ${facts['figure']}`;
  if (facts['role'] === 'avoid')
    return facts['against'] === ''
      ? `${degree}, which sounds the dominant too early`
      : `${degree}, a half step above the ${facts['against']}`;
  // What the chord has instead says enough.
  if (String(facts['figure']).includes('where the chord has')) return degree;
  return facts['scale'] === '' ? `${degree}, outside the chord` : `${degree}, outside ${facts['scale']}`;
}

/** How a note that is excused goes on: `resolves to E (appoggiatura)`; `goes on by step to E` where no device tells it. */
export function resolution({ goes, device, excuse }: Facts): string {
  if (excuse === 'side-slip') return `belongs to a side-slip, which comes back to ${goes}`;
  if (device !== '') return `resolves to ${goes} (${device})`;
  if (excuse === 'enclosure') return `helps to enclose ${goes}`;
  return excuse === 'step' ? `goes on by step to ${goes}` : `resolves by half steps to ${goes}`;
}

/** A note of two beats or more clashes anywhere, and some that clash are off the beat already. */
function isMendedOffTheBeat({ beats, reason }: Facts): boolean {
  return new Fraction(String(beats)).compare(2) < 0 && reason !== 'push' && reason !== 'offbeat-long';
}

export function remedy(facts: Facts): string {
  if (facts['to'] === '') return 'Move it by step to a chord tone, or mark it as intended with `!`.';
  // What is not the chord's third, fifth or seventh leans on nothing, wherever it stands.
  if (String(facts['figure']).includes('where the chord has')) return `Play ${facts['to']}.`;
  return `Let it ${facts['moves']} to ${facts['to']}${isMendedOffTheBeat(facts) ? ', or move it off the beat' : ''}.`;
}
