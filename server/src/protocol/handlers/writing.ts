import type { Position, TextDocumentIdentifier } from 'vscode-languageserver';
import type { Session } from '../session';

/** Where somebody writes, and in which version; without a position: nowhere any more. A notification of our own. */
const WRITING = 'phrasewright/writing';

interface WritingParams {
  readonly textDocument: TextDocumentIdentifier & { readonly version: number };
  /** One a cursor; a client that leaves them out writes nowhere. */
  readonly positions?: readonly Position[];
}

export function handleWriting(session: Session): void {
  session.connection.onNotification(WRITING, ({ textDocument: { uri, version }, positions }: WritingParams) =>
    session.writes(uri, { version, positions: positions ?? [] }),
  );
}
