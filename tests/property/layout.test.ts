/** Where formatting puts things: what sounds in one bar stands between the same two columns, in every row of its system. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { openSnapshot } from '../../server/src/model/snapshot';
import type { Phrase } from '../../server/src/model/types';
import { always, pageArbitrary, phraseArbitrary, RUN } from './arbitrary';
import { expectEqual } from './equal';
import { commentsOf, musicOf } from './music-of';

describe('a formatted phrase', () => {
  test.each([
    ['of any layout', pageArbitrary],
    ['of one system', phraseArbitrary],
  ])('%s has the bar lines of each bar in one column', (_, arbitrary) => {
    always(
      fc.property(arbitrary, ({ text }) => {
        const formatted = formatText(text);
        for (const { phrase } of openSnapshot('file:///a.phrase', 1, formatted).phrases) {
          expectEqual(
            [...barLineColumns(phrase)].filter(([, columns]) => columns.size !== 1),
            [],
            formatted,
          );
          expectEqual(
            startsOf(phrase).filter((start) => start !== 'bar line'),
            [],
            formatted,
          );
        }
      }),
      { ...RUN, numRuns: 600 },
    );
  });

  test('of any layout has the same music and comments, and is left alone by formatting', () => {
    always(
      fc.property(pageArbitrary, ({ text }) => {
        const formatted = formatText(text);
        expectEqual(musicOf(formatted), musicOf(text), formatted);
        expectEqual(commentsOf(formatted), commentsOf(text));
        expect(formatText(formatted)).toBe(formatted);
      }),
      { ...RUN, numRuns: 1000 },
    );
  });
});

/** For each bar of each system, where its bar line stands in the rows that have something in it: from the model's times, not from the layout. */
function barLineColumns(phrase: Phrase): Map<string, Set<string>> {
  const found = new Map<string, Set<string>>();
  const see = (bar: number, system: number, offset: number): void => {
    const key = `system ${system} bar ${bar}`;
    const columns = found.get(key) ?? new Set();
    // A row's last bar may be closed by `||`, whose first sign is the one that counts.
    found.set(key, columns.add(between(phrase.text, offset)));
  };
  const pickup = phrase.bars.find((bar) => bar.pickup);
  const inPickup = (offset: number): boolean => pickup?.node != null && offset >= pickup.node.range.start && offset < pickup.node.range.end;
  const barAt = (bar: number): Phrase['bars'][number] => phrase.bars.find(({ number }) => number === bar)!;
  for (const group of phrase.groups) if (!inPickup(group.range.start)) see(group.bar, barAt(group.bar).system, group.range.start);
  for (const { note, range } of phrase.figures) {
    if (note !== null && !inPickup(phrase.notes[note]!.range.start))
      see(phrase.notes[note]!.bar, barAt(phrase.notes[note]!.bar).system, range.start);
  }
  for (const { onset, range, definition } of phrase.spans) {
    const bar = phrase.bars.findLast((one) => one.number > 0 && one.onset.compare(onset) <= 0);
    if (definition === null && bar !== undefined) see(bar.number, bar.system, range.start);
  }
  return found;
}

/** The columns of the bar lines before and after an offset, in its line of text. */
function between(text: string, offset: number): string {
  const start = text.lastIndexOf('\n', offset) + 1;
  const open = text.lastIndexOf('|', offset);
  const doubled = text[open - 1] === '|' ? 1 : 0;
  return `${open < start ? 'none' : open - doubled - start} to ${text.indexOf('|', offset) - start}`;
}

/** What each row of music starts with; a pickup, which only the first line and its figures have, stands before a bar line as such. */
function startsOf(phrase: Phrase): string[] {
  const hasPickup = phrase.bars.some((bar) => bar.pickup);
  const rows = phrase.item.rows.flatMap((row) =>
    row.kind === 'line' || row.kind === 'degrees' || (row.kind === 'over' && row.changes === null) ? [row] : [],
  );
  const firstLine = rows.find((row) => row.kind === 'line');
  const allowed = hasPickup ? [firstLine, rows.find((row, i) => row.kind === 'degrees' && i > rows.indexOf(firstLine!))] : [];
  return rows.map((row) => (row.bars[0]?.open != null || row.bars.length === 0 || allowed.includes(row) ? 'bar line' : 'text'));
}
