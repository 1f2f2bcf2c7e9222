import type { TextDocumentPositionParams, TextEdit } from 'vscode-languageserver';
import { readPhrase } from '../../analysis/read';
import { phraseAt, phraseNamed } from '../../features/place';
import { sentScoreInPieces } from '../../features/score/index';
import { asItWouldBe } from '../../features/score/instead';
import { picturesInKeys } from '../../features/score/in-keys';
import { DEFAULT_SCORE, type PlayedTake, type ScoreOptions, type SentScore } from '../../features/score/types';
import { guarded } from '../../model/faults';
import { takeOf } from '../../performance/take';
import { DEFAULT_TAKE, type TakeOptions } from '../../performance/types';
import { readAll } from '../../rules/findings';
import { onDocument, onDocumentInPieces } from '../answer';
import type { Session } from '../session';

/** The score at a position. A request of our own. */
const SCORE = 'phrasewright/score';
/** What sounds when, of the phrase at a position, or of the one of a name that is nearest to it; null where there is none. A request of our own. */
const TAKE = 'phrasewright/take';

/** What is left out of the options takes its default. With `instead` the score is of the text as it would be after those edits; the document stays as it is. */
type ScoreParams = TextDocumentPositionParams & { readonly options?: Partial<ScoreOptions> & { readonly instead?: readonly TextEdit[] } };
type TakeParams = TextDocumentPositionParams & {
  readonly options?: Partial<TakeOptions & Pick<ScoreOptions, 'pitch'>>;
  readonly name?: string;
};

export function handleScore(session: Session): void {
  session.connection.onRequest<SentScore | null, never>(
    SCORE,
    onDocumentInPieces<ScoreParams, SentScore | null>(
      { what: 'score', urgency: 'later', session },
      null,
      function* (document, { position, options }) {
        const [now, at] = [
          options?.instead === undefined ? session.snapshotOf(document) : session.wholeSnapshotOf(document),
          document.offsetAt(position),
        ];
        const edits = options?.instead?.map(({ range, newText }) => ({
          start: document.offsetAt(range.start),
          end: document.offsetAt(range.end),
          text: newText,
        }));
        const { snapshot, offset } = edits === undefined ? { snapshot: now, offset: at } : asItWouldBe(now, at, edits);
        yield* readAll(snapshot, session.settings.theory);
        return yield* sentScoreInPieces(snapshot, offset, session.settings.theory, {
          ...DEFAULT_SCORE,
          length: session.settings.walkthrough,
          ...options,
        });
      },
    ),
  );
  session.connection.onRequest(
    TAKE,
    onDocument<TakeParams, PlayedTake | null>({ what: 'sound', session }, null, (document, { position, options, name }) => {
      const [snapshot, offset] = [session.snapshotOf(document), document.offsetAt(position)];
      const placed = name === undefined ? phraseAt(snapshot, offset) : phraseNamed(snapshot, name, offset);
      if (placed === null) return null;
      const reading = readPhrase(placed.phrase, session.settings.theory);
      const take = takeOf(reading, { ...DEFAULT_TAKE, ...options });
      return {
        ...take,
        pictures: guarded('the pictures in other keys', [], () => picturesInKeys(reading, take, options?.pitch ?? DEFAULT_SCORE.pitch)),
      };
    }),
  );
}
