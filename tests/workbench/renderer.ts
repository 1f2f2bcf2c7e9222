/** What renders sound files, in a browser but without the editor round it: as many renderings as a test likes. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll } from 'vitest';
import { ROOT } from '../../client/editor/tools.mjs';
import type { Track } from '../../client/src/score/messages';
import { launch } from './harness';
import type { Wav } from './heard';

export interface Renderer {
  render(track: Track): Promise<Wav>;
  close(): Promise<void>;
}

/** A host that browsers trust as they trust the editor's pages; the test itself answers for it. */
const HOST = 'http://localhost';

/** The page's own parts. A piano that takes long to load is waited for. */
const CODE = `
  import { renderTrack } from './client/preview/render';
  import { pianoFrom } from './client/preview/piano';
  const load = pianoFrom('${HOST}/piano', (reason) => console.error(reason));
  window.rendered = async (track) => {
    let piano = null;
    while (piano === null && track.piano.length > 0) piano = await load();
    const { rate, samples } = await renderTrack(track, piano);
    const url = await new Promise((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve(reader.result);
      reader.readAsDataURL(new Blob([samples]));
    });
    return { rate, base64: url.slice(url.indexOf(',') + 1) };
  };
`;

/** One for all tests of a file; it is empty until the first begins. */
export function rendererOfFile(): Renderer {
  const renderer = {} as { -readonly [K in keyof Renderer]: Renderer[K] };
  beforeAll(async () => {
    Object.assign(renderer, await openRenderer());
  });
  afterAll(async () => {
    await (renderer as Partial<Renderer>).close?.();
  });
  return renderer;
}

async function openRenderer(): Promise<Renderer> {
  const { outputFiles } = await build({
    stdin: { contents: CODE, resolveDir: ROOT },
    bundle: true,
    format: 'iife',
    write: false,
    logLevel: 'error',
  });
  const browser = await launch();
  const page = await browser.newPage();
  await page.route(`${HOST}/**`, async (route) => {
    const { pathname } = new URL(route.request().url());
    if (pathname === '/') await route.fulfill({ contentType: 'text/html', body: '<title>Renderer</title>' });
    else await route.fulfill({ body: readFileSync(join(ROOT, 'dist', pathname)) });
  });
  await page.goto(`${HOST}/`);
  await page.evaluate(outputFiles[0]!.text);
  return {
    async render(track) {
      const { rate, base64 } = (await page.evaluate(`window.rendered(${JSON.stringify(track)})`)) as { rate: number; base64: string };
      const raw = new Int16Array(Uint8Array.from(Buffer.from(base64, 'base64')).buffer);
      return { rate, raw, samples: Float64Array.from(raw, (sample) => sample / 32_768) };
    },
    close: () => browser.close(),
  };
}
