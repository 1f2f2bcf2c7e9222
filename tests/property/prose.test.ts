/** Prose in rows: formatting breaks what is too long, and the paragraphs tell what they told. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseFile } from '../../grammar/parser';
import { applyEdits, formatEdits, formatText } from '../../grammar/printer';
import { formatRange } from '../../server/src/features/format';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, RUN } from './arbitrary';
import { commentsOf, musicOf } from './music-of';

const WIDTH = 90;

const word = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.constantFrom(
      'the',
      'line',
      'lands',
      'on',
      'a',
      'third',
      '—',
      'and',
      '**there**',
      'it',
      'breathes,',
      'always.',
      '- ',
      '# ',
      '//',
      '|',
      'say',
      'ii–V–I',
      'flügelhorn',
      '🎷',
    ),
  },
  { weight: 2, arbitrary: fc.constantFrom('\\"so', 'to\\"', '\\\\', 'a\\', '\\\\\\', '\\n', '  ', '\t', '\u00a0') },
  { weight: 1, arbitrary: fc.string({ minLength: 85, maxLength: 120, unit: fc.constantFrom('o', 'n', 'g') }) },
);
const inner = fc.array(word, { maxLength: 45 }).map((words) => words.join(' ').replace(/(?<!\\)((?:\\\\)*)\\$/, '$1'));
const sayRow = fc
  .tuple(fc.constantFrom('  ', '', '\t', '      '), fc.constantFrom('"', '“'), inner, fc.constantFrom('', '', '', ' // why', ' again'))
  .map(([indent, quote, text, end]) => `${indent}say ${quote}${text}${quote === '“' ? '”' : '"'}${end}`);
const otherRow = fc.constantFrom(
  '',
  '',
  '  // a comment',
  '  tag lyrical',
  '  claim diatonic',
  '  line | C4 D E F |',
  '  say "open',
  '  say',
  '  cell up = 1 2',
);
const prose = fc
  .tuple(
    fc.array(fc.oneof({ weight: 3, arbitrary: sayRow }, { weight: 1, arbitrary: otherRow }), { maxLength: 9 }),
    fc.constantFrom('\n', '\n', '\r\n'),
    fc.constantFrom('phrase "A"', 'lesson "L"'),
  )
  .map(([rows, lineBreak, head]) => ['phrase "Before"', head, ...rows, ''].join(lineBreak));

describe('formatting prose', () => {
  test('keeps the paragraphs, the comments and all else, and is left alone by formatting', () => {
    always(
      fc.property(prose, (text) => {
        const formatted = formatText(text);
        expect(saidIn(formatted), formatted).toEqual(saidIn(text));
        expect(musicOf(formatted)).toEqual(musicOf(text));
        expect(commentsOf(formatted)).toEqual(commentsOf(text));
        expect(formatText(formatted)).toBe(formatted);
      }),
      { ...RUN, numRuns: 800 },
    );
  });

  test('leaves no row that is too long and could be broken', () => {
    always(
      fc.property(prose, (text) => {
        for (const { literal, width } of sayRowsOf(formatText(text))) {
          // White space that a break would swallow, and one that is escaped, stay in a row; so does what stands at a quote.
          const breaks = [...literal.slice(1, -1).matchAll(/(?<=[^\s\\]|(?:[^\\])(?:\\\\)+) (?=[^\s])/g)].length;
          expect(breaks === 0 || width <= WIDTH, `${width}: ${literal}`).toBe(true);
        }
      }),
      { ...RUN, numRuns: 800 },
    );
  });

  test('of any lines alone keeps the paragraphs', () => {
    always(
      fc.property(prose, fc.nat(), fc.nat(), (text, from, length) => {
        const start = from % (text.length + 1);
        const end = Math.min(text.length, start + (length % 200));
        const edits = formatRange(openSnapshot('file:///a.phrase', 1, text), start, end);
        const after = applyEdits(
          text,
          edits.map((edit) => ({ range: { start: edit.start, end: edit.end }, text: edit.text })),
        );
        expect(saidIn(after)).toEqual(saidIn(text));
      }),
      { ...RUN, numRuns: 500 },
    );
  });

  test('white space alone tells nothing, closed or not', () => {
    expect(saidIn('phrase "A"\n  say “ \n  tag a\n  say " "\n')).toEqual([[]]);
  });

  test('a space before the closing quote is no place to break', () => {
    const row = `  say     "${'o'.repeat(100)}   - "\n`;
    expect(formatText(`phrase "A"\n${row}`)).toBe(`phrase "A"\n${row}`);
  });

  test('changes only lines that need it', () => {
    const text = `phrase "A"\n  say     "Short."\n  say     "Shorter."\n  say     "${'and on '.repeat(20)}"\n  say     "End."\n  say     "Last."\n`;
    expect(formatEdits(text, parseFile(text)).map(({ range }) => text.slice(range.start, range.end).split('\n').length)).toEqual([2]);
  });
});

/** What the phrases say by the model; what a lesson says, as its rows would say it in a phrase. */
function saidIn(text: string): unknown {
  return openSnapshot('file:///a.phrase', 1, text.replace('lesson "', 'phrase "')).phrases.map(({ phrase }) => phrase.says);
}

function sayRowsOf(text: string): { literal: string; width: number }[] {
  return parseFile(text).flatMap(({ parsed: { item, text: slice } }) =>
    item.kind !== 'phrase' && item.kind !== 'lesson'
      ? []
      : item.rows.flatMap((row) => {
          if (row.kind !== 'say' || row.text === null || !row.text.closed || row.range.end !== row.text.range.end) return [];
          const start = slice.lastIndexOf('\n', row.text.range.start) + 1;
          return [
            { literal: slice.slice(row.text.range.start, row.text.range.end), width: [...slice.slice(start, row.text.range.end)].length },
          ];
        }),
  );
}
