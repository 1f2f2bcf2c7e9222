/** Bundles the extension's language client over the editor that is none, and the server that it starts. */
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { build, type Plugin } from 'esbuild';
import type * as Bundle from './editor-client';

const noEditor: Plugin = {
  name: 'no-editor',
  setup(plugins) {
    plugins.onResolve({ filter: /^vscode$/ }, () => ({ path: 'vscode', namespace: 'no-editor' }));
    plugins.onLoad({ filter: /.*/, namespace: 'no-editor' }, () => ({
      contents: `const known = require('./fake-editor.ts');
const others = new Map();
module.exports = new Proxy(known, { get(_, name) {
  if (name in known) return known[name];
  if (!others.has(name)) others.set(name, class {});
  return others.get(name);
} });`,
      resolveDir: import.meta.dirname,
    }));
  },
};

export async function bundleClient(
  folder: string,
  server = 'server/src/start-server.ts',
): Promise<{ readonly bundle: typeof Bundle; readonly module: string }> {
  const shared = { bundle: true, platform: 'node', format: 'cjs', logLevel: 'error' } as const;
  const module = join(folder, 'dist', 'server.cjs');
  const client = join(folder, 'dist', 'client.cjs');
  await build({ ...shared, entryPoints: [server], outfile: module });
  await build({ ...shared, entryPoints: ['tests/lsp/editor-client.ts'], outfile: client, plugins: [noEditor] });
  return { bundle: createRequire(import.meta.url)(client) as typeof Bundle, module };
}
