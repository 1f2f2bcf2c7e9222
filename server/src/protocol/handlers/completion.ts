import type { CompletionList, CompletionParams } from 'vscode-languageserver';
import { completionsAt, opensAtBlank } from '../../features/completion/index';
import { onDocument } from '../answer';
import { toCompletion } from '../convert';
import type { Session } from '../session';

export function handleCompletion(session: Session): void {
  session.connection.onCompletion(
    onDocument<CompletionParams, CompletionList>(
      { what: 'completion', session },
      { isIncomplete: false, items: [] },
      (document, { position, context }) => {
        const [snapshot, offset] = [session.snapshotOf(document), document.offsetAt(position)];
        const isAsked = context?.triggerCharacter !== ' ' || opensAtBlank(snapshot, offset);
        // The next letter may open another list: chords on E are not those on Eb.
        return {
          isIncomplete: true,
          items: isAsked
            ? completionsAt(snapshot, offset, session.settings.theory).map((completion, index) =>
                toCompletion(document, completion, index, session.client),
              )
            : [],
        };
      },
    ),
  );
}
