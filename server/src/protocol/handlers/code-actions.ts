import type { CodeAction, CodeActionParams } from 'vscode-languageserver';
import { actionsAt } from '../../features/code-actions';
import { onDocument } from '../answer';
import { toCodeAction } from '../convert';
import type { Session } from '../session';

export function handleCodeActions(session: Session): void {
  session.connection.onCodeAction(
    onDocument<CodeActionParams, CodeAction[]>({ what: 'code actions', session }, [], (document, { range, context }) => {
      const [start, end] = [document.offsetAt(range.start), document.offsetAt(range.end)];
      const actions = actionsAt(session.snapshotOf(document), start, end, session.settings, session.complain, context.only ?? null);
      return actions.filter(({ goTo }) => goTo === null || session.client.goesToPlaces).map((action) => toCodeAction(document, action, session.client));
    }),
  );
}
