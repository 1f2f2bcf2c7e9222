import type { TextDocumentPositionParams } from 'vscode-languageserver';
import { readPhrase } from '../../analysis/read';
import { walkthroughText } from '../../explain/walkthrough';
import { phraseNear } from '../../features/place';
import { onDocument } from '../answer';
import type { Session } from '../session';

/** The walk-through of the phrase at a position, as text; between phrases of the next one, after the last one of that. A request of our own. */
const EXPLAIN = 'phrasewright/explain';
const NO_PHRASE = 'This file has no phrase yet. Write one: phrase "Name", and under it a line of notes.';

export function handleWalkthrough(session: Session): void {
  session.connection.onRequest(
    EXPLAIN,
    onDocument<TextDocumentPositionParams, string | null>(
      { what: 'walk-through', urgency: 'later', session },
      null,
      (document, { position }) => {
        const placed = phraseNear(session.snapshotOf(document), document.offsetAt(position));
        return placed === null
          ? NO_PHRASE
          : walkthroughText(readPhrase(placed.phrase, session.settings.theory), session.settings.walkthrough);
      },
    ),
  );
}
