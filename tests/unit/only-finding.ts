/** The finding of a text that has one. */
import { expect } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf } from '../../server/src/rules/findings';

/** The only finding of a text, and the text after each of its fixes. */
export function only(text: string): {
  readonly rule: string;
  readonly message: string;
  readonly at: string;
  readonly after: readonly string[];
} {
  const [one, ...more] = findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);
  expect(
    more.map(({ message }) => message),
    one?.message,
  ).toEqual([]);
  return {
    rule: one!.rule,
    message: one!.message,
    at: text.slice(one!.start, one!.end),
    after: one!.fixes.map(({ edits }) => applyPlaced(text, edits)),
  };
}
