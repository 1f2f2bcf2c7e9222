/** One slip of the pen is one finding, in a teacher's words, with the fix that mends it; what is well written is left in peace. */
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { sliceFile } from '../../grammar/slices';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { fixAll } from '../../server/src/features/fix-all';
import { openSnapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf, type Finding } from '../../server/src/rules/findings';
import { only } from './only-finding';

const found = (text: string): readonly Finding[] => findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);

describe('`phrase` mistyped before a name', () => {
  const ONE = 'phrase "One"\n  key F major\n  over | Gm7 | C7 |\n  line | Bb4 A G F | E ~ ~ . |\n';
  const TWO = ' "Two"\n  key Bb major\n  over | Cm7 | F7 |\n  line | Eb5 D C Bb | A ~ ~ . |\n';

  test.each(['prase', 'phase', 'phraes', 'Phrase', 'PHRASE', 'phrase:', 'phrases', 'frase'])(
    '%s begins a phrase, and is one error',
    (word) => {
      const text = `${ONE}\n${word}${TWO}`;
      expect(only(text)).toEqual({
        rule: 'unknown-keyword',
        message: `There is no row called “${word}”. Did you mean phrase?`,
        at: word,
        after: [`${ONE}\nphrase${TWO}`],
      });
      const { phrases } = openSnapshot('file:///a.phrase', 1, text);
      expect(phrases.map(({ phrase }) => [phrase.name, phrase.bars.length])).toEqual([
        ['One', 2],
        ['Two', 2],
      ]);
      // What is written stays: the fix is the writer's to take.
      expect(formatText(text)).toContain(`\n${word} "Two"\n`);
    },
  );

  test('at the start of a file', () => {
    expect(only(`prase${TWO}`)).toMatchObject({ at: 'prase', after: [`phrase${TWO}`] });
    expect(only(`\uFEFFprase${TWO}`)).toMatchObject({ at: 'prase' });
  });

  test.each([
    ['other words before a text', 'prose "Two"'],
    ['others still', 'parse "Two"'],
    ['a row word', 'say "Two"'],
    ['no name', 'prase'],
    ['a name without quotes', 'prase Two'],
    ['a name behind a comment', 'prase // "Two"'],
  ])('%s begin none', (_, row) => {
    expect(sliceFile(`${ONE}  ${row}\n`)).toHaveLength(1);
  });
});

describe('chord symbols', () => {
  test.each([
    ['Fmajj7', '“Fmajj7” is no chord: “majj7” is no quality after the root F. Did you mean Fmaj7, Fmaj9, Fmaj13?', 'Fmaj7'],
    ['Gm7,', '“Gm7,” is no chord: the comma does not belong in it. Did you mean Gm7?', 'Gm7'],
    ['Gm,7', '“Gm,7” is no chord: the comma does not belong in it. Did you mean Gm7?', 'Gm7'],
    ['Gm7;', '“Gm7;” is no chord: the semicolon does not belong in it. Did you mean Gm7?', 'Gm7'],
    ['Gm7.', '“Gm7.” is no chord: the dot does not belong in it. Did you mean Gm7?', 'Gm7'],
    ['C7(b9,)', '“C7(b9,)” is no chord: the comma does not belong in it. Did you mean C7(b9)?', 'C7(b9)'],
    ['Dm7,G7', '“Dm7,G7” is no chord: two chords are glued together. Did you mean Dm7 G7?', 'Dm7 G7'],
    ['G77', '“G77” is no chord: “77” is no quality after the root G. Did you mean G7, Gm7, G+7?', 'G7'],
    ['Gm77', '“Gm77” is no chord: “m77” is no quality after the root G. Did you mean Gm7, Gmaj7?', 'Gm7'],
    ['Cmja7', '“Cmja7” is no chord: “mja7” is no quality after the root C. Did you mean Cmaj7, Cm7?', 'Cmaj7'],
    ['C7b9b9', '“C7b9b9” is no chord: “7b9b9” is no quality after the root C. Did you mean C7b9, C7b9b13?', 'C7b9'],
    ['Am7/H', '“Am7/H” is no chord: the bass note is written B here, and its flat Bb. Did you mean Am7/B?', 'Am7/B'],
    ['Am7/g', '“Am7/g” is no chord: the bass is written as a capital letter, its accidental after it. Did you mean Am7/G?', 'Am7/G'],
    ['Am7/', '“Am7/” is no chord: no bass note follows the slash. Did you mean Am7?', 'Am7'],
  ])('%s', (symbol, message, right) => {
    const text = `phrase "A"\n  over | ${symbol} |\n`;
    expect(only(text)).toMatchObject({ rule: 'unknown-chord', message, at: symbol });
    expect(only(text).after[0]).toBe(`phrase "A"\n  over | ${right} |\n`);
  });

  test('a bass that is no note is named', () => {
    expect(only('phrase "A"\n  over | Am7/X |\n').message).toBe('“Am7/X” is no chord: “X” after the slash is no bass note, A to G.');
  });

  test.each([
    'C7b9,#11',
    'C7(b9, #11)',
    'C7(b9,b13)',
    'C13sus,b9',
    'Cm(maj7)',
    'C°M7',
    'C-Δ7',
    'C+M7',
    'C6/9/G',
    'C7b5#5',
    'C7(b9)(#9)',
    'Cj7',
    'Cadd9no3',
  ])('%s stays a chord', (symbol) => {
    expect(found(`phrase "A"\n  over | ${symbol} |\n`)).toEqual([]);
  });
});

