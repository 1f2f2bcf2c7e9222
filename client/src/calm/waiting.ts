/** What waits in a text as it is. */
import type * as vscode from 'vscode';
import type { WaitingFinding } from '../score/messages';
import { isTold, watchedOf, type Watched } from './watched';

/** Milliseconds: a server that takes longer to report is not waited for. */
const PATIENCE = 500;

/** Answers as soon as the server has told of the text; `onReport` says when it has told of some text. */
export async function waitingIn(
  all: ReadonlyMap<string, Watched>,
  document: vscode.TextDocument,
  onReport: vscode.Event<void>,
): Promise<readonly WaitingFinding[]> {
  const isToldNow = (): boolean => isTold(watchedOf(all, document));
  if (!isToldNow()) await until(isToldNow, onReport);
  return (watchedOf(all, document)?.calm.waiting ?? []).map(({ rule, start, end }) => ({ rule, start, end }));
}

function until(isSo: () => boolean, event: vscode.Event<void>): Promise<void> {
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(timer);
      waiting.dispose();
      resolve();
    };
    const timer = setTimeout(done, PATIENCE);
    const waiting = event(() => isSo() && done());
  });
}
