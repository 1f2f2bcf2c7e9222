/** What may be written at the cursor: one small file a kind of row. */
import type { Snapshot } from '../../model/snapshot';
import { cellNames } from './cells';
import { chordWords } from './chords';
import { claimWords } from './claims';
import type { Completion, Proposal, RowBefore } from './completion';
import { keywordsAt } from './keywords';
import { propertyValues } from './properties';
import { rowBefore } from './row';

/** Completions at an offset; none in comments, in strings, among notes, and after a word that is whole. */
export function completionsAt(snapshot: Snapshot, offset: number): readonly Completion[] {
  const row = rowBefore(snapshot.text, offset);
  if (row === null) return [];
  const typed = replaced(row);
  const found = proposals(row, snapshot, offset);
  // A word that is whole needs nothing; a list over it would take the writer's Enter for an answer.
  if (found.some(({ label }) => label === typed)) return [];
  return found.map((proposal) => ({ ...proposal, start: offset - typed.length, end: offset }));
}

function proposals(row: RowBefore, snapshot: Snapshot, offset: number): readonly Proposal[] {
  switch (row.keyword) {
    case '':
      return row.before === '' ? keywordsAt(snapshot, offset) : [];
    case 'over':
    case 'changes':
      return row.keyword === 'changes' && !row.before.includes('=') ? [] : chordWords(row, snapshot, offset);
    case 'line':
      return cellNames(row, snapshot);
    case 'claim':
      return claimWords(row);
    default:
      return propertyValues(row, snapshot);
  }
}

/** The part of the word that a completion takes the place of: after a colon only the scale, in a line only the name. */
function replaced({ keyword, word }: RowBefore): string {
  if (keyword === 'over' || keyword === 'changes') return word.slice(word.lastIndexOf(':') + 1);
  return keyword === 'line' ? word.replace(/^(?:\d+:)?[/\\]?/, '') : word;
}
