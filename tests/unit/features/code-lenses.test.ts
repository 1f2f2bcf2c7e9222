/** What stands above a phrase: where, what for, and in how many words. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { codeLenses, type CodeLens } from '../../../server/src/features/code-lenses';
import { DEFAULT_SETTINGS, readSettings } from '../../../server/src/features/options';
import { always, lessonPhraseArbitrary, phraseArbitrary, RUN } from '../../property/arbitrary';
import { opened } from './cursor';

const lenses = (text: string): readonly CodeLens[] => codeLenses(opened(text), DEFAULT_SETTINGS);
/** The line about each phrase. */
const lines = (text: string): string[] =>
  lenses(text)
    .filter(({ action }) => action === 'explain')
    .map(({ title }) => title);

const phrase = (rows: string): string =>
  `phrase "A"\n${rows
    .split(';')
    .map((row) => `  ${row.trim()}\n`)
    .join('')}`;

describe('where they stand', () => {
  test('three above the title of each phrase with a note, each with the place of its keyword', () => {
    const text =
      'cell climb = 1-2 3-5\n// first\nphrase "🎷 One"\n  over | C |\n  line | climb 1 . |\nphrase "Empty"\n  over | C |\nphrase\n  line | C4 E G ~ |\n';
    const found = lenses(text);
    expect(found.map(({ start, end, action }) => [text.slice(start, end), action])).toEqual([
      ['"🎷 One"', 'play'],
      ['"🎷 One"', 'show'],
      ['"🎷 One"', 'explain'],
      ['phrase', 'play'],
      ['phrase', 'show'],
      ['phrase', 'explain'],
    ]);
    expect(found.map(({ keyword }) => text.slice(keyword, keyword + 6))).toEqual(Array(6).fill('phrase'));
    expect(found.slice(0, 2).map(({ title }) => title)).toEqual(['Play', 'Show the score']);
  });

  test('none in an empty file, and none where they are not wanted', () => {
    expect(lenses('')).toEqual([]);
    const text = phrase('line | C4 |');
    expect(lenses(text)).toHaveLength(3);
    expect(codeLenses(opened(text), readSettings({ codeLenses: false }))).toEqual([]);
    expect(codeLenses(opened(text), readSettings({ codeLenses: 'no' }))).toHaveLength(3);
  });
});

describe('the line about a phrase', () => {
  test('says its bars, its key, its setting, its notes, its range, and that nothing clashes', () => {
    expect(lines(phrase('key F major; over | Gm7 C7 | Fmaj7 |; line | Bb4-A G-D E-C Bb-G | A ~ . . |'))).toEqual([
      'Nothing clashes; 2 bars in F major, over a ii–V–I: 8 chord tones, 1 tension of 9 notes; range G3–Bb4',
    ]);
  });

  test.each([
    ['over | Cmaj7 |; line | E4 ~ ~ ~ |', 'Nothing clashes; 1 bar over a major vamp: 1 note, a chord tone; range E4'],
    ['over | Cmaj7 |; line | E4 G B C |', 'Nothing clashes; 1 bar over a major vamp: 4 notes, all chord tones; range E4–C5'],
    ['over | Cmaj7 |; line | F4 C E G |', '1 note clashes; 1 bar over a major vamp: 3 chord tones, 1 avoid note of 4 notes; range C4–G4'],
    ['line | C4 E G ~ |', '1 bar: 3 notes, no chord; range C4–G4'],
    ['over | Xq | C |; line | C4 E G ~ | . . . . |', '1 error; 2 bars over a major vamp: 3 notes, none over a chord; range C4–G4'],
    ['over | C |; line | C4 E H ~ |', 'Nothing clashes, 1 error; 1 bar over a major vamp: 2 notes, all chord tones; range C4–E4'],
    [
      'over | C |; line | C4 E G C |; claim lands 5 at 1.1',
      'Nothing clashes, 1 warning; 1 bar over a major vamp: 4 notes, all chord tones; range C4–C5',
    ],
  ])('%s', (rows, line) => expect(lines(phrase(rows))).toEqual([line]));

  test('tells only the chord tones where it would be long; setting and range stay', () => {
    const bars = Array.from({ length: 24 }, (_, i) => ['| Am7b5 ', '| D7b9 ', '| Gm6 ', '| Gm6 '][i % 4]).join('');
    const line = Array.from({ length: 24 }, () => '| F#4-B C5-Eb Ab4-C#5 D-E ').join('');
    const [said] = lines(phrase(`key G minor; over ${bars}|; line ${line}|`));
    expect(said).toMatch(/^\d+ notes clash; 24 bars in G minor.*: \d+ chord tones of 192 notes; range F#4–E5$/);
    const wide =
      '#9-#9^ | 5-/b9-11^-5 b9-/b7-/b13-/b7 .-#9 13-\\b13-/1>-\\#11 | \\13 /1-13 \\#9-9-b7 /#9-b13-13-13> | /11> #9 b7-3-.-b13 #11>-\\5 |';
    expect(lines(phrase(`key G major; meter 12/8; over | Em9 | Abm6 | Am |; line ${wide}`))[0]).toMatch(
      /^Nothing clashes, 1 warning; 3 bars of 12\/8 in G major: 18 chord tones of 32 notes; range \S+–\S+$/,
    );
  });

  test('an edit that makes its front longer takes nothing from its end', () => {
    const rows = 'key F major; over | Gm7 C7 | Fmaj7 |; line | Bb4-A G-D E-C Bb-G | A ~ . . |';
    const claims = ['; claim lands 5 at 1.1', '; claim lands 5 at 1.1; claim range C5 to D5'];
    for (const more of ['', ...claims])
      expect(lines(phrase(rows + more))[0]).toMatch(/; 2 bars in F major, over a ii–V–I: .*8 chord tones.* of 9 notes; range G3–Bb4$/);
  });

  test('is one line of at most 120 characters, whatever the phrase', () => {
    always(
      fc.property(fc.oneof(phraseArbitrary, lessonPhraseArbitrary), ({ text }) => {
        for (const line of lines(text)) {
          expect(line).not.toMatch(/[\n`*]|undefined|NaN/);
          expect(line.length).toBeLessThanOrEqual(120);
        }
      }),
      RUN,
    );
  });
});
