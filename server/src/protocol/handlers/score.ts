import type { TextDocumentPositionParams } from 'vscode-languageserver';
import { readPhrase } from '../../analysis/read';
import { phraseAt } from '../../features/place';
import { scoreAt } from '../../features/score/index';
import { picturesInKeys } from '../../features/score/in-keys';
import type { PlayedTake, Score, ScoreOptions } from '../../features/score/types';
import { takeOf } from '../../performance/take';
import type { TakeOptions } from '../../performance/types';
import { onDocument } from '../answer';
import type { Session } from '../session';

/** The score at a position. A request of our own. */
const SCORE = 'phrasewright/score';
/** What sounds when, of the phrase at a position; null between phrases. A request of our own. */
const TAKE = 'phrasewright/take';

type ScoreParams = TextDocumentPositionParams & { readonly options: ScoreOptions };
type TakeParams = TextDocumentPositionParams & { readonly options: TakeOptions & Pick<ScoreOptions, 'pitch'> };

export function handleScore(session: Session): void {
  session.connection.onRequest(
    SCORE,
    onDocument<ScoreParams, Score | null>({ what: 'score', session }, null, (document, { position, options }) =>
      scoreAt(session.snapshotOf(document), document.offsetAt(position), session.settings.theory, options)),
  );
  session.connection.onRequest(
    TAKE,
    onDocument<TakeParams, PlayedTake | null>({ what: 'sound', session }, null, (document, { position, options }) => {
      const placed = phraseAt(session.snapshotOf(document), document.offsetAt(position));
      if (placed === null) return null;
      const reading = readPhrase(placed.phrase, session.settings.theory);
      const take = takeOf(reading, options);
      return { ...take, pictures: picturesInKeys(reading, take, options.pitch) };
    }),
  );
}
