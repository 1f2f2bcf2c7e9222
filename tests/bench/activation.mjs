/**
 * How long the extension takes to be activated in the editor, beside the editor's own JSON extension, and beside itself with all that its
 * first commands load (handouts, exports, scores brought in, sound files) loaded at the start. The editor's own account of it (*Show Running
 * Extensions*), medians of some starts in one run, as ratios. Needs a built .vsix: `npm run package && node tests/bench/activation.mjs`.
 */
import { appendFileSync, cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { EDITOR, freePort, prepareEditor, ROOT, startEditor } from '../../client/editor/tools.mjs';

const STARTS = Number(process.env.STARTS ?? 7);
const LAZY = ['client-export', 'client-handout', 'client-import', 'client-sound', 'export-service', 'handout-service', 'import-service'];

const { name, version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
const { chromium } = createRequire(join(EDITOR, 'package.json'))('playwright-core');
const home = mkdtempSync(join(tmpdir(), 'phrasewright-activation-'));
const folder = join(home, 'folder');
cpSync(join(ROOT, 'samples'), folder, { recursive: true });
writeFileSync(join(folder, 'a.json'), '{ "a": 1 }\n');

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
const editors = {};
try {
  for (const kind of ['lazy', 'eager']) {
    const data = join(home, kind);
    prepareEditor(data, join(ROOT, `${name}-${version}.vsix`));
    if (kind === 'eager') {
      const installed = readdirSync(join(data, 'extensions')).find((one) => one.includes(name));
      appendFileSync(join(data, 'extensions', installed, 'dist', 'client.cjs'), LAZY.map((file) => `\nrequire('./${file}.cjs');`).join(''));
    }
    editors[kind] = await startEditor({ data, folder, file: 'first-two-five-one.phrase', port: await freePort() });
  }
  const times = { lazy: [], eager: [], json: [] };
  for (let start = 0; start < STARTS; start += 1) {
    // They take turns, so that whatever else the machine does troubles both alike.
    for (const kind of ['lazy', 'eager']) {
      const { own, json } = await activation(editors[kind].address);
      times[kind].push(own);
      times.json.push(json);
    }
  }
  const [lazy, eager, json] = [times.lazy, times.eager, times.json].map(median);
  console.log(
    `activation: ${(lazy / json).toFixed(2)} of the time of the editor’s JSON extension; ${(lazy / eager).toFixed(2)} of its own with all bundles loaded at the start (medians of ${STARTS} starts)`,
  );
  if (lazy > eager) process.exitCode = 1;
} finally {
  await browser.close();
  for (const { stop } of Object.values(editors)) await stop();
  rmSync(home, { recursive: true, force: true });
}

function median(values) {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
}

/** Starts the editor's page anew, with a lesson, opens a JSON file, and reads what the editor says of both extensions: milliseconds. */
async function activation(address) {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 1600 } })).newPage();
  try {
    await page.goto(address);
    await page.locator('.codelens-decoration', { hasText: 'Play' }).first().waitFor({ timeout: 90_000 });
    await page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'a.json' }).first().dblclick();
    await page.locator('.tabs-container .tab.active', { hasText: 'a.json' }).waitFor();
    // The list is drawn anew while extensions are activated: it is read until both stand in it.
    for (let tries = 0; tries < 20; tries += 1) {
      await page.waitForTimeout(1000);
      if (tries === 0) {
        await page.keyboard.press('F1');
        await page.locator('.quick-input-box input').fill('>Developer: Show Running Extensions');
        await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Show Running Extensions' }).first().waitFor();
        await page.keyboard.press('Enter');
      }
      const rows = await page.locator('.runtime-extensions-editor .monaco-list-row').allInnerTexts();
      const [own, json] = [/^phrasewright/im, /JSON Language Features|json-language-features/i].map((called) =>
        timeIn(rows.find((row) => called.test(row))),
      );
      if (own !== null && json !== null) return { own, json };
      if (tries === 19) throw new Error(`The editor does not say how long both took:\n${rows.join('\n--\n')}`);
    }
  } finally {
    await page.context().close();
  }
}

function timeIn(row) {
  const found = /Activation:\s*([\d.]+)\s*ms/i.exec(row ?? '');
  return found === null ? null : Number(found[1]);
}
