/**
 * Text that tries to be more than text, in every output, read by a parser of its format that shares no code with the writer: saxes (XML),
 * parse5 (HTML), marked (Markdown with GitHub's additions, which is what the editor renders with), jzz-midi-smf, poppler (PDF). What
 * elements, attributes, links and events there may be is what the samples have; hostile lessons may have nothing else.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import JZZ from 'jzz';
import install from 'jzz-midi-smf';
import { marked, type Token } from 'marked';
import { parse, type DefaultTreeAdapterTypes as Tree } from 'parse5';
import { SaxesParser } from 'saxes';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { asWords } from '../../client/src/words';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { walkthroughMarkdown } from '../../server/src/explain/walkthrough';
import { writeMidiFile } from '../../server/src/exports/midi';
import { writeMusicXml } from '../../server/src/exports/musicxml';
import { formsAt } from '../../server/src/features/code-actions';
import { codeLenses } from '../../server/src/features/code-lenses';
import { hoverAt } from '../../server/src/features/hover/index';
import { escapeMarkdown } from '../../server/src/features/hover/words';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { documentSymbols, type Symbol } from '../../server/src/features/symbols';
import { pieceOf } from '../../server/src/file-reports';
import { makeHandout } from '../../server/src/handout/handout';
import { writeHtml } from '../../server/src/handout/html';
import { layOut } from '../../server/src/handout/layout';
import { paperOf } from '../../server/src/handout/paper';
import { REMARKS, remarksOf } from '../../server/src/handout/remarks';
import { DEFAULT_HANDOUT, type Handout } from '../../server/src/handout/types';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { writePdf } from '../../server/src/pdf';
import { createEngraver, type Engraver } from '../../server/src/picture/engraver';
import { toCodeAction, toCodeLens, toDiagnostic } from '../../server/src/protocol/convert';
import type { Client } from '../../server/src/protocol/client';
import { findingsOf } from '../../server/src/rules/findings';
import { HAS_POPPLER, poppler } from './poppler';

install(JZZ);

const ROOT = resolve(import.meta.dirname, '..', '..');
const SAMPLES = readdirSync(join(ROOT, 'samples'))
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => readFileSync(join(ROOT, 'samples', file), 'utf8'));

/** With findings and without chords, as no sample is. */
SAMPLES.push(
  'lesson "a"\n\nphrase "a"\n  key C major\n  over | Dm7 G7 | Cmaj7 | Q |\n  line | D4-F A-C5 B-G Ab-D | F ~ . F | C4 D E |\n  say "a **a** *b*"\n  claim "a"\n\nphrase "b"\n  over | Cmaj7 | Dm7 | Am7 G |\n  line | A4 ~ ~ ~ | ~ ~ F# ~ | F ~ ~ ~ |\n\nphrase "c"\n  line | C4 D |\n',
);

const HOSTILE: Readonly<Record<string, string>> = {
  'a script': 'zq<script>alert(1)</script>',
  'an image': `zq"><img src=x onerror=alert(1)>'><svg onload=alert(1)>`,
  'markup that is cut off': 'zq<!--</title></style></script>]]><![CDATA[<?php &lt;b&gt; &#60;i&#62; &amp;',
  'a link in Markdown': 'zq](command:workbench.action.quit) [Run](command:x "y") ![p](https://h.invalid/p.png) [a]: command:z',
  'bare addresses': 'zq https://h.invalid/a www.h.invalid http://h.invalid someone@h.invalid <https://h.invalid> <command:x>',
  'code and emphasis': 'zq``` `x` **b** __c__ ~~d~~ $(trash) ${env:HOME} $x^2$ | a | b | # h > q * i - j 1. k',
  'control characters': 'zq\u0000\u0001\u0007\u0008\u001b[31m\u001b]0;x\u0007\u009b31m\u007f\u0085end',
  'text turned around': 'zq\u202eevil\u202c\u2066\u2067x\u2069\u200e\u200f\u061c',
  'line separators': 'zq\u2028<script>\u2029[x](command:y)\u000b\u000c',
  'lone surrogates': 'zq\ud83c <b> \udfb7 \ud800',
  'what XML forbids': 'zq\ufffe\uffff\ufdd0',
  'three hundred letters': `zq${'<b>'.repeat(100)}`,
  'a template': 'zq{{constructor}} #{x} <%= y %> %s %n \\u003cscript\\u003e \\x3c',
  'two lines': 'zq first\n<script>alert(1)</script>\n[x](command:y)\n```\n<img src=x>',
};

