import type { Assist } from '../assist';
import { degreesEdits } from '../writing/degrees-row';
import { isAtTitle, laidOut } from '../writing/phrase-title';

export const writeDegrees: Assist = {
  id: 'write-degrees',
  kind: 'refactor.rewrite.phrase',
  what: 'Writes the degrees row under each line of a phrase that has none.',
  offers(context) {
    const { phrase } = context.reading;
    const bare = phrase.item.rows.every((row) => row.kind !== 'degrees');
    return isAtTitle(context) && bare && phrase.spans.length > 0
      ? laidOut(context, degreesEdits(context.reading), 'Write the degrees row')
      : [];
  },
};