describe('a chord in several words', () => {
  test.each([
    ['F major 7', 'Fmaj7'],
    ['F maj7', 'Fmaj7'],
    ['G m7', 'Gm7'],
    ['G minor 7', 'Gm7'],
    ['G minor', 'Gm'],
    ['F major', 'F'],
    ['C7 b9 b13', 'C7b9b13'],
    ['C dominant 7', 'C7'],
    ['B flat 7', 'Bb7'],
    ['C 7', 'C7'],
    ['D m 7', 'Dm7'],
    ['C half-diminished', 'Cm7b5'],
    ['C dim7', 'Cdim7'],
    ['C b9', 'C(b9)'],
    ['V 7', 'V7'],
    ['ii m7b5', 'iim7b5'],
  ])('%s is one error, read as the chord that is meant', (words, chord) => {
    const text = (over: string): string => `phrase "A"\n  key F major\n  over | ${over} | F6 |\n`;
    const told = only(text(words));
    expect(told).toMatchObject({
      rule: 'unknown-chord',
      at: words,
      message: `“${words}” is no chord: a chord is written as one word. Did you mean ${chord}?`,
    });
    expect(told.after[0]).toBe(text(chord));
    const symbols = (over: string): unknown =>
      openSnapshot('file:///a.phrase', 1, text(over)).phrases[0]!.phrase.spans.map(({ symbol, onset, end }) => [
        symbol,
        onset.toFraction(),
        end.toFraction(),
      ]);
    expect(symbols(words)).toEqual(symbols(chord));
  });

  test('what is played over it is judged over that chord', () => {
    expect(only('phrase "A"\n  key F major\n  over | G m7 | C7 |\n  line | Bb4 D F D | E ~ ~ . |\n').rule).toBe('unknown-chord');
  });

  test('in changes is told at the definition alone', () => {
    expect(only('changes home = | F major 7 | G m7:dorian |\n\nphrase "A"\n  over home\n'.replace(' | G m7:dorian', '')).at).toBe(
      'F major 7',
    );
  });

  test('a small root is offered too', () => {
    expect(only('phrase "A"\n  over | C7 b9 |\n').after).toEqual(['phrase "A"\n  over | C7b9 |\n', 'phrase "A"\n  over | C7 B9 |\n']);
  });

  test.each(['Gminor7', 'Fmajor7', 'Bflat7', 'C7flat9'])('%s in one word has its fix first', (symbol) => {
    const right: Readonly<Record<string, string>> = { Gminor7: 'Gm7', Fmajor7: 'Fmaj7', Bflat7: 'Bb7', C7flat9: 'C7b9' };
    expect(only(`phrase "A"\n  over | ${symbol} |\n`).after[0]).toBe(`phrase "A"\n  over | ${right[symbol]} |\n`);
  });

  test.each(['Dm7 G7', 'C F', 'N.C. C7', 'C7 /', 'ii7 V7', 'C7 zz', 'zz m7'])('%s are not joined', (chords) => {
    expect(found(`phrase "A"\n  key F major\n  over | ${chords} |\n`).filter(({ message }) => message.includes('one word'))).toEqual([]);
  });
});

