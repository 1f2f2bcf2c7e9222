import type { CompletionList, CompletionParams } from 'vscode-languageserver';
import { completionsAt } from '../../features/completion/index';
import { onDocument } from '../answer';
import { toCompletion } from '../convert';
import type { Session } from '../session';

export function handleCompletion(session: Session): void {
  session.connection.onCompletion(
    onDocument<CompletionParams, CompletionList>({ what: 'completion', session }, { isIncomplete: false, items: [] }, (document, { position }) => ({
      // The next letter may open another list: chords on E are not those on Eb.
      isIncomplete: true,
      items: completionsAt(session.snapshotOf(document), document.offsetAt(position), session.settings.theory).map((completion, index) => toCompletion(document, completion, index, session.client)),
    })),
  );
}
