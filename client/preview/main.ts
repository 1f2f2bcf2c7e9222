/** The page of the score: shows what the extension sends, plays it, and tells the extension what was chosen. */
import {
  DEFAULT_OPTIONS,
  type FromView,
  type NotePlace,
  type Order,
  type Practice,
  type Score,
  type ScorePhrase,
  type Stretch,
  type ToView,
  type Track,
  type ViewOptions,
  type What,
} from '../src/score/messages';
import { isPartial, knownOf, wholeScore } from '../src/score/known';
import { createControls } from './controls';
import { html, setText } from './dom';
import { loadEngraver } from './engraver';
import { createPage, type Page, type PageOptions } from './page';
import { pianoFrom } from './piano';
import type { Repeat } from './player';
import { createPlaying } from './playing';
import { renderTrack } from './render';
import { waitAfter, type Picture } from './sight';
import { nameOf, renamedTempos, withTempo, type Subject, type Tempos } from './subject';
import { createTold } from './told';

declare function acquireVsCodeApi(): { postMessage(message: FromView): void };

const { postMessage } = acquireVsCodeApi();
const container = document.querySelector<HTMLElement>('#score')!;
const notice = document.querySelector<HTMLElement>('#notice')!;
const choice = document.querySelector<HTMLElement>('#choice')!;
const begin = document.querySelector<HTMLButtonElement>('#begin')!;

let options: ViewOptions = DEFAULT_OPTIONS;
let page: Page | null = null;
let shown: { readonly uri: string; readonly score: Score } | null = null;
let cursor: { readonly phrase: number; readonly note: number | null; readonly selection: Stretch | null } = {
  phrase: 0,
  note: null,
  selection: null,
};
let tempos: Tempos = new Map();
const told = createTold();
const lesson = html('h1', { class: 'lesson', dir: 'auto' });
container.before(lesson);

/** The options that change what the page shows. */
const PICTURED = ['degrees', 'devices', 'walkthrough', 'size'] as const satisfies readonly (keyof PageOptions)[];
/** The options that change what plays. */
const SOUNDS = ['loop', 'ratio', 'step', 'rise', 'order'] as const;
/** What was last asked for. */
let asked: { readonly what: What; readonly kind: Practice['kind'] } = { what: 'phrase', kind: 'plain' };
/** What the controls said before a command chose otherwise. */
let chosen: typeof asked | null = null;
/** The walk-through was asked for before there was a page. */
let isExplainAsked = false;
/** A refusal stands until something else is looked at. */
let isRefused = false;

// ── Showing ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

const controls = createControls(document.querySelector<HTMLElement>('#controls')!, options, {
  onPlay: () => toggle(),
  onOptions(changed, isFinal) {
    const before = options;
    options = changed;
    if (isFinal) postMessage({ type: 'options', options });
    playing.applyLevels();
    if (PICTURED.some((name) => changed[name] !== before[name])) draw();
    if (SOUNDS.some((name) => changed[name] !== before[name])) changePlaying();
  },
  onTempo(value) {
    const subject = subjectNow();
    if (subject !== null) tempos = withTempo(tempos, subject, value);
    showTempo();
    changePlaying();
  },
});

const bar = document.querySelector<HTMLElement>('#controls .bar')!;

const loadPiano = pianoFrom(document.body.dataset['piano']!, (reason) => postMessage({ type: 'without-piano', reason }));

const playing = createPlaying({
  loadPiano,
  post: postMessage,
  page: () => page,
  shown: () => ({ uri: shown?.uri ?? '', phrases: shown?.score.phrases ?? [] }),
  options: () => options,
  onPlaying(repeat) {
    controls.showPlaying(repeat);
    showTempo();
    if (repeat !== null || chosen === null) return;
    controls.choose(chosen.what, chosen.kind);
    chosen = null;
  },
  say: (words) => controls.say(words),
  showSounding: (words) => controls.showSounding(words),
});

function phraseHere(): ScorePhrase | undefined {
  return shown?.score.phrases[cursor.phrase];
}

/** Who loops a phrase and looks at another still hears the first: the controls are about that one. */
function subjectNow(): Subject | null {
  const phrase = phraseHere();
  return playing.subject() ?? (phrase === undefined ? null : { uri: shown!.uri, phrase });
}

