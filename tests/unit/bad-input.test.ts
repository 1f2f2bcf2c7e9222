/** What a writer gets wrong, and what is said and offered. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';

const HEAD = 'phrase "A"\n  key C major\n';

/** What the first fix of each finding makes of the text. */
function mended(text: string): string[] {
  return findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY)
    .flatMap(({ fixes }) => fixes.slice(0, 1))
    .map(({ edits }) =>
      [...edits]
        .sort((a, b) => b.start - a.start)
        .reduce((result, { start, end, text: fresh }) => result.slice(0, start) + fresh + result.slice(end), text),
    );
}

describe.each([
  ['a loose quality is joined', 'over | C7 b9 |', 'over | C7b9 |'],
  ['a loose major seventh is joined', 'over | F maj7 |', 'over | Fmaj7 |'],
  ['glued chords are split', 'over | Dm7-G7 |', 'over | Dm7 G7 |'],
  ['a small root', 'over | dm7 |', 'over | Dm7 |'],
  ['an H', 'over | H7 |', 'over | B7 |'],
  ['three chords in four beats', 'over | C F G |', 'over | C / F G |'],
  ['a weight on a chord', 'over | 3:C F |', 'over | C / / F |'],
  ['slashes that became a comment', 'over | C7 // F7', 'over | C7 / / F7'],
  ['figures in one word', 'over | C |\n  line | 1235 1 1 1 |', 'over | C |\n  line | 1-2-3-5 1 1 1 |'],
  ['an octave as a figure', 'over | C |\n  line | 1 3 5 8 |', 'over | C |\n  line | 1 3 5 /1 |'],
  ['a small pitch', 'line | eb4 D E F |', 'line | Eb4 D E F |'],
  ['a hold after a rest', 'line | C4 . ~ D |', 'line | C4 . . D |'],
  ['a short bar', 'line | C4 D E |', 'line | C4 D E . |'],
  [
    'a wrong figure',
    'over | Gm7 |\n  line | Bb4 A G F |\n  degrees | b3 9 1 6 |',
    'over | Gm7 |\n  line | Bb4 A G F |\n  degrees | b3 9 1 b7 |',
  ],
  ['an octave and a direction', 'line | C4 /D5 E F |', 'line | C4 D5 E F |'],
  ['a key in short', 'key Cm', 'key C minor'],
  ['a key without its mode', 'key Bb', 'key Bb major'],
  ['a key with its flat before it', 'key ♭B', 'key Bb major'],
  ['the word time', 'time 3/4', 'meter 3/4'],
  ['the word chords', 'chords | C7 |', 'over | C7 |'],
  ['the word melody', 'melody | C4 D E F |', 'line | C4 D E F |'],
  ['the word notes', 'Notes | C4 D E F |', 'line | C4 D E F |'],
  ['an R for a rest', 'line | C4 R E F |', 'line | C4 . E F |'],
  ['an R in a beat', 'line | C4 D-R E F |', 'line | C4 D-. E F |'],
  ['a long dash', 'line | C4—D E-G—A E F |', 'line | C4-D E-G—A E F |'],
  ['a long dash beside a hyphen', 'line | C4 E-G—A E F |', 'line | C4 E-G-A E F |'],
  ['a flat before its note', 'line | ♭B4 C D E |', 'line | Bb4 C D E |'],
  ['a small flat before its note', 'line | bB4 C D E |', 'line | Bb4 C D E |'],
  ['a sharp before its note', 'line | #F4-G G G A |', 'line | F#4-G G G A |'],
  ['a flat before its root', 'over | ♭Bmaj7 |', 'over | Bbmaj7 |'],
  ['a mistyped keyword', 'lnie | C4 D E F |', 'line | C4 D E F |'],
])('%s', (_, wrong, right) => {
  test(`${wrong.replaceAll('\n', ' ')} is offered ${right.replaceAll('\n', ' ')}`, () => {
    expect(mended(`${HEAD}  ${wrong}\n`)).toContain(`${HEAD}  ${right}\n`);
  });
});

test('a major seventh over a dominant, and a natural ninth beside an altered one, are shown with the sign they need', () => {
  const shown = (chord: string, note: string): string | null =>
    scoreAt(openSnapshot('file:///a.phrase', 1, `phrase "A"\n  over | ${chord} |\n  line | ${note}4 ~ ~ ~ |\n`), 0, DEFAULT_THEORY, {
      scope: 'phrase',
      pitch: 'concert',
    }).phrases[0]!.notes[0]!.figure;
  expect(
    [
      ['G7', 'F#'],
      ['G7b9', 'A'],
      ['C6', 'B'],
      ['Cm7', 'E'],
      ['Dm7b5', 'A'],
      ['G7', 'F'],
      ['Cmaj7', 'B'],
      ['Gm7', 'A'],
    ].map(([chord, note]) => shown(chord!, note!)),
  ).toEqual(['n7', 'n9', 'n7', 'n3', 'n5', 'b7', '7', '9']);
});

test('a key without its mode is major, and says so in a hint', () => {
  const snapshot = openSnapshot('file:///a.phrase', 1, 'phrase "A"\n  key Bb\n  over | ii7 V7 | Imaj7 |\n');
  expect(snapshot.problems.map(({ problem: { rule, severity } }) => [rule, severity])).toEqual([['key-without-mode', 'hint']]);
  expect(snapshot.phrases[0]!.phrase.spans.map(({ symbol }) => symbol)).toEqual(['Cm7', 'F7', 'Bbmaj7']);
});

test('a small letter alone may be either key: both are offered', () => {
  const [finding] = findingsOf(openSnapshot('file:///a.phrase', 1, 'phrase "A"\n  key eb\n'), DEFAULT_THEORY);
  expect(finding!.fixes.map(({ title }) => title)).toEqual(['Write Eb major', 'Write Eb minor']);
  expect(finding!.message).toContain('Eb major or Eb minor');
});

test('figures that name the same sound are all right', () => {
  const rules = (degrees: string): string[] =>
    findingsOf(
      openSnapshot('file:///a.phrase', 1, `phrase "A"\n  over | Gm7 | G7 |\n  line | Bb4 A G F | Bb A E F |\n  degrees | ${degrees} |\n`),
      DEFAULT_THEORY,
    ).map(({ rule }) => rule);
  for (const degrees of ['b3 9 1 b7 | #9 9 13 b7', '3 2 1 7 | b3 2 6 7', '3 2 1 7 | #9 2 bb7 7'])
    expect(rules(degrees)).not.toContain('wrong-figure');
  expect(rules('n3 9 1 b7 | #9 9 13 n7').filter((rule) => rule === 'wrong-figure')).toHaveLength(2);
});
