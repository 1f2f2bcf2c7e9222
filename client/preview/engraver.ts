/** The engraving library (verovio, LGPL): a file of its own, loaded when the page opens. */
import { createEngraver, type Engraver, type Toolkit } from '../../server/src/picture/engraver';

interface ToolkitModule {
  readonly VerovioToolkit: new (engine: unknown) => Toolkit;
}
interface EngineModule {
  readonly default: () => Promise<unknown>;
}

export async function loadEngraver(engine: string, toolkit: string): Promise<Engraver> {
  const [{ default: createEngine }, { VerovioToolkit }] = await Promise.all([
    import(engine) as Promise<EngineModule>,
    import(toolkit) as Promise<ToolkitModule>,
  ]);
  return createEngraver(new VerovioToolkit(await createEngine()));
}
