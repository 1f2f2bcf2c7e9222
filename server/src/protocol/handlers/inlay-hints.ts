import type { InlayHint, InlayHintParams } from 'vscode-languageserver';
import { inlayHints } from '../../features/inlay-hints';
import type { WaitingFinding } from '../../features/score/types';
import { onDocument } from '../answer';
import { toInlayHint } from '../convert';
import type { Session } from '../session';

export function handleInlayHints(session: Session): void {
  session.connection.languages.inlayHint.on(
    onDocument<InlayHintParams & { readonly waiting?: readonly WaitingFinding[] }, InlayHint[]>(
      { what: 'degrees after notes', urgency: 'soon', session },
      [],
      (document, { range, waiting }) =>
        inlayHints(
          session.snapshotOf(document),
          document.offsetAt(range.start),
          document.offsetAt(range.end),
          session.settings,
          waiting,
        ).map((hint) => toInlayHint(document, hint)),
    ),
  );
}
