/** Reads aloud what keeps the picture of the phrase at the cursor from being up to date. */
import { html, setText } from '../dom';
import { stateWords } from './pictured';
import type { Reads } from './shown';

/** Milliseconds without a change. */
const PAUSE = 1000;

/** One voice for all phrases, and only in a pause: typing makes and mends errors at every keystroke. Answers what says so. */
export function createAnnouncer(page: Reads<'shown' | 'cursor'>): () => void {
  const element = html('div', { class: 'announcer', role: 'status' });
  document.body.append(element);
  let timer = 0;
  return () => {
    const current = page.shown[page.cursor.phrase];
    const words = current === undefined ? '' : stateWords(current);
    clearTimeout(timer);
    timer = window.setTimeout(() => setText(element, words), PAUSE);
  };
}
