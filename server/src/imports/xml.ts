/** XML as a tree. No entity but XML's own five is known, nothing is fetched, and what no score needs is refused. */
import { SaxesParser } from 'saxes';
import { Unreadable } from './unreadable';

export interface XmlNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlNode[];
  /** The text directly in it, without white space at its ends. */
  readonly text: string;
}

type Growing = { name: string; attributes: Record<string, string>; children: Growing[]; text: string };

const DEEPEST = 60;
const MOST_ELEMENTS = 1_000_000;
const STEP = 64 * 1024;

/** Throws `Unreadable`, with line and column. */
export function parseXml(text: string): XmlNode {
  if (!/^\s*</.test(text)) throw new Unreadable('this is no XML, and so no MusicXML. Export the score as MusicXML and try again.');
  const parser = new SaxesParser({ xmlns: false });
  const open: Growing[] = [];
  let root: Growing | null = null;
  let count = 0;
  const refuse = (why: string): never => {
    throw new Unreadable(`line ${parser.line}, column ${parser.column}: ${why}`);
  };
  parser.on('error', (error) => {
    const reason = error.message.replace(/^\d+:\d+:\s*/, '');
    if (/undefined entity/.test(reason))
      refuse('the text uses an entity of its own. Only the five of XML itself (&amp;, &lt;, &gt;, &quot;, &apos;) are read.');
    refuse(`this is not well-formed XML (${reason.replace(/\.$/, '')}). Export the score again.`);
  });
  parser.on('doctype', (doctype) => {
    if (/<!ENTITY/i.test(doctype))
      refuse('the file declares entities of its own, which no score needs. Take its DOCTYPE out and try again.');
  });
  parser.on('opentag', ({ name, attributes }) => {
    count += 1;
    if (count > MOST_ELEMENTS) refuse(`the file has more than ${MOST_ELEMENTS} elements. Export the melody alone and try again.`);
    if (open.length >= DEEPEST) refuse(`elements stand in one another more than ${DEEPEST} deep, as in no score.`);
    const node: Growing = { name, attributes, children: [], text: '' };
    const parent = open[open.length - 1];
    if (parent === undefined) root = node;
    else parent.children.push(node);
    open.push(node);
  });
  parser.on('text', (part) => {
    const node = open[open.length - 1];
    if (node !== undefined) node.text += part;
  });
  parser.on('cdata', (part) => {
    const node = open[open.length - 1];
    if (node !== undefined) node.text += part;
  });
  parser.on('closetag', () => {
    const node = open.pop();
    if (node !== undefined) node.text = node.text.trim();
  });
  // In steps, so that what is refused early costs little.
  for (let at = 0; at < text.length; at += STEP) parser.write(text.slice(at, at + STEP));
  parser.close();
  if (root === null) throw new Unreadable('there is no XML in this file.');
  return root;
}

export function childOf(node: XmlNode, name: string): XmlNode | undefined {
  return node.children.find((child) => child.name === name);
}

export function childrenOf(node: XmlNode, name: string): XmlNode[] {
  return node.children.filter((child) => child.name === name);
}

/** The node down a path of first children. */
export function nodeAt(node: XmlNode, ...path: readonly string[]): XmlNode | undefined {
  return path.reduce<XmlNode | undefined>((at, name) => (at === undefined ? undefined : childOf(at, name)), node);
}

/** The text down a path; null where there is none or it is empty. */
export function textAt(node: XmlNode, ...path: readonly string[]): string | null {
  return nodeAt(node, ...path)?.text || null;
}

/** The number down a path; null where there is none, or no number, or one with more figures than any number of a score. */
export function numberAt(node: XmlNode, ...path: readonly string[]): number | null {
  const text = textAt(node, ...path);
  return text !== null && /^[+-]?\d{1,9}(?:\.\d{0,20})?$/.test(text) ? Number(text) : null;
}
