/** Marks on notes and phrases: what the cursor is at, what sounds, what is told of. */
import type { NotePlace } from '../../src/score/messages';
import { placesOf } from './places';
import type { Reads } from './shown';

export interface Marks {
  /** Marks the notes at the cursor and of the sound, wherever their elements were drawn anew. */
  show(): void;
  /** The same after the picture of one phrase was drawn, where that changes any mark. */
  showIn(phrase: number): void;
  /** Answers the first element of the note that sounds. */
  showSounding(): Element | null;
  showSentence(notes: readonly NotePlace[]): void;
  /** Marks the phrase at the cursor where there are several. */
  showCurrent(): void;
}

type Mark = 'at-cursor' | 'sounding' | 'of-sentence';

export function createMarks(container: HTMLElement, page: Reads<'shown' | 'cursor' | 'sounding'>): Marks {
  const marked = new Map<Mark, readonly Element[]>();
  /** The note that the tab key reaches. */
  let reachable: Element | null = null;

  const mark = (name: Mark, notes: readonly NotePlace[]): readonly Element[] => {
    const wanted = notes.flatMap((place) => placesOf(page, place));
    for (const old of marked.get(name) ?? []) if (!wanted.includes(old as SVGRectElement)) old.classList.remove(name);
    for (const one of wanted) one.classList.add(name);
    marked.set(name, wanted);
    return wanted;
  };

  const showSounding = (): Element | null => mark('sounding', page.sounding === null ? [] : [page.sounding])[0] ?? null;

  const show = (): void => {
    for (const old of marked.get('at-cursor') ?? []) old.setAttribute('aria-selected', 'false');
    const [first] = mark('at-cursor', noteAtCursor(page));
    first?.setAttribute('aria-selected', 'true');
    showSounding();
    // One note is reached with the tab key, the others from there with the arrows.
    reachable?.setAttribute('tabindex', '-1');
    reachable = first ?? container.querySelector('.systems:not([inert]) .place[role="option"]');
    reachable?.setAttribute('tabindex', '0');
  };

  return {
    show,
    showIn(phrase) {
      if (phrase === page.cursor.phrase || phrase === page.sounding?.phrase || reachable === null) show();
    },
    showSounding,
    showSentence: (notes) => void mark('of-sentence', notes),
    showCurrent() {
      const { shown, cursor } = page;
      shown.forEach(({ section }, i) => section.element.classList.toggle('current', shown.length > 1 && i === cursor.phrase));
    },
  };
}

/** None where the picture is out of date: the cursor is in a text that has other notes. */
function noteAtCursor({ shown, cursor: { phrase, note } }: Reads<'shown' | 'cursor'>): NotePlace[] {
  return note === null || shown[phrase]?.section.isStale() !== false ? [] : [{ phrase, note }];
}
