/**
 * Whether what is shown comes when it is heard. A page shows nothing between two of its frames, however slow the machine is: so a mark is
 * late only by the frames that it missed, and a machine that draws few frames excuses no more than those.
 */

/** A note, and milliseconds of one clock. */
export interface Moment {
  readonly note: number;
  readonly at: number;
}

/** What was heard, by its index. */
export interface Judged {
  /** Marked in time. */
  readonly inTime: number[];
  /** Heard and gone before the page drew a frame. */
  readonly unseen: number[];
  /** Not marked, too early, or late. */
  readonly wrong: number[];
}

/** Milliseconds; music and what is seen of it fall apart beyond. */
export const TOGETHER = 30;

/**
 * `heard`: when each note was due; `frames`: when the page drew, in order. `late`: by how many milliseconds the i-th note's message is known
 * to have been held up on its way to the page. A mark is in time from `TOGETHER` before the note is due until as long after the second frame
 * from the time when it is due and its message there: what is told during a frame is seen in the next.
 */
export function judged(
  heard: readonly Moment[],
  marks: readonly Moment[],
  frames: readonly number[],
  late: (i: number) => number = () => 0,
): Judged {
  const result: Judged = { inTime: [], unseen: [], wrong: [] };
  heard.forEach(({ note, at: due }, i) => {
    const [first = Infinity, second = Infinity] = frames.filter((at) => at >= due + late(i));
    const isInTime = marks.some((mark) => mark.note === note && mark.at >= due - TOGETHER && mark.at <= second + TOGETHER);
    const isGone = first >= (heard[i + 1]?.at ?? Infinity);
    const isMarked = marks.some((mark) => mark.note === note);
    (isInTime ? result.inTime : isGone && !isMarked ? result.unseen : result.wrong).push(i);
  });
  return result;
}
