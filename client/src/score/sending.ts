/** Asks the server for the score, and sends the page what is new of it. */
import type { LanguageClient } from 'vscode-languageclient/node';
import type { CalmFindings } from '../calm/findings';
import type { TextPlace } from '../text-place';
import { cursorMessage, phraseAtCursor } from './cursor';
import { knownOf, wholeScore } from './known';
import type { Score, ScorePhrase, SentScore, ToView } from './messages';
import { newestOnly } from './newest';
import { askServer, reopened } from './question';
import type { Choice, Reads, ViewState } from './state';

/** Phrases that an answer may bring whole: a long lesson comes in parts, from the cursor outwards, so that typing goes on meanwhile. */
const MOST_AT_ONCE = 12;

export interface SendingParts {
  readonly client: LanguageClient;
  readonly calm: Pick<CalmFindings, 'waitingIn'>;
  isOpen(): boolean;
  post(message: ToView): void;
}

type Sending = Reads<'options' | 'column' | 'choice'> & Pick<ViewState, 'followed' | 'shown'>;

/** Answers what brings the score up to date; its promise ends when the newest has been sent. */
export function createRefresh(state: Sending, parts: SendingParts): () => Promise<void> {
  return newestOnly(async (isOvertaken) => {
    const { followed } = state;
    if (!parts.isOpen() || followed === undefined || !parts.client.isRunning()) return 'done';
    let place = followed;
    try {
      if (followed.document.isClosed) {
        place = { ...followed, document: await reopened(followed.document.uri) };
        if (state.followed === followed) state.followed = place;
      }
      const { choice } = state;
      if (choice !== null && choice.version === choice.document.version) await sendChoice(state, parts, choice);
      else await sendText(state, parts, place, isOvertaken);
    } catch {
      // The server is stopping or starting: the next change asks again, and the output channel has the reason.
    }
    // An undo or a paste moves the cursor after the text has changed: it may be in another phrase by now.
    return state.followed !== place && phraseAtCursor(state) === null ? 'again' : 'done';
  });
}

/** Sends the score of the text as it would be. */
async function sendChoice(state: Sending, { client, post }: SendingParts, choice: Choice): Promise<void> {
  const { scope, pitch } = state.options;
  const score = await askServer<Score>(client, 'phrasewright/score', choice, { options: { scope, pitch, instead: choice.edits } });
  // Its offsets are of a text that is not there: it is looked at, and leads nowhere.
  state.shown = undefined;
  if (score !== null && state.choice === choice) post({ type: 'score', uri: choice.document.uri.toString(), score, instead: choice.title });
}

/** Sends what the page does not have of the score of a text as it is, and where the cursor is in it. */
async function sendText(state: Sending, { client, calm, post }: SendingParts, place: TextPlace, isOvertaken: () => boolean): Promise<void> {
  const { scope, pitch } = state.options;
  const { document } = place;
  const waiting = await calm.waitingIn(document);
  const { version } = document;
  const before = state.shown;
  const known = before === undefined ? new Map<number, ScorePhrase>() : knownOf(before.score);
  const sent = await askServer<SentScore>(client, 'phrasewright/score', place, {
    options: { scope, pitch, waiting, known: [...known.keys()], most: MOST_AT_ONCE },
  });
  // A page that was opened meanwhile has nothing yet: it asks by itself.
  if (sent === null || state.shown !== before) return;
  const score = wholeScore(sent, known);
  if (score === null) throw new Error('The server counts on a phrase of a score that was not asked for.');
  // Of a text that has gone on it is not known what has to wait: its own picture is asked for already.
  if (score.version !== version && isOvertaken()) return;
  state.shown = { document, score };
  post({ type: 'score', uri: document.uri.toString(), score: sent, instead: null });
  const cursor = cursorMessage(state);
  if (cursor !== null) post(cursor);
}
