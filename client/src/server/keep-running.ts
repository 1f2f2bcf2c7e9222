/** The server that ends is started again, quietly; where it ends over and over it stays down, which is told with a button that starts it. */
import { CloseAction, ErrorAction, State, type ErrorHandler } from 'vscode-languageclient/node';
import type { ServedClient } from './client';
import { afterEnd, TOO_MANY, type Ends } from './restarts';

export const STOPPED = `The language server of Phrasewright ended ${TOO_MANY} times within three minutes, and stays down until you start it. Your text is as you wrote it; the output says why it ended.`;

export interface KeepRunning {
  readonly errorHandler: ErrorHandler;
  /** Starts the server, or starts it anew, and counts its ends from none. */
  startAgain(client: Stoppable & Pick<ServedClient, 'start'>): Promise<void>;
}

/** `now`: milliseconds of a clock that never goes back. `stayedDown` is called when the server is not started again by itself. */
export function keepRunning(now: () => number, stayedDown: () => void): KeepRunning {
  let ends: Ends = [];
  return {
    errorHandler: {
      // A write to a server that has just ended: the end itself is told right after, and decides. All are in the output.
      error: () => ({ action: ErrorAction.Continue, handled: true }),
      async closed() {
        const { ends: counted, startsAgain } = afterEnd(ends, now());
        ends = counted;
        // A server that ends before it has answered the first question makes its start fail: that is dealt with before the next start, or
        // the client takes the new server for the one that failed.
        await new Promise((resolve) => setTimeout(resolve, 0));
        if (startsAgain) return { action: CloseAction.Restart, message: 'The language server has ended. It is started again.', handled: true };
        stayedDown();
        return { action: CloseAction.DoNotRestart, message: STOPPED, handled: true };
      },
    },
    async startAgain(client) {
      ends = [];
      await stopped(client);
      await client.start();
    },
  };
}

export type Stoppable = Pick<ServedClient, 'state' | 'stop' | 'serverGone'>;

/** Milliseconds. */
const LONGEST_END = 10_000;

/**
 * Stops the server, whatever it is at. One that does not answer is given up by the client after two seconds, with an error that says no more
 * than that, and its process is ended two seconds later. A client that has started another server by then would take that one for ended.
 */
export async function stopped(client: Stoppable): Promise<void> {
  if (client.state !== State.Running) return;
  try {
    await client.stop();
  } catch {
    await Promise.race([client.serverGone(), new Promise((resolve) => setTimeout(resolve, LONGEST_END))]);
  }
}
