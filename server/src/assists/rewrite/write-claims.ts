import { lineEnd } from '../../../../grammar/lines';
import { thoseThatHold } from '../../analysis/claims/holding';
import { devicesOf } from '../../analysis/devices/read';
import { shownFigure } from '../../analysis/shown-figure';
import type { Reading } from '../../analysis/types';
import type { Assist } from '../assist';
import { flaggedBy } from '../writing/flagged';
import { isAtTitle, laidOut, rowsLaidOut } from '../writing/phrase-title';

export const writeClaims: Assist = {
  id: 'write-claims',
  kind: 'refactor.rewrite.phrase',
  what: 'Writes claims that hold of a phrase and that it does not make yet. None names a flagged note.',
  offers(context) {
    const { reading } = context;
    if (!isAtTitle(context) || reading.phrase.notes.length === 0) return [];
    const made = new Set(reading.phrase.claims.map(({ text }) => text));
    const claims = thoseThatHold(
      candidates(reading).filter((text) => !made.has(text)),
      reading,
    );
    if (claims.length === 0) return [];
    const rows = reading.phrase.item.rows;
    const after = rows.findLast((row) => row.kind !== 'say') ?? rows[rows.length - 1];
    const at = lineEnd(reading.phrase.text, after?.range.end ?? reading.phrase.item.keyword.range.end);
    return laidOut(
      context,
      [{ range: { start: at, end: at }, text: rowsLaidOut(claims.map((claim) => `\n  claim ${claim}`).join('')) }],
      `Write the claims that hold: ${claims.join('; ')}`,
    );
  },
};

/** What a lesson would say of such a phrase, if it is true: a note that is flagged is no teaching point. */
function candidates(reading: Reading): string[] {
  const { phrase } = reading;
  const last = reading.notes[reading.notes.length - 1]!;
  const lastNote = phrase.notes[last.note]!;
  const enclosures = devicesOf(reading).filter(
    ({ kind, target, notes }) =>
      kind === 'enclosure' && target !== null && [...notes, target].every((note) => flaggedBy(reading, note) === null),
  );
  return [
    'diatonic',
    'chord-tones',
    'no clash',
    'resolves 7 to 3',
    ...enclosures.map(({ target }) => `enclosure at ${phrase.notes[target!]!.bar}.${phrase.notes[target!]!.beat}`),
    ...(last.placement === null || flaggedBy(reading, last.note) !== null
      ? []
      : [`lands ${shownFigure(reading, last.placement)} at ${lastNote.bar}.${lastNote.beat}`]),
  ];
}
