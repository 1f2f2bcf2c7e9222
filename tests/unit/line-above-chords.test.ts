/** A line that stands above its chords sounds over none: that is told once, and nothing is counted from a chord that is not there. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { explainPhrase } from '../../server/src/explain/document';
import { fixAll } from '../../server/src/features/fix-all';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf, type Finding } from '../../server/src/rules/findings';

const textOf = (rows: string): string =>
  `phrase "A"\n${rows
    .split(';')
    .map((row) => `  ${row.trim()}\n`)
    .join('')}`;
const findings = (text: string): readonly Finding[] => findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);
const rules = (rows: string): string[] => findings(textOf(rows)).map(({ rule }) => rule);
const reading = (rows: string): Reading => readPhrase(openSnapshot('file:///a.phrase', 1, textOf(rows)).phrases[0]!.phrase, DEFAULT_THEORY);

const LINE = 'line | Bb4-D F-A G-F D-C | Bb-D C-Bb A-G E-D | C ~ G F |';
const OVER = 'over | Gm7 | C7 | Fmaj7 |';

describe('a line above its chords', () => {
  test('is told once, and the fix puts the chords above it', () => {
    const text = textOf(`key F major; ${LINE}; ${OVER}`);
    const [one, ...more] = findings(text);
    expect(more).toEqual([]);
    expect([one!.rule, one!.severity, text.slice(one!.start, one!.end)]).toEqual(['line-above-chords', 'warning', 'line']);
    expect(one!.message).toBe(
      'No chord sounds over this line, for its chords stand below it. Move the line below “over”; if it is meant to be alone, write over | N.C. | above it.',
    );
    expect(one!.fixes.map(({ title, safe }) => [title, safe])).toEqual([
      ['Move the line below its chords', true],
      ['Write that no chord sounds: over | N.C. |', false],
    ]);
    expect(applyPlaced(text, one!.fixes[0]!.edits)).toBe(textOf(`key F major; ${OVER}; ${LINE}`));
    expect(fixAll(text, DEFAULT_THEORY).text).toBe(textOf(`key F major; ${OVER}; ${LINE}`));
  });

  test('is numbered, judged and told against no chord', () => {
    const { notes, phrase } = reading(`key F major; ${LINE}; ${OVER}`);
    expect(phrase.notes.map(({ span }) => span)).toEqual(phrase.notes.map(() => null));
    expect(notes.map(({ placement }) => placement)).toEqual(notes.map(() => null));
    const { notes: told, telling } = explainPhrase(reading(`key F major; ${LINE}; ${OVER}`));
    expect(told.map(({ chord, degree, role }) => [chord, degree, role])).toEqual(told.map(() => [null, null, null]));
    expect(telling.filter(({ bar, text }) => bar < 4 && /Gm7|C7|Fmaj7/.test(text))).toEqual([]);
    const score = scoreAt(openSnapshot('file:///a.phrase', 1, textOf(`key F major; ${LINE}; ${OVER}`)), 0, DEFAULT_THEORY, {
      scope: 'phrase',
      pitch: 'concert',
    });
    expect(score.phrases[0]!.notes.map(({ figure }) => figure)).toEqual(phrase.notes.map(() => null));
  });

  test('a pickup above them counts from no chord either, and a claim on it says that none sounds', () => {
    expect(reading('line F4-D | E G C ~ |; over | C6 |').notes.map(({ placement }) => placement)).toEqual([null, null, null, null, null]);
    expect(
      findings(textOf('line | E4 G C ~ |; over | C6 |; claim lands 3 at 1.1')).find(({ rule }) => rule === 'claim-impossible')!.message,
    ).toContain('no chord sounds at 1.1');
  });

  test('a note that is held into the chords is heard against them there alone', () => {
    const [held] = reading('line | C4 ~ ~ ~ |; over | Am7 |; line | ~ E G A |').notes;
    expect(held!.placement).toBeNull();
    expect(held!.soundings.map(({ at, held: isHeld }) => [at.toFraction(), isHeld])).toEqual([['4', true]]);
  });

  test('its degrees, and the figures under it, have no finding of their own', () => {
    expect(rules('line | 1 3 5 1 |; over | Gm7 |')).toEqual(['line-above-chords']);
    expect(rules('line | G4 Bb D G |; degrees | 1 3 5 1 |; over | Gm7 |')).toEqual(['line-above-chords']);
    expect(rules('line | 1 3 5 1 |')).toEqual(Array(4).fill('figure-without-chord'));
  });

  test.each([
    [
      'several pairs',
      'line | C4 D E F |; over | C6 |; line | G F E D |; over | G7 |',
      'over | C6 |; line | C4 D E F |; over | G7 |; line | G F E D |',
      true,
    ],
    [
      'with its figures',
      'line | C4 D E G |; degrees | 1 9 3 5 |; over | C6 |',
      'over | C6 |; line | C4 D E G |; degrees | 1 9 3 5 |',
      true,
    ],
    [
      'chords over two lines of text',
      'line | C4 D E F | G F E D |; over | C6 |;| G7 |',
      'over | C6 |;| G7 |; line | C4 D E F | G F E D |',
      true,
    ],
    ['a comment behind the chords', 'line | C4 D E F |; over | C6 | // home', 'over | C6 | // home; line | C4 D E F |', true],
    ['another number of bars', 'line | C4 D E F |; over | C6 | G7 |', 'over | C6 | G7 |; line | C4 D E F |', false],
  ])('%s', (_, rows, after, isSafe) => {
    const text = textOf(rows);
    const [fix] = findings(text).find(({ rule }) => rule === 'line-above-chords')!.fixes;
    expect(fix!.safe).toBe(isSafe);
    expect(applyPlaced(text, fix!.edits)).toBe(textOf(after));
  });

  test('at the end of a file without a line end, and with carriage returns', () => {
    const text = textOf('line | C4 D E F |; over | C6 |').replaceAll('\n', '\r\n').trimEnd();
    expect(applyPlaced(text, findings(text)[0]!.fixes[0]!.edits)).toBe('phrase "A"\r\n  over | C6 |\r\n  line | C4 D E F |');
  });

  test('is moved no further where another line stands below the chords: which of them they are meant for, the writer says', () => {
    const text = textOf('line | C4 D E F |; over | C6 |; line | G F E D |');
    const [one] = findings(text);
    expect(one!.fixes.map(({ title }) => title)).toEqual(['Write that no chord sounds: over | N.C. |']);
    expect(findings(applyPlaced(text, one!.fixes[0]!.edits))).toEqual([]);
  });
});

test.each([
  ['a line without any chords', 'line | C4 D E F |'],
  ['a line below its chords', 'over | C6 |; line | C4 D E F |'],
  ['a second line', 'over | C6 |; line | C4 D E F |; over | G7 |; line | G4 F D B3 |'],
  ['a new meter within a system', 'over | C6 |; line | C4 D E F |; meter 3/4; line | E G E |'],
  ['an empty line row', 'line; over | C6 |'],
])('nothing is said of %s', (_, rows) => {
  expect(rules(rows)).not.toContain('line-above-chords');
});
