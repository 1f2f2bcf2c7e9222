/** `no clash`: nothing in the phrase is flagged as a clash. */
import { holds, refuted, type ClaimKind } from './claim';
import { noteWords } from './place';

export const noClash: ClaimKind = (words, reading) => {
  if (words.join(' ') !== 'no clash') return null;
  const clashing = reading.notes.find(({ verdict }) => verdict?.level === 'warning');
  return clashing === undefined ? holds('nothing clashes') : refuted(`${noteWords(clashing.note, reading)} clashes`, clashing.note);
};
