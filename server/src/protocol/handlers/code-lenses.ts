/** Lenses: with what they say, or, for a client that asks for that where it shows them, without. */
import type { CodeLens, CodeLensParams } from 'vscode-languageserver';
import { codeLenses, lensAbove, lensPlaces } from '../../features/code-lenses';
import { faultOf } from '../../model/faults';
import { onDocument } from '../answer';
import { toCodeLens, toLensCommand, toLensPlace, type LensOrigin } from '../convert';
import type { Session } from '../session';

/** What a lens says whose phrase is gone; the client asks for all lenses again. */
const SILENT = { title: '', command: '' };

export function handleCodeLenses(session: Session): void {
  // “Play” and “Show the score” are of no use to a client that can do neither; the line about the phrase is for all.
  const isOfUse = ({ action }: { readonly action: string }): boolean => action === 'explain' || session.client.playsPhrases;
  session.connection.onCodeLens(
    onDocument<CodeLensParams, CodeLens[]>({ what: 'lines above phrases', urgency: 'later', session }, [], (document) => {
      const snapshot = session.snapshotOf(document);
      if (session.client.resolvesLenses) return lensPlaces(snapshot, session.settings).filter(isOfUse).map((place) => toLensPlace(document, place));
      return codeLenses(snapshot, session.settings).filter(isOfUse).map((lens) => toCodeLens(document, lens, session.client));
    }),
  );
  session.connection.onCodeLensResolve((lens) => {
    const origin = lens.data as LensOrigin | undefined;
    const document = origin === undefined ? undefined : session.documents.get(origin.uri);
    if (origin === undefined || document === undefined) return { ...lens, command: SILENT };
    try {
      const said = lensAbove(session.snapshotOf(document), origin.phrase, origin.action, session.settings.theory);
      return { ...lens, command: said === null ? SILENT : toLensCommand(document, said, session.client) };
    } catch (error) {
      session.complain(faultOf('what a line above a phrase says', error));
      return { ...lens, command: SILENT };
    }
  });
}
