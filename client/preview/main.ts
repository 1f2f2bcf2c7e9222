/** The page of the score: shows what the extension sends, plays it, and tells the extension what was chosen. */
import { DEFAULT_OPTIONS, type FromView, type NotePlace, type Order, type Pass, type Practice, type Score, type Stretch, type Take, type ToView, type ViewOptions, type What } from '../src/score/messages';
import { createControls } from './controls';
import { html, setText } from './dom';
import { loadEngraver } from './engraver';
import { createPage, widthOf, type Page } from './page';
import { createPlayer } from './player';
import { createTold } from './told';

declare function acquireVsCodeApi(): { postMessage(message: FromView): void };

const { postMessage } = acquireVsCodeApi();
const container = document.querySelector<HTMLElement>('#score')!;
const notice = document.querySelector<HTMLElement>('#notice')!;

let options: ViewOptions = DEFAULT_OPTIONS;
let page: Page | null = null;
let shown: { readonly uri: string; readonly score: Score } | null = null;
let cursor: { readonly phrase: number; readonly note: number | null; readonly selection: Stretch | null } = { phrase: 0, note: null, selection: null };
/** Beats a minute the reader set, of the phrase they set it for. */
let tempo: { readonly name: string; readonly value: number } | null = null;
let playing: { readonly phrase: number; readonly take: Take } | null = null;
/** Milliseconds. */
const FRAME = 16;
/** Milliseconds to the extension and back, as last measured. */
let roundTrip = 0;
let ask = 0;
const answers = new Map<number, (take: Take | null) => void>();
const told = createTold();

// ── Showing ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

const controls = createControls(document.querySelector<HTMLElement>('#controls')!, options, {
  onPlay: () => (player.playing ? player.stop() : void play(controls.what(), controls.practice())),
  onOptions(changed) {
    const redraws = changed.degrees !== options.degrees || changed.devices !== options.devices;
    options = changed;
    postMessage({ type: 'options', options });
    applyOptions();
    if (redraws) draw();
  },
  onTempo(value) {
    const phrase = phraseHere();
    tempo = value === null || phrase === undefined ? null : { name: phrase.name, value };
    showTempo();
  },
});

function applyOptions(): void {
  for (const voice of ['line', 'chords', 'bass', 'click'] as const) player.setLevel(voice, options.levels[voice]);
  player.muteLine(options.lineMuted);
}

const phraseHere = () => page?.phraseOf(cursor.phrase);

function tempoHere(): number | null {
  return tempo !== null && tempo.name === phraseHere()?.name ? tempo.value : null;
}

function showTempo(): void {
  const phrase = phraseHere();
  if (phrase !== undefined) controls.showTempo(phrase.tempo, tempoHere());
}

/** How long the last picture took, in milliseconds, and when the next is due, for pictures so large that typing would have to wait for each. */
let taken = 0;
let drawLater = 0;
const AT_ONCE = 150;

/** Draws at once, or where that takes long in a pause of the typing. */
function drawSoon(): void {
  clearTimeout(drawLater);
  if (taken <= AT_ONCE) draw();
  else drawLater = window.setTimeout(draw, Math.min(2000, taken));
}

function draw(): void {
  if (page === null || shown === null) return;
  const begin = performance.now();
  try {
    page.show(shown.uri, shown.score, options);
    setText(notice, shown.score.phrases.length === 0 ? 'Put the cursor into a phrase to see its score.' : '');
  } catch (error) {
    setText(notice, `The score could not be drawn: ${error instanceof Error ? error.message : String(error)} The last picture stays.`);
  }
  taken = performance.now() - begin;
  showTempo();
}

// ── Choosing ───────────────────────────────────────────────────────────────────────────────────────────────────────────────

function choose(place: NotePlace, focus: boolean): void {
  page!.markCursor(place);
  cursor = { ...cursor, ...place, selection: null };
  showTempo();
  postMessage({ type: 'select', place, focus });
}

