/** Makes handouts in a worker: it alone loads the engraving library and the PDF library, when it is asked for the first one. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parentPort } from 'node:worker_threads';
import type { HandoutAnswer, HandoutRequest } from './hand-out';
import { makeHandout } from './handout/handout';
import { writeHtml } from './handout/html';
import { layOut } from './handout/layout';
import { paperOf } from './handout/paper';
import { createEngraver, type Engraver, type Toolkit } from './picture/engraver';
import { writePdf } from './pdf';

/** The built files stand side by side. */
const beside = (...path: readonly string[]): string => join(__dirname, ...path);
/** Progress is told no oftener than that (milliseconds). */
const OFTEN = 100;

async function loadEngraver(): Promise<Engraver> {
  const load = (file: string): Promise<unknown> => import(pathToFileURL(beside('verovio', file)).href);
  const [{ default: createEngine }, { VerovioToolkit }] = await Promise.all([
    load('verovio-module.js') as Promise<{ readonly default: () => Promise<unknown> }>,
    load('verovio.js') as Promise<{ readonly VerovioToolkit: new (engine: unknown) => Toolkit }>,
  ]);
  return createEngraver(new VerovioToolkit(await createEngine()));
}

let engraver: Promise<Engraver> | undefined;

async function answer({ lessons, options, to, theory }: HandoutRequest, tell: (answer: HandoutAnswer) => void): Promise<void> {
  let told = 0;
  const handout = makeHandout(lessons, options, {
    theory,
    engraver: await (engraver ??= loadEngraver()),
    onProgress(done, total) {
      if (done < total && Date.now() - told < OFTEN) return;
      told = Date.now();
      tell({ kind: 'progress', done, total });
    },
  });
  const paper = paperOf(options.paper);
  const bytes = to === 'html'
    ? new TextEncoder().encode(writeHtml(handout, paper, { regular: lettering('regular'), bold: lettering('bold') }))
    : await writePdf(layOut(handout, paper), { regular: readFileSync(beside('fonts', 'DejaVuSansCondensed.ttf')), bold: readFileSync(beside('fonts', 'DejaVuSansCondensed-Bold.ttf')) });
  tell({ kind: 'made', bytes, notices: handout.notices });
}

function lettering(weight: 'regular' | 'bold'): string {
  return readFileSync(beside('preview', 'font', `${weight}.woff2`)).toString('base64');
}

parentPort?.on('message', (request: HandoutRequest) => {
  const tell = (one: HandoutAnswer): void => parentPort!.postMessage(one);
  answer(request, tell).catch((error: unknown) => tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) }));
});
