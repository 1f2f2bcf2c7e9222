/** The one finding that speaks of the program itself: a rule that broke off takes no other rule's findings away. */
import type { Problem } from '../../../grammar/tree';
import type { Reading } from '../analysis/types';
import { guarded } from '../model/faults';
import type { AnalysisRule, RuleDoc } from './rule';

export const ruleFailed: RuleDoc = {
  id: 'rule-failed',
  severity: 'information',
  what: 'A rule could not be checked: a fault of Phrasewright. It is told once a file.',
  why: 'What that rule would find is missing; the findings of all other rules stand.',
  example: '',
  instead: '',
  fix: 'Nothing in the phrase is wrong. Report it with the phrase.',
  message: (facts) =>
    `The rule “${facts['failed']}” could not be checked here, through a fault of Phrasewright (${facts['because']}). The findings of the other rules stand.`,
};

/** What a rule finds; where it throws, that it failed, at the title or keyword of the phrase. */
export function checkGuarded(rule: AnalysisRule, reading: Reading): readonly Problem[] {
  try {
    return rule.check(reading);
  } catch (error) {
    const { title, keyword } = reading.phrase.item;
    const because = error instanceof Error && error.message !== '' ? error.message : 'no reason given';
    return [
      {
        rule: ruleFailed.id,
        severity: ruleFailed.severity,
        range: (title ?? keyword).range,
        facts: { failed: rule.id, because },
        fixes: [],
        related: [],
      },
    ];
  }
}

/** What a problem says by its rule; where that throws, the name of the rule with what is known. */
export function messageOf({ rule, facts }: Problem, doc: RuleDoc | undefined): string {
  return guarded(
    `the words of the rule “${rule}”`,
    `The rule “${rule}” speaks here, and a fault of Phrasewright keeps it from saying more.`,
    () => doc?.message(facts) ?? rule,
  );
}
