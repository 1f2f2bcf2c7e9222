import {
  LSPErrorCodes,
  ResponseError,
  type PrepareRenameParams,
  type PrepareRenameResult,
  type RenameParams,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { renamableAt, renameAt } from '../../features/rename';
import { onDocument } from '../answer';
import { toRange, toWorkspaceEdit } from '../convert';
import type { Session } from '../session';

export function handleRename(session: Session): void {
  const question = { what: 'rename', session };
  session.connection.onPrepareRename(
    onDocument<PrepareRenameParams, PrepareRenameResult | null>(question, null, (document, { position }) => {
      const name = renamableAt(session.snapshotOf(document), document.offsetAt(position));
      return name === null ? null : { range: toRange(document, name.start, name.end), placeholder: name.name };
    }),
  );
  session.connection.onRenameRequest(
    onDocument<RenameParams, WorkspaceEdit | null>(question, null, (document, { position, newName }) => {
      const renaming = renameAt(session.snapshotOf(document), document.offsetAt(position), newName.trim());
      if ('refused' in renaming) throw new ResponseError(LSPErrorCodes.RequestFailed, renaming.refused);
      return toWorkspaceEdit(document, renaming.edits, session.client);
    }),
  );
}
