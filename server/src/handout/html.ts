/** A handout as one HTML file that needs nothing else: systems as SVG, the lettering inside. It prints well: nothing is cut where a page ends. */
import type { Words } from '../picture/emphasis';
import { escapedText } from '../picture/xml';
import { FONT } from '../picture/measure';
import { capital } from '../rules/words';
import { NAMES } from './layout';
import type { Paper } from './paper';
import type { Block, Handout } from './types';

/** The lettering as WOFF2, in base64. */
export interface Lettering {
  readonly regular: string;
  readonly bold: string;
}

export function writeHtml({ title, blocks }: Handout, paper: Paper, lettering: Lettering): string {
  const [family] = FONT.split(',');
  const faces = (['regular', 'bold'] as const)
    .map(
      (weight) =>
        `@font-face { font-family: "${family}"; font-weight: ${weight === 'bold' ? 700 : 400}; src: url("data:font/woff2;base64,${lettering[weight]}") format("woff2"); }`,
    )
    .join('\n');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; font-src data:">
<title>${escapedText(title)}</title>
<style>
${faces}
${styleOf(paper)}</style>
</head>
<body>
<main>
${blocksHtml(blocks)}</main>
</body>
</html>
`;
}

function styleOf({ name, textWidth }: Paper): string {
  return `@page { size: ${name}; margin: 15mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8.5pt ${FONT}; } }
html { color: #000; background: #fff; font: 10pt/1.4 ${FONT}; }
body { margin: 0; }
main { max-width: ${Math.round(textWidth)}pt; margin: 0 auto; padding: 12pt; }
h1 { font-size: 21pt; line-height: 1.2; margin: 24pt 0 0; }
.note { font-size: 12pt; margin: 2pt 0 0; }
.names { display: grid; grid-template-columns: 38fr 38fr 24fr; gap: 14pt; margin: 16pt 0; }
.names span { border-bottom: 0.6pt solid #000; padding-bottom: 2pt; }
h2 { font-size: 14pt; line-height: 1.3; margin: 22pt 0 0; }
.heading { font-size: 9.5pt; margin: 0; }
h3 { font-size: 10pt; margin: 9pt 0 0; }
p { margin: 5pt 0 0; orphans: 2; widows: 2; }
ul { list-style: "–  "; margin: 3pt 0 0; padding-left: 12pt; }
nav ol { list-style: none; margin: 16pt 0 0; padding: 0; }
nav li.in { padding-left: 12pt; }
nav a { color: inherit; }
svg.system { display: block; width: 100%; height: auto; margin-top: 7pt; }
h1, h2, h3, .heading, .note { break-after: avoid; }
.start, svg.system, li, .names { break-inside: avoid; }
@media print {
  main { max-width: none; padding: 0; }
  section + section, .page { break-before: page; }
  section:first-child h1 { margin-top: 0; }
  nav a { text-decoration: none; }
}
`;
}

/** A phrase's title and its first system are one box, which no browser parts. */
function blocksHtml(blocks: readonly Block[]): string {
  let html = '';
  let isList = false;
  let isSection = false;
  blocks.forEach((block, i) => {
    if (isList && block.kind !== 'item') html += '</ul>\n';
    else if (!isList && block.kind === 'item') html += '<ul>\n';
    isList = block.kind === 'item';
    if (block.kind === 'section') {
      html += `${isSection ? '</section>\n' : ''}<section>\n`;
      isSection = true;
    }
    html += blockHtml(block, blocks[i - 1]?.kind === 'phrase');
  });
  return `${html}${isList ? '</ul>\n' : ''}${isSection ? '</section>\n' : ''}`;
}

function blockHtml(block: Block, isStart: boolean): string {
  switch (block.kind) {
    case 'section':
      return `<h1 id="${escapedText(block.id)}" dir="auto">${escapedText(block.title)}</h1>\n${block.note === '' ? '' : `<p class="note">${escapedText(capital(block.note))}</p>\n`}`;
    case 'names':
      return `<div class="names">${NAMES.map((name) => `<span>${name}</span>`).join('')}</div>\n`;
    case 'contents':
      return `<nav aria-label="Contents"><ol>\n${block.entries.map(({ id, words, level }) => `<li${level === 1 ? ' class="in"' : ''}><a href="#${escapedText(id)}">${escapedText(words)}</a></li>\n`).join('')}</ol></nav>\n`;
    case 'phrase':
      return `<div class="start${block.startsPage === true ? ' page' : ''}">\n<h2 id="${escapedText(block.id)}" dir="auto">${escapedText(block.name)}</h2>\n<p class="heading">${escapedText(block.heading)}</p>\n`;
    case 'systems': {
      const [first = '', ...others] = block.systems.map(({ svg }) => `${svg}\n`);
      return isStart ? `${first}</div>\n${others.join('')}` : [first, ...others].join('');
    }
    case 'label':
      return `<h3>${escapedText(block.words)}</h3>\n`;
    case 'prose':
      return `<p dir="auto">${block.words.map(wordsHtml).join('')}</p>\n`;
    case 'item':
      return `<li dir="auto">${escapedText(block.words)}</li>\n`;
  }
}

function wordsHtml({ text, isStrong, isEmphasized }: Words): string {
  const inner = isEmphasized ? `<em>${escapedText(text)}</em>` : escapedText(text);
  return isStrong ? `<strong>${inner}</strong>` : inner;
}
