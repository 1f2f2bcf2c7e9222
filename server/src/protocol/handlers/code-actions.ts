/** Code actions: the list first, without edits where the client can ask for them later; the edits of the one that is chosen. */
import type { CodeAction, CodeActionParams } from 'vscode-languageserver';
import { actionNamed, actionsAt } from '../../features/code-actions';
import { onDocument } from '../answer';
import { toCodeAction, toWorkspaceEdit } from '../convert';
import type { Session } from '../session';

/** What finds an action again: where it was offered, and for which version of the text. */
interface Origin {
  readonly uri: string;
  readonly version: number;
  readonly start: number;
  readonly end: number;
}

export function handleCodeActions(session: Session): void {
  session.connection.onCodeAction(
    onDocument<CodeActionParams, CodeAction[]>({ what: 'code actions', session }, [], (document, { range, context }) => {
      const [start, end] = [document.offsetAt(range.start), document.offsetAt(range.end)];
      const actions = actionsAt(session.snapshotOf(document), start, end, session.settings, session.complain, context.only ?? null);
      const origin: Origin = { uri: document.uri, version: document.version, start, end };
      return actions
        .filter(({ goTo }) => goTo === null || session.client.goesToPlaces)
        .map((action) => ({ ...toCodeAction(document, action, session.client), ...(session.client.resolvesEdits && action.goTo === null ? { data: origin } : {}) }));
    }),
  );
  session.connection.onCodeActionResolve((action) => {
    const origin = action.data as Origin | undefined;
    const document = origin === undefined ? undefined : session.documents.get(origin.uri);
    // The text has moved on since the menu opened: an edit for the old one would land in the wrong place.
    if (origin === undefined || document === undefined || document.version !== origin.version) return action;
    try {
      const found = actionNamed(session.snapshotOf(document), { ...origin, kind: action.kind ?? '', title: action.title }, session.settings, session.complain);
      return found === null ? action : { ...action, edit: toWorkspaceEdit(document, found.edits(), session.client) };
    } catch (error) {
      session.complain(error);
      return action;
    }
  });
}
