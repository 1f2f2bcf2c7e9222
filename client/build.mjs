/** Bundles the extension, its server and the command line into dist. Nothing is minified, so that errors name what they mean. */
import { chmodSync, existsSync, mkdirSync, rmSync, symlinkSync } from 'node:fs';
import { build } from 'esbuild';

const shared = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  sourcemap: true,
  keepNames: true,
  logLevel: 'warning',
};

await Promise.all([
  build({ ...shared, entryPoints: ['client/src/extension.ts'], outfile: 'dist/client.cjs', external: ['vscode'] }),
  build({ ...shared, entryPoints: ['server/src/start-server.ts'], outfile: 'dist/server.cjs' }),
  build({ ...shared, entryPoints: ['server/src/cli.ts'], outfile: 'dist/cli.cjs', banner: { js: '#!/usr/bin/env node' } }),
]);
chmodSync('dist/cli.cjs', 0o755);

// `npx phrasewright` inside the checkout finds the command where npm would have linked it.
const link = 'node_modules/.bin/phrasewright';
if (process.platform !== 'win32' && existsSync('node_modules')) {
  mkdirSync('node_modules/.bin', { recursive: true });
  rmSync(link, { force: true });
  symlinkSync('../../dist/cli.cjs', link);
}
