/** The phrases on the page. Only what an edit changed is drawn anew, so that nothing flickers and nothing jumps. */
import type { Engraver, Engraving } from '../../server/src/picture/engraver';
import { LANE } from '../../server/src/picture/system';
import {
  DEFAULT_OPTIONS,
  type KeyPicture,
  type NotePlace,
  type Score,
  type ScoreNote,
  type ScorePhrase,
  type ViewOptions,
} from '../src/score/messages';
import { html, setText } from './dom';
import { addSection, notesOfSentence, type Section } from './section';
import { anchorOf, distanceFrom, engravingOrder, estimatedHeight, placesFor, scrollFor, timesLegible, type Extent } from './sight';
import { showSystem, type ShownSystem } from './system';

/** What of the reader's options the page depends on. */
export type PageOptions = Pick<ViewOptions, 'degrees' | 'devices' | 'walkthrough' | 'size'>;

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

/** A phrase that stays where it is while others around it change. */
interface Held {
  readonly one: Shown;
  readonly at: Extent;
}

/** A phrase as it is shown now. */
interface Shown {
  readonly section: Section;
  /** Document, name, and how many of that name. */
  key: string;
  phrase: ScorePhrase;
  /** The phrase whose picture it is: the last one that could be read whole. */
  pictured: ScorePhrase;
  /** What it was drawn for: nothing is done while that is the same. */
  drawnFor: string;
}

/** Milliseconds that drawing goes on before a key may come in between. */
const SLICE = 40;

/** Pixels of the usual size: a bar of eighths with its clef needs as much. */
const NARROWEST = 240;

/** How many phrases next to those in sight are engraved ahead of their time. */
const AHEAD = 24;

/** What a place on the page holds before its phrase has come. */
const NOTHING: ScorePhrase = {
  revision: 0,
  name: '',
  start: 0,
  end: 0,
  heading: '',
  tempo: 120,
  musicXml: '',
  notes: [],
  devices: [],
  bars: [],
  findings: [],
  says: [],
  walkthrough: [],
  broken: null,
  unfinished: false,
};

