/** The page of the score: shows what the extension sends, plays it, and tells the extension what was chosen. */
import type { FromView, NotePlace, ToView } from '../src/score/messages';
import { createControls } from './controls';
import { pianoFrom } from './piano';
import { createPlaying } from './playing';
import { createTold } from './told';
import { tellingHeightOf } from './view/bar-height';
import { changesPicture, changesSound } from './view/changed';
import { createDrawing } from './view/drawing';
import { elementsOfPage } from './view/elements';
import { loadPage } from './view/loading';
import { createOrders } from './view/orders';
import { createPlayback } from './view/playback';
import { chooseByKeys, chooseByPointer, playByKeys, tellOfNotes } from './view/reader';
import { createReceiver } from './view/receiving';
import { render } from './view/rendering';
import { openView } from './view/state';
import { createTempo } from './view/tempo';

declare function acquireVsCodeApi(): { postMessage(message: FromView): void };

const { postMessage: post } = acquireVsCodeApi();
const state = openView();
const told = createTold();
const elements = elementsOfPage();
const { container } = elements;
const loadPiano = pianoFrom(document.body.dataset['piano']!, (reason) => post({ type: 'without-piano', reason }));

const controls = createControls(elements.controls, state.options, {
  onPlay: () => playback.toggle(),
  onOptions(options, isFinal) {
    const before = state.options;
    state.options = options;
    if (isFinal) post({ type: 'options', options });
    playing.applyLevels();
    if (changesPicture(before, options)) drawing.now();
    if (changesSound(before, options)) playback.change();
  },
  onTempo(value) {
    tempo.set(value);
    playback.change();
  },
});
const bar = elements.controls.querySelector<HTMLElement>('.bar')!;
const tellBarHeight = tellingHeightOf(bar);

const playing = createPlaying({
  loadPiano,
  post,
  page: () => state.page,
  shown: () => ({ uri: state.shown?.uri ?? '', phrases: state.shown?.score.phrases ?? [] }),
  options: () => state.options,
  onPlaying(repeat) {
    controls.showPlaying(repeat);
    tempo.show();
    if (repeat === null) playback.ended();
  },
  say: (words) => controls.say(words),
  showSounding: (words) => controls.showSounding(words),
});
const tempo = createTempo(state, controls, playing);
const playback = createPlayback(state, controls, playing);
const drawing = createDrawing(state, elements, { told, playing, showTempo: tempo.show, tellBarHeight });
const orders = createOrders(state, { controls, playing, playback, drawing, post });

function choose(place: NotePlace, focus: 'text' | 'score'): void {
  state.cursor = { ...place, selection: null };
  state.page!.markCursor(place);
  tempo.show();
  post({ type: 'select', place, focus: focus === 'text' });
}

chooseByPointer(container, state, choose);
tellOfNotes(container, state, told);
chooseByKeys(container, state, choose);
playByKeys({
  toggle: playback.toggle,
  stop() {
    told.hide();
    playing.stop();
  },
});

const receive = createReceiver(state, {
  controls,
  playing,
  playback,
  drawing,
  orders,
  post,
  showTempo: tempo.show,
  render: (message) => void render(message, loadPiano, post),
});
window.addEventListener('message', ({ data }: MessageEvent<ToView>) => receive(data));
elements.begin.addEventListener('click', () => post({ type: 'begin' }));
post({ type: 'ready' });
void loadPage(state, elements, { drawing, orders, bar, tellBarHeight, post });
