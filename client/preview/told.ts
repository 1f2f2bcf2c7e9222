/** What is known of a note, beside it: on pointing at it, and while it is reached with the keys. Never in the way of the pointer. */
import type { ScoreNote } from '../src/score/messages';
import { html } from './dom';

export interface Told {
  show(note: ScoreNote, beside: Element): void;
  hide(): void;
}

export function createTold(): Told {
  const element = html('div', { class: 'told', role: 'tooltip', id: 'told', hidden: true });
  document.body.append(element);
  let described: Element | null = null;
  return {
    show(note, beside) {
      element.replaceChildren(...note.lines.map((line) => html('p', {}, line)));
      element.hidden = false;
      described?.removeAttribute('aria-describedby');
      described = beside;
      beside.setAttribute('aria-describedby', element.id);
      const { left, bottom, top } = beside.getBoundingClientRect();
      const { offsetWidth: width, offsetHeight: height } = element;
      const below = bottom + 4 + height <= window.innerHeight;
      element.style.left = `${Math.max(4, Math.min(left, window.innerWidth - width - 8))}px`;
      element.style.top = `${below ? bottom + 4 : Math.max(4, top - height - 4)}px`;
    },
    hide() {
      element.hidden = true;
      described?.removeAttribute('aria-describedby');
      described = null;
    },
  };
}