describe('a missing bar line', () => {
  const text = (over: string, line: string, rest = ''): string => `phrase "A"\n  key Bb major\n  over | ${over} |\n  line ${line}\n${rest}`;
  const OVER = 'Cm7 | F7 | Bbmaj7';

  test('is one error, and all that follows stands where it is meant', () => {
    const wrong = text(OVER, '| C4-Eb G-Bb A-G F-Eb  A ~ G F | D ~ ~ ~ |');
    expect(only(wrong)).toEqual({
      rule: 'missing-bar-line',
      at: 'F-Eb  A',
      message: 'A bar line is missing after F-Eb: bar 1 holds 4 beats in 4/4, and 8 are written.',
      after: [text(OVER, '| C4-Eb G-Bb A-G F-Eb |  A ~ G F | D ~ ~ ~ |')],
    });
    const heard = (one: string): unknown =>
      openSnapshot('file:///a.phrase', 1, one).phrases[0]!.phrase.notes.map(({ bar, onset, duration, midi, span }) => [
        bar,
        onset.toFraction(),
        duration.toFraction(),
        midi,
        span,
      ]);
    expect(heard(wrong)).toEqual(heard(only(wrong).after[0]!));
  });

  test.each([
    ['two of them', OVER, '| C4 D Eb F A G F Eb D ~ ~ ~ |', '| C4 D Eb F | A G F Eb | D ~ ~ ~ |', 'and 12 are written'],
    ['without bar lines at all', OVER, 'C4 D Eb F A G F Eb D ~ ~ ~', 'C4 D Eb F | A G F Eb | D ~ ~ ~', 'and 12 are written'],
    ['after a pickup', OVER, 'Bb3 | C4 D Eb F A G F Eb | D ~ ~ ~ |', 'Bb3 | C4 D Eb F | A G F Eb | D ~ ~ ~ |', 'and 8 are written'],
    ['by weights', OVER, '| C4 D Eb F | 2:A 2:G 4:D |', '| C4 D Eb F | 2:A 2:G | 4:D |', 'bar 2 holds 4 beats in 4/4, and 8 are written'],
  ])('%s', (_, over, wrong, right, words) => {
    expect(only(text(over, wrong)).message).toContain(words);
    expect(only(text(over, wrong)).after).toEqual([text(over, right)]);
  });

  test('has its figures', () => {
    expect(only(text(OVER, '| C4 Eb G Bb A F Eb C | D ~ ~ ~ |', '  degrees | 1 3 5 7 | 3 1 7 5 | 3 |\n')).rule).toBe('missing-bar-line');
  });

  test.each([
    ['the chords are as many as the bars', 'Cm7 | F7', '| C4 D Eb F A G F Eb | D ~ ~ ~ |'],
    ['the line lacks more', 'Cm7 | F7 | Bb6 | Bb6', '| C4 D Eb F A G F Eb | D ~ ~ ~ |'],
    ['a group would be cut', OVER, '| C4 D Eb 2:F G A B | D ~ ~ ~ |'],
    ['there are no full bars', OVER, '| C4 D Eb F A G F | D ~ ~ ~ |'],
    ['a word cannot be read', OVER, '| C4 D Eb F A G ?? Eb | D ~ ~ ~ |'],
    ['nothing is wrong', OVER, '| C4 D Eb F | A G F Eb | D ~ ~ ~ |'],
  ])('is not told where %s', (_, over, line) => {
    expect(found(text(over, line)).map(({ rule }) => rule)).not.toContain('missing-bar-line');
  });
});