function tell(place: NotePlace | null): void {
  const note = place === null ? undefined : page!.phraseOf(place.phrase)?.notes[place.note];
  const element = place === null ? null : page!.elementOf(place);
  if (note === undefined || element === null) told.hide();
  else told.show(note, element);
}

container.addEventListener('click', ({ target }) => {
  const place = page?.placeAt(target as Element) ?? null;
  if (place === null) return;
  choose(place, false);
  page!.focus(place);
});
container.addEventListener('dblclick', ({ target }) => {
  const place = page?.placeAt(target as Element) ?? null;
  if (place !== null) choose(place, true);
});
container.addEventListener('pointerover', ({ target }) => tell(page?.placeAt(target as Element) ?? null));
container.addEventListener('pointerleave', () => told.hide());
container.addEventListener('focusin', ({ target }) => tell(page?.placeAt(target as Element) ?? null));
container.addEventListener('focusout', () => told.hide());
window.addEventListener('scroll', () => told.hide(), { passive: true });

container.addEventListener('keydown', (event) => {
  const place = page?.placeAt(event.target as Element) ?? null;
  if (place === null || event.ctrlKey || event.altKey || event.metaKey) return;
  const to = { ArrowRight: page!.beside(place, 1), ArrowLeft: page!.beside(place, -1), Home: page!.edge(place, 'first'), End: page!.edge(place, 'last'), Enter: place }[event.key];
  if (to == null) return;
  event.preventDefault();
  choose(to, event.key === 'Enter');
  page!.focus(to);
});
document.addEventListener('keydown', (event) => {
  // Space and Enter belong to the controls while one of them has the focus.
  const isControl = (event.target as Element).closest('button, input, select, summary') !== null;
  if (event.key === 'Escape') {
    told.hide();
    player.stop();
  } else if (event.key === ' ' && !isControl) {
    event.preventDefault();
    if (player.playing) player.stop();
    else void play(controls.what(), controls.practice());
  }
});

// ── Playing ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

const player = createPlayer({
  onStep(step) {
    page?.markSounding(step === null || playing === null ? null : { phrase: playing.phrase, note: step.note });
    if (step === null) postMessage({ type: 'sounding', place: null });
  },
  onAhead(step, inMilliseconds) {
    const place = playing === null ? null : { phrase: playing.phrase, note: step.note };
    // The text is told so much earlier as the message takes to the extension, its mark to the editor, and a frame to be drawn.
    setTimeout(() => {
      if (player.playing) postMessage({ type: 'sounding', place });
    }, Math.max(0, inMilliseconds - roundTrip - FRAME));
  },
  onPass(pass, index) {
    controls.say(passWords(pass, index));
    measureRoundTrip();
  },
  onEnd() {
    playing = null;
    controls.showPlaying(false);
    controls.say('');
  },
  onBlocked() {
    controls.showPlaying(false);
    controls.say('Sound waits for a click in this page: choose Play.');
  },
});

async function play(what: What, kind: Practice['kind']): Promise<void> {
  const phrase = phraseHere();
  if (phrase === undefined) return controls.say('There is no phrase to play: put the cursor into one.');
  const stretch = stretchOf(what);
  if (stretch === 'none') return controls.say(what === 'selection' ? 'Select two notes or more in the text, then play the selection.' : 'Put the cursor on a note of the bar, then play the bar.');
  controls.choose(what, kind);
  measureRoundTrip();
  const start = tempoHere() ?? phrase.tempo;
  const practice: Practice = kind === 'faster' ? { kind, step: options.step, top: start + options.rise } : kind === 'keys' ? { kind, order: options.order } : { kind };
  const played = cursor.phrase;
  const take = await takeFor({ phrase: played, stretch, tempo: tempoHere(), ratio: options.ratio, countIn: options.countIn, practice });
  if (take === null || take.cursor.length === 0) return controls.say('There is nothing to play here.');
  // A bar is asked for to hear it again and again; what is practised goes on until it is stopped.
  const repeat = kind === 'faster' ? 'last' : kind === 'keys' || what === 'bar' || options.loop ? 'all' : 'none';
  player.stop();
  applyOptions();
  playing = { phrase: played, take };
  if (await player.play(take, repeat)) {
    controls.showPlaying(true);
    if (take.countIn > 0) controls.say('Count-in');
  }
}

