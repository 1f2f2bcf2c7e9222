/** Elements made by code: text is always text, never markup. */

type Attributes = Readonly<Record<string, string | number | boolean | null>>;

/** An HTML element; attributes that are null or false are left out, true ones are empty. */
export function html<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  assign(element, attributes);
  element.append(...children);
  return element;
}

const SVG = 'http://www.w3.org/2000/svg';

export function svg<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly (Node | string)[]
): SVGElementTagNameMap[K] {
  const element = document.createElementNS(SVG, tag);
  assign(element, attributes);
  element.append(...children);
  return element;
}

function assign(element: Element, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes))
    if (value !== null && value !== false) element.setAttribute(name, value === true ? '' : String(value));
}

/** Sets a text only where it differs, so that readers aloud and the eye are left in peace. */
export function setText(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}
