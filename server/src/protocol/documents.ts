/** Open documents, as the changes of a client leave them, and where their texts differ from what was read of them. */
import type { TextDocumentContentChangeEvent, TextDocumentsConfiguration } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { TextEdited } from '../../../grammar/slices';

/**
 * Documents whose changes are noted in `edits`, as one since it was last emptied of them. A line past the last one is the end of the text.
 * The library takes the text's end for it, but counts its lines from the number that it was given, and finds no place in the document from
 * then on: it is handed places that are there.
 */
export function noting(edits: WeakMap<TextDocument, TextEdited>): TextDocumentsConfiguration<TextDocument> {
  return {
    create: (uri, languageId, version, content) => TextDocument.create(uri, languageId, version, content),
    update(document, changes, version) {
      // One by one: the range of each counts in the text as the one before it left it.
      for (const change of changes) {
        const placed = inside(document, change);
        edits.set(document, editedAgain(edits.get(document) ?? null, editOf(document, placed)));
        TextDocument.update(document, [placed], version);
      }
      // No change is a version, too.
      return TextDocument.update(document, [], version);
    },
  };
}

function editOf(document: TextDocument, change: TextDocumentContentChangeEvent): TextEdited {
  const [start, end] =
    'range' in change ? [document.offsetAt(change.range.start), document.offsetAt(change.range.end)] : [0, document.getText().length];
  return { start: Math.min(start, end), end: Math.max(start, end), length: change.text.length };
}

function inside(document: TextDocument, change: TextDocumentContentChangeEvent): TextDocumentContentChangeEvent {
  if (!('range' in change)) return change;
  const {
    range: { start, end },
    text,
  } = change;
  const [from, to] = [start, end].map((place) => document.positionAt(document.offsetAt(place)));
  return { range: { start: from!, end: to! }, text };
}

/** Two edits, one after the other, as one. */
export function editedAgain(first: TextEdited | null, then: TextEdited): TextEdited {
  if (first === null) return then;
  const written = first.start + first.length;
  const start = Math.min(first.start, then.start);
  return {
    start,
    end: first.end + Math.max(0, then.end - written),
    length: Math.max(written, then.end) + then.length - (then.end - then.start) - start,
  };
}
