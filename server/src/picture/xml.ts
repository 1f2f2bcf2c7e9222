/** A picture as a tree: read, changed by making it anew, and written. */

export interface Xml {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (Xml | string)[];
}

type Attributes = Readonly<Record<string, string | number | null>>;

/** An element; attributes that are null are left out. */
export function xml(name: string, attributes: Attributes = {}, ...children: readonly (Xml | string)[]): Xml {
  const kept = Object.entries(attributes).filter(([, value]) => value !== null);
  return {
    name,
    attributes: Object.fromEntries(
      kept.map(([key, value]) => [key, typeof value === 'number' ? String(Math.round(value * 100) / 100) : value!]),
    ),
    children,
  };
}

/** The elements below one that pass, in the order of the document. */
export function descendants(of: Xml, passes: (element: Xml) => boolean): Xml[] {
  const found: Xml[] = [];
  const visit = (element: Xml): void => {
    for (const child of element.children) {
      if (typeof child === 'string') continue;
      if (passes(child)) found.push(child);
      visit(child);
    }
  };
  visit(of);
  return found;
}

/** Whether an element has one of some classes. */
export function hasClass(...names: readonly string[]): (element: Xml) => boolean {
  return ({ attributes }) => attributes['class']?.split(' ').some((name) => names.includes(name)) === true;
}

export function textOf(element: Xml): string {
  return element.children.map((child) => (typeof child === 'string' ? child : textOf(child))).join('');
}

/** The text of an element, on one line; characters that XML does not allow are left out. */
export function writeXml({ name, attributes, children }: Xml): string {
  const head = `${name}${Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escapedText(value)}"`)
    .join('')}`;
  return children.length === 0
    ? `<${head}/>`
    : `<${head}>${children.map((child) => (typeof child === 'string' ? escapedText(child) : writeXml(child))).join('')}</${name}>`;
}

/** What XML 1.0 and HTML allow no text to hold, or warn of: control characters, halves of a surrogate pair, code points that are no characters. */
const NO_TEXT = /[^\P{Cc}\t\n\r]|[\p{Cs}\ufdd0-\ufdef]|[\ufffe\uffff\u{1fffe}\u{1ffff}\u{2fffe}\u{2ffff}\u{10fffe}\u{10ffff}]/gu;
const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text as it stands in XML or HTML, in an element or an attribute. */
export function escapedText(text: string): string {
  return text.replace(NO_TEXT, '').replace(/[&<>"]/g, (sign) => ESCAPES[sign]!);
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function plain(text: string): string {
  return text.replace(
    /&(?:#x([\da-f]+)|#(\d+)|(\w+));/gi,
    (whole, hex: string | undefined, decimal: string | undefined, name: string | undefined) =>
      name === undefined ? String.fromCodePoint(hex === undefined ? Number(decimal) : Number.parseInt(hex, 16)) : (ENTITIES[name] ?? whole),
  );
}

/** Reads the XML that an engraver writes: one root, no instructions. Blank text between elements is left out. Throws where elements are not closed in order. */
export function readXml(text: string): Xml {
  interface Open {
    readonly name: string;
    readonly attributes: Record<string, string>;
    readonly children: (Xml | string)[];
  }
  const outer: Open = { name: '', attributes: {}, children: [] };
  const open = [outer];
  const piece =
    /<!--[\s\S]*?-->|<\?[\s\S]*?\?>|<!\[CDATA\[([\s\S]*?)\]\]>|<!DOCTYPE[^>]*>|<\/([^\s>]+)\s*>|<([^\s/>]+)((?:\s+[^\s=>]+\s*=\s*(?:"[^"]*"|'[^']*'))*)\s*(\/?)>|[^<]+|</g;
  for (const [whole, data, closed, name, attributes, isEmpty] of text.matchAll(piece)) {
    const inner = open[open.length - 1]!;
    if (name !== undefined) {
      const element: Open = { name, attributes: {}, children: [] };
      for (const [, key, double, single] of attributes!.matchAll(/([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g))
        element.attributes[key!] = plain(double ?? single ?? '');
      inner.children.push(element);
      if (isEmpty === '') open.push(element);
    } else if (closed !== undefined) {
      if (inner.name !== closed) throw new Error(`The picture is no XML: ${inner.name || 'nothing'} is open where ${closed} is closed.`);
      open.pop();
    } else if (data !== undefined) inner.children.push(data);
    else if (whole === '<') throw new Error('The picture is no XML: a tag is not complete.');
    else if (!whole.startsWith('<') && whole.trim() !== '') inner.children.push(plain(whole));
  }
  const roots = outer.children.filter((child) => typeof child !== 'string');
  if (open.length > 1 || roots.length !== 1) throw new Error('The picture is no XML: its root is not complete.');
  return roots[0]!;
}
