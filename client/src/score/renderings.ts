/** Sounds that the page makes for files: each question has its answer, or what kept it from being made. */
import * as vscode from 'vscode';
import type { FromView, ToView, Track, TrackSamples } from './messages';

type Rendered = Extract<FromView, { type: 'rendered' }>['made'];

export interface Renderings {
  /** Throws an error for people where the sound cannot be made, and a CancellationError. */
  render(track: Track, token: vscode.CancellationToken): Promise<TrackSamples>;
  answer(ask: number, made: Rendered): void;
  /** The page is closed: nothing comes of what was asked. */
  close(): void;
}

export function createRenderings(page: { isOpen(): boolean; post(message: ToView): void }): Renderings {
  const waiting = new Map<number, (made: Rendered) => void>();
  let asks = 0;
  return {
    render(track, token) {
      asks += 1;
      const ask = asks;
      return new Promise<TrackSamples>((resolve, reject) => {
        const cancelled = token.onCancellationRequested(() => reject(new vscode.CancellationError()));
        waiting.set(ask, (made) => {
          cancelled.dispose();
          if (typeof made === 'string') reject(new Error(made));
          else resolve({ samples: new Int16Array(made.bytes), rate: made.rate, lacksPiano: made.lacksPiano });
        });
        if (token.isCancellationRequested) reject(new vscode.CancellationError());
        else if (page.isOpen()) page.post({ type: 'render', ask, track });
        else reject(new Error('The score is closed, which makes the sound. Leave it open until the file is written.'));
      }).finally(() => waiting.delete(ask));
    },
    answer: (ask, made) => waiting.get(ask)?.(made),
    close() {
      for (const answer of waiting.values()) answer('The score was closed, which makes the sound.');
    },
  };
}
