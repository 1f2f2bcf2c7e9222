/** Gives each phrase of a score its place on the page: the one it has, where it has one. */
import { addSection } from '../section';
import { placesFor } from '../sight';
import { movedTo } from './keys';
import { NOTHING } from './pictured';
import type { PageState, Shown } from './shown';

/** `keys` tell the phrases apart; what sounds and is played moves with its phrase, and ends where that is gone. */
export function settle(
  container: HTMLElement,
  page: Pick<PageState, 'shown' | 'sounding' | 'played'>,
  keys: readonly string[],
  onFinding: (one: Shown, finding: number) => void,
): void {
  const before = page.shown;
  const places = placesFor(
    before.map(({ key }) => key),
    keys,
  );
  const kept = new Set(places);
  before.forEach(({ section }, i) => {
    if (!kept.has(i)) section.element.remove();
  });
  page.shown = places.map((index) => (index === null ? added(container, onFinding) : before[index]!));
  // What stands in its place stays: to move it would take the focus from it.
  page.shown.forEach(({ section: { element } }, i) => {
    if (container.children[i] !== element) container.insertBefore(element, container.children[i] ?? null);
  });
  page.sounding = movedTo(page.sounding, before, page.shown);
  page.played = movedTo(page.played, before, page.shown);
}

function added(container: HTMLElement, onFinding: (one: Shown, finding: number) => void): Shown {
  const one: Shown = {
    section: addSection(container, (finding) => onFinding(one, finding)),
    key: '',
    phrase: NOTHING,
    pictured: NOTHING,
    drawnFor: '',
    isWaiting: false,
  };
  return one;
}
