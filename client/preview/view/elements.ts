/** The elements of the page that its parts fill. */
import { html } from '../dom';

export interface Elements {
  /** The phrases. */
  readonly container: HTMLElement;
  readonly lesson: HTMLElement;
  readonly notice: HTMLElement;
  readonly choice: HTMLElement;
  readonly begin: HTMLButtonElement;
  readonly controls: HTMLElement;
}

/** The title of the lesson is put in front of the phrases. */
export function elementsOfPage(): Elements {
  const find = <T extends HTMLElement>(name: string): T => document.querySelector<T>(`#${name}`)!;
  const container = find('score');
  const lesson = html('h1', { class: 'lesson', dir: 'auto' });
  container.before(lesson);
  return { container, lesson, notice: find('notice'), choice: find('choice'), begin: find('begin'), controls: find('controls') };
}
