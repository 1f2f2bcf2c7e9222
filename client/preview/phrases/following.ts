/** The page follows the text's cursor and the sound: it marks their notes, and brings them into sight. */
import type { NotePlace } from '../../src/score/messages';
import type { Drawing } from './drawing';
import type { Marks } from './marks';
import { placesOf } from './places';
import type { PageState, Reads } from './shown';

export interface Following {
  cursor(place: PageState['cursor']): void;
  sounding(place: NotePlace | null): void;
  /** Brings the phrase at the cursor into sight, unless that was done. */
  bring(): void;
}

export interface FollowingParts {
  readonly marks: Pick<Marks, 'show' | 'showSounding' | 'showCurrent'>;
  readonly drawing: Pick<Drawing, 'atOnce' | 'inSight'>;
  announce(): void;
}

export function createFollowing(
  page: Reads<'shown'> & Pick<PageState, 'cursor' | 'sounding'>,
  { marks, drawing, announce }: FollowingParts,
): Following {
  /** The key of the phrase that was last brought into sight. */
  let brought = '';
  const bring = (): void => {
    const one = page.shown[page.cursor.phrase];
    if (one === undefined || one.key === brought) return;
    brought = one.key;
    if (page.shown.length > 1) one.section.element.scrollIntoView({ block: 'nearest' });
  };
  return {
    bring,
    cursor(place) {
      const before = page.cursor;
      const { phrase, note } = place;
      drawing.atOnce(phrase);
      page.cursor = place;
      marks.show();
      bring();
      if (before.phrase !== phrase) {
        marks.showCurrent();
        announce();
        drawing.inSight();
      }
      if (note !== null && (before.phrase !== phrase || before.note !== note))
        placesOf(page, { phrase, note })[0]?.scrollIntoView({ block: 'nearest' });
    },
    sounding(place) {
      page.sounding = place;
      const isCurrent = place?.phrase === page.cursor.phrase;
      if (isCurrent) drawing.atOnce(page.cursor.phrase);
      const first = marks.showSounding();
      // Who looks at another phrase than the one that sounds goes on looking at it.
      if (isCurrent) first?.scrollIntoView({ block: 'nearest' });
    },
  };
}
