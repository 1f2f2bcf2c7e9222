import type { OverRow } from '../../../../grammar/tree';
import type { Assist } from '../assist';
import { rowHere } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';
import { wholeLine } from '../writing/whole-phrase';

export const joinSystems: Assist = {
  id: 'join-systems',
  kind: 'refactor.rewrite.systems',
  what: 'Joins a system to the one before it: the chords of both stand in one `over` row.',
  offers(context) {
    const { phrase } = context.placed;
    const here = rowHere(context, 'over');
    const overs = phrase.item.rows.filter((row): row is OverRow => row.kind === 'over');
    const row = context.asked ? overs[1] : overs.find((one) => one === here && one !== overs[0]);
    const before = row === undefined ? undefined : overs[overs.indexOf(row) - 1];
    if (row === undefined || before === undefined || row.changes !== null || before.changes !== null) return [];
    const chords = phrase.text.slice(row.keyword.range.end, row.range.end).trim().replace(/^\|+/, '');
    const last = before.bars[before.bars.length - 1];
    if (last === undefined || chords.includes('//')) return [];
    const joint = last.close === null ? ' |' : '';
    return sameSound(
      context,
      [
        { range: { start: before.range.end, end: before.range.end }, text: `${joint} ${chords.trim()}` },
        { range: wholeLine(phrase.text, row.range), text: '' },
      ],
      'Join this system to the one before',
    );
  },
};
