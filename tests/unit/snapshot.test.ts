/** A version of a document after an edit is what opening its text afresh would be, and costs no more than what the edit touched. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';

function messages(before: string, after: string): { edited: string[]; afresh: string[] } {
  const told = (text: string, previous?: ReturnType<typeof openSnapshot>): string[] =>
    findingsOf(openSnapshot('', 2, text, previous), DEFAULT_THEORY).map(({ message }) => message);
  return { edited: told(after, openSnapshot('', 1, before)), afresh: told(after) };
}

test('a name that nothing defines is answered with the names that there are now', () => {
  const phrase = 'phrase "A"\n  over home\n  line | climb |\n';
  const { edited, afresh } = messages(`${phrase}\nchanges turn = | C7 |\n`, `${phrase}\nchanges bridge = | C7 |\n\ncell fall = 5-3\n`);
  expect(edited).toEqual(afresh);
  expect(edited).toEqual(
    expect.arrayContaining(['There is no changes called home. Known: bridge.', 'There is no cell called climb. Known: fall.']),
  );
});

test('a phrase is built again for a name it does not find only when the names it lists change', () => {
  const definitions = Array.from({ length: 5 }, (_, i) => `changes turn${i} = | C7 |\n`).join('\n');
  const text = `${definitions}\nphrase "A"\n  over home\n\n`;
  const before = openSnapshot('', 1, text);
  const kept = openSnapshot('', 2, `${text}changes other = | C7 |\n`, before);
  expect(kept.phrases[0]!.phrase).toBe(before.phrases[0]!.phrase);
  expect(openSnapshot('', 3, text.replace('turn3', 'other'), before).phrases[0]!.phrase).not.toBe(before.phrases[0]!.phrase);
});
