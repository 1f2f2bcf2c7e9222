/** No claim that is offered is refuted, on any phrase and once it is written there. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkClaims } from '../../server/src/analysis/claims/check';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { completionsAt } from '../../server/src/features/completion/index';
import { plainText } from '../../server/src/features/completion/template';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, phraseArbitrary, RUN } from './arbitrary';

test('every claim that is offered holds, and says a place of the phrase', () => {
  const kinds = new Set<string>();
  always(
    fc.property(phraseArbitrary, ({ text }) => {
      // Without notes there is nothing to claim anything of: then it is said how claims are written.
      fc.pre(openSnapshot('file:///a.phrase', 1, text).phrases[0]!.phrase.notes.length > 0);
      const row = `${text}  claim `;
      const offered = completionsAt(openSnapshot('file:///a.phrase', 1, row), row.length, DEFAULT_THEORY).map(({ template }) => plainText(template));
      expect(new Set(offered).size).toBe(offered.length);
      const { phrase } = openSnapshot('file:///a.phrase', 1, text + offered.map((claim) => `  claim ${claim}\n`).join('')).phrases[0]!;
      const checked = checkClaims(readPhrase(phrase, DEFAULT_THEORY));
      expect(checked.map(({ claim }) => claim.text)).toEqual(offered);
      expect(checked.filter(({ status }) => status !== 'holds').map(({ claim, because }) => `${claim.text}: ${because}`)).toEqual([]);
      for (const claim of offered) kinds.add(claim.split(' ')[0]!);
    }),
    { ...RUN, numRuns: 120 },
  );
  expect([...kinds]).toEqual(expect.arrayContaining(['lands', 'resolves', 'enclosure', 'range', 'scale', 'no', 'diatonic', 'passing-tone', 'chord-tones']));
});
