/** Loads the engraving library, and makes the page with it. */
import type { FromView } from '../../src/score/messages';
import { setText } from '../dom';
import { loadEngraver } from '../engraver';
import { createPage } from '../page';
import type { Drawing } from './drawing';
import type { Elements } from './elements';
import type { Orders } from './orders';
import type { ViewState } from './state';

export interface LoadingParts {
  readonly drawing: Pick<Drawing, 'now'>;
  readonly orders: Pick<Orders, 'explain'>;
  readonly bar: HTMLElement;
  tellBarHeight(): void;
  post(message: FromView): void;
}

/** Until the library is there, and where it cannot be had, the notice says so. */
export async function loadPage(
  state: Pick<ViewState, 'page' | 'cursor' | 'isExplainAsked'>,
  { container, notice }: Elements,
  { drawing, orders, bar, tellBarHeight, post }: LoadingParts,
): Promise<void> {
  setText(notice, 'The engraving library is loading.');
  try {
    const { engine, toolkit } = document.body.dataset;
    const engraver = await loadEngraver(engine!, toolkit!);
    const page = createPage(container, engraver, (phrase, finding) => post({ type: 'go-to-finding', phrase, finding }));
    state.page = page;
    setText(notice, 'Put the cursor into a phrase to see its score.');
    drawing.now();
    page.markCursor(state.cursor);
    if (state.isExplainAsked) orders.explain();
    new ResizeObserver(tellBarHeight).observe(bar);
    onWidth(container, () => {
      if (page.resized()) drawing.now();
    });
  } catch (error) {
    setText(
      notice,
      `The engraving library could not be loaded (${error instanceof Error ? error.message : String(error)}). Close the score and show it again.`,
    );
  }
}

/** The page gets higher with every picture: only another width counts. */
function onWidth(container: HTMLElement, changed: () => void): void {
  let width = container.clientWidth;
  new ResizeObserver(() => {
    if (container.clientWidth === width) return;
    width = container.clientWidth;
    changed();
  }).observe(container);
}
