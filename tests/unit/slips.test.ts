/** One slip of the pen is one finding, in a teacher's words, with the fix that mends it; what is well written is left in peace. */
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { sliceFile } from '../../grammar/slices';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf, type Finding } from '../../server/src/rules/findings';

const found = (text: string): readonly Finding[] => findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);
/** The only finding of a text, and the text after each of its fixes. */
function only(text: string): { readonly rule: string; readonly message: string; readonly at: string; readonly after: readonly string[] } {
  const [one, ...more] = found(text);
  expect(more.map(({ message }) => message), one?.message).toEqual([]);
  return { rule: one!.rule, message: one!.message, at: text.slice(one!.start, one!.end), after: one!.fixes.map(({ edits }) => applyPlaced(text, edits)) };
}

describe('`phrase` mistyped before a name', () => {
  const ONE = 'phrase "One"\n  key F major\n  over | Gm7 | C7 |\n  line | Bb4 A G F | E ~ ~ . |\n';
  const TWO = ' "Two"\n  key Bb major\n  over | Cm7 | F7 |\n  line | Eb5 D C Bb | A ~ ~ . |\n';

  test.each(['prase', 'phase', 'phraes', 'Phrase', 'PHRASE', 'phrase:', 'phrases', 'frase'])('%s begins a phrase, and is one error', (word) => {
    const text = `${ONE}\n${word}${TWO}`;
    expect(only(text)).toEqual({ rule: 'unknown-keyword', message: `There is no row called “${word}”. Did you mean phrase?`, at: word, after: [`${ONE}\nphrase${TWO}`] });
    const { phrases } = openSnapshot('file:///a.phrase', 1, text);
    expect(phrases.map(({ phrase }) => [phrase.name, phrase.bars.length])).toEqual([['One', 2], ['Two', 2]]);
    // What is written stays: the fix is the writer's to take.
    expect(formatText(text)).toContain(`\n${word} "Two"\n`);
  });

  test('at the start of a file', () => {
    expect(only(`prase${TWO}`)).toMatchObject({ at: 'prase', after: [`phrase${TWO}`] });
    expect(only(`\uFEFFprase${TWO}`)).toMatchObject({ at: 'prase' });
  });

  test.each([
    ['other words before a text', 'prose "Two"'], ['others still', 'parse "Two"'], ['a row word', 'say "Two"'], ['no name', 'prase'], ['a name without quotes', 'prase Two'], ['a name behind a comment', 'prase // "Two"'],
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

  test.each(['C7b9,#11', 'C7(b9, #11)', 'C7(b9,b13)', 'C13sus,b9', 'Cm(maj7)', 'C°M7', 'C-Δ7', 'C+M7', 'C6/9/G', 'C7b5#5', 'C7(b9)(#9)', 'Cj7', 'Cadd9no3'])('%s stays a chord', (symbol) => {
    expect(found(`phrase "A"\n  over | ${symbol} |\n`)).toEqual([]);
  });
});
