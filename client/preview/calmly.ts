/** Milliseconds without a key. */
export const PAUSE = 800;

/**
 * Tells of what is wrong in a pause of the typing: half of what is typed is an error until the next key. What is urgent, what follows
 * upon words that are shown, and the end of it (empty words) is told at once.
 */
export function calmly(show: (words: string, isUrgent: boolean) => void): (words: string, isUrgent: boolean) => void {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  let shown = '';
  return (words, isUrgent) => {
    clearTimeout(waiting);
    const say = (): void => {
      shown = words;
      show(words, isUrgent);
    };
    if (words === '' || isUrgent || shown !== '') say();
    else waiting = setTimeout(say, PAUSE);
  };
}
