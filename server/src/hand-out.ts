/** Asks a worker for a handout, so that whoever asks goes on meanwhile, and can call it off. */
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

/** What the worker says. */
export type HandoutAnswer =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number }
  | { readonly kind: 'made'; readonly bytes: Uint8Array; readonly notices: readonly string[] }
  | { readonly kind: 'failed'; readonly message: string };

export interface Made {
  readonly bytes: Uint8Array;
  /** What could not be done as asked, a sentence each. */
  readonly notices: readonly string[];
}

export interface HandOutContext {
  /** Phrases that are drawn, of all. */
  readonly onProgress?: (done: number, total: number) => void;
  /** Ends the work; the promise is then rejected with its reason. */
  readonly signal?: AbortSignal;
  /** The built worker; left out: the one beside this file. */
  readonly worker?: string;
}

/** The file's bytes. Rejects with a message that names the phrase where one cannot be drawn. */
export function handOut(request: HandoutRequest, { onProgress, signal, worker: file = join(__dirname, 'handout-worker.cjs') }: HandOutContext = {}): Promise<Made> {
  return new Promise((resolve, reject) => {
    signal?.throwIfAborted();
    const worker = new Worker(file);
    const end = (settle: () => void): void => {
      signal?.removeEventListener('abort', stop);
      void worker.terminate();
      settle();
    };
    const stop = (): void => end(() => reject(signal!.reason as Error));
    signal?.addEventListener('abort', stop);
    worker.on('error', (error) => end(() => reject(error)));
    worker.on('message', (answer: HandoutAnswer) => {
      if (answer.kind === 'progress') onProgress?.(answer.done, answer.total);
      else if (answer.kind === 'made') end(() => resolve({ bytes: answer.bytes, notices: answer.notices }));
      else end(() => reject(new Error(answer.message)));
    });
    worker.postMessage(request);
  });
}
