/** `npm start`: installs what is missing, builds, and opens a sample, with its score beside it, in a browser-based editor with the extension in it. */
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import {
  buildProject,
  CannotGoOn,
  EDITOR,
  FIRST_SCREEN,
  freePort,
  installEditor,
  installProject,
  packageExtension,
  prepareEditor,
  ROOT,
  runMain,
  startEditor,
} from './tools.mjs';

await runMain(async () => {
  const { values } = parseArgs({ options: { port: { type: 'string' } } });
  const told = values.port ?? process.env.PORT;
  if (told !== undefined && !/^\d{1,5}$/.test(told)) throw new CannotGoOn(`“${told}” is no port.`);
  const port = await freePort(told === undefined ? undefined : Number(told));
  installProject();
  buildProject();
  installEditor();
  const data = join(EDITOR, 'data');
  prepareEditor(data, packageExtension(), FIRST_SCREEN.settings);
  const editor = await startEditor({ data, folder: join(ROOT, 'samples'), file: FIRST_SCREEN.file, port });
  console.log(`\nThe samples are open at\n\n  ${editor.address}\n\nPress Ctrl+C to stop.`);
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => void editor.stop().then(() => process.exit(0)));
  editor.child.once('exit', (code) => process.exit(code ?? 0));
});