describe('bar lines that the chords lack', () => {
  const text = (over: string, line: string): string => `phrase "A"\n  key C minor\n  over ${over}\n  line ${line}\n`;
  const barsOf = (one: string): unknown[] =>
    openSnapshot('file:///a.phrase', 1, one).phrases[0]!.phrase.spans.map(({ symbol, onset, end }) => [
      symbol,
      onset.toFraction(),
      end.toFraction(),
    ]);

  test.each([
    ['beside a line that has its own', 'Dm7b5 G7b9 Cm6', '| D4 F Ab C | B G F D | Eb ~ ~ . |', 'Dm7b5 | G7b9 | Cm6', 3],
    [
      'between bar lines, where they cannot share the bar',
      '| Dm7b5 G7b9 Cm6 |',
      '| D4 F Ab C | B G F D | Eb ~ ~ . |',
      '| Dm7b5 | G7b9 | Cm6 |',
      3,
    ],
    ['with N.C., after a pickup', 'G7 Cm6 N.C.', 'F3 | B4 G F D | Eb ~ ~ . | C ~ ~ . |', 'G7 | Cm6 | N.C.', 3],
  ])('%s', (_, over, line, right, count) => {
    const wrong = text(over, line);
    const { rule, message, after } = only(wrong);
    expect([rule, message]).toEqual([
      'missing-bar-line',
      `The bar lines between these ${count} chords are missing: the line has ${count} bars. Each chord is read as a bar.`,
    ]);
    expect(after).toEqual([text(right, line)]);
    expect(barsOf(formatText(wrong)).map(String)).toEqual(barsOf(wrong).map(String));
    expect(barsOf(wrong)).toEqual(barsOf(after[0]!));
  });

  test('and the line too: two errors, each of which writes those of its row', () => {
    const wrong = text('Dm7b5 G7b9 Cm6', 'D4-F Ab-C Bb-Ab F-D  G-B D-F Ab-G F-D  Eb ~ ~ .');
    expect(
      found(wrong)
        .filter(({ severity }) => severity === 'error')
        .map(({ rule }) => rule),
    ).toEqual(['missing-bar-line', 'missing-bar-line']);
    expect(fixAll(wrong, DEFAULT_THEORY).text).toBe(text('Dm7b5 | G7b9 | Cm6', '| D4-F Ab-C Bb-Ab F-D |  G-B D-F Ab-G F-D |  Eb ~ ~ .'));
  });

  test.each([
    ['a bar of chords that can share it', '| G7 Cm6 |', '| B4 G F D | Eb ~ ~ . |'],
    ['such a bar without bar lines', 'G7 Cm6', '| B4 G F D | Eb ~ ~ . |'],
    ['chords of another number', 'Dm7b5 G7b9 Cm6', '| D4 F Ab C | Eb ~ ~ . |'],
    ['chords placed with slashes', 'G7 / Cm6', '| B4 G F D | B4 G F D | Eb ~ ~ . |'],
    ['a quality that stands alone', 'C maj7', '| B4 G F D | C ~ ~ . |'],
  ])('are not told of %s', (_, over, line) => {
    expect(found(text(over, line)).map(({ rule }) => rule)).not.toContain('missing-bar-line');
  });

  test('can be written where chords cannot share a bar', () => {
    const wrong = 'phrase "A"\n  over | Cm7 F7 Bb6 |\n';
    const [one] = found(wrong);
    expect(one!.message).toBe('3 chords cannot share 4 beats equally. Place them with slashes, or write the bar lines between them.');
    expect(one!.fixes.map(({ title }) => title)).toContain('Give each chord a bar: Cm7 | F7 | Bb6');
  });
});

test.each([
  ['hello', 'A row begins with a word such as over, line, key or say.'],
  ['lien', 'Did you mean line?'],
  ['cel', 'Did you mean cell?'],
  ['ovr', 'Did you mean over?'],
  ['kline', 'Did you mean line?'],
])('the row word %s is compared with those it may be a slip for', (word, says) => {
  expect(
    found(`phrase "A"\n  over | C6 |\n  line | C4 E G C |\n\n${word} x\n`)
      .map(({ message }) => message)
      .join(),
  ).toContain(says);
});

