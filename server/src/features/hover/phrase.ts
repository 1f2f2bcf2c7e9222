/** The hover of a phrase's name: what a teacher says about it. */
import type { Reading } from '../../analysis/types';
import { guarded } from '../../model/faults';
import { problemsOf } from '../../rules/findings';
import { barParagraphs, walkthrough } from '../../explain/walkthrough';
import { escapeMarkdown } from './words';

export function phraseHover(reading: Reading): string {
  const { title, setting, telling, claims, level } = walkthrough(reading);
  return [
    `**${escapeMarkdown(title)}**: ${escapeMarkdown(setting)}`,
    ...barParagraphs(telling.filter(({ kind }) => kind === 'line')).map(escapeMarkdown),
    claims.map(escapeMarkdown).join(' '),
    escapeMarkdown(level),
    guarded('how much is found in a phrase', '', () => findingsWords(reading)),
  ]
    .filter((line) => line !== '')
    .join('\n\n');
}

function findingsWords(reading: Reading): string {
  const flagged = problemsOf(reading).filter(({ severity }) => severity === 'warning' || severity === 'error').length;
  return flagged === 0 ? 'Nothing clashes.' : `${flagged} ${flagged === 1 ? 'finding' : 'findings'}.`;
}
