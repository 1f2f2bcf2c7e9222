/** The place of one phrase on the page: its words, its picture, its findings. */
import { wordsOf, type Words } from '../../server/src/picture/emphasis';
import type { ScoreFinding, ScorePhrase } from '../src/score/messages';
import { calmly, PAUSE } from './calmly';
import { html, setText } from './dom';
import type { ShownSystem } from './system';

export interface Section {
  readonly element: HTMLElement;
  readonly systems: HTMLElement;
  /** Shows a phrase's words; `state` is what keeps its picture from being up to date. */
  showWords(phrase: ScorePhrase, state: string): void;
  /** Shows the walk-through; that of the phrase which is shown already follows the edits in a pause of the typing. */
  showWalkthrough(paragraphs: ScorePhrase['walkthrough'], when: 'now' | 'in a pause'): void;
  readonly walkthrough: HTMLElement;
  showState(state: string, kind: 'error' | 'played'): void;
  /** Puts systems in their places; those that are there already are left alone, and with them what has the focus. */
  showSystems(drawn: ReadonlyMap<string, ShownSystem>): void;
  drawn(): ReadonlyMap<string, ShownSystem>;
  /** Keeps room for a picture that is still to be drawn, in pixels. */
  keepRoom(height: number): void;
  /** A picture of a text of before is no way into the text; where that text was better it is pale, too. */
  setState(state: 'current' | 'behind' | 'stale'): void;
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
  const paragraphs = html('div', {});
  // Who is led there by a command finds it by the focus.
  const walkthrough = html(
    'div',
    { class: 'walkthrough', role: 'group', tabindex: -1, hidden: true },
    html('h3', {}, 'Walk-through'),
    paragraphs,
  );
  const element = html('section', { class: 'phrase' }, html('header', {}, name, heading), state, systems, findings, says, walkthrough);
  container.append(element);
  let drawn: ReadonlyMap<string, ShownSystem> = new Map();
  let told = '';
  let explaining = 0;
  const tellState = calmly((words, isPlayed) => {
    element.classList.toggle('played', isPlayed);
    setText(state, words);
    state.title = words;
  });
  const showState = (words: string, kind: 'error' | 'played'): void => tellState(words, kind === 'played');
  return {
    element,
    systems,
    walkthrough,
    showState,
    showWalkthrough(words, when) {
      clearTimeout(explaining);
      const say = (): void => {
        walkthrough.hidden = words.length === 0;
        setParagraphs(paragraphs, words);
      };
      if (when === 'now' || walkthrough.hidden) say();
      else explaining = window.setTimeout(say, PAUSE);
    },
    showWords(phrase, words) {
      const title = phrase.name || 'A phrase without a name';
      element.setAttribute('aria-label', title);
      walkthrough.setAttribute('aria-label', `Walk-through of ${title}`);
      setText(name, title);
      setText(heading, phrase.heading);
      showState(words, 'error');
      // Buttons that are there stay: one of them may have the focus.
      const shown = phrase.findings.map((finding) => ({ ...finding, message: `${barWords(phrase, finding)}${finding.message}` }));
      const fresh = JSON.stringify([shown.map(({ severity, message }) => [severity, message]), phrase.says]);
      if (fresh === told) return;
      told = fresh;
      findings.replaceChildren(...shown.map(({ severity, message }, i) => findingItem(severity, message, () => onFinding(i))));
      says.replaceChildren(...phrase.says.map((say) => html('p', { dir: 'auto' }, ...wordsOf(say).map(wordsElement))));
    },
    showSystems(next) {
      drawn = next;
      systems.style.minHeight = '';
      const wanted = [...next.values()].map(({ element: system }) => system);
      for (const old of [...systems.children]) if (!wanted.includes(old as SVGSVGElement)) old.remove();
      // What is left stands in the order wanted; to move it would take the focus from it.
      wanted.forEach((system, i) => {
        if (systems.children[i] !== system) systems.insertBefore(system, systems.children[i] ?? null);
      });
    },
    drawn: () => drawn,
    keepRoom(height) {
      if (drawn.size === 0) systems.style.minHeight = `${height}px`;
    },
    setState(picture) {
      element.classList.toggle('stale', picture === 'stale');
      systems.inert = picture !== 'current';
    },
    isStale: () => systems.inert,
  };
}

function wordsElement({ text, isStrong, isEmphasized }: Words): Node | string {
  const inner = isEmphasized ? html('em', {}, text) : text;
  return isStrong ? html('strong', {}, inner) : inner;
}

/** Only what changed is touched, so that nothing flickers and what is selected or read aloud stays. */
function setParagraphs(container: HTMLElement, told: ScorePhrase['walkthrough']): void {
  told.forEach((paragraph, i) => {
    const known = container.children[i] as HTMLElement | undefined;
    const of = JSON.stringify(paragraph);
    if (known?.dataset['of'] === of) return;
    const { head, sentences } = paragraph;
    const words = sentences.flatMap((sentence, k) => [k === 0 ? '' : ' ', sentenceElement(sentence)]);
    const element = html('p', { dir: 'auto', 'data-of': of }, head === '' ? '' : `${head}: `, ...words);
    if (known === undefined) container.append(element);
    else known.replaceWith(element);
  });
  while (container.children.length > told.length) container.lastElementChild!.remove();
}

/** A sentence about notes leads to them: it shows them while it is pointed at or has the focus. */
function sentenceElement({ text, notes }: ScorePhrase['walkthrough'][number]['sentences'][number]): Node | string {
  return notes.length === 0 ? text : html('span', { class: 'sentence', role: 'link', tabindex: 0, 'data-notes': notes.join(' ') }, text);
}

/** The notes of the sentence that an element belongs to; empty where it belongs to none. */
export function notesOfSentence(element: Element | null): readonly number[] {
  const notes = element?.closest<HTMLElement>('.sentence')?.dataset['notes'];
  return notes === undefined ? [] : notes.split(' ').map(Number);
}

/** Brings a walk-through into sight, and gives it the focus. Answers whether there is anything to read. */
export function goToWalkthrough({ walkthrough }: Pick<Section, 'walkthrough'>): boolean {
  if (walkthrough.hidden) return false;
  walkthrough.scrollIntoView({ block: 'nearest' });
  walkthrough.focus({ preventScroll: true });
  walkthrough.classList.add('found');
  walkthrough.addEventListener('blur', () => walkthrough.classList.remove('found'), { once: true });
  return true;
}

/** `Bar 3: ` where a finding is at a note: in a long phrase “over Cmaj7” may be anywhere. */
function barWords({ notes, bars }: ScorePhrase, { start, end, message }: ScoreFinding): string {
  const note = notes.find(
    (one) => (one.start === start && one.end === end) || one.holds.some((hold) => hold.start === start && hold.end === end),
  );
  const bar = note === undefined ? undefined : bars.findLast(({ from }) => note.onset >= from);
  return bar === undefined || bar.number === 0 || bars.length < 3 || /^Bar \d/.test(message) ? '' : `Bar ${bar.number}: `;
}

function findingItem(severity: string, message: string, onClick: () => void): HTMLElement {
  const button = html(
    'button',
    { type: 'button', class: `finding ${severity}` },
    html('span', { class: 'severity' }, severity === 'error' ? 'Error: ' : 'Warning: '),
    message,
  );
  button.addEventListener('click', onClick);
  return html('li', {}, button);
}
