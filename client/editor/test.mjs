/** `npm test`: installs what is missing, builds, runs every test, and prints one closing line with the counts. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BROWSERS, buildProject, CannotGoOn, installEditor, installProject, packageExtension, ROOT, runMain } from './tools.mjs';

/** What the tests look with: a browser, and readers of PDF files. */
const TOOLS = [
  {
    name: 'Chromium',
    packages: ['chromium-headless-shell', 'fonts-dejavu-core'],
    // Older systems have no package of its headless part alone.
    instead: ['chromium', 'fonts-dejavu-core'],
    places: BROWSERS,
    without: 'say where it is in CHROMIUM_PATH. The workbench tests fail without it',
  },
  {
    name: 'poppler-utils',
    packages: ['poppler-utils'],
    places: ['/usr/bin/pdftotext'],
    without: 'or go on: the checks of handouts that need it are skipped',
  },
];

await runMain(async () => {
  installProject();
  buildProject();
  installEditor();
  installTools();
  const vsix = packageExtension();
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-test-'));
  const report = join(folder, 'report.json');
  const { status } = spawnSync(
    process.execPath,
    [
      join(ROOT, 'node_modules', 'vitest', 'vitest.mjs'),
      'run',
      '--config',
      'tests/vitest.config.ts',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${report}`,
      ...process.argv.slice(2),
    ],
    { cwd: ROOT, stdio: 'inherit', env: { ...process.env, PHRASEWRIGHT_VSIX: vsix } },
  );
  if (!existsSync(report)) throw new CannotGoOn('The tests ended without a report.');
  const { numPassedTests, numFailedTests, numPendingTests, success } = JSON.parse(readFileSync(report, 'utf8'));
  rmSync(folder, { recursive: true, force: true });
  console.log(`${numPassedTests} passed, ${numFailedTests} failed, ${numPendingTests} skipped`);
  process.exitCode = status === 0 && success && numPassedTests > 0 ? 0 : 1;
});

/** Installs them where that is a matter of one command; elsewhere says what is missing. */
function installTools() {
  const isMissing = ({ places }) => !places.some((path) => path !== undefined && existsSync(path));
  const missing = TOOLS.filter(isMissing);
  const canInstall = process.getuid?.() === 0 && existsSync('/usr/bin/apt-get');
  if (!canInstall)
    for (const { name, packages, without } of missing)
      console.log(`${name} is missing: install it (apt-get install ${packages.join(' ')}), ${without}.`);
  if (missing.length === 0 || !canInstall) return;
  console.log(`Installing ${missing.map(({ name }) => name).join(' and ')} …`);
  spawnSync('apt-get', ['update'], { stdio: 'ignore' });
  const install = (packages) =>
    spawnSync('apt-get', ['install', '-y', '--no-install-recommends', ...packages], {
      stdio: 'inherit',
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
  for (const tool of missing) {
    install(tool.packages);
    if (isMissing(tool) && tool.instead !== undefined) install(tool.instead);
  }
}
