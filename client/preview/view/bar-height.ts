/** Keeps what is scrolled into view from under the controls that stay on top. */

/** Answers what tells the page how high they are. */
export function tellingHeightOf(bar: HTMLElement): () => void {
  return () => {
    const height = `${bar.offsetHeight}px`;
    const { style } = document.documentElement;
    if (style.getPropertyValue('--bar') !== height) style.setProperty('--bar', height);
  };
}
