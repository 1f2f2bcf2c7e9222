/** Pictures of any text: each phrase is drawn, whatever it says, or is broken and says why. */
import fc from 'fast-check';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { layOut } from '../../server/src/handout/layout';
import { makeHandout } from '../../server/src/handout/handout';
import { writeHtml } from '../../server/src/handout/html';
import { paperOf } from '../../server/src/handout/paper';
import { DEFAULT_HANDOUT } from '../../server/src/handout/types';
import { onFault, type Fault } from '../../server/src/model/faults';
import { openSnapshot } from '../../server/src/model/snapshot';
import { createEngraver, type Engraver, type Toolkit } from '../../server/src/picture/engraver';
import { drawSystem } from '../../server/src/picture/system';
import { readXml } from '../../server/src/picture/xml';
import { area } from './area';
import { anyText, mutatedLesson } from './texts';

interface Library {
  readonly VerovioToolkit: new (engine: unknown) => Toolkit;
}

async function loadEngraver(): Promise<Engraver> {
  const [{ default: createEngine }, { VerovioToolkit }] = await Promise.all([
    import('verovio/wasm') as Promise<{ readonly default: () => Promise<unknown> }>,
    import('verovio/esm') as Promise<Library>,
  ]);
  return createEngraver(new VerovioToolkit(await createEngine()));
}

let loaded: Promise<Engraver> | undefined;

export const engraving = area({
  name: 'engraving',
  share: 3,
  turn: 15,
  inputs: fc.tuple(fc.oneof({ weight: 3, arbitrary: mutatedLesson }, { weight: 1, arbitrary: anyText }), fc.constantFrom(1100, 620, 320)),
  async check([text, width], meter) {
    const engraver = await (loaded ??= loadEngraver());
    const { phrases } = scoreAt(openSnapshot('', 1, text), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' });
    for (const phrase of phrases) {
      await meter.time('picture', text, () => {
        for (const engraved of engraver.engrave(phrase, width)) {
          const { svg, places, width: wide, height } = drawSystem(engraved, phrase, { degrees: true, devices: true });
          if (/NaN|undefined|Infinity/.test(svg)) throw new Error('the picture has a hole');
          readXml(svg);
          if (![wide, height, ...places.flatMap(({ x, width: own }) => [x, own])].every(Number.isFinite))
            throw new Error('a place of the picture is no number');
        }
      });
    }
    if (phrases.length === 0) return;
    await meter.time('handout', text, () => {
      const faults: Fault[] = [];
      const end = onFault((fault) => void faults.push(fault));
      const handout = makeHandout([{ name: 'Any', text }], DEFAULT_HANDOUT, { theory: DEFAULT_THEORY, engraver, onProgress: () => {} });
      end();
      // What breaks off costs the handout only itself; here it is what is looked for.
      if (faults[0] !== undefined) throw faults[0];
      const paper = paperOf('a4');
      layOut(handout, paper);
      writeHtml(handout, paper, { regular: '', bold: '' });
    });
  },
});
