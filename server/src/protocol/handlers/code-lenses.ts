import type { CodeLens, CodeLensParams } from 'vscode-languageserver';
import { codeLenses } from '../../features/code-lenses';
import { onDocument } from '../answer';
import { toCodeLens } from '../convert';
import type { Session } from '../session';

export function handleCodeLenses(session: Session): void {
  session.connection.onCodeLens(
    onDocument<CodeLensParams, CodeLens[]>({ what: 'lines above phrases', session }, [], (document) =>
      codeLenses(session.snapshotOf(document), session.settings)
        // “Play” and “Show the score” are of no use to a client that can do neither; the line about the phrase is for all.
        .filter(({ action }) => action === 'explain' || session.client.playsPhrases)
        .map((lens) => toCodeLens(document, lens, session.client))),
  );
}
