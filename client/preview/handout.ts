/** The page of a handout's preview: shows the newest one where the reader is, and says what is being made or what failed. */
import type { FromPreview, ToPreview } from '../src/handout/messages';
import { html, setText } from './dom';

declare function acquireVsCodeApi(): {
  postMessage(message: FromPreview): void;
  getState(): { readonly top: number } | undefined;
  setState(state: { readonly top: number }): void;
};

const { postMessage, getState, setState } = acquireVsCodeApi();
const page = document.querySelector<HTMLElement>('#handout')!;
const state = document.querySelector<HTMLElement>('#state')!;
const notices = document.querySelector<HTMLElement>('#notices')!;
/** The handout's own style: the page's policy lets no style of a text in, so that it is put in as an object. */
const style = new CSSStyleSheet();
document.adoptedStyleSheets = [style];

/** Where the reader was before the page was hidden. */
let top: number | null = getState()?.top ?? null;

function show(text: string): void {
  // Its own style is the first there is: text of a lesson has no tags. The page's policy would refuse it in a document, even in one that is only read.
  const own = /<style>([^]*?)<\/style>/.exec(text);
  style.replaceSync(own?.[1] ?? '');
  // A document that is parsed so runs nothing.
  const made = new DOMParser().parseFromString(own === null ? text : text.replace(own[0], ''), 'text/html');
  page.replaceChildren(...[...(made.querySelector('main')?.childNodes ?? [])].map((node) => document.adoptNode(node)));
  if (top !== null) scrollTo({ top });
  top = null;
}

function say(kind: 'busy' | 'failed' | 'fresh', words: string): void {
  setText(state, words);
  document.body.dataset['state'] = kind;
}

addEventListener('message', ({ data }: MessageEvent<ToPreview>) => {
  if (data.type !== 'handout') return say(data.type, data.words);
  show(data.html);
  notices.replaceChildren(...data.notices.map((notice) => html('li', { dir: 'auto' }, notice)));
  say('fresh', '');
});
addEventListener('scroll', () => setState({ top: scrollY }), { passive: true });
postMessage({ type: 'ready' });