const tempoOf = (subject: Subject): number | null => tempos.get(nameOf(subject)) ?? null;

function showTempo(): void {
  const subject = subjectNow();
  if (subject !== null) controls.showTempo(subject.phrase.tempo, tempoOf(subject));
}

/** Milliseconds between what came of a long lesson and what is asked for next, in which keys and pictures have their turn. */
const BETWEEN_PARTS = 60;

/** The last picture of the phrase at the cursor. */
let last: Picture = { took: 0, ended: 0 };
let drawLater = 0;

function drawSoon(): void {
  clearTimeout(drawLater);
  const wait = waitAfter(last, performance.now());
  if (wait === 0) draw();
  else drawLater = window.setTimeout(draw, wait);
}

function draw(): void {
  if (page === null || shown === null) return;
  told.hide();
  setText(lesson, shown.score.lesson ?? '');
  begin.hidden = shown.score.count > 0;
  setText(
    notice,
    shown.score.phrases.length === 0 ? 'This file has no phrase yet. Write one: phrase "Name", and under it a line of notes.' : '',
  );
  showTempo();
  // What stands above the phrases is in its place by now: what is brought into sight stays there.
  tellBarHeight();
  // The cursor may have gone on to another phrase since the score came.
  const here = shown.score.here === null ? null : cursor.phrase;
  const took = page.show(shown.uri, { ...shown.score, here }, options);
  if (took !== null) last = { took, ended: performance.now() };
  if (playing.isPlaying()) playing.follow();
}

/** What is scrolled into view may not come to lie under the controls that stay on top. */
function tellBarHeight(): void {
  const height = `${bar.offsetHeight}px`;
  const { style } = document.documentElement;
  if (style.getPropertyValue('--bar') !== height) style.setProperty('--bar', height);
}

/** Says that the picture is of a choice that is not made yet, and of which; null: it is of the text. */
function showChoice(title: string | null): void {
  setText(choice, title === null ? '' : `As it would be: ${title}`);
  container.classList.toggle('instead', title !== null);
  // The note at the cursor is one of the text, not of the choice.
  if (title === null) return;
  cursor = { ...cursor, note: null, selection: null };
  page?.markCursor(cursor);
}

// ── Choosing ───────────────────────────────────────────────────────────────────────────────────────────────────────────────

function choose(place: NotePlace, focus: boolean): void {
  cursor = { ...place, selection: null };
  page!.markCursor(place);
  showTempo();
  postMessage({ type: 'select', place, focus });
}

/** The notes of a cell share one place in the text: the one that was chosen here stays the one. */
function keptNote({ phrase: index, note }: { readonly phrase: number; readonly note: number | null }): number | null {
  const notes = shown?.score.phrases[index]?.notes;
  const [chosen, told] = [cursor.note === null ? undefined : notes?.[cursor.note], note === null ? undefined : notes?.[note]];
  const isSame =
    cursor.phrase === index && chosen !== undefined && told !== undefined && chosen.start === told.start && chosen.end === told.end;
  return isSame ? cursor.note : note;
}

function tell(place: NotePlace | null): void {
  const note = place === null ? null : page!.noteOf(place);
  const element = place === null ? null : page!.elementOf(place);
  if (note === null || element === null) told.hide();
  else told.show(note, element);
}

/** The first note of a sentence of the walk-through. */
const toldAt = (target: EventTarget | null): NotePlace | null => page?.toldAt(target as Element | null) ?? null;
const placeOf = (target: EventTarget | null): NotePlace | null => page?.placeAt(target as Element | null) ?? null;

