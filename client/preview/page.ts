/** The phrases on the page. Only what an edit changed is drawn anew, so that nothing flickers and nothing jumps. */
import type { NotePlace, Score, ScorePhrase } from '../src/score/messages';
import { html, setText } from './dom';
import type { Engraver } from './engraver';
import { drawSystem, type DrawnSystem, type SystemOptions } from './system';

export interface Page {
  /** Shows a score. A phrase that cannot be read keeps its last good picture, and says so. */
  show(uri: string, score: Score, options: SystemOptions): void;
  /** Marks the note at the text's cursor, and its phrase; what is in view already is not scrolled. */
  markCursor(place: { readonly phrase: number; readonly note: number | null }): void;
  markSounding(place: NotePlace | null): void;
  /** The place of an element of the page; null where it is no note, or one of a picture that is out of date. */
  placeAt(element: Element | null): NotePlace | null;
  /** The note a step away, for the arrow keys; null at the ends. */
  beside(place: NotePlace, step: 1 | -1): NotePlace | null;
  edge(place: NotePlace, end: 'first' | 'last'): NotePlace;
  focus(place: NotePlace): void;
  elementOf(place: NotePlace): Element | null;
  phraseOf(index: number): ScorePhrase | undefined;
}

interface Section {
  readonly element: HTMLElement;
  readonly name: HTMLElement;
  readonly heading: HTMLElement;
  readonly state: HTMLElement;
  readonly systems: HTMLElement;
  readonly findings: HTMLElement;
  readonly says: HTMLElement;
  /** Which phrase it is of: document, name, and how many of that name. */
  key: string;
  drawn: Map<string, DrawnSystem>;
  shown: ScorePhrase | undefined;
  isStale: boolean;
}

export function createPage(container: HTMLElement, engraver: Engraver, onFinding: (start: number, end: number) => void): Page {
  const sections: Section[] = [];
  /** The last picture of each phrase that could be read whole, by document and name. */
  const good = new Map<string, ScorePhrase>();
  let cursor: { phrase: number; note: number | null } | null = null;
  let sounding: NotePlace | null = null;
  let reachable: Element | null = null;
  let later = 0;

  const placesOf = ({ phrase, note }: NotePlace): readonly SVGRectElement[] =>
    [...(sections[phrase]?.drawn.values() ?? [])].flatMap(({ places }) => places.get(note) ?? []);

  const mark = (name: string, place: NotePlace | null): void => {
    const wanted = new Set<Element>(place === null ? [] : placesOf(place));
    for (const old of container.querySelectorAll(`.${name}`)) if (!wanted.has(old)) old.classList.remove(name);
    for (const one of wanted) one.classList.add(name);
  };

  const markAll = (): void => {
    const at = cursor?.note == null || sections[cursor.phrase]?.isStale !== false ? null : { phrase: cursor.phrase, note: cursor.note };
    mark('at-cursor', at);
    mark('sounding', sounding);
    for (const old of container.querySelectorAll('[aria-selected="true"]')) old.setAttribute('aria-selected', 'false');
    const [first] = at === null ? [] : placesOf(at);
    first?.setAttribute('aria-selected', 'true');
    // One note is reached with the tab key, the others from there with the arrows.
    reachable?.setAttribute('tabindex', '-1');
    reachable = first ?? container.querySelector('.place[role="option"]');
    reachable?.setAttribute('tabindex', '0');
    sections.forEach(({ element }, i) => element.classList.toggle('current', sections.length > 1 && i === cursor?.phrase));
  };

  /** The words of a phrase; answers the phrase whose picture belongs to them. */
  const drawWords = (section: Section, key: string, phrase: ScorePhrase): ScorePhrase => {
    if (phrase.broken === null) good.set(key, phrase);
    const kept = phrase.broken === null ? phrase : good.get(key);
    const pictured = kept ?? phrase;
    section.isStale = phrase.broken !== null && kept !== undefined;
    section.shown = phrase;
    if (section.key !== key) {
      // Until the picture of this phrase is drawn, that of another would mislead.
      section.key = key;
      section.drawn = new Map();
      section.systems.replaceChildren();
    }
    section.element.classList.toggle('stale', section.isStale);
    section.element.setAttribute('aria-label', phrase.name || 'A phrase without a name');
    setText(section.name, phrase.name || 'A phrase without a name');
    setText(section.heading, phrase.heading);
    setText(section.state, phrase.broken === null ? '' : `${section.isStale ? 'The picture is of the text before this error' : 'The picture leaves out what cannot be read'}: ${phrase.broken.message}`);
    showFindings(section.findings, phrase, onFinding);
    showSays(section.says, phrase.says);
    return pictured;
  };

  /** A phrase that cannot be drawn says so, and takes no other with it. */
  const drawPicture = (section: Section, pictured: ScorePhrase, options: SystemOptions): void => {
    try {
      placeSystems(section, systemsOf(section, pictured, options));
    } catch (error) {
      setText(section.state, `This phrase could not be drawn: ${error instanceof Error ? error.message : String(error)}`);
    }
  };

  const systemsOf = (section: Section, pictured: ScorePhrase, options: SystemOptions): Map<string, DrawnSystem> => {
    const drawn = new Map<string, DrawnSystem>();
    for (const [i, picture] of engraver.engrave(pictured.musicXml, widthOf(container)).entries()) {
      const id = `${i} ${JSON.stringify([options.degrees, options.devices, dataIn(picture, pictured), options.devices ? pictured.devices : []])} ${picture}`;
      drawn.set(id, section.drawn.get(id) ?? drawSystem(picture, pictured, options));
    }
    return drawn;
  };

  return {
    show(uri, score, options) {
      const names = new Map<string, number>();
      const width = widthOf(container);
      const waiting: (() => void)[] = [];
      score.phrases.forEach((phrase, i) => {
        const count = (names.get(phrase.name) ?? 0) + 1;
        names.set(phrase.name, count);
        const section = (sections[i] ??= addSection(container, i));
        const pictured = drawWords(section, `${uri} ${count} ${phrase.name}`, phrase);
        // A long lesson is engraved phrase by phrase, so that typing goes on meanwhile; what an edit changed comes first.
        const isNow = engraver.has(pictured.musicXml, width) || i === (cursor?.phrase ?? 0);
        if (isNow) drawPicture(section, pictured, options);
        else waiting.push(() => drawPicture(section, pictured, options));
      });
      for (const section of sections.splice(score.phrases.length)) section.element.remove();
      clearTimeout(later);
      const next = (): void => {
        const draw = waiting.shift();
        if (draw === undefined) return;
        draw();
        markAll();
        later = window.setTimeout(next);
      };
      later = window.setTimeout(next);
      if (good.size > 2000) good.clear();
      markAll();
    },
    markCursor(place) {
      const before = cursor;
      cursor = place;
      markAll();
      if (before?.phrase !== place.phrase) sections[place.phrase]?.element.scrollIntoView({ block: 'nearest' });
      if (place.note !== null && (before?.phrase !== place.phrase || before.note !== place.note)) placesOf({ phrase: place.phrase, note: place.note })[0]?.scrollIntoView({ block: 'nearest' });
    },
    markSounding(place) {
      sounding = place;
      mark('sounding', place);
      if (place !== null) placesOf(place)[0]?.scrollIntoView({ block: 'nearest' });
    },
    placeAt(element) {
      const place = element?.closest('.place');
      const section = sections.findIndex((one) => place != null && one.element.contains(place));
      return place == null || section < 0 || sections[section]!.isStale ? null : { phrase: section, note: Number(place.getAttribute('data-note')) };
    },
    beside({ phrase, note }, step) {
      const count = sections[phrase]?.shown?.notes.length ?? 0;
      if (note + step >= 0 && note + step < count) return { phrase, note: note + step };
      const next = sections[phrase + step]?.shown;
      return next === undefined || next.notes.length === 0 ? null : { phrase: phrase + step, note: step === 1 ? 0 : next.notes.length - 1 };
    },
    edge: ({ phrase }, end) => ({ phrase, note: end === 'first' ? 0 : Math.max(0, (sections[phrase]?.shown?.notes.length ?? 1) - 1) }),
    focus: (place) => placesOf(place)[0]?.focus(),
    elementOf: (place) => placesOf(place)[0] ?? null,
    phraseOf: (index) => sections[index]?.shown,
  };
}

