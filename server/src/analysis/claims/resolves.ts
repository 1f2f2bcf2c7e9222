/** `resolves 7 to 3`: a degree goes, at once or after one more note, by step or by staying, to a degree of another chord. */
import type { Reading } from '../types';
import { isLeap } from '../vocabulary';
import { holds, impossible, refuted, type ClaimKind } from './claim';
import { noteWords } from './place';

export const resolves: ClaimKind = (words, reading) => {
  if (words[0] !== 'resolves') return null;
  const [, from, to, target] = words;
  if (!isFigure(from) || to !== 'to' || !isFigure(target) || words.length !== 4) return impossible('write resolves, a degree, to, and a degree: resolves 7 to 3');
  const starts = reading.notes.filter(({ note }) => hasFigure(note, from!, reading)).map(({ note }) => note);
  if (starts.length === 0) return refuted(`no note is the ${from} of its chord`, null);
  const proof = starts.find((start) => [start + 1, start + 2].some((end) => arrives(start, end, target!, reading)));
  return proof === undefined ? refuted(`${noteWords(starts[0]!, reading)} does not`, starts[0]!) : holds(`${noteWords(proof, reading)} does`, proof);
};

function isFigure(text: string | undefined): boolean {
  return /^(?:bb?|##?)?(?:1[13]|[1-79])$/.test(text ?? '');
}

/** A bare number means that degree in any colour. */
function hasFigure(note: number, text: string, { notes }: Reading): boolean {
  const figure = notes[note]?.placement?.figure;
  if (figure === undefined) return false;
  const accidental = text.replace(/\d+$/, '');
  const alter = accidental.startsWith('b') ? -accidental.length : accidental.length;
  return figure.number === Number(text.slice(accidental.length)) && (accidental === '' || figure.alter === alter);
}

function arrives(start: number, end: number, figure: string, reading: Reading): boolean {
  const { notes, phrase } = reading;
  if (!hasFigure(end, figure, reading) || notes[start]!.placement!.span === notes[end]!.placement!.span) return false;
  return !isLeap(phrase.notes[start]!, phrase.notes[end]!);
}