describe('a text in other quotes', () => {
  const text = (title: string, name: string, words: string): string =>
    `lesson ${title}\n\nphrase ${name}\n  over | C6 |\n  line | C4 E G C |\n  say ${words}\n`;
  const right = text('"Low  doors"', '"One"', '"It falls."');

  test.each(['„“', '„”', '‚‘', '‘’', "''", '«»', '»«'])('%s is read, and one error', (marks) => {
    const quoted = (words: string): string => `${marks[0]}${words}${marks[1]}`;
    const wrong = text(quoted('Low  doors'), quoted('One'), quoted('It falls.'));
    expect(found(wrong).map(({ rule, message }) => [rule, message])).toEqual(
      ['lesson', 'phrase', 'say'].map((word) => [
        'missing-text',
        `“${word}” needs its text in double quotes: write "…" in place of ${quoted('…')}.`,
      ]),
    );
    expect(fixAll(wrong, DEFAULT_THEORY).text).toBe(right);
    const { phrases } = openSnapshot('file:///a.phrase', 1, wrong);
    expect(phrases.map(({ phrase }) => phrase.name)).toEqual(['One']);
  });

  test('a text with a backslash is left to the writer', () => {
    expect(found(text('"A"', '"B"', '‘it falls\\\\’')).map(({ message }) => message)).toEqual(['“say” needs a text in quotes.']);
  });

  test('an apostrophe is no quote', () => {
    expect(found(text('"A"', '"B"', "it's an old lady's")).map(({ message }) => message)).toEqual(['“say” needs a text in quotes.']);
  });
});

describe('a name of a definition in quotes', () => {
  const USE = '\nphrase "A"\n  over | C6 |\n  line | turn |\n';
  test.each([
    ['cell "turn" 1-2 3 5 1', 'cell turn = 1-2 3 5 1'],
    ['cell “turn” = 1-2 3 5 1', 'cell turn = 1-2 3 5 1'],
    ['cell "turn"= 1-2 3 5 1', 'cell turn= 1-2 3 5 1'],
  ])('%s is one error, and the name is known', (wrong, right) => {
    expect(only(`${wrong}\n${USE}`)).toEqual({
      rule: 'bad-name',
      at: /["“].*?["”]/.exec(wrong)![0],
      message: 'The name of a cell definition stands without quotes: cell turn = …',
      after: [`${right}\n${USE}`],
    });
    expect(found(`${right}\n${USE}`)).toEqual([]);
  });

  test('of changes', () => {
    const use = '\nphrase "A"\n  over home\n  line | C4 E G C |\n';
    expect(only(`changes "home" | C6 |\n${use}`).after).toEqual([`changes home = | C6 |\n${use}`]);
  });
});

describe('a meter below the music', () => {
  const OVER = '  over | Dm7 | G7 |\n';
  const LINE = '  line | D4 F A | G F D |\n';

  test.each(['\n', '\r\n'])('changes nothing, and is told so (%j)', (lineBreak) => {
    const wrong = `phrase "A"\n${OVER}  line | D4 F-A G | G F-E D |\n  meter 3/4\n  say "Three."\n`.replaceAll('\n', lineBreak);
    const one = found(wrong).find(({ rule }) => rule === 'meter-below-music')!;
    expect(one.message).toBe(
      'The meter 3/4 changes nothing here: it holds for the chords and lines below it, and there are none. Move it above the “over” it is meant for.',
    );
    const right = `phrase "A"\n  meter 3/4\n${OVER}  line | D4 F-A G | G F-E D |\n  say "Three."\n`.replaceAll('\n', lineBreak);
    expect(applyPlaced(wrong, one.fixes[0]!.edits)).toBe(right);
    expect(found(right)).toEqual([]);
  });

  test('has no fix where the phrase has another', () => {
    expect(found(`phrase "A"\n  meter 3/4\n${OVER}${LINE}  meter 4/4\n`).map(({ rule, fixes }) => [rule, fixes])).toEqual([
      ['meter-below-music', []],
    ]);
  });

  test.each([
    ['between two systems', `phrase "A"\n  meter 3/4\n${OVER}${LINE}  meter 2/4\n  over | C |\n  line | E4 C |\n`],
    ['between two lines', `phrase "A"\n  meter 3/4\n  over | Dm7 |\n  line | D4 F A |\n  meter 2/4\n  line | D F |\n`],
    ['in a phrase without music', 'phrase "A"\n  meter 3/4\n'],
  ])('is not told %s', (_, text) => {
    expect(found(text).map(({ rule }) => rule)).not.toContain('meter-below-music');
  });
});

