/** What a rule is: its text (from which the manual is made), and for rules of the analysis, its check. */
import type { Problem, Severity } from '../../../grammar/tree';
import type { Reading } from '../analysis/types';
import type { Phrase } from '../model/types';

export type Facts = Problem['facts'];

export interface RuleDoc {
  /** Hyphenated, stable: settings, the command line and links use it. */
  readonly id: string;
  /** Its usual severity. */
  readonly severity: Severity;
  /** One sentence: what it finds. */
  readonly what: string;
  /** One or two sentences: why it matters to a student. */
  readonly why: string;
  /** `.phrase` text in which it speaks. */
  readonly example: string;
  /** `.phrase` text in which it is silent. */
  readonly instead: string;
  /** What to do about it. */
  readonly fix: string;
  /** The finding in words, as a teacher would say it. */
  message(facts: Facts): string;
}

/** A rule that judges a phrase as read; its problems' ranges are those of the phrase's slice. */
export interface AnalysisRule extends RuleDoc {
  check(reading: Reading): readonly Problem[];
  /**
   * Whether it looks farther in this phrase than from a note to its harmony and the notes it is connected to; absent for never. What is
   * found near a note is proved on the bars around an edit, what looks farther on the whole phrase.
   */
  looksFar?(phrase: Phrase): boolean;
}
