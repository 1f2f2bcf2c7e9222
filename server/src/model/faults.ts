/** Faults of the program itself: what breaks off costs only itself, and whoever listens is told. */

/** Something that broke off; `of` says what, as the subject of a sentence: `the device “enclosure”`. */
export class Fault extends Error {
  readonly because: string;

  constructor(
    readonly of: string,
    cause: unknown,
  ) {
    const because = cause instanceof Error && cause.message !== '' ? cause.message : 'no reason given';
    super(`${of} broke off: ${because}`, { cause });
    this.because = because;
    // Where it broke off is what helps to mend it.
    if (cause instanceof Error && cause.stack !== undefined) this.stack = `${this.message}\n${cause.stack}`;
  }
}

/** What the work answers; where it throws, `instead`, and all who listen are told of a fault of `of`. */
export function guarded<T>(of: string, instead: T, work: () => T): T {
  try {
    return work();
  } catch (cause) {
    tellFault(faultOf(of, cause));
    return instead;
  }
}

/** A fault of `of`; what is thrown because of another fault is that fault. */
export function faultOf(of: string, cause: unknown): Fault {
  return cause instanceof Fault ? cause : new Fault(of, cause);
}

type Listener = (fault: Fault) => void;

const listeners = new Set<Listener>();

export function tellFault(fault: Fault): void {
  for (const listener of listeners) listener(fault);
}

/** Tells a listener of every fault from now on, until what it answers is called. */
export function onFault(listener: Listener): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

/** A listener that hears of each thing that breaks off once, however often it does. */
export function onceEach(listener: Listener): Listener {
  const told = new Set<string>();
  return (fault) => {
    if (told.has(fault.of)) return;
    told.add(fault.of);
    listener(fault);
  };
}

/** A fault in words for people: what broke off, why, and that the rest stands. */
export function faultWords({ message }: Fault): string {
  return `A fault of Phrasewright: ${message}. Everything else goes on.`;
}
