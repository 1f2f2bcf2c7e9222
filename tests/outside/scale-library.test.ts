/** Scales against `tonal` of the npm registry, which knows each of them by one name or another. */
import { Note, Scale } from 'tonal';
import { expect, test } from 'vitest';
import { chroma, parseNoteName } from '../../server/src/theory/pitch';
import { SCALE_NAMES, scale } from '../../server/src/theory/scale';
import type { ScaleName } from '../../server/src/theory/types';

/** Where the library calls a scale otherwise. */
const ALIASES: Partial<Record<ScaleName, string>> = {
  'mixolydian b13': 'mixolydian b6',
  'locrian natural 9': 'locrian #2',
  'mixolydian b9 b13': 'phrygian dominant',
  'bebop dominant': 'bebop',
  'bebop dorian': 'bebop minor',
};

test.each(SCALE_NAMES)('%s on twelve roots', (name) => {
  for (const root of ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']) {
    const theirs = Scale.get(`${root} ${ALIASES[name] ?? name}`);
    expect(theirs.empty, `tonal knows ${name}`).toBe(false);
    const mine = scale(parseNoteName(root)!, name).tones.map((tone) => chroma(tone.name));
    const byHeight = (a: number, b: number): number => a - b;
    expect(mine.sort(byHeight)).toEqual(theirs.notes.map((note) => Note.chroma(note)!).sort(byHeight));
  }
});
