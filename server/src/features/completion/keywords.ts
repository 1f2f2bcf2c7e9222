/** The keywords that may start a row, those of the block at hand first; an item of the file comes whole, with fields to fill in. */
import { beginsItem, wordsWithin } from '../../../../grammar/rows';
import { guarded } from '../../model/faults';
import type { Snapshot } from '../../model/snapshot';
import { keywordMeaning } from '../hover/keyword';
import type { Proposal, RowBefore } from './completion';
import { itemTemplate, SYSTEM_TEMPLATE } from './templates';

export function keywordsAt({ after }: RowBefore, snapshot: Snapshot, offset: number): readonly Proposal[] {
  const block = snapshot.slices.findLast(({ start, parsed }) => start + parsed.item.keyword.range.end <= offset)?.parsed.item.kind;
  // A template goes on a line of its own.
  const alone = after.trim() === '';
  const system: Proposal = { label: 'over and line', kind: 'template', detail: 'chords, and a line below them', template: SYSTEM_TEMPLATE, indented: true };
  const rows = (): readonly Proposal[] => (block === 'phrase' ? [...wordsWithin('phrase').map(keyword), ...(alone ? [system] : [])] : block === 'lesson' ? wordsWithin('lesson').map(keyword) : []);
  return [
    ...guarded('the completion of rows', [], rows),
    ...guarded('the completion of items', [], () => (rowsFollow(snapshot.text, offset) ? [] : itemsAt(snapshot, alone))),
  ];
}

function keyword(label: string): Proposal {
  return { label, kind: 'keyword', detail: (keywordMeaning(label) ?? '').replaceAll('`', '') };
}

/** A file has one lesson, so `lesson` is not offered twice. */
function itemsAt({ slices, definitions }: Snapshot, alone: boolean): Proposal[] {
  const hasLesson = slices.some(({ parsed }) => parsed.item.kind === 'lesson');
  const top = wordsWithin('file').filter((word) => word !== 'lesson' || !hasLesson);
  return top.map((label) => {
    const template = alone ? guarded(`the template “${label}”`, null, () => itemTemplate(label, definitions)) : null;
    return template === null ? keyword(label) : { ...keyword(label), kind: 'template', template, indented: true };
  });
}

/** Whether the block goes on below this line: a new item here would cut it in two. */
function rowsFollow(text: string, offset: number): boolean {
  const below = text.slice(offset).split(/\r\n|\r|\n/).slice(1).map((line) => line.trim()).find((line) => line !== '' && !line.startsWith('//'));
  return below !== undefined && !beginsItem(/^[^\s"“”|]*/.exec(below)![0]);
}
