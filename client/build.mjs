/** `npm run build`: all that ships into dist. */
import { existsSync, mkdirSync, rmSync, symlinkSync } from 'node:fs';
import { bundleAll } from './bundle.mjs';

await bundleAll('dist');

// `npx phrasewright` inside the checkout finds the command where npm would have linked it.
const link = 'node_modules/.bin/phrasewright';
if (process.platform !== 'win32' && existsSync('node_modules')) {
  mkdirSync('node_modules/.bin', { recursive: true });
  rmSync(link, { force: true });
  symlinkSync('../../dist/cli.cjs', link);
}
