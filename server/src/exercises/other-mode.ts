/** Put it over the other ii–V–I: a line of notes of its chords and scales, then the same progression in the other mode over empty bars. Notes keep their places on the staff, where each has one accidental in the scales that are given. */
import { applyEdits } from '../../../grammar/printer';
import type { Reading } from '../analysis/types';
import { majorMinor } from '../assists/vary/major-minor';
import { sorted } from '../assists/writing/whole-phrase';
import { keyAsWritten } from '../exports/musicxml';
import { pictureData } from '../handout/picture-data';
import { formatKey } from '../theory/key';
import { chroma, staffPlace } from '../theory/pitch';
import { contextOf, faultsOf, nameAsRead, rewrittenAs, type Make, type Material } from './exercise';

export const otherMode: Make = (material) => {
  const { placed, reading } = material;
  if (faultsOf(reading).length > 0) return null;
  const after = inOtherMode(material);
  const key = after === null ? null : keyAsWritten(after, { pitch: 'written', degrees: false, words: 'notes' });
  if (after === null || key === null) return null;
  const plain = { degrees: false, devices: false };
  return {
    kind: 'other-mode',
    phrase: placed.phrase.name,
    prompt: `Put this line over the ii–V–I in ${formatKey(key)}. Keep each note on its line or space; its accidental is that of the scale: ${scalesOf(after).join(', ')}.`,
    asked: [
      { reading, data: pictureData(reading, []), options: plain },
      { reading: after, data: { notes: [], devices: [] }, options: plain, line: 'blank' },
    ],
    answered: [{ reading: after, data: pictureData(after, []), options: { degrees: true, devices: false } }],
    answer: '',
  };
};

/** The phrase over the progression of the other mode, where that leaves one right answer: all notes on their lines and spaces, some with another accidental, each the only note of its letter in chord and scale. Null else. */
export function inOtherMode(material: Material): Reading | null {
  const [offer] = material.reading.phrase.key === null || !hasAllThree(material.reading) ? [] : majorMinor.offers(contextOf(material));
  if (offer === undefined) return null;
  const edits = typeof offer.edits === 'function' ? offer.edits() : offer.edits;
  const { reading } = rewrittenAs(material, applyEdits(material.placed.phrase.text, sorted(edits)));
  const [before, after] = [material.reading.phrase.notes, reading.phrase.notes];
  const stays = before.length === after.length && before.every(({ pitch }, i) => staffPlace(pitch) === staffPlace(after[i]!.pitch));
  const changes = before.some(({ pitch }, i) => pitch.alter !== after[i]?.pitch.alter);
  const isClear = [material.reading, reading].every((one) => one.phrase.notes.every(({ index }) => isOnlyOfLetter(one, index)));
  return stays && changes && isClear && faultsOf(reading).length === 0 ? reading : null;
}

/** The code action takes a tonic alone as well; an exercise is about the whole progression. */
function hasAllThree({ phrase: { spans } }: Reading): boolean {
  return new Set(spans.flatMap(({ chord }) => (chord === null ? [] : [chroma(chord.root)]))).size === 3;
}

/** Whether chord and scale have one note of a note's letter between them, and it is that. */
function isOnlyOfLetter({ phrase, notes, scales }: Reading, index: number): boolean {
  const span = notes[index]!.placement?.span;
  if (span === undefined) return false;
  const { letter, alter } = phrase.notes[index]!.pitch;
  const names = [...(phrase.spans[span]!.chord?.tones ?? []), ...(scales[span]?.tones ?? [])]
    .map(({ name }) => name)
    .filter((name) => name.letter === letter);
  return names.length > 0 && names.every((name) => name.alter === alter);
}

/** `D locrian`, as the part reads it; one after another as their chords come, each once. */
function scalesOf(reading: Reading): string[] {
  return [
    ...new Set(
      reading.scales.flatMap((scale) => (scale === null ? [] : [`${nameAsRead(reading, { ...scale.root, octave: 4 })} ${scale.name}`])),
    ),
  ];
}
