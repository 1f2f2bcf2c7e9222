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
