/** Reports on many files, made by several workers at once: in the order of the files, with a few of them in memory. */
import { availableParallelism } from 'node:os';
import { Worker, type MessagePort } from 'node:worker_threads';
import { pieceOf, type FilePiece, type ReportOrder } from './file-reports';
import { Fault, onFault, tellFault } from './model/faults';
import { CannotRun, type NamedSource } from './read-text';

interface Errand {
  readonly number: number;
  readonly order: ReportOrder;
  readonly source: NamedSource;
}

/** A fault that a worker was told of. */
type FaultReply = Pick<Fault, 'of' | 'because'>;

type Reply = { readonly number: number } & ({ readonly piece: FilePiece } | { readonly message: string; readonly cannotRun: boolean });

/** Fewer bytes are read sooner than a worker starts. */
const WORTH_WORKERS = 200_000;
const MOST_WORKERS = 8;
/** Files that a worker has before it, so that it never waits. */
const AHEAD = 3;

export interface Threads {
  /** The built command line, which is its own worker. */
  readonly file: string;
  /** How many workers there are; below two, this thread does all. Left out: one a core but one, or none where there is little to read. */
  readonly count?: number;
}

/** The pieces of files, one after another. Rejects with `CannotRun` at the first file that has none. */
export async function* piecesOf(
  order: ReportOrder,
  sources: readonly NamedSource[],
  { file, count = workersFor(sources) }: Threads,
): AsyncGenerator<FilePiece> {
  if (count < 2 || sources.length < 2) {
    for (const source of sources) yield pieceOf(order, source);
    return;
  }
  const hands = Array.from({ length: Math.min(count, sources.length) }, () => createHand(file));
  try {
    const waiting: Promise<FilePiece>[] = [];
    for (const [number, source] of sources.entries()) {
      const hand = hands.reduce((one, other) => (other.busy() < one.busy() ? other : one));
      const piece = hand.make({ number, order, source });
      // Its turn comes later; until then nobody has asked for it.
      piece.catch(() => undefined);
      waiting.push(piece);
      if (waiting.length >= hands.length * AHEAD) yield await waiting.shift()!;
    }
    while (waiting.length > 0) yield await waiting.shift()!;
  } finally {
    await Promise.all(hands.map((hand) => hand.end()));
  }
}

/** The engine compiles on a core of its own, for each worker anew: on two cores two workers take longer than this thread alone. */
function workersFor(sources: readonly NamedSource[]): number {
  const bytes = sources.reduce((sum, { size }) => sum + size, 0);
  return bytes < WORTH_WORKERS ? 1 : Math.min(availableParallelism() - 1, MOST_WORKERS);
}

/** The worker's side: answers errands until it is ended. */
export function answerErrands(port: MessagePort): void {
  onFault(({ of, because }) => port.postMessage({ of, because } satisfies FaultReply));
  port.on('message', ({ number, order, source }: Errand) => {
    const reply = (one: Reply): void => port.postMessage(one);
    try {
      reply({ number, piece: pieceOf(order, source) });
    } catch (error) {
      reply({
        number,
        message: error instanceof CannotRun ? error.message : ((error as Error).stack ?? String(error)),
        cannotRun: error instanceof CannotRun,
      });
    }
  });
}

interface Hand {
  busy(): number;
  make(errand: Errand): Promise<FilePiece>;
  end(): Promise<unknown>;
}

function createHand(file: string): Hand {
  const worker = new Worker(file);
  const open = new Map<number, { resolve(piece: FilePiece): void; reject(error: Error): void }>();
  const fail = (error: Error): void => {
    for (const { reject } of open.values()) reject(error);
    open.clear();
  };
  worker.on('message', (reply: Reply | FaultReply) => {
    if ('of' in reply) return tellFault(new Fault(reply.of, new Error(reply.because)));
    const asked = open.get(reply.number);
    open.delete(reply.number);
    if ('piece' in reply) asked?.resolve(reply.piece);
    else asked?.reject(reply.cannotRun ? new CannotRun(reply.message) : new Error(reply.message));
  });
  worker.on('error', fail);
  worker.on('exit', (code) => fail(new Error(`A worker ended with code ${code} before its files were read.`)));
  return {
    busy: () => open.size,
    make: (errand) =>
      new Promise((resolve, reject) => {
        open.set(errand.number, { resolve, reject });
        worker.postMessage(errand);
      }),
    end: () => worker.terminate(),
  };
}
