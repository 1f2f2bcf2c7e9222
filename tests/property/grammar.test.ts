/** What must hold of the grammar for any text. */
import { Lexer } from 'chevrotain';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { RowParser, parseFile, parseSlice } from '../../grammar/parser';
import { formatText } from '../../grammar/printer';
import { sliceFile } from '../../grammar/slices';
import { MODES, tokenize } from '../../grammar/tokens';
import type { LineRow, PhraseItem } from '../../grammar/tree';
import { always, anyCharacters, junk, phraseArbitrary, RUN } from './arbitrary';
import { expectEqual } from './equal';
import { commentsOf, musicOf } from './music-of';

describe('any text', () => {
  test('is parsed without throwing, its ranges inside it', () => {
    always(
      fc.property(junk, (text) => {
        for (const { start, parsed } of parseFile(text)) {
          expect(text.startsWith(parsed.text, start)).toBe(true);
          expect(
            parsed.problems.filter(({ range: { start: from, end } }) => !(0 <= from && from <= end && end <= parsed.text.length)),
          ).toEqual([]);
        }
      }),
      { ...RUN, numRuns: 1500 },
    );
  });

  test('is the sum of its slices', () => {
    always(
      fc.property(junk, (text) => {
        expect(
          sliceFile(text)
            .map((slice) => slice.text)
            .join(''),
        ).toBe(text);
      }),
      { ...RUN, numRuns: 1000 },
    );
  });

  test('is the same parsed after an edit as parsed from scratch', () => {
    always(
      fc.property(junk, junk, fc.nat(), fc.nat(), (text, inserted, from, length) => {
        const before = parseFile(text);
        const at = from % (text.length + 1);
        const edited = text.slice(0, at) + inserted + text.slice(at + (length % 10));
        expectEqual(parseFile(edited, before), parseFile(edited));
      }),
      { ...RUN, numRuns: 700 },
    );
  });

  test('is formatted to a text that formatting leaves alone, music and comments kept', () => {
    always(
      fc.property(junk, (text) => {
        const formatted = formatText(text);
        expect(formatText(formatted)).toBe(formatted);
        expectEqual(musicOf(formatted), musicOf(text));
        expectEqual(commentsOf(formatted), commentsOf(text));
      }),
      { ...RUN, numRuns: 2500 },
    );
  });
});

test('the lexer finds the same tokens by their first characters as by trying each', () => {
  const trying = new Lexer(MODES, { safeMode: true, positionTracking: 'onlyOffset' });
  always(
    fc.property(
      fc.oneof(
        junk,
        anyCharacters({ maxLength: 60 }).map((text) => `phrase "A"\n line ${text}\n over ${text}\n say ${text}\n${text}`),
      ),
      (text) => {
        const seen = tokenize(text);
        // What `tokenize` knows of the text that it was last given holds for the other lexer, too.
        expectEqual(seen.tokens, trying.tokenize(text).tokens);
        expect(seen.errors).toEqual([]);
      },
    ),
    { ...RUN, numRuns: 1500 },
  );
});

describe('a well-formed phrase', () => {
  test('keeps its music when it is formatted', () => {
    always(
      fc.property(phraseArbitrary, ({ text }) => {
        const formatted = formatText(text);
        expect(formatText(formatted)).toBe(formatted);
        expectEqual(musicOf(formatted), musicOf(text));
      }),
      { ...RUN, numRuns: 400 },
    );
  });

  test('loses at most the bar in which a word cannot be read', () => {
    always(
      fc.property(
        phraseArbitrary,
        fc.nat(),
        fc.constantFrom('??', 'x%', ')', 'C4C4', '1235', '-', '(G', 'zz:', '=='),
        (random, pick, wrong) => {
          const bars = lineOf(random.text);
          const index = pick % bars.length;
          const at = bars[index]!.range.end;
          const after = lineOf(`${random.text.slice(0, at)} ${wrong}${random.text.slice(at)}`);
          expect(after.length).toBe(bars.length);
          after.forEach((bar, i) => {
            if (i !== index) expectEqual(shape(bar), shape(bars[i]!));
          });
        },
      ),
      { ...RUN, numRuns: 600 },
    );
  });
});

function lineOf(text: string): LineRow['bars'] {
  const item = parseSlice(text).item as PhraseItem;
  return (item.rows.find((row) => row.kind === 'line') as LineRow).bars;
}

function shape(bar: LineRow['bars'][number]): unknown {
  return JSON.parse(
    JSON.stringify(bar, (name, value: unknown) => (['range', 'open', 'close', 'start', 'end'].includes(name) ? undefined : value)),
  );
}

test('Chevrotain’s own checks of the grammar find nothing', () => {
  // The check needs functions that Node has from version 21 on.
  const group = <T, K>(items: Iterable<T>, keyOf: (item: T) => K): Map<K, T[]> => {
    const groups = new Map<K, T[]>();
    for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
    return groups;
  };
  (Map as unknown as { groupBy?: unknown }).groupBy ??= group;
  (Object as unknown as { groupBy?: unknown }).groupBy ??= <T>(items: Iterable<T>, keyOf: (item: T) => string) =>
    Object.fromEntries(group(items, keyOf));
  expect(() => new RowParser(false)).not.toThrow();
});