container.addEventListener('click', ({ target }) => {
  const first = toldAt(target);
  if (first !== null) choose(first, false);
  const place = placeOf(target);
  if (place === null) return;
  choose(place, false);
  page!.focus(place);
});
container.addEventListener('dblclick', ({ target }) => {
  const place = placeOf(target);
  if (place !== null) choose(place, true);
});
/** The pointer crosses many notes on its way: only where it rests is something told. */
const REST = 300;
let telling = 0;
container.addEventListener('pointerover', ({ target }) => {
  clearTimeout(telling);
  page?.markTold(target as Element);
  const place = placeOf(target);
  if (place === null) told.hide();
  else telling = window.setTimeout(() => tell(place), REST);
});
container.addEventListener('pointerleave', () => {
  clearTimeout(telling);
  told.hide();
  page?.markTold(document.activeElement);
});
container.addEventListener('focusin', ({ target }) => {
  tell(placeOf(target));
  page?.markTold(target as Element);
});
container.addEventListener('focusout', () => {
  told.hide();
  page?.markTold(null);
});
window.addEventListener('scroll', () => told.hide(), { passive: true });

const hasModifier = ({ ctrlKey, altKey, metaKey }: KeyboardEvent): boolean => ctrlKey || altKey || metaKey;

container.addEventListener('keydown', (event) => {
  const first = toldAt(event.target);
  if (first !== null && event.key === 'Enter' && !hasModifier(event)) choose(first, false);
  const place = placeOf(event.target);
  if (place === null || hasModifier(event)) return;
  const to = {
    ArrowRight: page!.beside(place, 1),
    ArrowLeft: page!.beside(place, -1),
    ArrowUp: page!.level(place, -1),
    ArrowDown: page!.level(place, 1),
    Home: page!.edge(place, 'first'),
    End: page!.edge(place, 'last'),
    Enter: place,
  }[event.key];
  if (to == null) return;
  event.preventDefault();
  choose(to, event.key === 'Enter');
  page!.focus(to);
});
document.addEventListener('keydown', (event) => {
  if (hasModifier(event)) return;
  // Space and Enter belong to the controls while one of them has the focus.
  const isControl = (event.target as Element).closest('button, input, select, summary') !== null;
  if (event.key === 'Escape') {
    told.hide();
    playing.stop();
  } else if (event.key === ' ' && !isControl) {
    event.preventDefault();
    if (!event.repeat) toggle();
  }
});

// ── Playing ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function toggle(): void {
  if (playing.isPlaying()) playing.stop();
  else play(controls.what(), controls.practice());
}

function play(what: What, kind: Practice['kind']): void {
  const phrase = phraseHere();
  if (phrase === undefined) return refuse('There is no phrase to play.');
  const stretch = stretchOf(phrase, what);
  if (stretch === 'none')
    return refuse(
      what === 'selection'
        ? 'Select two notes or more in the text, then play the selection.'
        : 'Put the cursor on a note of the bar, then play the bar.',
    );
  asked = { what, kind };
  const subject = { uri: shown!.uri, phrase };
  void playing.start({ ...subject, stretch, tempo: tempoOf(subject), practice: practiceOf(subject), repeat: repeatNow() });
}

function refuse(words: string): void {
  isRefused = true;
  controls.say(words);
}

function practiceOf(subject: Subject): Practice {
  const { kind } = asked;
  if (kind === 'faster') return { kind, step: options.step, top: (tempoOf(subject) ?? subject.phrase.tempo) + options.rise };
  return kind === 'keys' ? { kind, order: options.order } : { kind };
}

/** A bar is asked for to hear it again and again; what is practised goes on until it is stopped. */
function repeatNow(): Repeat {
  if (asked.kind === 'faster') return 'last';
  return asked.kind === 'keys' || asked.what === 'bar' || options.loop ? 'all' : 'none';
}

/** A tempo or a loop that is changed while it plays is heard at once. */
function changePlaying(): void {
  const subject = playing.subject();
  if (subject !== null) playing.change({ tempo: tempoOf(subject), practice: practiceOf(subject), repeat: repeatNow() });
}

function stretchOf({ notes, bars }: ScorePhrase, what: What): Stretch | null | 'none' {
  if (what === 'phrase') return null;
  if (what === 'selection') return cursor.selection ?? 'none';
  const note = cursor.note === null ? undefined : notes[cursor.note];
  const bar = note === undefined ? undefined : bars.find(({ from, to }) => note.onset >= from && note.onset < to);
  return bar === undefined ? 'none' : { from: bar.from, to: bar.to };
}

