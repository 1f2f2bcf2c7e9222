import type { CompletionItem, CompletionParams } from 'vscode-languageserver';
import { completionsAt } from '../../features/completion/index';
import { onDocument } from '../answer';
import { toCompletion } from '../convert';
import type { Session } from '../session';

export function handleCompletion(session: Session): void {
  session.connection.onCompletion(
    onDocument<CompletionParams, CompletionItem[]>({ what: 'completion', session }, [], (document, { position }) =>
      completionsAt(session.snapshotOf(document), document.offsetAt(position)).map((completion, index) => toCompletion(document, completion, index)),
    ),
  );
}
