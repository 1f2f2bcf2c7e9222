/** Where a line over a dominant is heard to be in harmonic minor. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import { transposeName } from '../../theory/interval';
import { chroma, formatNoteName, soundClass } from '../../theory/pitch';
import { say, type Words } from '../say';
import { notesIn, type Stretch } from './stretch';

/** Half steps above the root of a dominant that tell it: b9, 3, b13. */
const TELLING = [1, 4, 8];

/** `C harmonic minor`: where the third, b9 and b13 of a dominant have been heard with the last of them in a stretch that has the b13, and all notes over it are of that scale; once a phrase. Null elsewhere. */
export function harmonicMinorTold(reading: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): string | null {
  const isThirteen = (note: number): boolean => {
    const called = reading.notes[note]?.placement?.called;
    return called?.number === 13 && called.alter === -1;
  };
  return [...completed(reading)].find(([note]) => note >= from && note <= to && notesIn({ from, to }).some(isThirteen))?.[1] ?? null;
}

/** The name of each such scale by the first note with which it is complete. */
const completed = ofReading((reading): ReadonlyMap<number, string> => {
  const { phrase, notes, scales } = reading;
  const found = new Map<string, number>();
  for (const [span, over] of groupedBy(notes, ({ placement }) => (placement === null ? [] : [placement.span]))) {
    const [scale, chord] = [scales[span], phrase.spans[span]!.chord];
    if (scale?.name !== 'mixolydian b9 b13' || chord === null) continue;
    const sounds = over.map(({ note }) => soundClass(chroma(phrase.notes[note]!.pitch) - chroma(chord.root)));
    const isAll = over.every(({ note }) => scale.sounds.has(chroma(phrase.notes[note]!.pitch)));
    const last = Math.max(...TELLING.map((sound) => sounds.indexOf(sound)));
    const title = `${formatNoteName(transposeName(scale.root, { diatonic: 3, chromatic: 5 }))} harmonic minor`;
    if (isAll && TELLING.every((sound) => sounds.includes(sound)) && !found.has(title)) found.set(title, over[last]!.note);
  }
  return new Map([...found].map(([title, note]) => [note, title]));
});

/** `B-Ab-G-Eb falls 3-b9-1-b13 of G7b9, in C harmonic minor`. */
export function inHarmonicMinor(reading: Reading, stretch: Pick<Stretch, 'from' | 'to'>, words: Words): Words {
  const scale = stretch.to === reading.phrase.notes.length - 1 ? null : harmonicMinorTold(reading, stretch);
  return scale === null ? words : say`${words}, in ${scale}`;
}
