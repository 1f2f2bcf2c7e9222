/** Pages of a handout as PDF 1.7: its letters embedded, with an outline, a title and a language. An adapter of the Node side, for a worker. */
import { create } from 'fontkit';
import PDFDocument from 'pdfkit';
import drawSvg from 'svg-to-pdfkit';
import type { Anchor, Item, Pages } from './handout/layout';
import { quotedName } from './handout/types';
import { guarded } from './model/faults';

/** TrueType fonts; only the letters that are used are embedded. */
export interface Fonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

/** The bytes of a PDF: the same for the same pages. A picture that cannot be printed has a line in its place, and the fault is told. */
export async function writePdf(pages: Pages, fonts: Fonts): Promise<Uint8Array> {
  try {
    return await written(pages, fonts);
  } catch (error) {
    const printable = withoutBroken(pages, fonts);
    if (printable === pages) throw error;
    return written(printable, fonts);
  }
}

async function written(pages: Pages, fonts: Fonts): Promise<Uint8Array> {
  const document = openDocument(pages, fonts);
  const chunks: Uint8Array[] = [];
  document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
  const ended = new Promise<void>((resolve, reject) => {
    document.on('end', resolve);
    document.on('error', reject);
  });
  const outline = outlineOf(document);
  pages.pages.forEach(({ items }, i) => {
    document.addPage();
    for (const anchor of pages.anchors.filter(({ page }) => page === i)) {
      document.addNamedDestination(anchor.id, 'XYZ', 0, anchor.y, null as unknown as number);
      outline(anchor);
    }
    for (const item of items) draw(document, item);
  });
  document.end();
  await ended;
  return Buffer.concat(chunks);
}

function openDocument({ paper, title }: Pages, { regular, bold }: Fonts): PDFKit.PDFDocument {
  const document = new PDFDocument({
    autoFirstPage: false,
    size: [paper.width, paper.height],
    margin: 0,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    // None of the library's own fonts, which are not embedded.
    font: null as unknown as string,
    info: { Title: title, Creator: 'Phrasewright', Producer: 'Phrasewright', CreationDate: MADE },
  });
  document.registerFont(REGULAR, Buffer.from(regular));
  document.registerFont(BOLD, Buffer.from(bold));
  return document;
}

/** The pages with a line in the place of each picture that breaks off, which is told; the same pages where none does. */
function withoutBroken(pages: Pages, fonts: Fonts): Pages {
  let broken = 0;
  const tried = pages.pages.map((page, i) => ({
    ...page,
    items: page.items.map((item): Item => {
      if (item.kind !== 'picture') return item;
      const title = pages.anchors.findLast((anchor) => anchor.page < i || (anchor.page === i && anchor.y <= item.y))?.title ?? '';
      // What broke off leaves a document as it was just then, so that each has its own.
      const isPrinted = guarded(`the printing of ${quotedName(title)}`, false, () => {
        draw(openDocument(pages, fonts).addPage(), item);
        return true;
      });
      if (isPrinted) return item;
      broken += 1;
      return { kind: 'text', x: item.x, y: item.y + SIZE, size: SIZE, words: NOT_PRINTED, isBold: false, isSlanted: false };
    }),
  }));
  return broken === 0 ? pages : { ...pages, pages: tried };
}

/** In the place of what broke off. */
const NOT_PRINTED = 'This system could not be printed. That is a fault of Phrasewright, not of the phrase.';
/** Of its letters, in points. */
const SIZE = 10;

/** Whether both fonts have a letter, by its code point. */
export function lettersOf({ regular, bold }: Fonts): (codePoint: number) => boolean {
  const fonts = [regular, bold].map((font) => create(Buffer.from(font)));
  return (codePoint) => fonts.every((font) => font.hasGlyphForCodePoint(codePoint));
}

/** Not the time of day: the same lesson gives the same bytes. */
const MADE = new Date(Date.UTC(2000, 0, 1));
const [REGULAR, BOLD] = ['regular', 'bold'] as const;
/** Degrees that emphasized letters lean. */
const SLANT = 12;

function outlineOf(document: PDFKit.PDFDocument): (anchor: Anchor) => void {
  let section = document.outline;
  return ({ title, level }) => {
    if (level === 0) section = document.outline.addItem(title, { expanded: true });
    else section.addItem(title);
  };
}

function draw(document: PDFKit.PDFDocument, item: Item): void {
  switch (item.kind) {
    case 'text':
      document
        .font(item.isBold ? BOLD : REGULAR)
        .fontSize(item.size)
        .fillColor('black');
      document.text(item.words, item.x, item.y, { lineBreak: false, baseline: 'alphabetic', oblique: item.isSlanted ? SLANT : false });
      return;
    case 'picture':
      drawSvg(document, item.svg.replaceAll('currentColor', '#000'), item.x, item.y, {
        width: item.width,
        height: item.height,
        assumePt: true,
        fontCallback: (_, isBold) => (isBold ? BOLD : REGULAR),
        warningCallback: (message) => {
          throw new Error(`A picture could not be printed: ${message}`);
        },
      });
      return;
    case 'rule':
      document
        .lineWidth(item.thickness)
        .strokeColor('black')
        .moveTo(item.x, item.y)
        .lineTo(item.x + item.width, item.y)
        .stroke();
      return;
    case 'link':
      document.goTo(item.x, item.y, item.width, item.height, item.to);
      return;
  }
}