export function createPage(container: HTMLElement, engraver: Engraver, onFinding: (phrase: number, finding: number) => void): Page {
  const shown: Shown[] = [];
  /** The last picture of each phrase that could be read whole, by its key. */
  const good = new Map<string, ScorePhrase>();
  const marked = new Map<string, readonly Element[]>();
  // One voice for all phrases, and only in a pause: typing makes and mends errors at every keystroke.
  const announcer = html('div', { class: 'announcer', role: 'status' });
  document.body.append(announcer);
  let announcing = 0;
  let cursor: { readonly phrase: number; readonly note: number | null } = { phrase: 0, note: null };
  let reachable: Element | null = null;
  /** Phrases whose pictures are out of date. Only those near to what is in sight are drawn; the others when they come near. */
  const waiting = new Set<Shown>();
  let drawing = 0;
  let idling = 0;
  let preparing = 0;
  /** The phrase that was last brought into sight. */
  let brought = '';
  let options: PageOptions = DEFAULT_OPTIONS;
  /** The phrase that sounds in another key. */
  let played: { readonly phrase: number; readonly picture: KeyPicture; readonly words: string } | null = null;
  let sounding: NotePlace | null = null;

  const placesOf = ({ phrase, note }: NotePlace): readonly SVGRectElement[] =>
    [...(shown[phrase]?.section.drawn().values() ?? [])].flatMap(({ places }) => places.get(note) ?? []);

  const mark = (name: string, ...notes: readonly (NotePlace | null)[]): readonly Element[] => {
    const wanted = notes.flatMap((place) => (place === null ? [] : placesOf(place)));
    for (const old of marked.get(name) ?? []) if (!wanted.includes(old as SVGRectElement)) old.classList.remove(name);
    for (const one of wanted) one.classList.add(name);
    marked.set(name, wanted);
    return wanted;
  };

  const showMarks = (): void => {
    const at =
      cursor.note === null || shown[cursor.phrase]?.section.isStale() !== false ? null : { phrase: cursor.phrase, note: cursor.note };
    for (const old of marked.get('at-cursor') ?? []) old.setAttribute('aria-selected', 'false');
    const [first] = mark('at-cursor', at);
    first?.setAttribute('aria-selected', 'true');
    mark('sounding', sounding);
    // One note is reached with the tab key, the others from there with the arrows.
    reachable?.setAttribute('tabindex', '-1');
    reachable = first ?? container.querySelector('.systems:not([inert]) .place[role="option"]');
    reachable?.setAttribute('tabindex', '0');
  };

  const showCurrent = (): void =>
    shown.forEach(({ section }, i) => section.element.classList.toggle('current', shown.length > 1 && i === cursor.phrase));

  const announce = (): void => {
    const words = stateOf(shown[cursor.phrase]);
    clearTimeout(announcing);
    announcing = window.setTimeout(() => setText(announcer, words), 1000);
  };

  /** Pixels: asked of the page once a score, for to ask lays out all of it. */
  let width = widthOf(container);
  /** A picture fills the width that there is: one that is engraved for less of it is larger, one that needs more is smaller. */
  const engravedWidth = (): number => Math.max(NARROWEST, Math.round(width / options.size));

  /** What a phrase is drawn for, as far as it changes from one score to the next. */
  const stamp = ({ revision, broken, unfinished }: ScorePhrase): string =>
    `${revision} ${unfinished} ${broken?.message ?? ''} ${width} ${engravedWidth()} ${options.degrees} ${options.devices}`;

  /** The notes that a sentence of a walk-through is about; a picture that is out of date has other notes. */
  const toldBy = (element: Element | null): NotePlace[] => {
    const phrase = element === null ? -1 : shown.findIndex(({ section }) => section.walkthrough.contains(element));
    return phrase < 0 || shown[phrase]!.section.isStale() ? [] : notesOfSentence(element).map((note) => ({ phrase, note }));
  };

  /** A phrase that cannot be drawn says so, keeps its picture as one that is out of date, and takes no other with it. */
  const drawPicture = (index: number): void => {
    const one = shown[index]!;
    const { section, pictured } = one;
    waiting.delete(one);
    one.drawnFor = stamp(one.phrase);
    try {
      section.showSystems(systemsOf(section, played?.phrase === index ? inKey(pictured, played.picture) : pictured));
      if (played?.phrase === index) section.showState(played.words, 'played');
    } catch (error) {
      section.setState('stale');
      section.showState(`This phrase could not be drawn: ${error instanceof Error ? error.message : String(error)}`, 'error');
    }
  };

  const systemsOf = (section: Section, phrase: ScorePhrase): Map<string, ShownSystem> => {
    const pictures = engraver.engrave(phrase, engravedWidth());
    const before = section.drawn();
    return new Map(
      pictures.map((picture, i) => {
        const names = options.devices ? timesLegible(LANE.size, unitsOf(picture), width) : 1;
        const id = `${i + 1} of ${pictures.length} ${JSON.stringify([options.degrees, options.devices, names, dataIn(picture, phrase), options.devices ? phrase.devices : []])} ${picture}`;
        return [
          id,
          before.get(id) ??
            showSystem(picture, phrase, { ...options, names, place: pictures.length === 1 ? '' : `system ${i + 1} of ${pictures.length}` }),
        ];
      }),
    );
  };

  /** Draws, and gives the focus back to the note that had it, where its element was drawn anew. */
  const keepingFocus = (draw: () => void): void => {
    const focused = placeAt(document.activeElement);
    draw();
    if (focused !== null && document.activeElement === document.body) placesOf(focused)[0]?.focus({ preventScroll: true });
  };

  const view = (): Extent => ({ top: 0, bottom: window.innerHeight });
  const extentOf = ({ section }: Shown): Extent => section.element.getBoundingClientRect();

  let lastHeld: Held | null = null;
  /** What is read, and where it is to stand. The page scrolls by whole pixels: what is lost of one is made good by the next change. */
  const heldNow = (): Held | null => {
    const extents = shown.map(extentOf);
    const anchor = anchorOf(extents, view(), cursor.phrase);
    if (anchor === null) return null;
    const [one, at] = [shown[anchor]!, extents[anchor]!];
    return lastHeld?.one === one && Math.abs(scrollFor(lastHeld.at, at)) < 1 ? lastHeld : { one, at };
  };
  /** Changes the page, and holds what is read where it is. */
  const holdingStill = (change: () => void, held = heldNow()): void => {
    change();
    const by = held === null || !shown.includes(held.one) ? 0 : scrollFor(held.at, extentOf(held.one));
    if (by !== 0) window.scrollBy(0, by);
    lastHeld = heldNow();
  };

  /** Draws what waits in sight and about as far again around it, in slices, so that typing goes on meanwhile; then what is next to it is engraved while nothing else is to be done. */
  const drawInSight = (): void => {
    clearTimeout(drawing);
    const until = performance.now() + SLICE;
    while (waiting.size > 0) {
      const [extents, seen] = [shown.map(extentOf), view()];
      const next = engravingOrder(extents, seen, cursor.phrase).find((index) => waiting.has(shown[index]!));
      if (next === undefined || distanceFrom(seen, extents[next]!) > window.innerHeight) break;
      holdingStill(() => keepingFocus(() => drawPicture(next)));
      if (next === cursor.phrase || next === sounding?.phrase || reachable === null) showMarks();
      if (performance.now() < until) continue;
      drawing = window.setTimeout(drawInSight);
      return;
    }
    engraveInIdleTime();
  };

  const engraveInIdleTime = (): void => {
    cancelIdleCallback(idling);
    const order = engravingOrder(shown.map(extentOf), view(), cursor.phrase)
      .map((index) => shown[index]!)
      .filter((one) => waiting.has(one))
      .slice(0, AHEAD);
    const next = (): void => {
      const one = order.shift();
      if (one === undefined) return;
      try {
        if (!engraver.has(one.pictured, engravedWidth())) engraver.engrave(one.pictured, engravedWidth());
      } catch {
        // It says so when it comes into sight.
      }
      idling = requestIdleCallback(next);
    };
    idling = requestIdleCallback(next);
  };

  let scrolling = 0;
  window.addEventListener(
    'scroll',
    () => {
      cancelAnimationFrame(scrolling);
      scrolling = requestAnimationFrame(() => {
        lastHeld = heldNow();
        drawInSight();
      });
    },
    { passive: true },
  );

  // What the reader opens above the phrases moves them, and they stay there.
  document.addEventListener(
    'toggle',
    () => {
      lastHeld = heldNow();
    },
    true,
  );

  const drawAtOnce = (index: number): void => {
    const one = shown[index];
    if (one !== undefined && waiting.has(one)) holdingStill(() => drawPicture(index));
  };

  const bring = (index: number): void => {
    const one = shown[index];
    if (one === undefined || one.key === brought) return;
    brought = one.key;
    if (shown.length > 1) one.section.element.scrollIntoView({ block: 'nearest' });
  };

  /** Gives each phrase its place on the page: the one it has, where it has one. */
  const settle = (keys: readonly string[]): void => {
    const [soundingOne, playedOne] = [sounding, played].map((one) => (one === null ? undefined : shown[one.phrase]));
    const before = [...shown];
    const next = placesFor(
      before.map(({ key }) => key),
      keys,
    ).map((index) => (index === null ? null : before[index]!));
    for (const one of before) {
      if (next.includes(one)) continue;
      one.section.element.remove();
      waiting.delete(one);
    }
    shown.splice(
      0,
      shown.length,
      ...next.map((known): Shown => {
        if (known !== null) return known;
        const one: Shown = {
          section: addSection(container, (finding) => onFinding(shown.indexOf(one), finding)),
          key: '',
          phrase: NOTHING,
          pictured: NOTHING,
          drawnFor: '',
        };
        return one;
      }),
    );
    // What stands in its place stays: to move it would take the focus from it.
    shown.forEach(({ section: { element } }, i) => {
      if (container.children[i] !== element) container.insertBefore(element, container.children[i] ?? null);
    });
    const indexOf = (one: Shown | undefined): number => (one === undefined ? -1 : shown.indexOf(one));
    if (sounding !== null) sounding = indexOf(soundingOne) < 0 ? null : { ...sounding, phrase: indexOf(soundingOne) };
    if (played !== null) played = indexOf(playedOne) < 0 ? null : { ...played, phrase: indexOf(playedOne) };
  };

  /** Takes what is new of a phrase; answers whether its picture has to be drawn. */
  const take = (index: number, phrase: ScorePhrase, key: string): boolean => {
    const one = shown[index]!;
    const { section } = one;
    one.phrase = phrase;
    const isOther = one.key !== key;
    if (isOther) {
      // Until the picture of this phrase is drawn, that of another would mislead.
      one.key = key;
      one.drawnFor = '';
      section.showSystems(new Map());
      if (played?.phrase === index) played = null;
      if (sounding?.phrase === index) sounding = null;
    }
    // What is still to come has a name and no more.
    if (phrase.revision === 0) {
      one.drawnFor = '';
      if (isOther) section.showWords(phrase, '');
      return false;
    }
    if (one.drawnFor === stamp(phrase)) return false;
    const isWhole = phrase.broken === null && !phrase.unfinished;
    if (isWhole) good.set(key, phrase);
    const kept = isWhole ? phrase : good.get(key);
    one.pictured = kept ?? phrase;
    // A note that is being written is no error yet: the picture of a moment ago stays as it is.
    section.setState(isWhole || kept === undefined ? 'current' : phrase.broken === null ? 'behind' : 'stale');
    section.showWords(phrase, stateOf(one));
    section.showWalkthrough(one.pictured.walkthrough, isOther ? 'now' : 'in a pause');
    return true;
  };

  const placeAt = (element: Element | null): NotePlace | null => {
    const place = element?.closest('.place');
    const index = place == null ? -1 : shown.findIndex(({ section }) => section.element.contains(place));
    return index < 0 || shown[index]!.section.isStale() ? null : { phrase: index, note: Number(place!.getAttribute('data-note')) };
  };

  return {
    show(uri, { phrases, here }, chosen) {
      const held = heldNow();
      options = chosen;
      width = widthOf(container);
      document.documentElement.style.setProperty('--size', String(options.size));
      container.classList.toggle('without-walkthrough', !options.walkthrough);
      if (here !== null) cursor = { ...cursor, phrase: here };
      if (good.size > 2000) good.clear();
      clearTimeout(drawing);
      cancelIdleCallback(idling);
      const keys = keysOf(uri, phrases);
      let taken: number | null = null;
      holdingStill(
        () =>
          keepingFocus(() => {
            settle(keys);
            phrases.forEach((phrase, i) => {
              const one = shown[i]!;
              if (take(i, phrase, keys[i]!)) waiting.add(one);
              else waiting.delete(one);
              if (one.drawnFor === '') one.section.keepRoom(estimatedHeight(phrase.bars.length, width, options.size));
            });
            const current = shown[cursor.phrase];
            if (current !== undefined && waiting.has(current)) {
              const from = performance.now();
              drawPicture(cursor.phrase);
              taken = performance.now() - from;
            }
            showMarks();
            showCurrent();
          }),
        held,
      );
      bring(cursor.phrase);
      drawInSight();
      announce();
      return taken;
    },
    resized() {
      holdingStill(() => undefined, lastHeld);
      return widthOf(container) !== width;
    },
    markCursor(place) {
      const before = cursor;
      drawAtOnce(place.phrase);
      cursor = place;
      showMarks();
      bring(place.phrase);
      if (before.phrase !== place.phrase) {
        showCurrent();
        announce();
        drawInSight();
      }
      if (place.note !== null && (before.phrase !== place.phrase || before.note !== place.note))
        placesOf({ phrase: place.phrase, note: place.note })[0]?.scrollIntoView({ block: 'nearest' });
    },
    markSounding(place) {
      sounding = place;
      if (place !== null && place.phrase === cursor.phrase) drawAtOnce(place.phrase);
      const [first] = mark('sounding', place);
      // Who looks at another phrase than the one that sounds goes on looking at it.
      if (place?.phrase === cursor.phrase) first?.scrollIntoView({ block: 'nearest' });
    },
    markTold: (element) => void mark('of-sentence', ...toldBy(element)),
    toldAt: (element) => toldBy(element)[0] ?? null,
    prepare(pictures) {
      const waiting = [...pictures];
      const next = (): void => {
        const picture = waiting.shift();
        if (picture === undefined) return;
        engraver.engrave(picture, engravedWidth());
        preparing = window.setTimeout(next, 50);
      };
      clearTimeout(preparing);
      preparing = window.setTimeout(next, 50);
    },
    showPlayed(phrase, picture, words) {
      const before = played;
      played = { phrase, picture, words };
      keepingFocus(() => {
        if (before !== null && before.phrase !== phrase && shown[before.phrase] !== undefined) restore(before.phrase);
        if (shown[phrase] !== undefined && !shown[phrase].section.isStale()) drawPicture(phrase);
        showMarks();
      });
    },
    showWritten() {
      clearTimeout(preparing);
      const before = played;
      played = null;
      if (before === null || shown[before.phrase] === undefined) return;
      keepingFocus(() => {
        restore(before.phrase);
        showMarks();
      });
    },
    goToWalkthrough(phrase) {
      const walkthrough = shown[phrase]?.section.walkthrough;
      if (walkthrough === undefined || walkthrough.hidden) return false;
      walkthrough.scrollIntoView({ block: 'nearest' });
      walkthrough.focus({ preventScroll: true });
      walkthrough.classList.add('found');
      walkthrough.addEventListener('blur', () => walkthrough.classList.remove('found'), { once: true });
      return true;
    },
    placeAt,
    beside({ phrase, note }, step) {
      const count = shown[phrase]?.pictured.notes.length ?? 0;
      if (note + step >= 0 && note + step < count) return { phrase, note: note + step };
      for (let i = phrase + step; shown[i] !== undefined; i += step) {
        const {
          section,
          pictured: { notes },
        } = shown[i]!;
        if (!section.isStale() && notes.length > 0) return { phrase: i, note: step === 1 ? 0 : notes.length - 1 };
      }
      return null;
    },
    level({ phrase, note }, step) {
      const systems = shown.flatMap(({ section }, i) =>
        section.isStale() ? [] : [...section.drawn().values()].map(({ places }) => ({ phrase: i, places })),
      );
      const here = systems.findIndex((system) => system.phrase === phrase && system.places.has(note));
      const target = systems[here]?.places.get(note)?.[0];
      if (target === undefined) return null;
      const middle = (place: SVGRectElement): number => Number(place.getAttribute('x')) + Number(place.getAttribute('width')) / 2;
      for (let i = here + step; systems[i] !== undefined; i += step) {
        const near = [...systems[i]!.places].flatMap(([index, [first]]) =>
          first?.getAttribute('role') === 'option' ? [{ index, far: Math.abs(middle(first) - middle(target)) }] : [],
        );
        if (near.length > 0)
          return { phrase: systems[i]!.phrase, note: near.reduce((best, one) => (one.far < best.far ? one : best)).index };
      }
      return null;
    },
    edge: ({ phrase }, end) => ({ phrase, note: end === 'first' ? 0 : Math.max(0, (shown[phrase]?.pictured.notes.length ?? 1) - 1) }),
    focus(place) {
      drawAtOnce(place.phrase);
      placesOf(place)[0]?.focus();
    },
    elementOf: (place) => placesOf(place)[0] ?? null,
    noteOf({ phrase, note }) {
      const pictured = shown[phrase]?.pictured;
      return (
        (pictured === undefined ? undefined : played?.phrase === phrase ? inKey(pictured, played.picture) : pictured)?.notes[note] ?? null
      );
    },
  };

  function restore(index: number): void {
    const one = shown[index]!;
    one.section.showState(stateOf(one), 'error');
    drawPicture(index);
  }
}

