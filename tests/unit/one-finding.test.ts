/** One finding for one mistake, however many notes it touches, and one fix that mends it. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { actionsAt } from '../../server/src/features/code-actions';
import { fixAll } from '../../server/src/features/fix-all';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { applyEdits } from '../../grammar/printer';
import { findingsOf, type Finding } from '../../server/src/rules/findings';

const opened = (rows: string): Snapshot =>
  openSnapshot(
    'file:///a.phrase',
    1,
    rows.startsWith('phrase') || rows.startsWith('cell')
      ? rows
      : `phrase "A"\n${rows
          .split(';')
          .map((row) => `  ${row.trim()}\n`)
          .join('')}`,
  );
const found = (rows: string, rule: string): readonly Finding[] =>
  findingsOf(opened(rows), DEFAULT_THEORY).filter((one) => one.rule === rule);
const errorsIn = (text: string): readonly Finding[] =>
  findingsOf(opened(text), DEFAULT_THEORY).filter(({ severity }) => severity === 'error');
const sounding = (text: string): number[] => opened(text).phrases.flatMap(({ phrase }) => phrase.notes.map(({ midi }) => midi));
const fixed = (text: string, { fixes }: Finding): string =>
  applyEdits(
    text,
    fixes[0]!.edits.map(({ start, end, text: fresh }) => ({ range: { start, end }, text: fresh })),
  );

describe('notes out of range', () => {
  const HIGH = 'part trumpet; over Cmaj7 | C6; line | C6-B A-G E C | D6 ~ . .';

  test('are one finding a phrase, with the octave that fits the whole of it', () => {
    const [one, ...more] = found(HIGH, 'out-of-range');
    expect(more).toEqual([]);
    expect(one!.message).toMatch(
      /^3 notes lie outside the trumpet’s range, which sounds from E3 to Bb5; the first is C6\. Move the phrase down an octave\.$/,
    );
    expect(one!.related.map((place) => place.text)).toEqual(['B5 is above it too', 'D6 is above it too']);
    const text = opened(HIGH).text;
    const after = fixed(text, one!);
    expect(sounding(after)).toEqual(sounding(text).map((midi) => midi - 12));
    expect(found(after, 'out-of-range')).toEqual([]);
  });

  test.each([
    ['three octaves', 'part trumpet; over C; line C1 E G C', 'up three octaves'],
    ['a first note without an octave figure', 'part trumpet; over C; line G \\C \\G \\C', 'up an octave'],
    ['a first note that is a figure', 'part trumpet; over C; line (5)> \\1 \\5 \\1', 'up an octave'],
    ['a direction that means nothing', 'part trumpet; over C; line /G! \\C \\G \\C', 'up an octave'],
  ])('%s', (_, rows, move) => {
    const [one] = found(rows, 'out-of-range');
    expect(one!.message).toContain(`Move the phrase ${move}.`);
    const text = opened(rows).text;
    const after = fixed(text, one!);
    const [from] = sounding(text);
    expect(sounding(after)).toEqual(sounding(text).map((midi) => midi + sounding(after)[0]! - from!));
    expect(
      findingsOf(opened(after), DEFAULT_THEORY).filter(({ rule }) => rule === 'out-of-range' || rule === 'octave-and-direction'),
    ).toEqual([]);
  });

  test.each([
    [
      'and drags those behind it along',
      'over Dm7 | G7; line D4-F A-C B-A F-D | G-B D-F Ab8-G F-D',
      '4 notes lie outside the concert part’s range, which sounds from A0 to C8; the first is Ab8. Is Ab5 meant?',
      'Ab5-G F-D',
    ],
    [
      'before the first that is outside',
      'part trumpet; over C; line C4 E A6 C',
      '2 notes lie outside the trumpet’s range, which sounds from E3 to Bb5; the first is A6. Is A4 meant?',
      'C4 E A4 C',
    ],
    [
      'and comes back',
      'part trumpet; over C; line C4 E7 C4 E',
      'E7 is above the trumpet’s range, which sounds from E3 to Bb5. Is E4 meant?',
      'C4 E4 C4 E',
    ],
    [
      'that the notes behind it climb on from',
      'part trumpet; over C; line E3 G5 C /E',
      '2 notes lie outside the trumpet’s range, which sounds from E3 to Bb5; the first is C6. Is G3 meant in place of G5?',
      'E3 G3 C /E',
    ],
  ])('by one wrong octave figure %s: only that figure is mended, and not without a look', (_, rows, message, right) => {
    const { text } = opened(rows);
    const [one, ...more] = findingsOf(opened(rows), DEFAULT_THEORY).filter(({ rule }) => rule === 'out-of-range' || rule === 'octave-slip');
    expect([one!.message, more]).toEqual([message, []]);
    expect(one!.fixes.map(({ safe }) => safe)).toEqual([false]);
    const after = fixed(text, one!);
    expect(after).toContain(right);
    expect(found(after, 'out-of-range')).toEqual([]);
    expect(fixAll(text, DEFAULT_THEORY).applied.map(({ rule }) => rule)).not.toContain('out-of-range');
  });

  test('that fit in no octave are told so, and nothing is offered', () => {
    const [one] = found('part trumpet; over C; line C3 C4 C5 C7', 'out-of-range');
    expect(one!.message).toContain('The phrase fits in no octave');
    expect(one!.fixes).toEqual([]);
  });

  test('of a cell, whose octave other phrases share, or beside what cannot be read, have no fix', () => {
    expect(found('cell up = C7 E\n\nphrase "A"\n  part trumpet\n  over C\n  line up up', 'out-of-range')[0]!.fixes).toEqual([]);
    expect(found('part trumpet; over C; line ? C7 E C', 'out-of-range')[0]!.fixes).toEqual([]);
  });

  test('are mended with all safe fixes, but not where a claim names octaves', () => {
    expect(fixAll(opened(HIGH).text, DEFAULT_THEORY).applied.map(({ rule }) => rule)).toContain('out-of-range');
    expect(fixAll(opened(`${HIGH}; claim range C5 to C7`).text, DEFAULT_THEORY).applied.map(({ rule }) => rule)).not.toContain(
      'out-of-range',
    );
  });
});

describe('lower-case notes', () => {
  test('are one finding a row, whose fix writes the line in capitals', () => {
    const rows = 'over C | F; line c4 e-g (bb)! c5 | /f> a eb f#4; line c4 d e f';
    const [one, two, ...more] = found(rows, 'lower-case-pitch');
    expect(more).toEqual([]);
    expect([one!.message, two!.message]).toEqual([
      'Pitches are capital letters. Write C4, E, G and 6 more in capitals.',
      'Pitches are capital letters. Write C4, D, E and 1 more in capitals.',
    ]);
    expect(one!.fixes.map(({ title, safe }) => [title, safe])).toEqual([['Write the line in capitals', true]]);
    const { text, left } = fixAll(opened(rows).text, DEFAULT_THEORY);
    expect(text).toContain('C4 E-G (Bb)! C5 | /F> A Eb F#4\n  line C4 D E F');
    expect(left.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  test('a single one is named', () => {
    expect(found('line C4 d E F', 'lower-case-pitch').map(({ message, fixes }) => [message, fixes[0]!.title])).toEqual([
      ['Pitches are capital letters. Write D.', 'Write D'],
    ]);
  });

  test('of a cell', () => {
    expect(found('cell up = c d e\n', 'lower-case-pitch').map(({ fixes }) => fixes[0]!.title)).toEqual(['Write the cell in capitals']);
  });

  test('take a B that reads as a flat fourth along, where all notes have octaves; where it may be a figure, nothing is done unasked', () => {
    expect(fixAll(opened('line c4 b4 bb4 g4').text, DEFAULT_THEORY).text).toContain('line C4 B4 Bb4 G4');
    expect(fixAll(opened('line c4 b4 bb4 3').text, DEFAULT_THEORY).text).toContain('line c4 b4 bb4 3');
    expect(fixAll(opened('over C; line c b3 5 g').text, DEFAULT_THEORY).text).toContain('line c b3 5 g');
  });
});

describe('a bar too long', () => {
  /** What is offered in the first bar with such a finding: titles, and the phrase's rows of music after each. */
  function offered(rows: string): [string, string][] {
    const snapshot = opened(rows);
    const one = found(rows, 'bar-length')[0]!;
    return actionsAt(snapshot, one.start, one.start, DEFAULT_SETTINGS, (error) => {
      throw error;
    })
      .filter(({ finding }) => finding?.rule === 'bar-length')
      .map(({ title, edits }) => {
        const after = applyEdits(
          snapshot.text,
          edits().map(({ start, end, text }) => ({ range: { start, end }, text })),
        );
        expect(errorsIn(after).length, after).toBeLessThan(errorsIn(snapshot.text).length);
        if (!rows.includes('| A B C |')) expect(errorsIn(after), after).toEqual([]);
        return [
          title,
          after
            .trimEnd()
            .split('\n')
            .slice(1)
            .filter((row) => !/over|meter/.test(row))
            .map((row) => row.trim().replace(/ +/g, ' '))
            .join(' / '),
        ];
      });
  }

  test.each([
    [
      'one beat',
      'over C; line | C4 D E F G |',
      [
        ['Move the rest to a new bar', 'line | C4 D E F | G . . . |'],
        ['Halve the last values: F-G', 'line | C4 D E F-G |'],
      ],
    ],
    [
      'one beat, a beat missing after it',
      'over C | F; line | C4 D E F G | A B C |',
      [
        ['Move the rest to the next bar', 'line | C4 D E F | G A B C |'],
        ['Halve the last values: F-G', 'line | C4 D E F-G | A B C |'],
      ],
    ],
    ['a whole line in one bar', 'line C4 D E F G A B C D E F G', [['Move the rest to new bars', 'line C4 D E F | G A B C | D E F G']]],
    [
      'two beats',
      'over C; line | C4 D E F G A |',
      [
        ['Move the rest to a new bar', 'line | C4 D E F | G A . . |'],
        ['Halve the last values: E-F G-A', 'line | C4 D E-F G-A |'],
      ],
    ],
    [
      'groups of other lengths',
      'over C | F; line | C4 D E F G-A | C |',
      [['Halve the last values: F-~-G-A', 'line | C4 D E F-~-G-A | C |']],
    ],
    ['rests and holds', 'over C | F; line | C4 D E ~ F-. | C |', [['Halve the last values: ~-~-F-.', 'line | C4 D E ~-~-F-. | C |']]],
    ['weights', 'over C | F; line | 2:C4 2:D 2:E-F | C |', [['Halve the last values: 2:D-~-E-F', 'line | 2:C4 2:D-~-E-F | C |']]],
    [
      'with its numbering',
      'over C | F; line | C4 D E F G | C |; degrees | 1 2 3 4 5 | 5 |',
      [['Halve the last values: F-G', 'line | C4 D E F-G | C | / degrees | 1 2 3 4-5 | 5 |']],
    ],
    [
      'moved with its numbering',
      'over C; line | C4 D E F G |; degrees | 1 2 3 4 5 |',
      [
        ['Move the rest to a new bar', 'line | C4 D E F | G . . . | / degrees | 1 2 3 4 | 5 |'],
        ['Halve the last values: F-G', 'line | C4 D E F-G | / degrees | 1 2 3 4-5 |'],
      ],
    ],
    [
      'in three',
      'meter 3/4; over C; line | C4 D E F |',
      [
        ['Move the rest to a new bar', 'line | C4 D E | F . . |'],
        ['Halve the last values: E-F', 'line | C4 D E-F |'],
      ],
    ],
  ] as [string, string, [string, string][]][])('%s', (_, rows, expected) => {
    expect(offered(rows)).toEqual(expected);
  });
});
