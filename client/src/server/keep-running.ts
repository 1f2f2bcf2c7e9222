/** The server that ends is started again, quietly; where it ends over and over it stays down, which is told with a button that starts it. */
import { CloseAction, ErrorAction, State, type ErrorHandler } from 'vscode-languageclient/node';
import type { ServedClient } from './client';
import { afterEnd, TOO_MANY, type Ends } from './restarts';

export const STOPPED = `The language server of Phrasewright ended ${TOO_MANY} times within three minutes, and stays down until you start it. Your text is as you wrote it; the output says why it ended.`;

export interface KeepRunning {
  readonly errorHandler: ErrorHandler;
  /** Starts the server, or starts it anew, and counts its ends from none. */
  startAgain(client: Stoppable & Pick<ServedClient, 'start'>): Promise<void>;
  /** Ends the server, whatever it is at, and starts none. */
  stop(client: Stoppable): Promise<void>;
}

export type Stoppable = Pick<ServedClient, 'state' | 'stop' | 'endServer' | 'serverGone'>;

/** `now`: milliseconds of a clock that never goes back. `stayedDown` is called when the server is not started again by itself. */
export function keepRunning(now: () => number, stayedDown: () => void): KeepRunning {
  let ends: Ends = [];
  /** While we stop the server: who asks twice waits for the one end. */
  let stopping: Promise<void> | undefined;
  const stop = (client: Stoppable): Promise<void> => {
    stopping ??= stopped(client).finally(() => (stopping = undefined));
    return stopping;
  };
  return {
    errorHandler: {
      // A write to a server that has just ended: the end itself is told right after, and decides. All are in the output.
      error: () => ({ action: ErrorAction.Continue, handled: true }),
      async closed() {
        const isOurs = stopping !== undefined;
        const { ends: counted, startsAgain } = isOurs ? { ends, startsAgain: false } : afterEnd(ends, now());
        ends = counted;
        // A server that ends before it has answered the first question makes its start fail: that is dealt with before the next start, or
        // the client takes the new server for the one that failed.
        await new Promise((resolve) => setTimeout(resolve, 0));
        if (isOurs)
          return { action: CloseAction.DoNotRestart, message: 'The language server was ended before it had started.', handled: true };
        if (startsAgain)
          return { action: CloseAction.Restart, message: 'The language server has ended. It is started again.', handled: true };
        stayedDown();
        return { action: CloseAction.DoNotRestart, message: STOPPED, handled: true };
      },
    },
    async startAgain(client) {
      ends = [];
      await stop(client);
      await client.start();
    },
    stop,
  };
}

/** Milliseconds. */
const LONGEST_END = 10_000;

/**
 * A server that does not answer is given up by the client after two seconds, with an error that says no more than that; one that has not
 * answered the first question is not stopped by the client at all. Their processes are ended by us. A client that has started another
 * server before it knows of the end would take that one for ended.
 */
async function stopped(client: Stoppable): Promise<void> {
  if (client.state === State.Stopped) return;
  if (client.state === State.Running) {
    const isStopped = await client.stop().then(
      () => true,
      () => false,
    );
    if (isStopped) return;
  }
  client.endServer();
  await Promise.race([client.serverGone(), new Promise((resolve) => setTimeout(resolve, LONGEST_END))]);
}
