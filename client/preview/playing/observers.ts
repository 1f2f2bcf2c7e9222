/** Marks of the user timing, for a `PerformanceObserver` outside. */

/** The text was told of a note. `detail`: the note, and when it is due to be heard. */
export const TOLD_MARK = 'phrasewright:told';
/** A message has come to the extension and back. `detail`: when it was sent, and how many milliseconds it took. */
export const TRIP_MARK = 'phrasewright:trip';

/** A mark that is observed and not kept: they would pile up in a loop that runs for an hour. */
export function showObservers(mark: string, options: Parameters<typeof performance.mark>[1]): void {
  performance.mark(mark, options);
  performance.clearMarks(mark);
}
