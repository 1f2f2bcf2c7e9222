import type { DocumentSymbol, DocumentSymbolParams } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { movedSymbol, outlineOf } from '../../features/symbols';
import type { Snapshot } from '../../model/snapshot';
import { onDocument } from '../answer';
import { toSymbol } from '../convert';
import { keptInLine } from '../kept';
import type { Session } from '../session';

export function handleSymbols(session: Session): void {
  session.connection.onDocumentSymbol(
    onDocument<DocumentSymbolParams, DocumentSymbol[]>({ what: 'outline', urgency: 'soon', session }, [], (document) =>
      symbolsIn(document, session.snapshotOf(document)),
    ),
  );
}

const kept = keptInLine<DocumentSymbol>();

/** An editor asks after each keystroke for all of them: those of other phrases are made once. */
export function symbolsIn(document: TextDocument, snapshot: Snapshot): DocumentSymbol[] {
  return outlineOf<DocumentSymbol>(snapshot, {
    symbol: (own, start) => kept(own, document.positionAt(start).line, 0, () => toSymbol(document, movedSymbol(own, start))),
    lesson: (symbol, end, children) => ({
      ...symbol,
      range: { start: symbol.range.start, end: document.positionAt(Math.max(end, document.offsetAt(symbol.range.end))) },
      ...(children.length === 0 ? {} : { children }),
    }),
  });
}
