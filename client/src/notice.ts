/** Notifications: the only place that shows any. What is told names files, phrases and parts, and the editor would make links of them, and of commands too. */
import * as vscode from 'vscode';
import { asWords } from './words';

type Show = (message: string, ...buttons: string[]) => Thenable<string | undefined>;

/** Each answers the button that was pressed; undefined where none was. */
export const showInformation: Show = (message, ...buttons) => vscode.window.showInformationMessage(asWords(message), ...buttons);
export const showWarning: Show = (message, ...buttons) => vscode.window.showWarningMessage(asWords(message), ...buttons);
export const showError: Show = (message, ...buttons) => vscode.window.showErrorMessage(asWords(message), ...buttons);

/** A question that waits for its answer: whether the button was pressed. */
export async function askModal(question: string, button: string): Promise<boolean> {
  return (await vscode.window.showWarningMessage(asWords(question), { modal: true }, button)) === button;
}

interface Told {
  readonly title: string;
  readonly where: vscode.ProgressLocation;
}

/** What can be cancelled, and how far it is. */
export function showProgress<T>(
  { title, where }: Told,
  task: (progress: vscode.Progress<{ message: string; increment: number }>, token: vscode.CancellationToken) => Thenable<T>,
): Thenable<T> {
  return vscode.window.withProgress({ location: where, title: asWords(title), cancellable: true }, (progress, token) =>
    task({ report: ({ message, increment }) => progress.report({ message: asWords(message), increment }) }, token),
  );
}
