/** What is known of a note, beside it: on pointing at it, and while it is reached with the keys. Never in the way of the pointer, nor on what comes next. */
import type { ScoreNote } from '../src/score/messages';
import { html } from './dom';
import { tipPlace } from './tip';

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
      const { left, top } = tipPlace(
        beside.getBoundingClientRect(),
        { width: element.offsetWidth, height: element.offsetHeight },
        { width: document.documentElement.clientWidth, height: window.innerHeight },
      );
      element.style.left = `${left}px`;
      element.style.top = `${top}px`;
    },
    hide() {
      element.hidden = true;
      described?.removeAttribute('aria-describedby');
      described = null;
    },
  };
}
