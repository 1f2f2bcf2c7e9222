import type { DocumentSymbol, DocumentSymbolParams } from 'vscode-languageserver';
import { documentSymbols } from '../../features/symbols';
import { onDocument } from '../answer';
import { toSymbol } from '../convert';
import type { Session } from '../session';

export function handleSymbols(session: Session): void {
  session.connection.onDocumentSymbol(
    onDocument<DocumentSymbolParams, DocumentSymbol[]>({ what: 'outline', urgency: 'soon', session }, [], (document) =>
      documentSymbols(session.snapshotOf(document)).map((symbol) => toSymbol(document, symbol)),
    ),
  );
}
