/**
 * `npm run font`: makes the lettering of the score from DejaVu Sans Condensed (free licence, beside the result): two webfonts with the letters
 * that a picture needs, and the table of their widths by which pictures are laid out. Both are checked in; run it after a change here.
 */
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { create } from 'fontkit';
import subsetFont from 'subset-font';

const FACES = [
  { name: 'regular', file: 'DejaVuSansCondensed.ttf' },
  { name: 'bold', file: 'DejaVuSansCondensed-Bold.ttf' },
];
const TO = 'client/preview/font';
const range = (from, to) => Array.from({ length: to - from + 1 }, (_, i) => String.fromCodePoint(from + i)).join('');
/** ASCII, the rest of Latin-1, punctuation, and the signs of chord symbols. */
const LETTERS = `${range(0x20, 0x7e)}${range(0xa0, 0xac)}${range(0xae, 0xff)}–—‘’“”…♭♮♯△Δ′−`;

const folder = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
mkdirSync(TO, { recursive: true });
copyFileSync(join(folder, 'LICENSE'), join(TO, 'LICENSE.txt'));
const table = {};
for (const { name, file } of FACES) {
  const whole = readFileSync(join(folder, 'ttf', file));
  writeFileSync(join(TO, `${name}.woff2`), await subsetFont(whole, LETTERS, { targetFormat: 'woff2' }));
  table[name] = Object.fromEntries([...LETTERS].map((letter) => [letter, extentOf(create(whole), letter)]));
}
const rows = Object.entries(table).map(
  ([name, face]) =>
    `  "${name}": {\n${Object.entries(face)
      .map(([letter, extent]) => `    ${JSON.stringify(letter)}: [${extent.join(', ')}]`)
      .join(',\n')}\n  }`,
);
writeFileSync('server/src/picture/letters.json', `{\n${rows.join(',\n')}\n}\n`);

/** In thousandths of the size: the advance, and how far the ink goes above and below the line. */
function extentOf(font, letter) {
  const code = letter.codePointAt(0);
  if (!font.hasGlyphForCodePoint(code)) throw new Error(`The font has no letter ${letter}.`);
  const { advanceWidth, bbox } = font.glyphForCodePoint(code);
  const share = (units) => Math.round((units * 1000) / font.unitsPerEm);
  const isInk = Number.isFinite(bbox.maxY) && bbox.maxY > bbox.minY;
  return [share(advanceWidth), isInk ? share(bbox.maxY) : 0, isInk ? share(-bbox.minY) : 0];
}
