import type { Assist } from '../assist';
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
    if (row === null || row.changes !== null || row.bars.length < 2 || row.bars.some(({ broken }) => broken)) return [];
    const name = freshName(snapshot.definitions.changes, 'progression');
    const chords = phrase.text
      .slice(row.keyword.range.end, row.range.end)
      .trim()
      .replace(/\s*[\r\n]\s*/g, ' ');
    // A comment inside the row would be carried into the definition's one line.
    if (chords.includes('//')) return [];
    const definition = definitionEdit(snapshot, `changes ${name} = ${chords}`);
    const edits = [
      { range: { start: definition.at - placed.start, end: definition.at - placed.start }, text: definition.text },
      { range: { start: row.keyword.range.end, end: row.range.end }, text: `    ${name}` },
    ];
    return keepsSound(context, edits) ? [{ title: `Name these changes: ${name}`, edits, repairs: null, preferred: false }] : [];
  },
};
