/** Asks a worker for handouts, so that whoever asks goes on meanwhile, and can call one off. */
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { TheoryOptions } from './analysis/types';
import type { HandoutOptions, LessonText } from './handout/types';

export interface HandoutRequest {
  /** In the order of the book. */
  readonly lessons: readonly LessonText[];
  readonly options: HandoutOptions;
  readonly to: 'html' | 'pdf';
  readonly theory: TheoryOptions;
}

/** What the worker is told: its answers have the number; the first of the shared numbers is 1 when the handout is no longer wanted. */
export interface HandoutOrder {
  readonly number: number;
  readonly request: HandoutRequest;
  readonly calledOff: Int32Array<SharedArrayBuffer>;
}

/** What the worker says. */
export type HandoutAnswer = { readonly number: number } & (
  | { readonly kind: 'progress'; readonly done: number; readonly total: number }
  | { readonly kind: 'made'; readonly bytes: Uint8Array; readonly notices: readonly string[] }
  | { readonly kind: 'failed'; readonly message: string }
);

export interface Made {
  readonly bytes: Uint8Array;
  /** What could not be done as asked, a sentence each. */
  readonly notices: readonly string[];
}

export interface Watch {
  /** Phrases that are drawn, of all. */
  readonly onProgress?: (done: number, total: number) => void;
  /** Calls the handout off; the promise is then rejected with its reason. */
  readonly signal?: AbortSignal;
}

export interface HandoutMaker {
  /** The file's bytes; a phrase that cannot be drawn has a line in its place, and a notice names it. Rejects with a message where there is nothing to hand out. */
  make(request: HandoutRequest, watch?: Watch): Promise<Made>;
  /** Ends the worker; what is being made is rejected. */
  dispose(): void;
}

/** One handout, by a worker of its own: `worker` is the built one, left out: the one beside this file. */
export async function handOut(request: HandoutRequest, { worker, ...watch }: Watch & { readonly worker?: string } = {}): Promise<Made> {
  const maker = createHandoutMaker(worker);
  try {
    return await maker.make(request, watch);
  } finally {
    maker.dispose();
  }
}

/** Without a wish for so long (milliseconds) the worker ends, and with it the memory of the engraving library. */
const REST = 180_000;

/** Keeps a worker for one handout after the other: the engraving library starts once, and phrases that did not change are not engraved anew. */
export function createHandoutMaker(file = join(__dirname, 'handout-worker.cjs')): HandoutMaker {
  const wishes = new Map<number, Wish>();
  let worker: Worker | undefined;
  let last = 0;
  let resting: NodeJS.Timeout | undefined;

  const end = (reason: Error): void => {
    clearTimeout(resting);
    void worker?.terminate();
    worker = undefined;
    for (const { settle, reject } of [...wishes.values()]) settle(() => reject(reason));
  };
  const start = (): Worker => {
    const fresh = new Worker(file);
    // A worker that has nothing to do keeps no program alive.
    fresh.unref();
    fresh.on('error', (error) => {
      if (worker === fresh) end(error);
    });
    fresh.on('message', (answer: HandoutAnswer) => {
      const wish = wishes.get(answer.number);
      if (wish === undefined) return;
      if (answer.kind === 'progress') wish.onProgress?.(answer.done, answer.total);
      else if (answer.kind === 'made') wish.settle(() => wish.resolve({ bytes: answer.bytes, notices: answer.notices }));
      else wish.settle(() => wish.reject(new Error(answer.message)));
    });
    return fresh;
  };
  return {
    make: (request, { onProgress, signal } = {}) =>
      new Promise((resolve, reject) => {
        signal?.throwIfAborted();
        clearTimeout(resting);
        const number = (last += 1);
        const calledOff = new Int32Array(new SharedArrayBuffer(4));
        const stop = (): void => {
          // The worker sees it before the next phrase, and goes on living.
          Atomics.store(calledOff, 0, 1);
          settle(() => reject(signal!.reason as Error));
        };
        const settle = (how: () => void): void => {
          signal?.removeEventListener('abort', stop);
          wishes.delete(number);
          if (wishes.size === 0) {
            worker?.unref();
            resting = setTimeout(() => end(new Error('The worker rests.')), REST).unref();
          }
          how();
        };
        wishes.set(number, { onProgress, resolve, reject, settle });
        signal?.addEventListener('abort', stop);
        worker ??= start();
        worker.ref();
        worker.postMessage({ number, request, calledOff } satisfies HandoutOrder);
      }),
    dispose: () => end(new Error('The handout was called off.')),
  };
}

interface Wish {
  readonly onProgress: Watch['onProgress'];
  readonly resolve: (made: Made) => void;
  readonly reject: (reason: Error) => void;
  readonly settle: (how: () => void) => void;
}
