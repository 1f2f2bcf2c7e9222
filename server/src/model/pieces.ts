/** Work that may be put off at every `yield`, to go on where it stopped; at the end comes the answer. */
export type Pieces<R> = Generator<void, R, void>;

/** The answer at once. */
export function finished<R>(pieces: Pieces<R>): R {
  for (;;) {
    const { done, value } = pieces.next();
    if (done === true) return value;
  }
}