/** Document, name, and how many of that name: what tells the phrases of a page apart from one score to the next. */
function keysOf(uri: string, phrases: readonly ScorePhrase[]): string[] {
  const names = new Map<string, number>();
  return phrases.map(({ name }) => {
    const count = (names.get(name) ?? 0) + 1;
    names.set(name, count);
    return `${uri} ${count} ${name}`;
  });
}

/** A phrase as it sounds in another key: what is told of its notes in the text is about those that are written. */
function inKey(phrase: ScorePhrase, { musicXml, labels }: KeyPicture): ScorePhrase {
  return {
    ...phrase,
    musicXml,
    notes: phrase.notes.map((note, i) => (labels[i] === undefined ? note : { ...note, label: labels[i], lines: [labels[i]] })),
  };
}

/** What keeps a phrase's picture from being up to date, in words; empty for nothing. */
function stateOf(one: Shown | undefined): string {
  if (one === undefined) return '';
  const { phrase, pictured } = one;
  if (phrase.revision === 0) return '';
  if (phrase.broken === null) return phrase.notes.length === 0 ? 'This phrase has no notes yet. Write a line: line | C4 D E F |' : '';
  const what = pictured !== phrase ? 'The picture is of the text before this error' : 'The picture leaves out what cannot be read';
  // The error's own words stand below the picture, unless it is in a definition.
  const isBelow = phrase.findings.some(({ start, message }) => start === phrase.broken!.start && message === phrase.broken!.message);
  return isBelow ? `${what}.` : `${what}.\n${phrase.broken.message}`;
}

/** The picture is engraved for the room there is, in steps, so that dragging the edge of the view does not engrave at every pixel. */
export function widthOf(container: HTMLElement): number {
  return Math.max(100, Math.min(1100, Math.floor(container.clientWidth / 20) * 20));
}

/** How wide an engraved picture is, in its own units. */
function unitsOf(picture: string): number {
  return Number(/class="definition-scale"[^>]* viewBox="0 0 ([\d.]+)/.exec(picture)?.[1] ?? 0);
}

/** What the picture of a system shows of its notes. */
function dataIn(picture: string, { notes }: ScorePhrase): unknown {
  return [...picture.matchAll(/id="n-0-(\d+)(?:-\d+)?"/g)].map(([, index]) => {
    const note = notes[Number(index)];
    return note === undefined ? null : [note.figure, note.role, note.later, note.finding, note.label];
  });
}
