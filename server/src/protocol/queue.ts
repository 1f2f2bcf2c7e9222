/** The queue of requests: the urgent first, in pieces, so that nothing holds the event loop for long, and what is cancelled stops. */
import { LSPErrorCodes, ResponseError, type CancellationToken } from 'vscode-languageserver';
import type { Pieces } from '../model/pieces';

/** `now`: somebody waits for it with a key or the mouse, or is told what is wrong; `soon`: it is seen beside the text; `later`: it is there for when it is wanted. */
export type Urgency = 'now' | 'soon' | 'later';

export interface Work<R> {
  readonly urgency: Urgency;
  readonly token: CancellationToken;
  /** Begins the work, and begins it again where the text has moved on meanwhile: the answer is always one for the newest text. */
  begin(): Pieces<R>;
  /** Which text the work is about: another answer than at its beginning, and it begins again. */
  about(): unknown;
}

export interface Queue {
  /** The answer, or the error that says that the request was cancelled. What the work throws is thrown. */
  add<R>(work: Work<R>): Promise<R | ResponseError<never>>;
  /** Says that the text has changed: what nobody waits for is put off by a round, since questions about the new text follow. */
  stir(): void;
}

/** The clock of a queue, and the way to let others in before it goes on. */
export interface Pace {
  /** Milliseconds. */
  now(): number;
  /** Runs it when what has come in meanwhile has been taken in. */
  next(run: () => void): void;
}

/** Milliseconds for which pieces follow one another without letting others in: half of what may be noticed while typing. */
export const STRETCH = 8;

const ORDER: readonly Urgency[] = ['now', 'soon', 'later'];

interface Waiting {
  readonly urgency: Urgency;
  isCancelled(): boolean;
  /** Does a piece; answers whether all is done. */
  step(): boolean;
  cancel(): void;
}

export function openQueue(pace: Pace): Queue {
  const waiting: Waiting[] = [];
  let isRunning = false;
  /** Whether something has come in since the last round: then more of the same burst may follow, and a more urgent one among them. */
  let isBurst = false;
  const plan = (): void => {
    if (isRunning) return;
    isRunning = true;
    pace.next(round);
  };
  const round = (): void => {
    const until = pace.now() + STRETCH;
    const burst = isBurst;
    isBurst = false;
    while (waiting.length > 0 && pace.now() < until) {
      const next = mostUrgent(waiting);
      if (burst && next.urgency !== 'now') break;
      if (advance(next)) waiting.splice(waiting.indexOf(next), 1);
    }
    isRunning = false;
    if (waiting.length > 0) plan();
  };
  return {
    add: (work) =>
      new Promise((resolve, reject) => {
        waiting.push(waitingFor(work, resolve, reject));
        isBurst = true;
        plan();
      }),
    stir: () => void (isBurst = true),
  };
}

/** The first of the most urgent. */
function mostUrgent(waiting: readonly Waiting[]): Waiting {
  return waiting.reduce((best, one) => (ORDER.indexOf(one.urgency) < ORDER.indexOf(best.urgency) ? one : best));
}

function advance(one: Waiting): boolean {
  if (!one.isCancelled()) return one.step();
  one.cancel();
  return true;
}

function waitingFor<R>(work: Work<R>, resolve: (answer: R | ResponseError<never>) => void, reject: (error: unknown) => void): Waiting {
  let pieces: Pieces<R> | null = null;
  let about: unknown;
  return {
    urgency: work.urgency,
    isCancelled: () => work.token.isCancellationRequested,
    step() {
      try {
        if (pieces === null || about !== work.about()) {
          pieces?.return(undefined as never);
          about = work.about();
          pieces = work.begin();
        }
        const { done, value } = pieces.next();
        if (done === true) resolve(value);
        return done === true;
      } catch (error) {
        reject(error);
        return true;
      }
    },
    cancel() {
      pieces?.return(undefined as never);
      // Only what the client has cancelled is answered so: for any other error an editor drops the hints and lenses that it shows.
      resolve(new ResponseError<never>(LSPErrorCodes.RequestCancelled, 'The request was cancelled.'));
    },
  };
}