test('a bar that holds the beats of several is told to want bar lines', () => {
  const says = (line: string): string | undefined =>
    found(`phrase "A"\n  over | C |\n  line ${line}\n`).find(({ rule }) => rule === 'bar-length')?.message;
  expect(says('C4 D E F G A B C')).toBe(
    'Bar 1 holds 4 beats in 4/4, and 8 are written. Write a bar line after every 4 beats, or join notes of one beat with hyphens.',
  );
  expect(says('C4 D E F G')).toContain('Join two with a hyphen, or move the rest behind a bar line.');
  expect(says('C4 D E')).toContain('Fill it with rests, or let a group last longer: 2:C lasts two beats.');
});

describe('a word of a line with a slip', () => {
  const text = (word: string): string => `phrase "A"\n  line | ${word} |\n`;
  test.each([
    ['GF E D C', 'GF', ['G-F'], 'Notes of one beat are joined by hyphens. Write G-F.'],
    ['Bb4DFA E D C', 'Bb4DFA', ['Bb4-D-F-A'], 'Notes of one beat are joined by hyphens. Write Bb4-D-F-A.'],
    ['Bb4,D,F,A E D C', 'Bb4,D,F,A', ['Bb4-D-F-A'], 'Notes of one beat are joined by hyphens. Write Bb4-D-F-A.'],
    ['G4_F E D C', 'G4_F', ['G4-F'], 'Notes of one beat are joined by hyphens. Write G4-F.'],
    ['G4, E D C', 'G4,', ['G4'], 'Nothing but marks stands beside a note. Write G4.'],
    ['F4~A E D C', 'F4~A', ['F4-~-A'], 'A hold is a slot of its own. Write F4-~-A.'],
    ['Bb44 E D C', 'Bb44', ['Bb4'], 'An octave is one figure. Write Bb4.'],
    ['4Bb E D C', '4Bb', ['Bb4', '4:Bb'], 'The octave stands after the note. Write Bb4, or 4:Bb.'],
    ['G5b E D C', 'G5b', ['Gb5'], 'A note is a capital letter with its accidental and octave after it. Write Gb5.'],
    ['D. E D C', 'D.', ['D'], 'A note is lengthened by holds: D ~-E is a dotted quarter and an eighth. Write D.'],
    ['G4.-A E D C', 'G4.', ['G4-~-~'], 'A note is lengthened by holds. Write G4-~-~.'],
    ['(G4 E D C', '(G4', ['(G4)'], 'A ghost note stands in two parentheses. Write (G4).'],
    ['(G4-F) E D C', '(G4-F)', ['(G4)-(F)'], 'Parentheses stand round one note. Write (G4)-(F).'],
    ['(3G4-F-E) D C B', '(3G4-F-E)', ['G4-F-E'], '3 notes joined by hyphens share a beat without a sign. Write G4-F-E.'],
    ['H4 C D E', 'H4', ['B4'], 'The note is written B here, and its flat Bb. Write B4.'],
    ['Hb4 C D E', 'Hb4', ['Bb4'], 'The note is written B here, and its flat Bb. Write Bb4.'],
    ['Es4 C D E', 'Es4', ['Eb4'], 'Sharps are written # and flats b. Write Eb4.'],
    ['Fis C D E', 'Fis', ['F#'], 'Sharps are written # and flats b. Write F#.'],
    ['Do E D C', 'Do', ['C', '1'], 'Notes are called C to B here, and degrees 1 to 7. Write C, or 1.'],
    ['Sol4 E D C', 'Sol4', ['G4', '5'], 'Notes are called C to B here, and degrees 1 to 7. Write G4, or 5.'],
    ['bB-F E D C', 'bB', ['Bb'], 'A note is a capital letter with its accidental and octave after it. Write Bb.'],
    ['eB4 E D C', 'eB4', ['Eb4'], 'A note is a capital letter with its accidental and octave after it. Write Eb4.'],
    ['Gm7 E D C', 'Gm7', [], 'A line holds notes; chords stand in an over row.'],
  ] as [string, string, string[], string][])('%s', (line, at, offers, says) => {
    const told = only(text(line));
    expect(told).toMatchObject({ rule: 'unreadable-word', at, message: `“${at}” cannot be read here. ${says}` });
    expect(told.after).toEqual(offers.map((offer) => text(line).replace(at, offer)));
    // What is offered can be read; a degree needs its chord.
    for (const after of told.after)
      expect(
        found(after).filter(({ rule }) => rule !== 'figure-without-chord' && rule !== 'bar-length'),
        after,
      ).toEqual([]);
  });

  test.each(['??', 'C4C', 'x4', 'Gb5b', '(G', '((G))', 'G-,-F'].filter((word) => word !== 'C4C' && word !== '(G'))(
    'what %s means is not guessed',
    (word) => {
      expect(
        found(text(`${word} E D C`))
          .flatMap(({ fixes }) => fixes.map(({ title }) => title))
          .filter((title) => title.startsWith('Write ')),
      ).toEqual([]);
    },
  );

  test('small syllables and the word rest, which read as cells, are told too', () => {
    expect(only(text('do E D C'))).toMatchObject({
      message: 'There is no cell called do. Notes are called C to B here, and degrees 1 to 7.',
      after: [text('C E D C'), text('1 E D C')],
    });
    expect(only(text('C4 rest D C'))).toMatchObject({
      message: 'There is no cell called rest. A rest is written with a dot.',
      after: [text('C4 . D C')],
    });
    expect(found('cell do = 1 2\n\nphrase "A"\n  over | C |\n  line | do 3 5 |\n')).toEqual([]);
  });

  test('a hyphen alone is told once', () => {
    expect(only(text('C4 - D E F')).rule).toBe('loose-hyphen');
  });

  test('a name of a cell that reads as a flat note is refused where it is given', () => {
    expect(only('cell bB = 1 2\n').rule).toBe('bad-name');
  });
});

