/** What the extension and the page of the preview tell each other. Types only: the two run apart. */

export type ToPreview =
  /** The handout as HTML, and what could not be done as asked. */
  | { readonly type: 'handout'; readonly html: string; readonly notices: readonly string[] }
  /** What is there stays; `busy` says how far the next one is, `failed` why there is none. */
  | { readonly type: 'busy' | 'failed'; readonly words: string };

/** Said once the page listens. */
export interface FromPreview {
  readonly type: 'ready';
}
