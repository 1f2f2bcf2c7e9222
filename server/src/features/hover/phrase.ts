/** The hover of a phrase's name: its summary. */
import type { Reading } from '../../analysis/types';
import { problemsOf } from '../../rules/findings';
import { walkthrough } from '../../explain/walkthrough';
import { escapeMarkdown } from './words';

export function phraseHover(reading: Reading): string {
  const { title, setting, summary, claims } = walkthrough(reading);
  const flagged = problemsOf(reading).filter(({ severity }) => severity === 'warning' || severity === 'error').length;
  return [
    `**${escapeMarkdown(title)}**: ${escapeMarkdown(setting)}`,
    summary.map(escapeMarkdown).join(' '),
    claims.map(escapeMarkdown).join(' '),
    flagged === 0 ? 'Nothing clashes.' : `${flagged} ${flagged === 1 ? 'finding' : 'findings'}.`,
  ].filter((line) => line !== '').join('\n\n');
}
