/** `range PITCH to PITCH`, with octaves: no note lies outside. */
import { formatPitch, midi, parsePitch } from '../../theory/pitch';
import { holds, impossible, refuted, type ClaimKind } from './claim';
import { noteWords } from './place';

export const range: ClaimKind = (words, reading) => {
  if (words[0] !== 'range') return null;
  const low = parsePitch(words[1] ?? '');
  const high = parsePitch(words[3] ?? '');
  if (low === null || high === null || words[2] !== 'to' || words.length !== 4)
    return impossible('write range, a pitch with its octave, to, and another, such as range C4 to A5');
  if (midi(low) > midi(high)) return impossible(`${words[1]} is above ${words[3]}`, [`range ${words[3]} to ${words[1]}`]);
  const { notes } = reading.phrase;
  const outside = notes.find((note) => note.midi < midi(low) || note.midi > midi(high));
  const sorted = [...notes].sort((a, b) => a.midi - b.midi);
  if (outside === undefined)
    return holds(
      sorted.length === 0
        ? 'there is no note'
        : `the lowest note is ${formatPitch(sorted[0]!.pitch)}, the highest ${formatPitch(sorted.at(-1)!.pitch)}`,
    );
  return refuted(`${noteWords(outside.index, reading)} lies outside it`, outside.index, [
    `range ${formatPitch(sorted[0]!.pitch)} to ${formatPitch(sorted.at(-1)!.pitch)}`,
  ]);
};
