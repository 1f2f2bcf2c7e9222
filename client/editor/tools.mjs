/**
 * Installing and starting the browser-based editor: shared by `npm start`, `npm run package` and the workbench tests. Only
 * Node's own modules are used, since this runs before anything is installed.
 */
import { spawn, spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, lstatSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
export const EDITOR = join(ROOT, '.editor');
/** Where a browser for the tests may be, the best place first: its headless part alone takes a fifth less processor time. */
export const BROWSERS = [process.env.CHROMIUM_PATH, '/usr/bin/chromium-headless-shell', '/usr/bin/chromium', '/usr/bin/chromium-browser'];
const HERE = join(ROOT, 'client', 'editor');
const windows = process.platform === 'win32';
const npm = windows ? 'npm.cmd' : 'npm';

/** Stops with a message a reader can act on. */
export class CannotGoOn extends Error {}

/** Runs `main` and turns a CannotGoOn into its message and exit code 2. */
export async function runMain(main) {
  try {
    await main();
  } catch (error) {
    if (!(error instanceof CannotGoOn)) throw error;
    console.error(`phrasewright: ${error.message}`);
    process.exitCode = 2;
  }
}

function run(command, args, { cwd = ROOT, env = process.env, quiet = false } = {}) {
  const { status, error, stdout, stderr } = spawnSync(command, args, {
    cwd,
    env,
    stdio: quiet ? 'pipe' : 'inherit',
    encoding: 'utf8',
    shell: windows,
  });
  if (error !== undefined) throw new CannotGoOn(`${command} could not be started: ${error.message}.`);
  return { ok: status === 0, output: `${stdout ?? ''}${stderr ?? ''}` };
}

function must(what, command, args, options) {
  const { ok, output } = run(command, args, options);
  if (!ok) throw new CannotGoOn(`${what} failed (${command} ${args.join(' ')}).\n${output.slice(-3000)}`);
}

function newerThan(file, other) {
  return !existsSync(other) || statSync(file).mtimeMs > statSync(other).mtimeMs;
}

/** Installs a project's packages, this one's own, where they are missing or older than the lock file. */
export function installProject(root = ROOT) {
  const major = Number(process.versions.node.split('.')[0]);
  if (major < 20) throw new CannotGoOn(`Node ${process.versions.node} is too old; Node 20 or newer is needed.`);
  const packages = join(root, 'node_modules');
  if (!newerThan(join(root, 'package-lock.json'), join(packages, '.package-lock.json'))) return;
  refuseLink(packages);
  console.log('Installing the project’s packages (a few seconds) …');
  must('Installing the packages', npm, ['ci', '--no-audit', '--no-fund'], { cwd: root, quiet: true });
}

/** An installation empties its folder first; behind a link that is a folder of somebody else's. */
function refuseLink(folder) {
  if (lstatSync(folder, { throwIfNoEntry: false })?.isSymbolicLink() !== true) return;
  throw new CannotGoOn(
    `${folder} is a link, and what it leads to is older than the lock file. Installing would empty the folder behind the link, so nothing was done. Remove the link and run this again, or install the packages in the folder it leads to.`,
  );
}

export function buildProject() {
  console.log('Building the extension …');
  must('The build', npm, ['run', '--silent', 'build']);
}

/** Installs the editor into the ignored folder `.editor` on first use, or after its lock file changed. */
export function installEditor() {
  const stamp = join(EDITOR, 'installed.json');
  const wanted = readFileSync(join(HERE, 'package-lock.json'), 'utf8');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return;
  refuseLink(EDITOR);
  console.log('Installing the browser-based editor into .editor (about 900 MB, once; a minute or so) …');
  mkdirSync(EDITOR, { recursive: true });
  for (const file of ['package.json', 'package-lock.json']) copyFileSync(join(HERE, file), join(EDITOR, file));
  must('Installing the editor', npm, ['ci', '--ignore-scripts', '--no-audit', '--no-fund'], { cwd: EDITOR, quiet: true });
  // The editor needs a newer Node than the project: one package a platform, so it is no dependency that a lock file could hold for all.
  must(
    'Installing the editor’s Node',
    npm,
    ['install', '--no-save', '--ignore-scripts', '--no-audit', '--no-fund', `${nodePackage()}@${EDITOR_NODE}`],
    { cwd: EDITOR, quiet: true },
  );
  const inner = join(EDITOR, 'node_modules', 'code-server', 'lib', 'vscode');
  const env = editorEnvironment();
  must('Installing the editor’s own packages', npm, ['install', '--no-save', '--omit=dev', '--ignore-scripts', '--no-audit', '--no-fund'], {
    cwd: inner,
    env,
    quiet: true,
  });
  const home = dirname(dirname(editorNode()));
  const { ok } = run(npm, ['rebuild', '@vscode/spdlog'], { cwd: inner, env: { ...env, npm_config_nodedir: home }, quiet: true });
  if (!ok) console.log('  (no C++ compiler was found: the editor works, but its Output panel stays empty)');
  writeFileSync(stamp, wanted);
}

const EDITOR_NODE = '24.21.0';

function nodePackage() {
  return `node-${windows ? 'win' : process.platform}-${process.arch}`;
}

/** The Node that the editor needs. */
export function editorNode() {
  const node = join(EDITOR, 'node_modules', nodePackage(), 'bin', windows ? 'node.exe' : 'node');
  if (!existsSync(node))
    throw new CannotGoOn(
      `There is no editor for ${process.platform} on ${process.arch}. Install the .vsix in an editor of your own instead (npm run package).`,
    );
  return node;
}

function editorEnvironment() {
  return { ...process.env, PATH: `${dirname(editorNode())}${delimiter}${process.env.PATH}` };
}

/** Packs the extension and answers the path of the .vsix. */
export function packageExtension() {
  const { name, version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  const file = join(ROOT, `${name}-${version}.vsix`);
  const vsce = join(EDITOR, 'node_modules', '@vscode', 'vsce', 'vsce');
  must(
    'Packing the extension',
    editorNode(),
    [vsce, 'package', '--no-dependencies', '--allow-missing-repository', '--no-rewrite-relative-links', '--out', file],
    { env: editorEnvironment(), quiet: true },
  );
  return file;
}

const SETTINGS = {
  'workbench.startupEditor': 'none',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'chat.disableAIFeatures': true,
  'telemetry.telemetryLevel': 'off',
  'extensions.autoCheckUpdates': false,
  'editor.hover.delay': 100,
  'security.workspace.trust.enabled': false,
  // The samples lie in a repository, which is no question for who writes phrases.
  'git.openRepositoryInParentFolders': 'never',
};

/** What is seen first: a sample with its score beside it. */
export const FIRST_SCREEN = { file: 'first-two-five-one.phrase', settings: { 'phrasewright.score.opensByItself': true } };

const entry = () => join(EDITOR, 'node_modules', 'code-server', 'out', 'node', 'entry.js');

/** Puts the .vsix into the editor whose data live in `data`, and writes its settings; `more` adds to them. What was chosen there since stays. */
export function prepareEditor(data, vsix, more = {}) {
  writeSettings(data, more);
  installExtension(data, vsix);
}

/** Writes the settings of the editor whose data live in `data`. */
export function writeSettings(data, more = {}) {
  mkdirSync(join(data, 'User'), { recursive: true });
  const settings = join(data, 'User', 'settings.json');
  writeFileSync(settings, JSON.stringify({ ...SETTINGS, ...more, ...chosenIn(settings) }, null, 2));
  writeFileSync(join(data, 'config.yaml'), '');
}

/** Puts the .vsix into the folder `extensions` of the editor's data; a copy of that folder serves another editor. */
export function installExtension(data, vsix) {
  must('Installing the extension in the editor', editorNode(), [entry(), ...places(data), '--install-extension', vsix, '--force'], {
    env: editorEnvironment(),
    quiet: true,
  });
}

/** The settings of a file; none where there is no such file, or one that someone has yet to put right. */
function chosenIn(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return {};
  }
}

function places(data) {
  return ['--config', join(data, 'config.yaml'), '--user-data-dir', data, '--extensions-dir', join(data, 'extensions')];
}

/** Starts the editor on a folder, on loopback only; answers its address, which opens a file of the folder if one is named, and how to stop it. Folders are trusted unless `asksTrust`. */
export async function startEditor({ data, folder, file, port, asksTrust = false }) {
  const args = [
    entry(),
    ...places(data),
    '--bind-addr',
    `127.0.0.1:${port}`,
    '--auth',
    'none',
    '--disable-telemetry',
    '--disable-update-check',
    ...(asksTrust ? [] : ['--disable-workspace-trust']),
    '--disable-getting-started-override',
    '--ignore-last-opened',
    folder,
  ];
  const child = spawn(editorNode(), args, { env: editorEnvironment(), stdio: ['ignore', 'pipe', 'pipe'] });
  let log = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (log = (log + chunk).slice(-4000)));
  const stop = () =>
    new Promise((resolve) => {
      if (child.exitCode !== null) return resolve();
      child.once('exit', resolve);
      child.kill('SIGTERM');
    });
  const address = `http://127.0.0.1:${port}`;
  for (let tries = 0; tries < 300; tries += 1) {
    if (child.exitCode !== null) throw new CannotGoOn(`The editor ended at once.\n${log}`);
    if (await answers(`${address}/healthz`))
      return { address: `${address}/?folder=${encodeURIComponent(folder)}${opening(file, folder, port)}`, stop, child };
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  await stop();
  throw new CannotGoOn(`The editor did not answer within a minute.\n${log}`);
}

/** The part of an address that opens a file. */
function opening(file, folder, port) {
  if (file === undefined) return '';
  const uri = `vscode-remote://127.0.0.1:${port}${encodeURI(
    join(folder, file)
      .replaceAll('\\', '/')
      .replace(/^(?!\/)/, '/'),
  )}`;
  return `&payload=${encodeURIComponent(JSON.stringify([['openFile', uri]]))}`;
}

async function answers(url) {
  try {
    return (await fetch(url)).ok;
  } catch {
    return false;
  }
}

/** A port nobody uses; where `wanted` is given, that one or a clear error. */
export function freePort(wanted) {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', () => reject(new CannotGoOn(`Port ${wanted} is in use. Choose another with --port, or leave it out.`)));
    server.listen(wanted ?? 0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });
}
