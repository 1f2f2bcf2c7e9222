/** Every rule there is: of the writing, of the time, of the music. To add one of the analysis, write its file and name it here; one of the layers below is a row of its table. */
import { borrowedTension } from './borrowed-tension';
import { claimImpossible } from './claim-impossible';
import { claimRefuted } from './claim-refuted';
import { clash } from './clash';
import { degreeAgainstChord } from './degree-against-chord';
import { MODEL_RULES } from './model-rules';
import { octaveSlip } from './octave-slip';
import { outOfRange } from './out-of-range';
import { resolvedTension } from './resolved-tension';
import { rub } from './rub';
import type { AnalysisRule, RuleDoc } from './rule';
import { ruleFailed } from './rule-failed';
import { spellingAgainstChord } from './spelling-against-chord';
import { SYNTAX_RULES } from './syntax-rules';
import { wrongFigure } from './wrong-figure';

export const ANALYSIS_RULES: readonly AnalysisRule[] = [
  clash,
  rub,
  resolvedTension,
  borrowedTension,
  wrongFigure,
  outOfRange,
  octaveSlip,
  degreeAgainstChord,
  spellingAgainstChord,
  claimRefuted,
  claimImpossible,
];

export const RULES: readonly RuleDoc[] = [...ANALYSIS_RULES, ruleFailed, ...MODEL_RULES, ...SYNTAX_RULES];

const byId = new Map(RULES.map((rule) => [rule.id, rule]));

export function ruleById(id: string): RuleDoc | undefined {
  return byId.get(id);
}