/** In quotes, as the language escapes. */
const quoted = (text: string): string => `"${text.replace(/[\\"“”]/g, '\\$&')}"`;

/** In every place of a lesson where a writer's own text may stand: as titles and prose of music that is whole, and as rows that are not. */
function lessonOf(text: string): string {
  const q = quoted(text);
  const word = text.replace(/\s/g, '');
  return `lesson ${q}
about ${q}
tag ${q}

cell ${word} = 1-3
changes ${word} = | ${word} | Dm7 |

phrase ${q}
  key     C major
  tag     ${q}
  over    | Dm7 G7 | Cmaj7 |
  line    | D4-F A-C5 B-G Ab-D | E ~ . F |
  say     ${q}
  say     "**zq** [zq](command:x) ${text.replace(/[\\"“”\n]/g, '\\$&')}"
  claim   ${q}
  claim   guide-tone ${word} in bar 1

phrase ${q}
  key     ${word}
  part    ${word}
  tempo   ${word}
  level   ${q}
  ${word}
  over    | ${word} | Dm7 ${word} | ${word}
  line    | D4 ${word} | ${word} |
  degrees | ${word} | ${word}
  line    | C4 D E F | ${word} C4 |
  over    ${word}
`;
}

const snapshotOf = (text: string): Snapshot => openSnapshot('file:///a.phrase', 1, text);
const readingsOf = ({ phrases }: Snapshot) => phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
const LESSONS = Object.entries(HOSTILE).map(([what, text]) => [what, text, snapshotOf(lessonOf(text))] as const);

/** The letters that can be seen: what an output may lose of a text is what cannot. */
const UNSEEN = /[\s\p{Cc}\p{Cs}\ufffd\ufffe\uffff\ufdd0\u2028\u2029\u2060\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu;
const seen = (text: string): string => text.replace(UNSEEN, '');
/** What may stand in no text that is shown in one line or is XML. */
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff\p{Cs}]/u;

/** Elements with their attributes; of addresses, styles and scripts what they hold. Throws where a text is no XML. */
function readXmlText(xml: string): { readonly shapes: Set<string>; readonly text: string } {
  const shapes = new Set<string>();
  let text = '';
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    shapes.add(name);
    for (const [key, value] of Object.entries(attributes)) shapes.add(shapeOf(name, key, value));
  });
  parser.on('text', (part) => {
    text += part;
  });
  parser.on('comment', () => shapes.add('<!--'));
  parser.on('processinginstruction', ({ target }) => shapes.add(`<?${target}`));
  parser.on('doctype', (type) => shapes.add(`<!DOCTYPE ${type}`));
  parser.write(xml).close();
  return { shapes, text };
}

/** An address within the page may be any; others count with what they lead to. */
function shapeOf(element: string, key: string, value: string): string {
  return /^(?:href|xlink:href|src|action|style|content|http-equiv)$/.test(key) && !/^#[\w-]+$/.test(value)
    ? `${element} ${key}=${value}`
    : `${element} ${key}`;
}

function readHtml(html: string): { readonly shapes: Set<string>; readonly text: string } {
  const errors: string[] = [];
  const shapes = new Set<string>();
  let text = '';
  const visit = (node: Tree.ChildNode): void => {
    if (node.nodeName === '#text') text += (node as Tree.TextNode).value;
    else if (node.nodeName.startsWith('#')) shapes.add(node.nodeName);
    if (!('attrs' in node)) return;
    shapes.add(`${node.namespaceURI} ${node.tagName}`);
    for (const { name, value } of node.attrs) shapes.add(shapeOf(node.tagName, name, value));
    if (node.tagName !== 'style') node.childNodes.forEach(visit);
  };
  parse(html, { onParseError: ({ code }) => errors.push(code) }).childNodes.forEach(visit);
  expect(errors).toEqual([]);
  return { shapes, text };
}

/** Links, pictures and markup that a rendering would have. */
function markupIn(markdown: string): string[] {
  const found: string[] = [];
  marked.walkTokens(marked.lexer(markdown, { gfm: true }), (token: Token) => {
    if (['link', 'image', 'html', 'def'].includes(token.type)) found.push(token.raw);
  });
  return found;
}

