/** `chord-tones [at least N%]`: of the notes that stand over a chord. */
import { holds, impossible, refuted, type ClaimKind } from './claim';
import { noteWords } from './place';

export const chordTones: ClaimKind = (words, reading) => {
  const plain = words.join(' ').replace(/^chord tones?|^chord-tone(?!s)/, 'chord-tones');
  const match = /^chord-tones(?: at least (\d{1,3}) ?%)?$/.exec(plain);
  if (match === null) return plain.startsWith('chord-tones') ? impossible('write chord-tones, or chord-tones at least 80%') : null;
  const least = Number(match[1] ?? 100);
  if (least > 100) return impossible('more than 100% of the notes cannot be chord tones', ['chord-tones']);
  const placed = reading.notes.filter((note) => note.placement !== null);
  if (placed.length === 0) return impossible('no note stands over a chord');
  const tones = placed.filter((note) => note.placement!.role === 'chord-tone');
  const share = `${tones.length} of ${placed.length} notes are chord tones`;
  if (tones.length * 100 >= least * placed.length) return holds(share);
  const first = placed.find((note) => note.placement!.role !== 'chord-tone')!.note;
  const percent = Math.floor((tones.length * 100) / placed.length);
  return refuted(match[1] === undefined ? `${noteWords(first, reading)} is no chord tone` : `only ${share}`, first, [
    `chord-tones at least ${percent}%`,
  ]);
};
