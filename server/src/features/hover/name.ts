/** The hover of a name of changes or of a cell: what it stands for, and what cell and numerals are where they are used. */
import { shownFigure } from '../../analysis/shown-figure';
import type { Reading } from '../../analysis/types';
import { guarded } from '../../model/faults';
import type { Snapshot } from '../../model/snapshot';
import { formatPitch } from '../../theory/pitch';
import { definitionText, placesOfName, type NamePlace } from '../names';
import { codeWord } from './words';

/** `reading` and `at` (the place in its slice) tell what the notes of a cell are here; null outside phrases. */
export function nameHover(snapshot: Snapshot, name: NamePlace, here: { readonly reading: Reading; readonly at: number } | null): string {
  const text = definitionText(snapshot, name);
  if (text === null) return `Nothing in this file defines ${name.kind === 'cell' ? 'a cell' : 'changes'} named \`${name.name}\`.`;
  const more = name.defines
    ? guarded('how often a name is used', '', () => usesWords(snapshot, name))
    : here === null
      ? ''
      : name.kind === 'cell'
        ? guarded('what the notes of a cell are', '', () => notesOfCell(here.reading, here.at))
        : guarded('what the chords of changes are', '', () => chordsOfChanges(here.reading, here.at));
  return [`\`\`\`phrase\n${text}\n\`\`\``, more].filter((line) => line !== '').join('\n\n');
}

function usesWords(snapshot: Snapshot, name: NamePlace): string {
  const uses = placesOfName(snapshot, name).filter(({ defines }) => !defines).length;
  return uses === 0 ? 'Not used yet.' : `Used ${uses === 1 ? 'once' : `${uses} times`} in this file.`;
}

/** Every note of the cell at a place, with its degree: `C5 is 1, D5 is 9 of Cmaj7`. */
function notesOfCell({ phrase, notes }: Reading, at: number): string {
  const here = phrase.notes.filter((note) => note.cell !== null && note.range.start === at);
  const words = here.map((note) => {
    const placement = notes[note.index]!.placement;
    return placement === null
      ? formatPitch(note.pitch)
      : `${formatPitch(note.pitch)} ${shownFigure({ phrase }, placement)} of \`${phrase.spans[placement.span]!.symbol}\``;
  });
  return words.length === 0 ? '' : `Here: ${words.join(', ')}.`;
}

/** The chords that numerals are in the key of the phrase: `Here: Gm7, C7, Fmaj7.` Changes of chords say so themselves. */
function chordsOfChanges({ phrase: { spans } }: Reading, at: number): string {
  const here = spans.filter(({ definition, range }) => definition !== null && range.start === at);
  if (!here.some(({ roman }) => roman)) return '';
  return `Here: ${here
    .slice(0, MOST_CHORDS)
    .map(({ symbol }) => codeWord(symbol))
    .join(', ')}${here.length > MOST_CHORDS ? ' …' : '.'}`;
}

/** More chords than these are a page, and no hover. */
const MOST_CHORDS = 24;
