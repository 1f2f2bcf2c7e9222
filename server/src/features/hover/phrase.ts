/** The hover of a phrase's name: what a teacher says about it. */
import type { Reading } from '../../analysis/types';
import { problemsOf } from '../../rules/findings';
import { barParagraphs, walkthrough } from '../../explain/walkthrough';
import { escapeMarkdown } from './words';

export function phraseHover(reading: Reading): string {
  const { title, setting, telling, claims, level } = walkthrough(reading);
  const flagged = problemsOf(reading).filter(({ severity }) => severity === 'warning' || severity === 'error').length;
  return [
    `**${escapeMarkdown(title)}**: ${escapeMarkdown(setting)}`,
    ...barParagraphs(telling.filter(({ kind }) => kind === 'line')).map(escapeMarkdown),
    claims.map(escapeMarkdown).join(' '),
    escapeMarkdown(level),
    flagged === 0 ? 'Nothing clashes.' : `${flagged} ${flagged === 1 ? 'finding' : 'findings'}.`,
  ].filter((line) => line !== '').join('\n\n');
}
