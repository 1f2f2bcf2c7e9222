/** What the editor asks of the server's side to export: a bundle of its own, which is loaded by the first export. */
import { REMARKS } from './handout/remarks';
import { faultWords, onceEach, onFault } from './model/faults';
import { chosenOf, musicFileInPieces, NothingWritten, type MusicRequest } from './music-file';
import { MUSIC_FORMATS } from './music-formats';

export { theoryOf } from './features/options';
export { namesAt } from './lesson-names';
export type { MusicFileOptions, MusicRequest } from './music-file';
export type { MusicFormat } from './music-formats';
export type { RemarkKind } from './handout/remarks';

/** What can be chosen. */
export const CHOICES = { formats: MUSIC_FORMATS, remarks: REMARKS } as const;

export interface Exported {
  readonly bytes: Uint8Array;
  /** What is not whole in it, a sentence each. */
  readonly notices: readonly string[];
}

export interface Watch {
  /** Phrases that are read, of all. */
  readonly onProgress?: (done: number, total: number) => void;
  readonly signal?: AbortSignal;
  /** So long (milliseconds) the work goes on before whoever waits beside it has a turn. */
  readonly turn?: number;
}

/** Null where the lesson has no phrase. Rejects with the signal's reason, or with a message for people where no phrase could be written. */
export async function exportMusic(request: MusicRequest, { onProgress, signal, turn = 20 }: Watch = {}): Promise<Exported | null> {
  const faults: string[] = [];
  const chosen = chosenOf(request.lesson);
  const total = chosen.phrases.length;
  if (total === 0) return null;
  const pieces = musicFileInPieces(request, chosen);
  let done = 0;
  let since = Date.now();
  for (;;) {
    signal?.throwIfAborted();
    // Between two pieces others work, and their faults are not ours.
    const piece = heard(() => pieces.next(), faults);
    if (piece.done === true) {
      const { content, notices } = piece.value;
      return {
        bytes: typeof content === 'string' ? new TextEncoder().encode(content) : content,
        notices: [...notices, ...new Set(faults)],
      };
    }
    done += 1;
    if (Date.now() - since < turn) continue;
    onProgress?.(done, total);
    await new Promise((resolve) => setImmediate(resolve));
    since = Date.now();
  }
}

/** What some work answers; its faults are told in words. */
function heard<T>(work: () => T, faults: string[]): T {
  const end = onFault(onceEach((fault) => void faults.push(faultWords(fault))));
  try {
    return work();
  } catch (error) {
    if (!(error instanceof NothingWritten)) throw error;
    throw new NothingWritten([error.message, ...new Set(faults)].join(' '));
  } finally {
    end();
  }
}
