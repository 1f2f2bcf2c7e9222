import type { Assist } from '../assist';
import { chordsOnOneLine } from '../writing/changes-text';
import { definitionEdit, freshName } from '../writing/definitions';
import { rowHere } from '../writing/row-keyword';
import { keepsSound } from '../writing/same-sound';

export const extractChanges: Assist = {
  id: 'extract-changes',
  kind: 'refactor.extract.changes',
  what: 'Gives the chords of a row a name, so that other phrases can use them.',
  offers(context) {
    const { snapshot, placed } = context;
    const { phrase } = placed;
    const row = rowHere(context, 'over');
    if (row === null || row.changes !== null || row.bars.length < 2) return [];
    const chords = chordsOnOneLine(phrase.text, row.bars);
    // The definition's one line has no room for a comment inside the row.
    if (chords === null || phrase.text.slice(row.keyword.range.end, row.range.end).includes('//')) return [];
    const name = freshName(snapshot.definitions.changes, 'progression');
    const definition = definitionEdit(snapshot, `changes ${name} = ${chords}`);
    const edits = [
      { range: { start: definition.at - placed.start, end: definition.at - placed.start }, text: definition.text },
      { range: { start: row.keyword.range.end, end: row.range.end }, text: `    ${name}` },
    ];
    return keepsSound(context, edits) ? [{ title: `Name these changes: ${name}`, edits, repairs: null, preferred: false }] : [];
  },
};