// A suggestion that looked for suggestions of its own would never end.
test('a long chord of letters written twice has its one error', () => {
  expect(found(`phrase "A"\n  over | C${'xxyyzzwwvvuuttssrrqqppoonnmm'} |\n`).map(({ rule }) => rule)).toEqual(['unknown-chord']);
});

describe('a key that is written otherwise', () => {
  const SAYS = 'A key is a tonic and major or minor: write ';
  test.each([
    ['B flat major', ['Bb major'], ''],
    ['F flat major', ['Fb major'], ''],
    ['F sharp minor', ['F# minor'], ''],
    ['B flat', ['Bb major', 'Bb minor'], ''],
    ['Cm', ['C minor'], ''],
    ['Bbmajor', ['Bb major'], ''],
    ['C Major', ['C major'], ''],
    ['bb major', ['Bb major'], ''],
    ['A mnor', ['A minor'], ''],
    ['H minor', ['B minor'], ''],
    ['Es dur', null, ''],
    ['C moll', ['C minor'], ''],
    ['Fis moll', ['F# minor'], ''],
    ['C blues', ['C major', 'C minor'], ''],
    ['C major 7', ['C major'], ''],
    ['G dorian', ['G minor'], 'Gm7:dorian'],
    ['Bb mixolydian', ['Bb major'], 'Bb7:mixolydian'],
    ['F lydian', ['F major'], 'Fmaj7:lydian'],
    ['E Phrygian', ['E minor'], 'Em7:phrygian'],
    ['B locrian', ['B minor'], 'Bm7b5:locrian'],
    ['dorian', null, ''],
    ['2 flats', null, ''],
  ] as [string, string[] | null, string][])('key %s', (key, offers, chord) => {
    const text = (words: string): string => `phrase "A"\n  key ${words}\n  over | C7 |\n`;
    const told = only(text(key));
    expect(told).toMatchObject({
      rule: 'bad-key',
      at: key,
      message:
        offers === null
          ? 'A key is a tonic and major or minor, such as Bb major.'
          : `${SAYS}${offers.join(' or ')}.${chord === '' ? '' : ` A mode is written at its chord, such as ${chord}.`}`,
    });
    expect(told.after).toEqual((offers ?? []).map(text));
    for (const after of told.after) expect(found(after)).toEqual([]);
    if (chord !== '') expect(found(`phrase "A"\n  over | ${chord} |\n`)).toEqual([]);
  });

  test('numerals in it have no error of their own; without a key row the first has the only one', () => {
    expect(only('phrase "A"\n  key B flat major\n  over | ii7 V7 | Imaj7 |\n').rule).toBe('bad-key');
    expect(only('phrase "A"\n  over | ii7 V7 | Imaj7 |\n')).toMatchObject({ rule: 'numeral-without-key', at: 'ii7' });
  });
});

