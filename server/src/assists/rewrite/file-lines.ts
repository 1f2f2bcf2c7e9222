import type { TextEdit } from '../../../../grammar/tree';
import { readPhrase } from '../../analysis/read';
import type { PlacedPhrase } from '../../model/snapshot';
import type { Assist, AssistContext, Offer } from '../assist';
import { afterOffer } from '../writing/after-offer';
import { isAtTitle } from '../writing/phrase-title';
import { lineRows } from '../writing/whole-phrase';
import { lineInDegrees } from './line-in-degrees';
import { lineInPitches } from './line-in-pitches';

export const fileLines: Assist = {
  id: 'file-lines',
  kind: 'refactor.rewrite.file',
  what: 'Writes every line of the file in degrees, or in pitches.',
  offers: (context) =>
    isAtTitle(context)
      ? [
          ...everyLine(context, lineInDegrees, 'pitch', 'Write every line of the file in degrees'),
          ...everyLine(context, lineInPitches, 'degree', 'Write every line of the file in pitches'),
        ]
      : [],
};

/** What one assist does to a line, done to every line row of every phrase; offered where it does something to two of them. `from` is how the notes are written that it writes otherwise. */
function everyLine(context: AssistContext, assist: Assist, from: 'pitch' | 'degree', title: string): Offer[] {
  const phrases = context.snapshot.phrases.filter(({ phrase }) =>
    phrase.notes.some(({ cell, node }) => cell === null && node.head.kind === from),
  );
  const all = (): TextEdit[] => phrases.flatMap((placed) => phraseEdit(context, placed, assist));
  return changesTwo(context, phrases, assist) ? [{ title, edits: all, repairs: null, preferred: false }] : [];
}

/** The shortest phrases tell soonest; a file may have thousands. */
function changesTwo(context: AssistContext, phrases: readonly PlacedPhrase[], assist: Assist): boolean {
  if (phrases.length < 2) return false;
  const shortestFirst = [...phrases].sort((a, b) => a.phrase.text.length - b.phrase.text.length);
  let count = 0;
  return shortestFirst.some((placed) => phraseEdit(context, placed, assist).length > 0 && (count += 1) === 2);
}

/** One row after another, each on the text that the row before left. */
function phraseEdit(context: AssistContext, placed: PlacedPhrase, assist: Assist): TextEdit[] {
  const own: AssistContext = {
    ...context,
    placed,
    reading: readPhrase(placed.phrase, context.options),
    note: null,
    selected: [],
    asked: false,
  };
  const done = lineRows(placed.phrase).reduce((current, _, i) => {
    const at = lineRows(current.placed.phrase)[i]!.keyword.range.start;
    const [offer] = assist.offers({ ...current, selection: { start: at, end: at } });
    return offer === undefined ? current : afterOffer(current, offer);
  }, own);
  const [before, after] = [placed.phrase.text.trimEnd(), done.placed.phrase.text.trimEnd()];
  const shift = placed.start - context.placed.start;
  return before === after ? [] : [{ range: { start: shift, end: shift + before.length }, text: after }];
}
