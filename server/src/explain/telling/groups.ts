/** Groups of three or four notes that go on step by step through a pentatonic scale: a sequence whose intervals differ with the gaps of the scale. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { isJoined } from '../../analysis/vocabulary';
import { chroma, soundClass } from '../../theory/pitch';
import { pentatonicOf } from '../whole-scale';

export interface Groups {
  /** The first note of each group. */
  readonly starts: readonly number[];
  readonly size: number;
  readonly way: 'up' | 'down';
}

const SIZES = [4, 3] as const;
const FEWEST = 3;

/** The first such groups of a line that stays in a pentatonic scale; null where there are none. */
export const groupsInScale = ofReading((reading): Groups | null => {
  const tones = pentatonicOf(reading);
  if (tones === null) return null;
  const { notes } = reading.phrase;
  // Steps of the scale above its lowest tone, five an octave.
  const ladder = [...new Set(tones.map(chroma))].sort((a, b) => a - b);
  const steps = notes.map(({ midi }) => Math.floor(midi / 12) * ladder.length + ladder.indexOf(soundClass(midi)));
  for (const size of SIZES) {
    for (let from = 0; from + size * FEWEST <= notes.length; from += 1) {
      const shape = (start: number): string =>
        steps
          .slice(start, start + size)
          .map((step) => step - steps[start]!)
          .join();
      const shift = steps[from + size]! - steps[from]!;
      const isSame = (start: number): boolean =>
        start + size <= notes.length &&
        shape(start) === shape(from) &&
        (start === from || steps[start]! - steps[start - size]! === shift) &&
        isEven(reading, from, start + size);
      if (Math.abs(shift) !== 1 || new Set(shape(from).split(',')).size < 3) continue;
      const starts = [from];
      while (isSame(starts[starts.length - 1]! + size)) starts.push(starts[starts.length - 1]! + size);
      if (starts.length >= FEWEST) return { starts, size, way: shift > 0 ? 'up' : 'down' };
    }
  }
  return null;
});

/** Notes of one length, without a gap, but for the last one's length. */
function isEven({ phrase: { notes } }: Reading, from: number, end: number): boolean {
  return notes.slice(from, end - 1).every((note, i) => note.duration.equals(notes[from]!.duration) && isJoined(note, notes[from + i + 1]!));
}
