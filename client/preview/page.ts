/** The phrases on the page. Only what an edit changed is drawn anew, so that nothing flickers and nothing jumps. */
import type { Engraver, Engraving } from '../../server/src/picture/engraver';
import type { KeyPicture, NotePlace, Score, ScoreNote } from '../src/score/messages';
import { engravingSoon, engravingWhenIdle } from './phrases/ahead';
import { createAnchor, type Anchor } from './phrases/anchor';
import { createAnnouncer } from './phrases/announcer';
import { createDrawing, type Drawing } from './phrases/drawing';
import { createFollowing } from './phrases/following';
import { keysOf } from './phrases/keys';
import { createMarks } from './phrases/marks';
import { drawPicture } from './phrases/picture';
import { headOf, keepingFocus, notesIn, notesToldBy, placeAt, placesOf, systemsIn } from './phrases/places';
import { createPlayedKeys } from './phrases/played';
import { engravedWidth, widthOf, type PageOptions } from './phrases/room';
import { settle } from './phrases/settle';
import { emptyPage, phraseAt } from './phrases/shown';
import { beside, edge, level } from './phrases/navigation';
import { updatePhrases } from './phrases/update';
import { goToWalkthrough } from './section';

export type { PageOptions };

export interface Page {
  /** Shows a score. A phrase that cannot be read keeps its last good picture, and says so. Answers the milliseconds that the picture of the current phrase took; null where it stays. */
  show(uri: string, score: Score, options: PageOptions): number | null;
  /** Holds what is read where it was before the page got wider or narrower. Answers whether its pictures are to be drawn for another width. */
  resized(): boolean;
  /** Marks the note at the text's cursor, and its phrase; what is in view already is not scrolled. */
  markCursor(place: { readonly phrase: number; readonly note: number | null }): void;
  markSounding(place: NotePlace | null): void;
  /** Marks the notes of the sentence of a walk-through that an element belongs to; none where it belongs to none. */
  markTold(element: Element | null): void;
  /** The first note of that sentence; null where there is none to choose. */
  toldAt(element: Element | null): NotePlace | null;
  /** Engraves pictures ahead of their time, one by one. */
  prepare(pictures: readonly Engraving[]): void;
  /** Shows a phrase in another key while it sounds there, with words on it; any other as it is written. */
  showPlayed(phrase: number, picture: KeyPicture, words: string): void;
  /** Brings a walk-through into sight, and gives it the focus. Answers whether there is one. */
  goToWalkthrough(phrase: number): boolean;
  /** Shows all as written again. */
  showWritten(): void;
  /** The place of an element of the page; null where it is no note, or one of a picture that is out of date. */
  placeAt(element: Element | null): NotePlace | null;
  /** The note a step away, for the arrow keys, past phrases that have none to choose; null at the ends. */
  beside(place: NotePlace, step: 1 | -1): NotePlace | null;
  /** The note above or below, in the system before or after; null at the ends. */
  level(place: NotePlace, step: 1 | -1): NotePlace | null;
  edge(place: NotePlace, end: 'first' | 'last'): NotePlace;
  focus(place: NotePlace): void;
  elementOf(place: NotePlace): Element | null;
  /** A note as it is shown: in the key that sounds, where its phrase is. */
  noteOf(place: NotePlace): ScoreNote | null;
}

export function createPage(container: HTMLElement, engraver: Engraver, onFinding: (phrase: number, finding: number) => void): Page {
  const page = emptyPage(container);
  const width = (): number => engravedWidth(page);
  const draw = (index: number): void => drawPicture(engraver, page, index);
  const announce = createAnnouncer(page);
  const marks = createMarks(container, page);
  const anchor = createAnchor(page);
  const drawing = createDrawing(page, { draw, anchor, marks, idle: engravingWhenIdle(engraver, width) });
  const following = createFollowing(page, { marks, drawing, announce });
  const soon = engravingSoon(engraver, width);
  const played = createPlayedKeys(page, draw, (change) =>
    keepingFocus(page, () => {
      change();
      marks.show();
    }),
  );
  followReader(anchor, drawing);

  return {
    show(uri, { phrases, here }, options) {
      const held = anchor.now();
      page.options = options;
      page.width = widthOf(container);
      document.documentElement.style.setProperty('--size', String(options.size));
      container.classList.toggle('without-walkthrough', !options.walkthrough);
      if (here !== null) page.cursor = { ...page.cursor, phrase: here };
      drawing.pause();
      const keys = keysOf(uri, phrases);
      let took: number | null = null;
      const change = (): void => {
        settle(container, page, keys, (one, finding) => onFinding(page.shown.indexOf(one), finding));
        updatePhrases(page, phrases, keys);
        took = drawing.current();
        marks.show();
        marks.showCurrent();
      };
      anchor.hold(() => keepingFocus(page, change), held);
      following.bring();
      drawing.inSight();
      announce();
      return took;
    },
    resized() {
      anchor.restore();
      return widthOf(container) !== page.width;
    },
    markCursor: following.cursor,
    markSounding: following.sounding,
    markTold: (element) => marks.showSentence(notesToldBy(page, element)),
    toldAt: (element) => notesToldBy(page, element)[0] ?? null,
    prepare: soon.begin,
    showPlayed: played.show,
    goToWalkthrough(phrase) {
      const section = page.shown[phrase]?.section;
      return section !== undefined && goToWalkthrough(section);
    },
    showWritten() {
      soon.stop();
      played.end();
    },
    placeAt: (element) => placeAt(page, element),
    beside: (place, step) => beside(notesIn(page), place, step),
    level: (place, step) => level(systemsIn(page), place, step, headOf),
    edge: (place, end) => edge(notesIn(page), place, end),
    focus(place) {
      drawing.atOnce(place.phrase);
      placesOf(page, place)[0]?.focus();
    },
    elementOf: (place) => placesOf(page, place)[0] ?? null,
    noteOf: ({ phrase, note }) => phraseAt(page, phrase)?.notes[note] ?? null,
  };
}

/** Follows the reader, who scrolls, or opens what stands above the phrases. */
function followReader(anchor: Anchor, drawing: Drawing): void {
  let frame = 0;
  const onScroll = (): void => {
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(() => {
      anchor.renew();
      drawing.inSight();
    });
  };
  window.addEventListener('scroll', onScroll, { passive: true });
  // What is opened above the phrases moves them, and they stay there.
  document.addEventListener('toggle', anchor.renew, true);
}
