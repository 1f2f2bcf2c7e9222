/** What came of it: all of it line by line in the output, and one notification. */
import type * as vscode from 'vscode';
import { showError, showInformation, showWarning } from '../notice';
import { summary, type Outcome } from './summary';

export async function tell(outcomes: readonly Outcome[], output: vscode.LogOutputChannel): Promise<void> {
  for (const { score, lesson, report, error } of outcomes) {
    if (error !== undefined) output.error(`${score}: ${error}`);
    if (lesson !== null) output.info(`${score} became ${lesson.name}.`);
    for (const { kind, text } of report) output[kind === 'left-out' ? 'warn' : 'info'](`${score}: ${text}`);
  }
  const told = summary(outcomes);
  if (told === null) return;
  const { text, kind, hasMore } = told;
  const show = kind === 'error' ? showError : kind === 'warning' ? showWarning : showInformation;
  const answer = await show(text, ...(hasMore ? ['Show the Report'] : []));
  if (answer !== undefined) output.show();
}
