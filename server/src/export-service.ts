/** What the editor asks of the server's side to export: a bundle of its own, which is loaded by the first export. */
import { incompleteWords } from './handout/incomplete';
import { REMARKS } from './handout/remarks';
import { findingsIn } from './handout/versions';
import { faultWords, onceEach, onFault } from './model/faults';
import { chosenOf, MUSIC_FORMATS, musicFileInPieces, type Chosen, type MusicRequest } from './music-file';

export { theoryOf } from './features/options';
export { namesAt } from './lesson-names';
export type { MusicFileOptions, MusicFormat, MusicRequest } from './music-file';
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

/** Null where the lesson has no phrase. Rejects with the signal's reason, or with a message where a note has no number in MIDI. */
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
    const end = onFault(onceEach((fault) => void faults.push(faultWords(fault))));
    const piece = pieces.next();
    end();
    if (piece.done === true) {
      const bytes = typeof piece.value === 'string' ? new TextEncoder().encode(piece.value) : piece.value;
      return { bytes, notices: [...incomplete(request, chosen), ...new Set(faults)] };
    }
    done += 1;
    if (Date.now() - since < turn) continue;
    onProgress?.(done, total);
    await new Promise((resolve) => setImmediate(resolve));
    since = Date.now();
  }
}

/** Of each phrase that has an error in its music, the first. */
function incomplete({ theory }: MusicRequest, { snapshot, phrases }: Chosen): string[] {
  return phrases.flatMap((placed) => incompleteWords(placed.phrase.name, placed.phrase, findingsIn({ snapshot, placed }, theory)) ?? []);
}
