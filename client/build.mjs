/** `npm run build`: checks the types, of the pages too, and puts all that ships into dist, at once. */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, rmSync, symlinkSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { bundleAll } from './bundle.mjs';

const require = createRequire(import.meta.url);
const manifest = require.resolve('typescript/package.json');
const compiler = join(dirname(manifest), require(manifest).bin.tsc);

/** Whether the types of a project hold; what does not is printed. */
function typesHold(project) {
  return new Promise((resolve) =>
    spawn(process.execPath, [compiler, '--noEmit', '-p', project], { stdio: 'inherit' }).once('close', (code) => resolve(code === 0)),
  );
}

const checks = await Promise.all([typesHold('.'), typesHold('client/preview'), bundleAll('dist').then(() => true)]);
if (checks.includes(false)) process.exit(1);

// `npx phrasewright` inside the checkout finds the command where npm would have linked it.
const link = 'node_modules/.bin/phrasewright';
if (process.platform !== 'win32' && existsSync('node_modules')) {
  mkdirSync('node_modules/.bin', { recursive: true });
  rmSync(link, { force: true });
  symlinkSync('../../dist/cli.cjs', link);
}
