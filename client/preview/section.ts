/** The place of one phrase on the page: its words, its picture, its findings. */
import type { ScorePhrase } from '../src/score/messages';
import { html, setText } from './dom';
import type { DrawnSystem } from './system';

export interface Section {
  readonly element: HTMLElement;
  readonly systems: HTMLElement;
  /** Shows a phrase's words; `state` is what keeps its picture from being up to date. */
  showWords(phrase: ScorePhrase, state: string): void;
  showState(state: string, kind: 'error' | 'played'): void;
  /** Puts systems in their places; those that are there already are left alone, and with them what has the focus. */
  showSystems(drawn: ReadonlyMap<string, DrawnSystem>): void;
  drawn(): ReadonlyMap<string, DrawnSystem>;
  /** A picture that is out of date is pale, and is no way into the text. */
  setStale(isStale: boolean): void;
  isStale(): boolean;
}

/** Adds a section at the end of the page. */
export function addSection(container: HTMLElement, onFinding: (finding: number) => void): Section {
  const name = html('h2', { dir: 'auto' });
  const heading = html('p', { class: 'heading' });
  const state = html('p', { class: 'state' });
  const systems = html('div', { class: 'systems' });
  const findings = html('ul', { class: 'findings', 'aria-label': 'Findings' });
  const says = html('div', { class: 'says' });
  const element = html('section', { class: 'phrase' }, html('header', {}, name, heading), state, systems, findings, says);
  container.append(element);
  let drawn: ReadonlyMap<string, DrawnSystem> = new Map();
  let told = '';
  const showState = (words: string, kind: 'error' | 'played'): void => {
    element.classList.toggle('played', kind === 'played');
    setText(state, words);
  };
  return {
    element,
    systems,
    showState,
    showWords(phrase, words) {
      const title = phrase.name || 'A phrase without a name';
      element.setAttribute('aria-label', title);
      setText(name, title);
      setText(heading, phrase.heading);
      showState(words, 'error');
      // Buttons that are there stay: one of them may have the focus.
      const fresh = JSON.stringify([phrase.findings.map(({ severity, message }) => [severity, message]), phrase.says]);
      if (fresh === told) return;
      told = fresh;
      findings.replaceChildren(...phrase.findings.map(({ severity, message }, i) => findingItem(severity, message, () => onFinding(i))));
      says.replaceChildren(...phrase.says.map((say) => html('p', { dir: 'auto' }, say)));
    },
    showSystems(next) {
      drawn = next;
      const wanted = [...next.values()].map(({ element: system }) => system);
      for (const old of [...systems.children]) if (!wanted.includes(old as SVGSVGElement)) old.remove();
      // What is left stands in the order wanted; to move it would take the focus from it.
      wanted.forEach((system, i) => {
        if (systems.children[i] !== system) systems.insertBefore(system, systems.children[i] ?? null);
      });
    },
    drawn: () => drawn,
    setStale(isStale) {
      element.classList.toggle('stale', isStale);
      systems.inert = isStale;
    },
    isStale: () => systems.inert,
  };
}

function findingItem(severity: string, message: string, onClick: () => void): HTMLElement {
  const button = html('button', { type: 'button', class: `finding ${severity}` }, html('span', { class: 'severity' }, severity === 'error' ? 'Error: ' : 'Warning: '), message);
  button.addEventListener('click', onClick);
  return html('li', {}, button);
}
