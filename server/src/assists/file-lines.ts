import type { TextEdit } from '../../../grammar/tree';
import type { Snapshot } from '../model/snapshot';
import { editsOfOffer, type Assist, type AssistContext, type Offer } from './assist';
import { lineInDegrees } from './line-in-degrees';
import { lineInPitches } from './line-in-pitches';
import { isAtTitle } from './phrase-title';
import { readPhrase } from '../analysis/read';

export const fileLines: Assist = {
  id: 'file-lines',
  kind: 'refactor.rewrite.file',
  what: 'Writes every line of the file in degrees, or in pitches.',
  offers: (context) => (isAtTitle(context) ? [...everyLine(context, lineInDegrees, 'Write every line of the file in degrees'), ...everyLine(context, lineInPitches, 'Write every line of the file in pitches')] : []),
};

/** What one assist does to the lines of a phrase, done to every phrase; a phrase has one line in nearly every lesson, so its first stands for all. */
function everyLine(context: AssistContext, assist: Assist, title: string): Offer[] {
  const edits = context.snapshot.phrases.flatMap((placed) => phraseEdits(context, placed, assist));
  const touched = new Set(edits.map(({ phrase }) => phrase)).size;
  return touched < 2 ? [] : [{ title: `${title} (${touched} phrases)`, edits: edits.map(({ edit }) => edit), repairs: null, preferred: false }];
}

function phraseEdits(context: AssistContext, placed: Snapshot['phrases'][number], assist: Assist): { readonly phrase: number; readonly edit: TextEdit }[] {
  const rows = placed.phrase.item.rows.filter(({ kind }) => kind === 'line');
  const row = rows[0];
  if (row === undefined || rows.length > 1) return [];
  const at = row.keyword.range.start;
  const own: AssistContext = { ...context, placed, reading: readPhrase(placed.phrase, context.options), selection: { start: at, end: at }, note: null, selected: [], asked: false };
  const shift = placed.start - context.placed.start;
  return assist.offers(own).slice(0, 1).flatMap((offer) =>
    editsOfOffer(offer).map(({ range, text }) => ({ phrase: placed.start, edit: { range: { start: range.start + shift, end: range.end + shift }, text } })),
  );
}
