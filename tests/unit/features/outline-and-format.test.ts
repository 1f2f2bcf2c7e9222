/** The outline, the folds, and formatting of a part of a file. */
import { expect, test } from 'vitest';
import { folds } from '../../../server/src/features/folding';
import { formatDocument, formatRange } from '../../../server/src/features/format';
import { documentSymbols, type Symbol } from '../../../server/src/features/symbols';
import { edited, opened } from './cursor';

const LESSON = `cell climb = 1-2 3-5

lesson "Quay"
about  "Two phrases."
changes turn = | Gm7 C7 | Fmaj7 |

// One
// two
phrase "Steps"
  key F major
  line 5-6-7 | C4 D E F |
  over turn
  line | Bb4 A G F | E ~ . . |
  over | C |
  line | 1 3 5 . |

phrase ""
`;

const tree = (symbols: readonly Symbol[]): unknown[] =>
  symbols.map(({ name, detail, children }) => (children.length === 0 ? [name, detail] : [name, detail, tree(children)]));

test('the outline nests: lesson, its phrases and definitions, their systems with their bars', () => {
  expect(tree(documentSymbols(opened(LESSON)))).toEqual([
    ['climb', 'cell'],
    [
      'Quay',
      'lesson',
      [
        ['turn', 'changes'],
        [
          'Steps',
          'F major, 4 bars',
          [
            ['No chords', 'bar 1'],
            ['turn', 'bars 2–3'],
            ['| C |', 'bar 4'],
          ],
        ],
        ['(phrase without a name)', '0 bars'],
      ],
    ],
  ]);
});

test('every symbol holds its name and its children', () => {
  const check = (symbol: Symbol): void => {
    expect(symbol.start <= symbol.nameStart && symbol.nameEnd <= symbol.end).toBe(true);
    for (const child of symbol.children) {
      expect(symbol.start <= child.start && child.end <= symbol.end).toBe(true);
      check(child);
    }
  };
  const symbols = documentSymbols(opened(LESSON));
  expect(symbols).toHaveLength(2);
  symbols.forEach(check);
});

test('phrases fold, and runs of comments', () => {
  const found = folds(opened(LESSON)).map(({ start, end, kind }) => [kind, LESSON.slice(start, end).split('\n').length]);
  expect(found).toContainEqual(['comment', 2]);
  expect(found).toContainEqual(['region', 7]);
});

test('formatting a line leaves the others, and puts it where formatting the file would', () => {
  const text = 'phrase "A"\n over | Dm7 G7 | C |\n line | D4 F A G | E ~ . . |\n';
  const whole = edited(text, formatDocument(opened(text)));
  const line = text.indexOf(' line');
  const part = edited(text, formatRange(opened(text), line, line + 3));
  expect(part.split('\n')).toEqual([text.split('\n')[0], text.split('\n')[1], whole.split('\n')[2], '']);
  expect(part.split('\n')[2]).not.toBe(text.split('\n')[2]);
});

test('a selection that ends before a line does not touch it', () => {
  const text = 'phrase "A"\n key C major\n level 2\n';
  expect(edited(text, formatRange(opened(text), text.indexOf(' key'), text.indexOf(' level')))).toBe(
    'phrase "A"\n  key     C major\n level 2\n',
  );
});

test('what is too long is left as it is', () => {
  expect(formatDocument(opened(`phrase "A"\n line | ${'C4 D E F|'.repeat(20_000)}`))).toEqual([]);
});

const formatted = (rows: string): string[] => {
  const text = `phrase "A"\n${rows}\n`;
  return edited(text, formatDocument(opened(text)))
    .trimEnd()
    .split('\n')
    .slice(1);
};

test('chords stand over their bar where the first bar line is missing', () => {
  expect(formatted('over Am7b5 D7b9 | Gm6\nline C-Eb G-A F#-Eb C-A | Bb ~ . .\ndegrees b3-b5 b7-1 3-b9 b7-5 | b3')).toEqual([
    '  over    | Am7b5      D7b9       | Gm6      |',
    '  line    | C-Eb  G-A  F#-Eb C-A  | Bb ~ . . |',
    '  degrees | b3-b5 b7-1 3-b9  b7-5 | b3       |',
  ]);
});

test('a pickup stays before the bar line; what fills a bar of another meter does not', () => {
  expect(formatted('over C | F\nline G A B | C D E F | G')).toEqual(['  over          | C       | F |', '  line    G A B | C D E F | G |']);
  expect(formatted('meter 3/4\nover C | F | C\nline G A B | C D E | G').slice(1)).toEqual([
    '  over    | C     | F     | C |',
    '  line    | G A B | C D E | G |',
  ]);
});

test('a row that starts at a later bar stands under that bar’s chords', () => {
  expect(formatted('over C | F | G7 | C\nline C D E F | G A B C\n| D E\nline F G')).toEqual([
    '  over    | C       | F       | G7  | C   |',
    '  line    | C D E F | G A B C |',
    '                              | D E |',
    '  line                              | F G |',
  ]);
});

test('where all rows break, the next start at the margin, with bar lines under those above', () => {
  expect(formatted('over C || F\n| G7 | C\nline C D E F | G A\n| D E F G | C ||')).toEqual([
    '  over    | C       || F   |',
    '          | G7      |  C   |',
    '  line    | C D E F |  G A |',
    '          | D E F G |  C   ||',
  ]);
});

test('a long text is broken over rows, and runs over into the next row of its paragraph alone', () => {
  const told =
    'Nothing but chord tones, and it already sounds like the tune is going somewhere: the last note of each bar is a step from the next.';
  expect(formatted(`say "${told}"\nsay "Sing \\"it\\"."\n\nsay "Then play." // twice`)).toEqual([
    '  say     "Nothing but chord tones, and it already sounds like the tune is going"',
    '  say     "somewhere: the last note of each bar is a step from the next. Sing \\"it\\"."',
    '',
    '  say     "Then play." // twice',
  ]);
  const says = opened(`phrase "A"\nsay "${told}"\n// a comment\nsay "Sing \\"it\\"."\ntag x\nsay "Then play."\n\nsay "Twice."\n`)
    .phrases[0]!.phrase.says;
  expect(says).toEqual([`${told} Sing "it".`, 'Then play.', 'Twice.']);
});
