/** What the rules of the analysis hold against a phrase: all that a proof of an edit asks. */
import type { Problem, Severity } from '../../../grammar/tree';
import { ofReading } from '../analysis/of-reading';
import type { Phrase } from '../model/types';
import { ANALYSIS_RULES } from './registry';
import { checkGuarded } from './rule-failed';

export function isSevere({ severity }: { readonly severity: Severity }): boolean {
  return severity === 'error' || severity === 'warning';
}

const SEVERE_RULES = ANALYSIS_RULES.filter(isSevere);

/** Whether one of their rules looks far in a phrase. */
export function looksFar(phrase: Phrase): boolean {
  return SEVERE_RULES.some((rule) => rule.looksFar?.(phrase) === true);
}

/** Errors and warnings alone; a phrase is checked once. Hints, whose words name devices of the whole phrase, are not worked out. */
export const severeProblemsOf = ofReading((reading): readonly Problem[] =>
  SEVERE_RULES.flatMap((rule) => checkGuarded(rule, reading)).filter(isSevere),
);
