/** Code actions: the menu first, without edits where the client can ask for them later; the edits of the one that is chosen; all forms, and the edits of one of them. */
import type { CodeAction, CodeActionParams, Range, TextDocumentIdentifier } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { actionNamed, actionsInPieces, formsInPieces, groupedForms, type Action, type Form, type Named } from '../../features/code-actions';
import { faultOf } from '../../model/faults';
import type { Pieces } from '../../model/pieces';
import type { Snapshot } from '../../model/snapshot';
import { readAll } from '../../rules/findings';
import { onDocumentInPieces } from '../answer';
import { toCodeAction, toEdit, toForm, toWorkspaceEdit, type FormEdits, type ListedForms } from '../convert';
import type { Session } from '../session';

/** What finds an action again: where it was offered, and for which version of the text. */
interface Origin {
  readonly uri: string;
  readonly version: number;
  readonly start: number;
  readonly end: number;
  /** The kinds that were asked for; null for all. */
  readonly only: readonly string[] | null;
  /** Which form it was. */
  readonly name: string;
}

/** All forms of the actions for a range, in groups. A request of our own. */
const ACTIONS = 'phrasewright/actions';
/** The edits of one of them. Over a long selection one form takes longer than the list, so each is worked out when somebody looks at it. */
const EDITS = 'phrasewright/edits';

interface ActionsParams {
  readonly textDocument: TextDocumentIdentifier;
  readonly range: Range;
}

interface EditsParams extends ActionsParams {
  /** The version, the kind and the name that the list gave. */
  readonly version: number;
  readonly kind: string;
  readonly name: string;
}

export function handleCodeActions(session: Session): void {
  const menus = keptMenus(session);
  session.connection.onCodeAction(
    onDocumentInPieces<CodeActionParams, CodeAction[]>(
      { what: 'code actions', urgency: 'later', session },
      [],
      function* (document, { range, context }) {
        yield* readAll(session.wholeSnapshotOf(document), session.settings.theory);
        const [start, end] = [document.offsetAt(range.start), document.offsetAt(range.end)];
        const only = context.only ?? null;
        const actions = yield* actionsInPieces(session.wholeSnapshotOf(document), start, end, session.settings, session.complain, only);
        menus.keep(document, { start, end, only }, actions);
        const originOf = ({ name }: Action): Origin => ({ uri: document.uri, version: document.version, start, end, only, name });
        return actions
          .filter((action) => isKnown(session, action))
          .map((action) => ({
            ...toCodeAction(document, action, range, session.client),
            ...(session.client.resolvesEdits && action.instead === null ? { data: originOf(action) } : {}),
          }));
      },
    ),
  );
  session.connection.onCodeActionResolve((action) => {
    const origin = action.data as Origin | undefined;
    const document = origin === undefined ? undefined : session.documents.get(origin.uri);
    // The text has moved on since the menu opened: an edit for the old one would land in the wrong place.
    if (origin === undefined || document === undefined || document.version !== origin.version) return action;
    try {
      const named = { ...origin, kind: action.kind ?? '' };
      const found =
        menus.find(document, named) ?? actionNamed(session.wholeSnapshotOf(document), named, session.settings, session.complain);
      return found === null ? action : { ...action, edit: toWorkspaceEdit(document, found.edits(), session.client) };
    } catch (error) {
      session.complain(faultOf('the edits of an action', error));
      return action;
    }
  });
  const listed = keptForms(session);
  session.connection.onRequest(
    ACTIONS,
    onDocumentInPieces<ActionsParams, ListedForms | null>(
      { what: 'all actions', urgency: 'soon', session },
      null,
      function* (document, { range }) {
        return { version: document.version, forms: groupedForms(yield* listed(document, range)).map(toForm) };
      },
    ),
  );
  session.connection.onRequest(
    EDITS,
    onDocumentInPieces<EditsParams, FormEdits | null>(
      { what: 'the edits of a form', urgency: 'soon', session },
      null,
      function* (document, { range, version, kind, name }) {
        if (document.version !== version) return null;
        const form = (yield* listed(document, range)).find((one) => one.kind === kind && one.name === name);
        return form === undefined ? null : { version, edits: form.edits().map((edit) => toEdit(document, edit)) };
      },
    ),
  );
}

interface Menus {
  keep(document: TextDocument, asked: AskedFor, actions: readonly Action[]): void;
  /** The action of a menu that is kept; null where it is not. */
  find(document: TextDocument, named: Named): Action | null;
}

type AskedFor = Pick<Named, 'start' | 'end' | 'only'>;

/** An editor asks for menus at some places of a line and shows them as one, and for the edits of all forms of a kind in a row. */
const MENUS = 4;

/** The last menus of a version are kept, so that nothing of them is proved again when the edits of one entry are asked for. */
function keptMenus(session: Session): Menus {
  const menus = new WeakMap<
    Snapshot,
    readonly { readonly settings: Session['settings']; readonly asked: string; readonly actions: readonly Action[] }[]
  >();
  const keyOf = ({ start, end, only }: AskedFor): string => `${start} ${end} ${only === null ? '' : only.join()}`;
  return {
    keep(document, asked, actions) {
      const snapshot = session.wholeSnapshotOf(document);
      const others = (menus.get(snapshot) ?? []).filter((menu) => menu.asked !== keyOf(asked));
      menus.set(snapshot, [{ settings: session.settings, asked: keyOf(asked), actions }, ...others].slice(0, MENUS));
    },
    find(document, named) {
      const menu = menus
        .get(session.wholeSnapshotOf(document))
        ?.find(({ settings, asked }) => settings === session.settings && asked === keyOf(named));
      return menu?.actions.find(({ kind, name }) => kind === named.kind && name === named.name) ?? null;
    },
  };
}

type Listing = (document: TextDocument, range: Range) => Pieces<readonly Form[]>;

/** The forms for a range, those that have edits; the last list of a version is kept, so that no form of it is proved again when its edits are asked for. */
function keptForms(session: Session): Listing {
  const lists = new WeakMap<
    Snapshot,
    { readonly settings: Session['settings']; readonly start: number; readonly end: number; readonly forms: readonly Form[] }
  >();
  return function* (document, range) {
    const [snapshot, { settings }] = [session.wholeSnapshotOf(document), session];
    const [start, end] = [document.offsetAt(range.start), document.offsetAt(range.end)];
    const kept = lists.get(snapshot);
    if (kept?.settings === settings && kept.start === start && kept.end === end) return kept.forms;
    const forms = (yield* formsInPieces(snapshot, start, end, settings, session.complain)).filter(({ instead }) => instead === null);
    lists.set(snapshot, { settings, start, end, forms });
    return forms;
  };
}

/** A client gets no entry for a command that it has not. */
function isKnown({ client }: Session, { instead }: Action): boolean {
  return instead === null || (instead.kind === 'more' ? client.listsActions : client.goesToPlaces);
}
