import type { Finder } from './device';

/** A tone of the next chord, sounded before it (OMT). */
export const anticipation: Finder = {
  kinds: ['anticipation'],
  layer: 'ornament',
  find: ({ reading }) =>
    reading.notes.filter((note) => note.anticipation).map(({ note }) => {
      const next = reading.phrase.notes[note + 1];
      const same = next !== undefined && next.midi === reading.phrase.notes[note]!.midi;
      return { kind: 'anticipation', notes: [note], target: same ? next.index : null, detail: '' };
    }),
};
