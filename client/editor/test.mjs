/** `npm test`: installs what is missing, builds, runs every test, and prints one closing line with the counts. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildProject, CannotGoOn, installEditor, installProject, packageExtension, ROOT, runMain } from './tools.mjs';

await runMain(async () => {
  installProject();
  buildProject();
  installEditor();
  installBrowser();
  const vsix = packageExtension();
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-test-'));
  const report = join(folder, 'report.json');
  const { status } = spawnSync(
    process.execPath,
    [join(ROOT, 'node_modules', 'vitest', 'vitest.mjs'), 'run', '--config', 'tests/vitest.config.ts', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...process.argv.slice(2)],
    { cwd: ROOT, stdio: 'inherit', env: { ...process.env, PHRASEWRIGHT_VSIX: vsix } },
  );
  if (!existsSync(report)) throw new CannotGoOn('The tests ended without a report.');
  const { numPassedTests, numFailedTests, numPendingTests, success } = JSON.parse(readFileSync(report, 'utf8'));
  rmSync(folder, { recursive: true, force: true });
  console.log(`${numPassedTests} passed, ${numFailedTests} failed, ${numPendingTests} skipped`);
  process.exitCode = status === 0 && success && numPassedTests > 0 ? 0 : 1;
});

/** Installs Chromium where that is a matter of one command; elsewhere the workbench tests fail and say what is missing. */
function installBrowser() {
  if (['/usr/bin/chromium', process.env.CHROMIUM_PATH].some((path) => path !== undefined && existsSync(path))) return;
  const root = process.getuid?.() === 0 && existsSync('/usr/bin/apt-get');
  if (!root) {
    console.log('Chromium is missing: install it (apt-get install chromium), or say where it is in CHROMIUM_PATH. The workbench tests will fail without it.');
    return;
  }
  console.log('Installing Chromium …');
  spawnSync('apt-get', ['update'], { stdio: 'ignore' });
  spawnSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium', 'fonts-dejavu-core'], { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } });
}