function obey(order: Order): void {
  if (order.kind === 'play') {
    // What a command plays is shown while it plays; the next press of the button is the reader's own choice again.
    chosen ??= { what: controls.what(), kind: controls.practice() };
    controls.choose(order.what, order.practice);
    play(order.what, order.practice);
    if (!playing.isPlaying()) {
      controls.choose(chosen.what, chosen.kind);
      chosen = null;
    }
  } else if (order.kind === 'stop') playing.stop();
  else if (order.kind === 'explain') {
    if (!options.walkthrough) {
      options = { ...options, walkthrough: true };
      controls.showOptions(options);
      postMessage({ type: 'options', options });
      draw();
    }
    explain();
  } else {
    options = { ...options, lineMuted: !options.lineMuted };
    controls.showOptions(options);
    postMessage({ type: 'options', options });
    playing.applyLevels();
    controls.say(options.lineMuted ? 'The line is muted: play it yourself.' : 'The line is heard.');
  }
}

function explain(): void {
  isExplainAsked = page === null;
  if (page?.goToWalkthrough(cursor.phrase) === false) refuse('There is nothing to explain here yet. Write a line of notes.');
}

async function render(ask: number, track: Track): Promise<void> {
  try {
    const piano = track.piano.length === 0 ? null : await loadPiano();
    const { samples, rate } = await renderTrack(track, piano);
    postMessage({ type: 'rendered', ask, made: { bytes: samples.buffer, rate, lacksPiano: track.piano.length > 0 && piano === null } });
  } catch (error) {
    postMessage({ type: 'rendered', ask, made: error instanceof Error ? error.message : String(error) });
  }
}

// ── The extension ──────────────────────────────────────────────────────────────────────────────────────────────────────────

window.addEventListener('message', ({ data }: MessageEvent<ToView>) => {
  switch (data.type) {
    case 'options':
      options = data.options;
      controls.showOptions(options);
      playing.applyLevels();
      draw();
      break;
    case 'score': {
      const score = wholeScore(data.score, shown === null ? new Map() : knownOf(shown.score));
      // The extension knows what was sent here: what it counts on is there.
      if (score === null) return;
      shown = { uri: data.uri, score };
      // The note of another phrase is none of this one.
      cursor = { ...cursor, phrase: score.here ?? 0, ...(score.here === cursor.phrase ? {} : { note: null, selection: null }) };
      showChoice(data.instead);
      drawSoon();
      // What is in sight is drawn before more of a long lesson is asked for.
      if (isPartial(score)) window.setTimeout(() => postMessage({ type: 'more' }), BETWEEN_PARTS);
      break;
    }
    case 'cursor':
      cursor = { phrase: data.phrase, note: keptNote(data), selection: data.selection };
      page?.markCursor(cursor);
      showTempo();
      if (isRefused) controls.say('');
      isRefused = false;
      break;
    case 'take':
      playing.answer(data.ask, data.take);
      break;
    case 'order':
      obey(data.order);
      break;
    case 'render':
      void render(data.ask, data.track);
      break;
    case 'renamed':
      tempos = renamedTempos(tempos, data.files);
      playing.rename(data.files);
      break;
    case 'pong':
      playing.pong(data.sent);
      break;
  }
});

async function start(): Promise<void> {
  setText(notice, 'The engraving library is loading.');
  try {
    const { engine, toolkit } = document.body.dataset;
    const engraver = await loadEngraver(engine!, toolkit!);
    page = createPage(container, engraver, (phrase, finding) => postMessage({ type: 'go-to-finding', phrase, finding }));
    setText(notice, 'Put the cursor into a phrase to see its score.');
    draw();
    page.markCursor(cursor);
    if (isExplainAsked) explain();
    new ResizeObserver(tellBarHeight).observe(bar);
    let width = container.clientWidth;
    new ResizeObserver(() => {
      // The page gets higher with every picture.
      if (container.clientWidth === width) return;
      width = container.clientWidth;
      if (page!.resized()) draw();
    }).observe(container);
  } catch (error) {
    setText(
      notice,
      `The engraving library could not be loaded (${error instanceof Error ? error.message : String(error)}). Close the score and show it again.`,
    );
  }
}

begin.addEventListener('click', () => postMessage({ type: 'begin' }));
postMessage({ type: 'ready' });
void start();
