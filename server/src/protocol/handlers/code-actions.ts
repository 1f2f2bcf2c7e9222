/** Code actions: the menu first, without edits where the client can ask for them later; the edits of the one that is chosen; all forms. */
import type { CodeAction, CodeActionParams, Range, TextDocumentIdentifier } from 'vscode-languageserver';
import { actionNamed, actionsInPieces, formsInPieces, groupedForms, type Action } from '../../features/code-actions';
import { faultOf } from '../../model/faults';
import { readAll } from '../../rules/findings';
import { onDocumentInPieces } from '../answer';
import { toCodeAction, toForm, toWorkspaceEdit, type ListedForm, type ListedForms } from '../convert';
import type { Session } from '../session';

/** What finds an action again: where it was offered, and for which version of the text. */
interface Origin {
  readonly uri: string;
  readonly version: number;
  readonly start: number;
  readonly end: number;
  /** Which form it was. */
  readonly name: string;
}

/** All forms of the actions for a range, in groups, with their edits. A request of our own. */
const ACTIONS = 'phrasewright/actions';

interface ActionsParams {
  readonly textDocument: TextDocumentIdentifier;
  readonly range: Range;
}

export function handleCodeActions(session: Session): void {
  session.connection.onCodeAction(
    onDocumentInPieces<CodeActionParams, CodeAction[]>({ what: 'code actions', urgency: 'later', session }, [], function* (document, { range, context }) {
      yield* readAll(session.snapshotOf(document), session.settings.theory);
      const [start, end] = [document.offsetAt(range.start), document.offsetAt(range.end)];
      const actions = yield* actionsInPieces(session.snapshotOf(document), start, end, session.settings, session.complain, context.only ?? null);
      const originOf = ({ name }: Action): Origin => ({ uri: document.uri, version: document.version, start, end, name });
      return actions
        .filter((action) => isKnown(session, action))
        .map((action) => ({ ...toCodeAction(document, action, range, session.client), ...(session.client.resolvesEdits && action.instead === null ? { data: originOf(action) } : {}) }));
    }),
  );
  session.connection.onCodeActionResolve((action) => {
    const origin = action.data as Origin | undefined;
    const document = origin === undefined ? undefined : session.documents.get(origin.uri);
    // The text has moved on since the menu opened: an edit for the old one would land in the wrong place.
    if (origin === undefined || document === undefined || document.version !== origin.version) return action;
    try {
      const found = actionNamed(session.snapshotOf(document), { ...origin, kind: action.kind ?? '' }, session.settings, session.complain);
      return found === null ? action : { ...action, edit: toWorkspaceEdit(document, found.edits(), session.client) };
    } catch (error) {
      session.complain(faultOf('the edits of an action', error));
      return action;
    }
  });
  session.connection.onRequest(
    ACTIONS,
    onDocumentInPieces<ActionsParams, ListedForms | null>({ what: 'all actions', urgency: 'soon', session }, null, function* (document, { range }) {
      const forms = yield* formsInPieces(session.snapshotOf(document), document.offsetAt(range.start), document.offsetAt(range.end), session.settings, session.complain);
      const listed: ListedForm[] = [];
      for (const form of groupedForms(forms.filter(({ instead }) => instead === null))) {
        yield;
        listed.push(toForm(document, form));
      }
      return { version: document.version, forms: listed };
    }),
  );
}

/** A client gets no entry for a command that it has not. */
function isKnown({ client }: Session, { instead }: Action): boolean {
  return instead === null || (instead.kind === 'more' ? client.listsActions : client.goesToPlaces);
}
