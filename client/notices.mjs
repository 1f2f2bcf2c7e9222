/** Names, versions and licences of all that is bundled or copied: the libraries ask that their copyright and licence go along. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** `inputs`: files that were bundled; `copied`: packages of which files are copied, by their folders, with the files of their licences; `credit`: what is said of recordings. */
export function writeNotices(file, { inputs, copied, credit }) {
  const folders = new Set([...Object.keys(copied), ...inputs.flatMap((input) => packageOf(input) ?? [])]);
  const notices = [...folders].sort().map((folder) => noticeOf(folder, copied[folder] ?? licenceIn(folder)));
  const head = 'These libraries, fonts and recordings are part of this extension, each under its own licence.\n';
  writeFileSync(file, [head, credit, ...notices].join(`\n${'-'.repeat(80)}\n\n`));
}

/** The folder of the package that a file is of; null for files of ours. */
export function packageOf(input) {
  return input.match(/^.*node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? null;
}

function licenceIn(folder) {
  const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
  return file === undefined ? undefined : join(folder, file);
}

function noticeOf(folder, file) {
  const described = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const { name, version } = described;
  const text = file === undefined ? undefined : readFileSync(file, 'utf8').trim();
  const license = described.license ?? nameOf(text);
  return `${name} ${version} (${license})\n\n${text ?? standardText(described)}\n`;
}

/** Some say their licence in its text alone. */
function nameOf(text) {
  if (/Permission is hereby granted, free of charge/.test(text ?? '')) return 'MIT';
  throw new Error(`A package says its licence neither in package.json nor in words that are known here: ${String(text).slice(0, 80)}`);
}

/** Some name their licence and bring no text of it: then it is the standard one (as SPDX has it) with the author they name. */
function standardText({ name, license, author }) {
  const text = STANDARD[license];
  if (text === undefined)
    throw new Error(
      `The package ${name} brings no text of its licence, ${license}. Add the text to client/notices.mjs, or a file beside it.`,
    );
  const who = typeof author === 'object' ? author.name : author;
  return text(who ?? `the authors of ${name}`);
}

const STANDARD = {
  MIT: (who) => `MIT License

Copyright (c) ${who}

Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`,
  ISC: (who) => `ISC License

Copyright (c) ${who}

Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted, provided that the above copyright notice and this permission notice appear in all copies.

THE SOFTWARE IS PROVIDED "AS IS" AND THE AUTHOR DISCLAIMS ALL WARRANTIES WITH REGARD TO THIS SOFTWARE INCLUDING ALL IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS. IN NO EVENT SHALL THE AUTHOR BE LIABLE FOR ANY SPECIAL, DIRECT, INDIRECT, OR CONSEQUENTIAL DAMAGES OR ANY DAMAGES WHATSOEVER RESULTING FROM LOSS OF USE, DATA OR PROFITS, WHETHER IN AN ACTION OF CONTRACT, NEGLIGENCE OR OTHER TORTIOUS ACTION, ARISING OUT OF OR IN CONNECTION WITH THE USE OR PERFORMANCE OF THIS SOFTWARE.`,
};
