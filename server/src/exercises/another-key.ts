/** Write it in another key: the line as it stands, then its chords in the other key over empty bars. One answer is right: each note the same figure of its chord. */
import { homeKey, otherTonics } from '../analysis/keys';
import type { Reading } from '../analysis/types';
import { inKeyOf } from '../assists/vary/other-keys';
import { keyAsWritten } from '../exports/musicxml';
import { pictureData } from '../handout/picture-data';
import { intervalWords } from '../theory/interval';
import { formatKey } from '../theory/key';
import { contextOf, faultsOf, rewrittenAs, shiftOf, type Make } from './exercise';

export const anotherKey: Make = (material, random) => {
  const { placed, reading } = material;
  const key = homeKey(reading);
  if (key === null || reading.phrase.key === null || reading.phrase.notes.length === 0 || faultsOf(reading).length > 0) return null;
  for (const tonic of random.shuffled(otherTonics(key, 'cycle'))) {
    const text = inKeyOf(contextOf(material), key, tonic);
    const there = text === null ? null : rewrittenAs(material, text);
    if (there === null || !isSameLine(reading, there.reading)) continue;
    const plain = { degrees: false, devices: false };
    const shift = shiftOf(reading, there.reading);
    const named = keyAsWritten(there.reading, { pitch: 'written', degrees: false, words: 'notes' });
    return {
      kind: 'another-key',
      phrase: placed.phrase.name,
      prompt: `Write this line in ${formatKey(named ?? key)}, ${intervalWords(shift)}. The chords are given.`,
      asked: [
        { reading, data: pictureData(reading, []), options: plain },
        { reading: there.reading, data: { notes: [], devices: [] }, options: plain, line: 'blank' },
      ],
      answered: [{ reading: there.reading, data: pictureData(there.reading, []), options: { degrees: true, devices: false } }],
      answer: '',
    };
  }
  return null;
};

/** Whether each note is moved by as much and is the same figure of its chord there, with nothing wrong. */
export function isSameLine(before: Reading, after: Reading): boolean {
  const [first] = before.phrase.notes;
  const by = after.phrase.notes[0]!.midi - first!.midi;
  return (
    faultsOf(after).length === 0 &&
    after.phrase.notes.length === before.phrase.notes.length &&
    after.phrase.notes.every((note, i) => {
      const [own, there] = [before.notes[i]!.placement?.figure, after.notes[i]!.placement?.figure];
      return note.midi - before.phrase.notes[i]!.midi === by && own?.number === there?.number && own?.alter === there?.alter;
    })
  );
}
