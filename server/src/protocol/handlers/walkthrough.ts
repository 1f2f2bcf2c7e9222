import type { TextDocumentPositionParams } from 'vscode-languageserver';
import { readPhrase } from '../../analysis/read';
import { walkthroughText } from '../../explain/walkthrough';
import { phraseAt } from '../../features/place';
import { onDocument } from '../answer';
import type { Session } from '../session';

/** The walk-through of the phrase at a position, as text; null between phrases. A request of our own. */
const EXPLAIN = 'phrasewright/explain';

export function handleWalkthrough(session: Session): void {
  session.connection.onRequest(
    EXPLAIN,
    onDocument<TextDocumentPositionParams, string | null>({ what: 'walk-through', session }, null, (document, { position }) => {
      const placed = phraseAt(session.snapshotOf(document), document.offsetAt(position));
      return placed === null ? null : walkthroughText(readPhrase(placed.phrase, session.settings.theory));
    }),
  );
}