function stretchOf(what: What): Stretch | null | 'none' {
  const phrase = phraseHere()!;
  if (what === 'phrase') return null;
  if (what === 'selection') return cursor.selection ?? 'none';
  const note = cursor.note === null ? undefined : phrase.notes[cursor.note];
  const bar = note === undefined ? undefined : phrase.bars.find(({ from, to }) => note.onset >= from && note.onset < to);
  return bar === undefined ? 'none' : { from: bar.from, to: bar.to };
}

function takeFor(question: Omit<Extract<FromView, { type: 'take' }>['question'], 'ask'>): Promise<Take | null> {
  ask += 1;
  postMessage({ type: 'take', question: { ask, ...question } });
  return new Promise((resolve) => answers.set(ask, resolve));
}

function passWords({ tempo: bpm, tonic, shift }: Pass, index: number): string {
  const count = playing?.take.passes.length ?? 1;
  if (count === 1) return `${Math.round(bpm)} beats a minute`;
  const isKeys = playing!.take.passes.some((pass) => pass.shift !== 0);
  const words = isKeys ? (tonic === null ? `${shift} half steps from the key as written` : `in ${tonic}`) : `${Math.round(bpm)} beats a minute`;
  return `${index + 1} of ${count}: ${words}`;
}

function measureRoundTrip(): void {
  postMessage({ type: 'ping', sent: performance.now() });
}

function obey(order: Order): void {
  if (order.kind === 'play') void play(order.what, order.practice);
  else if (order.kind === 'stop') player.stop();
  else {
    options = { ...options, lineMuted: !options.lineMuted };
    controls.showOptions(options);
    postMessage({ type: 'options', options });
    applyOptions();
    controls.say(options.lineMuted ? 'The line is muted: play it yourself.' : 'The line is heard.');
  }
}

// ── The extension ──────────────────────────────────────────────────────────────────────────────────────────────────────────

window.addEventListener('message', ({ data }: MessageEvent<ToView>) => {
  switch (data.type) {
    case 'options':
      options = data.options;
      controls.showOptions(options);
      draw();
      break;
    case 'score':
      shown = { uri: data.uri, score: data.score };
      cursor = { ...cursor, phrase: Math.min(data.phrase, Math.max(0, data.score.phrases.length - 1)) };
      drawSoon();
      break;
    case 'cursor':
      cursor = { phrase: data.phrase, note: data.note, selection: data.selection };
      page?.markCursor(cursor);
      showTempo();
      break;
    case 'take':
      answers.get(data.ask)?.(data.take);
      answers.delete(data.ask);
      break;
    case 'order':
      obey(data.order);
      break;
    case 'pong':
      roundTrip = Math.min(100, performance.now() - data.sent);
      break;
  }
});

async function start(): Promise<void> {
  setText(notice, 'The engraving library is loading.');
  try {
    const { engine, toolkit } = document.body.dataset;
    const engraver = await loadEngraver(engine!, toolkit!);
    page = createPage(container, engraver, (from, to) => postMessage({ type: 'go-to', start: from, end: to }));
    setText(notice, 'Put the cursor into a phrase to see its score.');
    draw();
    if (shown !== null) page.markCursor(cursor);
    let width = widthOf(container);
    new ResizeObserver(() => {
      if (widthOf(container) === width) return;
      width = widthOf(container);
      draw();
    }).observe(container);
  } catch (error) {
    const again = html('p', {}, `The engraving library could not be loaded (${error instanceof Error ? error.message : String(error)}). Close the score and show it again.`);
    notice.replaceChildren(again);
  }
}

postMessage({ type: 'ready' });
void start();
