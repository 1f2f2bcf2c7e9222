/** The elements of the page that stand for notes, and the notes that an element stands for. */
import type { NotePlace } from '../../src/score/messages';
import { notesOfSentence } from '../section';
import type { Reads } from './shown';
import type { Head, Notes, System } from './navigation';

/** The element of a note, and one more for each part it is tied to. */
export function placesOf({ shown }: Reads<'shown'>, { phrase, note }: NotePlace): readonly SVGRectElement[] {
  return [...(shown[phrase]?.section.drawn().values() ?? [])].flatMap(({ places }) => places.get(note) ?? []);
}

/** The place of an element; null where it is no note, or one of a picture that is out of date. */
export function placeAt({ shown }: Reads<'shown'>, element: Element | null): NotePlace | null {
  const place = element?.closest('.place');
  const index = place == null ? -1 : shown.findIndex(({ section }) => section.element.contains(place));
  return index < 0 || shown[index]!.section.isStale() ? null : { phrase: index, note: Number(place!.getAttribute('data-note')) };
}

/** The notes that a sentence of a walk-through is about; a picture that is out of date has other notes. */
export function notesToldBy({ shown }: Reads<'shown'>, element: Element | null): NotePlace[] {
  const phrase = element === null ? -1 : shown.findIndex(({ section }) => section.walkthrough.contains(element));
  return phrase < 0 || shown[phrase]!.section.isStale() ? [] : notesOfSentence(element).map((note) => ({ phrase, note }));
}

/** Draws, and gives the focus back to the note that had it, where its element was drawn anew. */
export function keepingFocus(page: Reads<'shown'>, draw: () => void): void {
  const focused = placeAt(page, document.activeElement);
  draw();
  if (focused !== null && document.activeElement === document.body) placesOf(page, focused)[0]?.focus({ preventScroll: true });
}

export function notesIn({ shown }: Reads<'shown'>): Notes[] {
  return shown.map(({ pictured, section }) => ({ count: pictured.notes.length, isStale: section.isStale() }));
}

/** The systems that have notes to choose, from the top. */
export function systemsIn({ shown }: Reads<'shown'>): System<SVGRectElement>[] {
  return shown.flatMap(({ section }, phrase) =>
    section.isStale() ? [] : [...section.drawn().values()].map(({ places }) => ({ phrase, places })),
  );
}

export function headOf(place: SVGRectElement): Head {
  return {
    middle: Number(place.getAttribute('x')) + Number(place.getAttribute('width')) / 2,
    isFirst: place.getAttribute('role') === 'option',
  };
}