const textIn = (markdown: string): string =>
  seen(
    (marked.parse(markdown, { gfm: true, async: false }) as string)
      .replace(/<\/?(?:p|strong|code|pre|h\d|ul|li|em|del)(?: class="[\w-]+")?>/g, '')
      .replace(/&lt;/g, '<')
      .replace(/&gt;/g, '>')
      .replace(/&quot;/g, '"')
      .replace(/&#39;/g, "'")
      .replace(/&amp;/g, '&'),
  );

let engraver: Engraver;
beforeAll(async () => {
  engraver = createEngraver(new VerovioToolkit(await createVerovioModule()));
});
const handoutOf = (text: string, name = 'a'): Handout =>
  makeHandout([{ name, text }], { ...DEFAULT_HANDOUT, without: [] }, { theory: DEFAULT_THEORY, engraver, onProgress: () => {} });
const musicXmlOf = (snapshot: Snapshot, title: string): string =>
  writeMusicXml(readingsOf(snapshot), title, {
    pitch: 'written',
    degrees: true,
    words: 'notes',
    remarks: snapshot.phrases.map((placed) => remarksOf(snapshot, placed, { shown: REMARKS, pitch: 'written', theory: DEFAULT_THEORY })),
  });
/** The handouts of the hostile lessons, each made once for all outputs. */
const handouts = new Map<string, Handout>();
function hostileHandout(text: string): Handout {
  const found = handouts.get(text) ?? handoutOf(text);
  handouts.set(text, found);
  return found;
}
const svgsOf = ({ blocks }: Handout): string[] =>
  blocks.flatMap((block) => (block.kind === 'systems' ? block.systems.map(({ svg }) => svg) : []));
const htmlOf = (handout: Handout): string => writeHtml(handout, paperOf('a4'), { regular: 'AA', bold: 'BB' });
const union = (sets: readonly ReadonlySet<string>[]): Set<string> => new Set(sets.flatMap((set) => [...set]));
const more = (shapes: ReadonlySet<string>, known: ReadonlySet<string>): string[] => [...shapes].filter((shape) => !known.has(shape));
/** What a title is in one line. */
const titleOf = ([first]: readonly string[]): string => first!;

describe('MusicXML', () => {
  const known = union(SAMPLES.map((text) => readXmlText(musicXmlOf(snapshotOf(text), 'a')).shapes));
  test.each(LESSONS)('%s', (_, text, snapshot) => {
    const { shapes, text: found } = readXmlText(musicXmlOf(snapshot, text));
    // A chord that cannot be read has less of a symbol than those of the samples.
    expect(more(shapes, known)).toEqual([]);
    expect(seen(found)).toContain(seen(text));
  });
});

describe('SVG and HTML', () => {
  const samples = (): Handout[] => SAMPLES.map((text) => handoutOf(text));
  let known: { readonly svg: Set<string>; readonly html: Set<string> };
  beforeAll(() => {
    const made = samples();
    known = {
      svg: union(made.flatMap(svgsOf).map((svg) => readXmlText(svg).shapes)),
      html: union(made.map((one) => readHtml(htmlOf(one)).shapes)),
    };
    // The document's own: one policy, no script, no address but of this page.
    expect([...known.html].filter((shape) => /=/.test(shape)).sort()).toEqual([
      `meta content=default-src 'none'; style-src 'unsafe-inline'; font-src data:`,
      'meta content=width=device-width, initial-scale=1',
      'meta http-equiv=Content-Security-Policy',
    ]);
    expect(
      [...known.html, ...known.svg].filter((shape) =>
        /\b(?:script|iframe|object|embed|foreignObject|form|input|button)\b|\bon[a-z]+$/i.test(shape),
      ),
    ).toEqual([]);
  }, 60_000);

  test.each(LESSONS)('%s', (_, text, { text: lesson }) => {
    for (const name of ['a', text]) {
      const handout = name === 'a' ? hostileHandout(lesson) : handoutOf(lesson, name);
      const svgs = svgsOf(handout);
      expect(svgs.length).toBeGreaterThan(1);
      for (const svg of svgs) {
        expect(more(readXmlText(svg).shapes, known.svg)).toEqual([]);
        expect(svg).not.toMatch(FORBIDDEN);
      }
      const html = htmlOf(handout);
      expect(html).not.toMatch(FORBIDDEN);
      const { shapes, text: found } = readHtml(html);
      expect(more(shapes, known.html)).toEqual([]);
      expect(seen(found).split(seen(titleOf(text.split('\n')))).length).toBeGreaterThan(4);
    }
  });
});

describe('PDF', () => {
  const font = (file: string): Uint8Array => readFileSync(join(ROOT, 'node_modules', 'dejavu-fonts-ttf', 'ttf', file));
  test.runIf(HAS_POPPLER).each(LESSONS)('%s', async (_, text, snapshot) => {
    const folder = mkdtempSync(join(tmpdir(), 'phrasewright-hostile-'));
    try {
      const file = join(folder, 'a.pdf');
      writeFileSync(
        file,
        await writePdf(layOut(hostileHandout(snapshot.text), paperOf('a4')), {
          regular: font('DejaVuSansCondensed.ttf'),
          bold: font('DejaVuSansCondensed-Bold.ttf'),
        }),
      );
      expect(poppler('pdfinfo', file).toString()).toMatch(/JavaScript:\s+no\n/);
      expect(poppler('pdfinfo', '-js', file).toString().trim()).toBe('');
      // Page, kind, address: there is none.
      expect(poppler('pdfinfo', '-url', file).toString().trim().split('\n').slice(1)).toEqual([]);
      expect(poppler('pdfdetach', '-list', file).toString().trim()).toBe('0 embedded files');
      const page = seen(poppler('pdftotext', '-raw', file, '-').toString());
      expect(page).toContain('zq');
      const plain = /^[ -~\s]*$/.test(text) && text.length < 100 ? seen(titleOf(text.split('\n'))) : 'zq';
      expect(page).toContain(plain);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

describe('MIDI', () => {
  type Message = ReadonlyArray<number> & { readonly ff?: number; readonly dd?: string };
  const metaOf = (bytes: Uint8Array): Message[] =>
    [
      ...new (JZZ as unknown as { MIDI: { SMF: new (data: string) => Iterable<Iterable<Message>> } }).MIDI.SMF(
        Buffer.from(bytes).toString('latin1'),
      ),
    ]
      .flatMap((track) => [...track])
      .filter(({ ff }) => ff !== undefined);
  test.each(LESSONS)('%s', (_, text, snapshot) => {
    const options = { eighths: 'as-written', keys: 'written' } as const;
    const metas = metaOf(writeMidiFile(readingsOf(snapshot), text, options));
    const plain = metaOf(writeMidiFile(readingsOf(snapshot), 'a', options));
    expect(metas.map(({ ff }) => ff)).toEqual(plain.map(({ ff }) => ff));
    // 3: track name, 6: marker, 0x2f: end of track, 0x51, 0x58, 0x59: tempo, meter, key.
    expect(new Set(metas.map(({ ff }) => ff))).toEqual(new Set([0x03, 0x06, 0x2f, 0x51, 0x58, 0x59]));
    const names = metas.filter(({ ff }) => ff === 0x03 || ff === 0x06).map(({ dd }) => dd ?? '');
    expect(names.filter((name) => name.startsWith('zq')).length).toBeGreaterThan(1);
    for (const name of names) expect(name).toMatch(/^[ -~\u00a0-\u00ff]*$/);
  });
});

describe('Markdown', () => {
  test('the parser finds what it is to find', () => {
    expect(markupIn('[a](command:b) https://h.invalid <img> <https://h.invalid>').length).toBe(4);
  });

  test.each(LESSONS)('%s', (_, text, snapshot) => {
    let hovers = 0;
    let told = 0;
    for (let at = 0; at <= snapshot.text.length; at += 1) {
      const hover = hoverAt(snapshot, at, DEFAULT_THEORY);
      if (hover === null) continue;
      hovers += 1;
      expect(markupIn(hover.markdown), hover.markdown).toEqual([]);
      if (textIn(hover.markdown).includes(seen(titleOf(text.split('\n'))))) told += 1;
      at = Math.max(at, hover.end);
    }
    expect(hovers).toBeGreaterThan(10);
    expect(told).toBeGreaterThan(0);
    for (const reading of readingsOf(snapshot)) {
      const markdown = walkthroughMarkdown(reading, escapeMarkdown);
      expect(markupIn(markdown), markdown).toEqual([]);
      expect(textIn(markdown)).toContain(seen(titleOf(text.split('\n'))));
    }
  });
});

describe('what the editor shows and runs', () => {
  const client = {
    pulls: true,
    goesToPlaces: true,
    listsActions: true,
    playsPhrases: true,
    resolvesEdits: true,
    manual: 'file:///manual.md',
  } as Client;

  test.each(LESSONS)(
    '%s',
    (_, text, snapshot) => {
      const document = TextDocument.create('file:///a.phrase', 'phrase', 1, snapshot.text);
      // A sentence of ours, in which the editor finds neither a link nor a picture.
      const lenses = codeLenses(snapshot, DEFAULT_SETTINGS).map((lens) => toCodeLens(document, lens, client));
      expect(lenses.length).toBeGreaterThan(2);
      for (const { command } of lenses) {
        expect(asWords(command!.title)).toBe(command!.title);
        expect(command!.title).not.toContain('zq');
        expect(['phrasewright.playPhrase', 'phrasewright.showScore', 'phrasewright.openWalkthrough']).toContain(command!.command);
        expect(command!.arguments).toEqual([document.uri, { line: expect.any(Number) as number, character: expect.any(Number) as number }]);
      }
      const range = { start: document.positionAt(0), end: document.positionAt(snapshot.text.length) };
      const lines = snapshot.text.split('\n');
      const places = lines.map((line) => snapshot.text.indexOf(line) + Math.min(12, line.length));
      let actions = 0;
      for (const at of places) {
        for (const form of formsAt(snapshot, at, at, DEFAULT_SETTINGS, (error) => {
          throw error;
        })) {
          actions += 1;
          const { command, title } = toCodeAction(document, form, range, client);
          expect(asWords(title), title).toBe(title);
          if (command !== undefined)
            expect([command.command, command.arguments![0]]).toEqual([
              expect.stringMatching(/^phrasewright\.(?:goToPlace|moreActions)$/),
              document.uri,
            ]);
        }
      }
      expect(actions).toBeGreaterThan(20);
      const outline = (symbols: readonly Symbol[]): Symbol[] => symbols.flatMap((symbol) => [symbol, ...outline(symbol.children)]);
      const symbols = outline(documentSymbols(snapshot));
      // A name over several lines is read as one.
      expect(symbols.map(({ name }) => seen(name))).toContain(seen(text));
      for (const { name, detail } of symbols) expect(`${name}${detail}`).not.toMatch(/[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u);
      const findings = findingsOf(snapshot, DEFAULT_THEORY);
      expect(findings.length).toBeGreaterThan(3);
      for (const finding of findings) {
        const { codeDescription, relatedInformation } = toDiagnostic(document, finding, client.manual);
        expect(codeDescription!.href).toMatch(/^file:\/\/\/manual\.md#[\w-]+$/);
        for (const { location } of relatedInformation!) expect(location.uri).toBe(document.uri);
      }
    },
    60_000,
  );
});

describe('the terminal', () => {
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-hostile-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  /** Nothing that a terminal obeys, or that turns a line around. */
  const OBEYED = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/;

  test.each(LESSONS)('%s', (what, _, { text }) => {
    const file = join(folder, 'a\u001b[31m\u202e.phrase');
    writeFileSync(file, text);
    const [source] = [{ file, name: 'a', size: 0, bytes: readFileSync(file) }];
    for (const [command, format, length] of [
      ['check', 'text', 'bars'],
      ['check', 'json', 'bars'],
      ['explain', 'text', 'bars'],
      ['explain', 'text', 'line'],
      ['explain', 'markdown', 'notes'],
      ['explain', 'json', 'bars'],
    ] as const) {
      const told = pieceOf({ command, format, length, settings: DEFAULT_SETTINGS }, source!).text;
      expect(told).not.toMatch(OBEYED);
      expect(told).toContain('zq');
      if (format === 'json') expect(() => JSON.parse(`[${told}]`) as unknown).not.toThrow();
      if (command === 'check' && format === 'text') expect(told).toContain('a␛[31m\ufffd.phrase:');
      if (what === 'control characters' && format === 'text' && command === 'explain') expect(told).toContain('␛[31m');
    }
  });
});