/** The picture is engraved for the room there is, in steps, so that dragging the edge of the view does not engrave at every pixel. */
export function widthOf(container: HTMLElement): number {
  return Math.max(320, Math.min(1100, Math.floor(container.clientWidth / 20) * 20));
}

/** Puts systems in their places; those that are there already are left alone. */
function placeSystems(section: Section, drawn: Map<string, DrawnSystem>): void {
  section.drawn = drawn;
  const wanted = [...drawn.values()].map(({ element }) => element);
  wanted.forEach((element, i) => {
    const present = section.systems.children[i];
    if (present !== element) section.systems.insertBefore(element, present ?? null);
  });
  while (section.systems.children.length > wanted.length) section.systems.lastElementChild!.remove();
}

/** What the picture of a system shows of its notes. */
function dataIn(picture: string, { notes }: ScorePhrase): unknown {
  return [...picture.matchAll(/id="n-0-(\d+)"/g)].map(([, index]) => {
    const note = notes[Number(index)];
    return note === undefined ? null : [note.figure, note.role, note.finding, note.label];
  });
}

function addSection(container: HTMLElement, index: number): Section {
  const name = html('h2', { dir: 'auto' });
  const heading = html('p', { class: 'heading' });
  const state = html('p', { class: 'state', role: 'status' });
  const systems = html('div', { class: 'systems' });
  const findings = html('ul', { class: 'findings', 'aria-label': 'Findings' });
  const says = html('div', { class: 'says' });
  const element = html('section', { class: 'phrase', 'data-phrase': index }, html('header', {}, name, heading), state, systems, findings, says);
  container.append(element);
  return { element, name, heading, state, systems, findings, says, key: '', drawn: new Map(), shown: undefined, isStale: false };
}

function showFindings(list: HTMLElement, { findings }: ScorePhrase, onFinding: (start: number, end: number) => void): void {
  const buttons = findings.map(({ severity, message, start, end }) => {
    const button = html('button', { type: 'button', class: `finding ${severity}` }, html('span', { class: 'severity' }, severity === 'error' ? 'Error: ' : 'Warning: '), message);
    button.addEventListener('click', () => onFinding(start, end));
    return html('li', {}, button);
  });
  list.replaceChildren(...buttons);
}

function showSays(element: HTMLElement, says: readonly string[]): void {
  if (says.join('\n') === [...element.children].map((child) => child.textContent).join('\n')) return;
  element.replaceChildren(...says.map((say) => html('p', { dir: 'auto' }, say)));
}
