/** Open documents, as the changes of a client leave them. */
import type { TextDocumentContentChangeEvent, TextDocumentsConfiguration } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';

/**
 * A line past the last one is the end of the text. The library takes the text's end for it, but counts its lines from the number that it was
 * given, and finds no place in the document from then on: it is handed places that are there.
 */
export const DOCUMENTS: TextDocumentsConfiguration<TextDocument> = {
  create: (uri, languageId, version, content) => TextDocument.create(uri, languageId, version, content),
  update(document, changes, version) {
    for (const change of changes) TextDocument.update(document, [inside(document, change)], version);
    // No change is a version, too.
    return TextDocument.update(document, [], version);
  },
};

function inside(document: TextDocument, change: TextDocumentContentChangeEvent): TextDocumentContentChangeEvent {
  if (!('range' in change)) return change;
  const { range: { start, end }, text } = change;
  const [from, to] = [start, end].map((place) => document.positionAt(document.offsetAt(place)));
  return { range: { start: from!, end: to! }, text };
}
