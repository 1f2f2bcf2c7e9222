/** What the reader does with the notes and the sentences of the page: chooses them, points at them, goes from one to the next. */
import type { NotePlace } from '../../src/score/messages';
import type { Page } from '../page';
import type { Told } from '../told';
import type { Reads } from './state';

/** The pointer crosses many notes on its way: only where it rests is something told. Milliseconds. */
const REST = 300;

/** `focus`: where the reader is to write next. */
export type Choosing = (place: NotePlace, focus: 'text' | 'score') => void;

/** A click or a key chooses a note, or the first one of a sentence of the walk-through. */
export function chooseByPointer(container: HTMLElement, state: Reads<'page'>, choose: Choosing): void {
  container.addEventListener('click', ({ target }) => {
    const first = toldAt(state, target);
    if (first !== null) choose(first, 'score');
    const place = placeOf(state, target);
    if (place === null) return;
    choose(place, 'score');
    state.page!.focus(place);
  });
  container.addEventListener('dblclick', ({ target }) => {
    const place = placeOf(state, target);
    if (place !== null) choose(place, 'text');
  });
}

export function chooseByKeys(container: HTMLElement, state: Reads<'page'>, choose: Choosing): void {
  container.addEventListener('keydown', (event) => {
    if (hasModifier(event)) return;
    const first = toldAt(state, event.target);
    if (first !== null && event.key === 'Enter') choose(first, 'score');
    const place = placeOf(state, event.target);
    const to = place === null ? null : placeByKey(state.page!, place, event.key);
    if (to === null) return;
    event.preventDefault();
    choose(to, event.key === 'Enter' ? 'text' : 'score');
    state.page!.focus(to);
  });
}

function placeByKey(page: Page, place: NotePlace, key: string): NotePlace | null {
  switch (key) {
    case 'ArrowRight':
      return page.beside(place, 1);
    case 'ArrowLeft':
      return page.beside(place, -1);
    case 'ArrowUp':
      return page.level(place, -1);
    case 'ArrowDown':
      return page.level(place, 1);
    case 'Home':
      return page.edge(place, 'first');
    case 'End':
      return page.edge(place, 'last');
    case 'Enter':
      return place;
    default:
      return null;
  }
}

/** Tells of the note that the pointer rests on, or that has the focus, and marks the notes of a sentence there. */
export function tellOfNotes(container: HTMLElement, state: Reads<'page'>, told: Told): void {
  const tell = (place: NotePlace | null): void => {
    const note = place === null ? null : state.page!.noteOf(place);
    const element = place === null ? null : state.page!.elementOf(place);
    if (note === null || element === null) told.hide();
    else told.show(note, element);
  };
  let telling = 0;
  container.addEventListener('pointerover', ({ target }) => {
    clearTimeout(telling);
    state.page?.markTold(target as Element);
    const place = placeOf(state, target);
    if (place === null) told.hide();
    else telling = window.setTimeout(() => tell(place), REST);
  });
  container.addEventListener('pointerleave', () => {
    clearTimeout(telling);
    told.hide();
    state.page?.markTold(document.activeElement);
  });
  container.addEventListener('focusin', ({ target }) => {
    tell(placeOf(state, target));
    state.page?.markTold(target as Element);
  });
  container.addEventListener('focusout', () => {
    told.hide();
    state.page?.markTold(null);
  });
  window.addEventListener('scroll', () => told.hide(), { passive: true });
}

/** The keys that work wherever the reader is on the page: Space plays and stops, Escape stops. */
export function playByKeys({ toggle, stop }: { toggle(): void; stop(): void }): void {
  document.addEventListener('keydown', (event) => {
    if (hasModifier(event)) return;
    // Space and Enter belong to the controls while one of them has the focus.
    const isControl = (event.target as Element).closest('button, input, select, summary') !== null;
    if (event.key === 'Escape') stop();
    else if (event.key === ' ' && !isControl) {
      event.preventDefault();
      if (!event.repeat) toggle();
    }
  });
}

/** The first note of a sentence of the walk-through. */
function toldAt({ page }: Reads<'page'>, target: EventTarget | null): NotePlace | null {
  return page?.toldAt(target as Element | null) ?? null;
}

function placeOf({ page }: Reads<'page'>, target: EventTarget | null): NotePlace | null {
  return page?.placeAt(target as Element | null) ?? null;
}

function hasModifier({ ctrlKey, altKey, metaKey }: KeyboardEvent): boolean {
  return ctrlKey || altKey || metaKey;
}
