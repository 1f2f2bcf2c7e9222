/** The server that answers nothing, or nothing more: it is noticed by the questions that the language client asks anyway, and said once. */
import type { Middleware } from 'vscode-languageclient/node';
import { afterEvent, NOTHING_ASKED, PATIENCE, wakeAt, type Silence, type SilenceEvent } from './silence';

/** What any server that lives answers at once, whatever else it is at. A request of our own. */
export const ALIVE = 'phrasewright/alive';

export const SILENT = `The language server of Phrasewright has answered nothing for ${(2 * PATIENCE) / 1000} seconds. Your text is as you wrote it; what is shown beside it stays as it was until the server is started again.`;

export interface Clock {
  /** Milliseconds; never goes back. */
  now(): number;
  /** Runs it so many milliseconds later; what is answered takes it back. */
  after(milliseconds: number, run: () => void): () => void;
}

export const CLOCK: Clock = {
  now: () => performance.now(),
  after(milliseconds, run) {
    const timer = setTimeout(run, milliseconds);
    return () => clearTimeout(timer);
  },
};

export interface WatchSilence {
  readonly middleware: Pick<Middleware, 'sendRequest'>;
  /** A server starts: it owes the answer to the first question, which the client asks past the middleware. */
  starts(): void;
  /** The server has started or ended: nothing is owed any more. */
  beginAnew(): void;
}

/** `ask` sends `ALIVE` through the client, and so through the middleware; `tell` says that the server hangs. */
export function watchSilence({ now, after }: Clock, ask: () => void, tell: () => void): WatchSilence {
  let silence: Silence = NOTHING_ASKED;
  /** Counts servers: what one of them owed is not owed by the next. */
  let server = 0;
  let takeBack = (): void => undefined;
  const take = (event: SilenceEvent): void => {
    const next = afterEvent(silence, event, now());
    silence = next.silence;
    plan();
    if (next.does === 'ask') ask();
    else if (next.does === 'tell') tell();
  };
  const plan = (): void => {
    takeBack();
    const at = wakeAt(silence);
    // A timer may be a millisecond early.
    if (at !== null) takeBack = after(Math.max(0, at - now()) + 1, () => take('time'));
  };
  const beginAnew = (): void => {
    server += 1;
    silence = NOTHING_ASKED;
    plan();
  };
  return {
    middleware: {
      sendRequest(type, param, token, next) {
        const asked = server;
        take('sent');
        const answered = (): void => {
          if (asked === server) take('answered');
        };
        const answer = next(type, param, token);
        answer.then(answered, answered);
        return answer;
      },
    },
    starts() {
      beginAnew();
      take('sent');
    },
    beginAnew,
  };
}
