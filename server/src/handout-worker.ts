/** Makes handouts in a worker: it alone loads the engraving library and the PDF library, when it is asked for the first one. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parentPort } from 'node:worker_threads';
import type { HandoutAnswer, HandoutOrder } from './hand-out';
import { makeExerciseSheet } from './exercises/sheet';
import { makeHandout } from './handout/handout';
import { writeHtml } from './handout/html';
import { layOut } from './handout/layout';
import { missingLetters } from './handout/letters';
import { paperOf } from './handout/paper';
import { isOfExercises } from './handout/types';
import { faultWords, onceEach, onFault } from './model/faults';
import { createEngraver, type Engraver, type Toolkit } from './picture/engraver';
import { lettersOf, writePdf } from './pdf';

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

/** What a wish is answered, but for its number. */
type Answer = HandoutAnswer extends infer One ? (One extends HandoutAnswer ? Omit<One, 'number'> : never) : never;

async function answer(
  { request: { lessons, options, to, theory }, calledOff }: HandoutOrder,
  tell: (answer: Answer) => void,
): Promise<void> {
  const heed = (): void => {
    if (Atomics.load(calledOff, 0) === 1) throw new Error('The handout was called off.');
  };
  heed();
  let told = 0;
  const make = isOfExercises(options.sheet) ? makeExerciseSheet : makeHandout;
  const handout = make(lessons, options, {
    theory,
    engraver: await (engraver ??= loadEngraver()),
    onProgress(done, total) {
      heed();
      if (done < total && Date.now() - told < OFTEN) return;
      told = Date.now();
      tell({ kind: 'progress', done, total });
    },
  });
  const paper = paperOf(options.paper);
  if (to === 'html') {
    tell({
      kind: 'made',
      bytes: new TextEncoder().encode(writeHtml(handout, paper, { regular: lettering('regular'), bold: lettering('bold') })),
      notices: handout.notices,
    });
    return;
  }
  const fonts = { regular: font('DejaVuSansCondensed.ttf'), bold: font('DejaVuSansCondensed-Bold.ttf') };
  const bytes = await writePdf(layOut(handout, paper), fonts);
  tell({ kind: 'made', bytes, notices: [...handout.notices, ...missingLetters(handout.blocks, lettersOf(fonts))] });
}

function font(file: string): Uint8Array {
  return readFileSync(beside('fonts', file));
}

function lettering(weight: 'regular' | 'bold'): string {
  return readFileSync(beside('preview', 'font', `${weight}.woff2`)).toString('base64');
}

parentPort?.on('message', (order: HandoutOrder) => {
  const faults: string[] = [];
  const end = onFault(onceEach((fault) => void faults.push(faultWords(fault))));
  const tell = (one: Answer): void =>
    parentPort!.postMessage({ ...one, ...(one.kind === 'made' ? { notices: [...one.notices, ...faults] } : {}), number: order.number });
  answer(order, tell)
    .catch((error: unknown) =>
      tell({ kind: 'failed', message: [error instanceof Error ? error.message : String(error), ...faults].join(' ') }),
    )
    .finally(end);
});