describe('rows and claims that are none', () => {
  const text = (row: string): string => `phrase "A"\n  key C major\n  over | C |\n  line | C4 D E G |\n  ${row}\n`;
  test.each([
    ['ovr | C |', 'There is no row called “ovr”. Did you mean over?', ['over | C |']],
    ['title "Quay"', 'There is no row called “title”. Did you mean lesson?', ['lesson "Quay"']],
    ['# hello', 'There is no row called “#”. A comment begins with //.', ['// hello']],
    ['#hello', 'There is no row called “#hello”. A comment begins with //.', ['//hello']],
    ['something else', 'There is no row called “something”. A row begins with a word such as over, line, key or say.', []],
    ['level easy', 'A level is a number from 1 (simple) to 5 (demanding), not “easy”.', []],
    ['say', '“say” needs a text in quotes.', []],
    ['claim', 'A claim row needs a claim, such as: claim diatonic.', []],
  ] as [string, string, string[]][])('%s', (row, message, offers) => {
    expect(only(text(row))).toMatchObject({ message, after: offers.map(text) });
  });

  test.each([
    [
      'bebop scale',
      '“bebop scale” cannot be checked: there is no claim of that kind. Did you mean scale bebop-dominant, scale bebop-major, scale bebop-dorian?',
      'scale bebop-dominant',
    ],
    ['ends on 3', '“ends on 3” cannot be checked: there is no claim of that kind. Did you mean lands 3 at 1.4?', 'lands 3 at 1.4'],
    [
      'scale blues',
      '“scale blues” cannot be checked: “blues” is no scale known here. Did you mean scale minor-blues, scale major-blues?',
      'scale minor-blues',
    ],
    [
      'scale C pentatonic',
      '“scale C pentatonic” cannot be checked: “pentatonic” is no scale known here. Did you mean scale C major-pentatonic, scale C minor-pentatonic?',
      'scale C major-pentatonic',
    ],
    ['enclosur', '“enclosur” cannot be checked: there is no claim of that kind. Did you mean enclosure?', 'enclosure'],
  ])('claim %s', (claim, message, right) => {
    const told = only(text(`claim ${claim}`));
    expect(told.message).toBe(message);
    expect(told.after[0]).toBe(text(`claim ${right}`));
    expect(found(told.after[0]!).map(({ rule }) => rule)).not.toContain('claim-impossible');
  });

  test('where nothing is near, what there is is listed', () => {
    expect(only(text('claim xyzzy')).message).toBe(
      '“xyzzy” cannot be checked: there is no claim of that kind; there are diatonic, chord-tones, scale, lands, resolves, range, no clash, or a device such as enclosure, arpeggio or passing-tone.',
    );
    expect(only(text('claim scale xyzzy')).message).toContain('is no scale known here; there are ionian, dorian,');
  });
});
