import type { TextDocumentPositionParams } from 'vscode-languageserver';
import { readPhrase } from '../../analysis/read';
import { walkthroughMarkdown } from '../../explain/walkthrough';
import { escapeMarkdown } from '../../features/hover/words';
import { phraseAt } from '../../features/place';
import { onDocument } from '../answer';
import type { Session } from '../session';

/** The walk-through of the phrase at a position, as Markdown; null between phrases. A request of our own. */
const EXPLAIN = 'phrasewright/explain';

export function handleWalkthrough(session: Session): void {
  session.connection.onRequest(
    EXPLAIN,
    onDocument<TextDocumentPositionParams, string | null>({ what: 'walk-through', session }, null, (document, { position }) => {
      const placed = phraseAt(session.snapshotOf(document), document.offsetAt(position));
      return placed === null ? null : walkthroughMarkdown(readPhrase(placed.phrase, session.settings.theory), escapeMarkdown);
    }),
  );
}
