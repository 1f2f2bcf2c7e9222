import type { FoldingRange, FoldingRangeParams } from 'vscode-languageserver';
import { folds } from '../../features/folding';
import { onDocument } from '../answer';
import { toFold } from '../convert';
import type { Session } from '../session';

export function handleFolding(session: Session): void {
  session.connection.onFoldingRanges(
    onDocument<FoldingRangeParams, FoldingRange[]>({ what: 'folding', urgency: 'soon', session }, [], (document) =>
      folds(session.snapshotOf(document))
        .map((fold) => toFold(document, fold))
        .filter(({ startLine, endLine }) => endLine > startLine),
    ),
  );
}
