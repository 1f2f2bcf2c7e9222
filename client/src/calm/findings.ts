/** The findings that the editor shows: the server's, but for those that wait until the writer rests. */
import * as vscode from 'vscode';
import type { Middleware } from 'vscode-languageclient/node';
import type { WaitingFinding } from '../score/messages';
import { followEditor } from './editor-events';
import { createReports } from './reports';
import { createTaking } from './taking';
import { waitingIn } from './waiting';
import type { WatchedDocuments } from './watched';

export interface CalmFindings extends vscode.Disposable {
  readonly middleware: Pick<Middleware, 'provideDiagnostics'>;
  /** What waits in the text as it is, as soon as the server has told of it. */
  waitingIn(document: vscode.TextDocument): Promise<readonly WaitingFinding[]>;
  /** Something that waited in a document waits no longer, or is read otherwise. */
  readonly onDidRelease: vscode.Event<vscode.TextDocument>;
}

export interface CalmServer {
  /** Makes the language client ask for the findings of a document, so that those it was given are replaced. */
  askAgain(document: vscode.TextDocument): void;
  /** Tells the server where last bars of rows are being written, for the version that the document has now; none: nowhere. */
  tellPens(document: vscode.TextDocument, offsets: readonly number[]): void;
}

export function calmFindings({ askAgain, tellPens }: CalmServer): CalmFindings {
  const watched: WatchedDocuments = new Map();
  const reported = new vscode.EventEmitter<void>();
  const released = new vscode.EventEmitter<vscode.TextDocument>();
  const taking = createTaking(watched, {
    tellPens,
    release(document) {
      askAgain(document);
      released.fire(document);
    },
  });
  const subscriptions = [reported, released, ...followEditor(watched, taking)];
  return {
    middleware: { provideDiagnostics: createReports(watched, taking.take, () => reported.fire()) },
    waitingIn: (document) => waitingIn(watched, document, reported.event),
    onDidRelease: released.event,
    dispose() {
      for (const { timer } of watched.values()) clearTimeout(timer);
      for (const one of subscriptions) one.dispose();
    },
  };
}
