import { soundingRange } from '../theory/part';
import { formatPitch, midi } from '../theory/pitch';
import type { AnalysisRule } from './rule';

export const outOfRange: AnalysisRule = {
  id: 'out-of-range',
  severity: 'warning',
  what: 'A note lies outside the range of the phrase’s part.',
  why: 'A student on that instrument cannot play it as written.',
  example: 'phrase "High"\n  part trumpet\n  over | Cmaj7 |\n  line | C7 ~ ~ ~ |\n',
  instead: 'phrase "High"\n  part trumpet\n  over | Cmaj7 |\n  line | C5 ~ ~ ~ |\n',
  fix: 'Move the phrase by an octave, or choose another part.',
  message: (facts) => `${facts['note']} is ${facts['side']} the ${facts['part']}’s range, which sounds from ${facts['low']} to ${facts['high']}. Move it by an octave.`,
  check: (reading) => {
    const { part, notes } = reading.phrase;
    const { low, high } = soundingRange(part);
    return notes.flatMap((note) => {
      if (note.midi >= midi(low) && note.midi <= midi(high)) return [];
      return [{
        rule: 'out-of-range',
        severity: 'warning' as const,
        range: note.range,
        facts: {
          note: formatPitch(note.pitch), part: part.label, low: formatPitch(low), high: formatPitch(high),
          side: note.midi < midi(low) ? 'below' : 'above',
        },
        fixes: [],
        related: [],
        about: { note: note.index, sounding: null },
      }];
    });
  },
};
