import type { DocumentFormattingParams, DocumentRangeFormattingParams, TextEdit } from 'vscode-languageserver';
import { formatDocument, formatRange } from '../../features/format';
import { onDocument } from '../answer';
import { toEdit } from '../convert';
import type { Session } from '../session';

/** The layout of a phrase has one form, so the client's tab size and the like change nothing. */
export function handleFormatting(session: Session): void {
  const question = { what: 'formatting', session };
  session.connection.onDocumentFormatting(
    onDocument<DocumentFormattingParams, TextEdit[]>(question, [], (document) =>
      formatDocument(session.snapshotOf(document)).map((edit) => toEdit(document, edit)),
    ),
  );
  session.connection.onDocumentRangeFormatting(
    onDocument<DocumentRangeFormattingParams, TextEdit[]>(question, [], (document, { range }) =>
      formatRange(session.snapshotOf(document), document.offsetAt(range.start), document.offsetAt(range.end)).map((edit) =>
        toEdit(document, edit),
      ),
    ),
  );
}
