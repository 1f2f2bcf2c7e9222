/** A phrase told note by note: where each stands, what it is, what it takes part in. */
import { devicesAt } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { beatWords, capital } from '../../rules/words';
import { deviceName } from '../device-words';
import { noteName, withRole } from '../note-words';
import type { Sentence } from './drafts';
import { findingSentences } from './tell';

/** A sentence a note, in order; what is to be said against a note follows its bar. */
export function tellNotes(reading: Reading): readonly Sentence[] {
  const sentences = reading.phrase.notes.map(({ index, bar, beat }): Sentence => {
    const devices = new Set(
      devicesAt(reading, index).map(({ kind, target }) => (target === index ? `target of ${deviceName(kind)}` : deviceName(kind))),
    );
    const role = reading.slips.has(index) ? noteName(reading, index) : withRole(reading, index);
    return {
      bar,
      text: `${capital(beatWords(beat))}: ${role}${devices.size === 0 ? '' : ` (${[...devices].join(', ')})`}.`,
      notes: [index],
      kind: 'line',
    };
  });
  return [...sentences, ...findingSentences(reading)].sort((a, b) => a.bar - b.bar);
}
