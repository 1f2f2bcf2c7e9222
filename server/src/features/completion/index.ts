/** What may be written at the cursor: one small file a kind of row. */
import { rowWord } from '../../../../grammar/rows';
import type { TheoryOptions } from '../../analysis/types';
import { guarded } from '../../model/faults';
import type { Snapshot } from '../../model/snapshot';
import { cellNames } from './cells';
import { chordWords, isWholeChord } from './chords';
import { claimWords } from './claims';
import type { Completion, Proposal, RowBefore } from './completion';
import { keywordsAt } from './keywords';
import { propertyValues } from './properties';
import { rowBefore } from './row';

/** Completions at an offset; none in comments, in strings, among notes, and after a word that is whole. */
export function completionsAt(snapshot: Snapshot, offset: number, theory: TheoryOptions): readonly Completion[] {
  const row = rowBefore(snapshot.text, offset);
  if (row === null) return [];
  const typed = replaced(row);
  const found = proposals(row, snapshot, offset, theory);
  if (guarded('whether a word is whole', false, () => isWhole(typed, row, found)))
    return found
      .filter((proposal) => proposal.label === typed && proposal.kind === 'template')
      .map((proposal) => placed(proposal, typed, snapshot, offset));
  return found.map((proposal) => placed(proposal, typed, snapshot, offset));
}

/** Whether a list may open at a blank: behind the word of a row with something to choose, and in a claim, which is several words. Among notes and chords a list would stand in the way. */
export function opensAtBlank(snapshot: Snapshot, offset: number): boolean {
  const row = rowBefore(snapshot.text, offset);
  return (
    row !== null && (row.keyword === 'claim' || (rowWord(row.keyword)?.choice === true && row.before.trim() === '' && row.word === ''))
  );
}

function placed(
  { label, kind, detail, template, indented, opens = false, besides = [] }: Proposal,
  typed: string,
  { text }: Snapshot,
  offset: number,
): Completion {
  const word = offset - typed.length;
  const indentation = indented === undefined ? '' : /[^\S\r\n]*$/.exec(text.slice(0, word))![0];
  return {
    label,
    kind,
    detail,
    template: template ?? [label],
    filter: indentation + label,
    start: word - indentation.length,
    end: offset,
    opens,
    besides,
  };
}

/** A word that is whole needs nothing: a list over it would take the writer's next key for an answer. Only a template by that name still says more. */
function isWhole(typed: string, row: RowBefore, found: readonly Proposal[]): boolean {
  if (row.keyword === 'over' || row.keyword === 'changes')
    return found.some(({ label, kind }) => label === typed && kind !== 'chord') || isWholeChord(row.word);
  return found.some(({ label }) => label === typed);
}

function proposals(row: RowBefore, snapshot: Snapshot, offset: number, theory: TheoryOptions): readonly Proposal[] {
  switch (row.keyword) {
    case '':
      return row.before === '' ? keywordsAt(row, snapshot, offset) : [];
    case 'over':
    case 'changes':
      return row.keyword === 'changes' && !row.before.includes('=') ? [] : chordWords(row, snapshot, offset);
    case 'line':
      return cellNames(row, snapshot);
    case 'claim':
      return claimWords(row, snapshot, offset, theory);
    default:
      return propertyValues(row, snapshot);
  }
}

/** The part of the row that a completion takes the place of: after a colon only the scale, in a line only the name, of a claim all of it. */
function replaced({ keyword, before, word }: RowBefore): string {
  if (keyword === 'claim') return before.trimStart() + word;
  if (keyword === 'over' || keyword === 'changes') return word.slice(word.lastIndexOf(':') + 1);
  return keyword === 'line' ? word.replace(/^(?:\d+:)?[/\\]?/, '') : word;
}
