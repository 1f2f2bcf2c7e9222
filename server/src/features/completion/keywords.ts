/** The keywords that may start a row, those of the block at hand first; an item of the file comes whole, with fields to fill in. */
import { lineEnd } from '../../../../grammar/lines';
import { beginsItem, rowWord, wordsWithin } from '../../../../grammar/rows';
import { KEYWORD_WIDTH, LESSON_WIDTH } from '../../../../grammar/printer';
import { guarded } from '../../model/faults';
import type { Snapshot } from '../../model/snapshot';
import type { PlacedEdit } from '../../rules/findings';
import { keywordMeaning } from '../hover/keyword';
import type { Proposal, RowBefore } from './completion';
import { itemTemplate, SYSTEM_TEMPLATE } from './templates';

export function keywordsAt({ after }: RowBefore, snapshot: Snapshot, offset: number): readonly Proposal[] {
  const block = snapshot.slices.findLast(({ start, parsed }) => start + parsed.item.keyword.range.end <= offset)?.parsed.item.kind;
  // A template goes on a line of its own.
  const alone = after.trim() === '';
  const system: Proposal = {
    label: 'over and line',
    kind: 'template',
    detail: 'chords, and a line below them',
    template: SYSTEM_TEMPLATE,
    indented: true,
  };
  const row =
    (width: number) =>
    (label: string): Proposal => ({
      ...keyword(label),
      ...(alone ? { template: [label.padEnd(width)] } : {}),
      ...(rowWord(label)?.choice === true ? { opens: true } : {}),
    });
  const rows = (): readonly Proposal[] =>
    block === 'phrase'
      ? [...wordsWithin('phrase').map(row(KEYWORD_WIDTH)), ...(alone ? [system] : [])]
      : block === 'lesson'
        ? wordsWithin('lesson').map(row(LESSON_WIDTH))
        : [];
  const items = (): readonly Proposal[] => {
    const below = rowsBelow(snapshot.text, offset);
    if (below === null) return itemsAt(snapshot, alone);
    return block === 'lesson' && alone
      ? itemsAt(snapshot, alone)
          .filter(({ label }) => label === 'phrase')
          .map((item) => ({ ...item, besides: movedAbove(snapshot.text, offset, below) }))
      : [];
  };
  return [...guarded('the completion of rows', [], rows), ...guarded('the completion of items', [], items)];
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

/** Where the block goes on below this line, from the end of the line to that of its last row; null where it does not. A new item here would cut it in two. */
function rowsBelow(text: string, offset: number): { readonly start: number; readonly end: number } | null {
  const start = lineEnd(text, offset);
  let end = start;
  for (const { 0: line, index } of text.slice(start).matchAll(/(?<=[\r\n])[^\r\n]+/g)) {
    const said = line.trim();
    if (said === '' || said.startsWith('//')) continue;
    if (beginsItem(/^[^\s"“”|]*/.exec(said)![0])) break;
    end = start + index + line.length;
  }
  return end === start ? null : { start, end };
}

/** The rows below a line go above it, with an empty line between: what is written there then stands after their block. */
function movedAbove(text: string, offset: number, { start, end }: { readonly start: number; readonly end: number }): readonly PlacedEdit[] {
  const lineBreak = /^\r\n|^[\r\n]/.exec(text.slice(start))![0];
  const above = /(?:\r\n|[\r\n])[^\r\n]*$/.exec(text.slice(0, offset))!.index;
  return [
    { start: above, end: above, text: text.slice(start, end) + lineBreak },
    { start, end, text: '' },
  ];
}
