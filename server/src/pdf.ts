/** Pages of a handout as PDF 1.7: its letters embedded, with an outline, a title and a language. An adapter of the Node side, for a worker. */
import { create } from 'fontkit';
import PDFDocument from 'pdfkit';
import drawSvg from 'svg-to-pdfkit';
import type { Anchor, Item, Pages } from './handout/layout';

/** TrueType fonts; only the letters that are used are embedded. */
export interface Fonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

/** The bytes of a PDF: the same for the same pages. */
export async function writePdf(pages: Pages, fonts: Fonts): Promise<Uint8Array> {
  const { paper, title, anchors } = pages;
  const document = new PDFDocument({
    autoFirstPage: false, size: [paper.width, paper.height], margin: 0, pdfVersion: '1.7', lang: 'en', displayTitle: true,
    // None of the library's own fonts, which are not embedded.
    font: null as unknown as string,
    info: { Title: title, Creator: 'Phrasewright', Producer: 'Phrasewright', CreationDate: MADE },
  });
  const chunks: Uint8Array[] = [];
  document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
  const ended = new Promise<void>((resolve, reject) => {
    document.on('end', resolve);
    document.on('error', reject);
  });
  document.registerFont(REGULAR, Buffer.from(fonts.regular));
  document.registerFont(BOLD, Buffer.from(fonts.bold));
  const outline = outlineOf(document);
  pages.pages.forEach(({ items }, i) => {
    document.addPage();
    for (const anchor of anchors.filter(({ page }) => page === i)) {
      document.addNamedDestination(anchor.id, 'XYZ', 0, anchor.y, null as unknown as number);
      outline(anchor);
    }
    for (const item of items) draw(document, item);
  });
  document.end();
  await ended;
  return Buffer.concat(chunks);
}

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
      document.font(item.isBold ? BOLD : REGULAR).fontSize(item.size).fillColor('black');
      document.text(item.words, item.x, item.y, { lineBreak: false, baseline: 'alphabetic', oblique: item.isSlanted ? SLANT : false });
      return;
    case 'picture':
      drawSvg(document, item.svg.replaceAll('currentColor', '#000'), item.x, item.y, {
        width: item.width, height: item.height, assumePt: true, fontCallback: (_, isBold) => (isBold ? BOLD : REGULAR),
        warningCallback: (message) => {
          throw new Error(`A picture could not be printed: ${message}`);
        },
      });
      return;
    case 'rule':
      document.lineWidth(item.thickness).strokeColor('black').moveTo(item.x, item.y).lineTo(item.x + item.width, item.y).stroke();
      return;
    case 'link':
      document.goTo(item.x, item.y, item.width, item.height, item.to);
      return;
  }
}
