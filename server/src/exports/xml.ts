/** A small builder of XML: text is always escaped, and characters that XML 1.0 does not allow are left out. */

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (XmlElement | string)[];
}

type Child = XmlElement | string | number | null | readonly Child[];

/** An element; null children are left out, lists are laid flat. */
export function element(
  name: string,
  attributes: Readonly<Record<string, string | number | null>> = {},
  ...children: readonly Child[]
): XmlElement {
  const kept = Object.entries(attributes).filter((entry): entry is [string, string | number] => entry[1] !== null);
  const laidFlat: (XmlElement | string)[] = [];
  layFlat(children, laidFlat);
  return { name, attributes: Object.fromEntries(kept), children: laidFlat };
}

/** A score has thousands of elements and is written at every keystroke: no list is made for each. */
function layFlat(children: readonly Child[], into: (XmlElement | string)[]): void {
  for (const child of children) {
    if (child === null) continue;
    if (typeof child === 'string' || typeof child === 'number') into.push(String(child));
    else if (Array.isArray(child)) layFlat(child as readonly Child[], into);
    else into.push(child as XmlElement);
  }
}

/** The text of a document, two spaces a level. */
export function writeXml(root: XmlElement): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${written(root, '')}\n`;
}

function written({ name, attributes, children }: XmlElement, indent: string): string {
  const head = `${name}${Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(String(value))}"`)
    .join('')}`;
  if (children.length === 0) return `${indent}<${head}/>`;
  if (children.every((child) => typeof child === 'string'))
    return `${indent}<${head}>${children.map((child) => escaped(child)).join('')}</${name}>`;
  const inner = children.map((child) => (typeof child === 'string' ? `${indent}  ${escaped(child)}` : written(child, `${indent}  `)));
  return `${indent}<${head}>\n${inner.join('\n')}\n${indent}</${name}>`;
}

/** What is neither plain ASCII nor written as it is. */
const ESCAPED = /[^\t\n\r !#-%'-;=?-~]/;

function escaped(text: string): string {
  if (!ESCAPED.test(text)) return text;
  const allowed = text.replace(
    /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g,
    '',
  );
  return allowed.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
