/** The direction of imports, read from the sources: a step backward fails. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '..', '..');

/** The folders from the ground up, as the guide has them; a layer may import itself and what stands before it. */
const LAYERS = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8')
  .split('\n')
  .find((row) => row.startsWith('grammar <- '))!
  .split(' <- ')
  .map((name) => (name === 'grammar' ? name : name === 'mains' ? 'server/src' : `server/src/${name}`));

interface Import {
  readonly from: string;
  readonly to: string;
  readonly typeOnly: boolean;
}

function sources(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !file.endsWith('.d.ts'))
    .map((file) => join(folder, file));
}

const FILES = ['grammar', 'server/src', 'client/src', 'client/preview'].flatMap(sources);

function importsOf(file: string): Import[] {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const found = [
    ...text.matchAll(/^(?:import|export)\s+(type\s+)?[^;]*?from\s+'([^']+)'/gms),
    ...text.matchAll(/import\((())'([^']+)'\)/g),
  ];
  return found.map((match) => ({ from: file, to: target(file, match[match.length - 1]!), typeOnly: match[1] === 'type ' }));
}

function target(file: string, specifier: string): string {
  return specifier.startsWith('.') ? relative(ROOT, resolve(ROOT, dirname(file), specifier)) : specifier;
}

/** Its place among the layers; -1 of what is in none. */
function layerOf(path: string): number {
  const [folder] = /^(?:grammar|server\/src(?:\/[^/]+(?=\/))?)(?=\/)/.exec(path) ?? [''];
  return LAYERS.indexOf(folder);
}

const IMPORTS = FILES.flatMap(importsOf);

test('the sources were read', () => {
  expect(FILES.length).toBeGreaterThan(100);
  expect(IMPORTS.length).toBeGreaterThan(300);
});

test('every folder of the grammar and the server is a layer', () => {
  const folders = readdirSync(join(ROOT, 'server/src'), { withFileTypes: true }).filter((entry) => entry.isDirectory());
  expect([...LAYERS].sort()).toEqual(['grammar', 'server/src', ...folders.map(({ name }) => `server/src/${name}`)].sort());
});

function isBackward({ from, to }: Import): boolean {
  return layerOf(from) >= 0 && layerOf(to) > layerOf(from) && !to.endsWith('version');
}

test('no layer imports one above it', () => {
  expect(IMPORTS.filter(isBackward)).toEqual([]);
});

// A check that lets everything pass finds nothing either.
test.each([
  ['grammar/parser.ts', 'server/src/theory/pitch', true],
  ['server/src/theory/pitch.ts', 'server/src/model/fraction', true],
  ['server/src/analysis/role.ts', 'server/src/rules/words', true],
  ['server/src/protocol/server.ts', 'server/src/command-line', true],
  ['server/src/rules/clash.ts', 'server/src/analysis/types', false],
  ['server/src/rules/clash.ts', 'server/src/rules/words', false],
  ['client/src/client.ts', 'server/src/rules/words', false],
])('an import from %s of %s is a step backward: %s', (from, to, is) => {
  expect(isBackward({ from, to, typeOnly: false })).toBe(is);
});

test('only the client knows the editor, only the protocol and the mains know the protocol', () => {
  expect(IMPORTS.filter(({ from, to }) => to === 'vscode' && !from.startsWith('client/src/'))).toEqual([]);
  expect(
    IMPORTS.filter(({ from, to }) => to.startsWith('vscode-language') && !/^(?:client\/|server\/src\/(?:protocol\/|[^/]+$))/.test(from)),
  ).toEqual([]);
  // What the two tell each other has one description, and types leave nothing in a bundle; pictures are drawn, files are named and what a disk refuses is told by the same code everywhere.
  const shared = ['server/src/file-names', 'server/src/disk-words', 'server/src/music-formats'];
  expect(
    IMPORTS.filter(
      ({ from, to, typeOnly }) =>
        from.startsWith('client/') &&
        to.startsWith('server/') &&
        !typeOnly &&
        !to.startsWith('server/src/picture/') &&
        !shared.includes(to),
    ),
  ).toEqual([]);
});

test('the picture needs neither a page nor Node, nor more of the analysis than its types', () => {
  const picture = IMPORTS.filter(({ from }) => from.startsWith('server/src/picture/'));
  expect(picture.length).toBeGreaterThan(10);
  expect(picture.filter(({ to, typeOnly }) => !to.startsWith('server/src/picture/') && to !== 'svg-pathdata' && !typeOnly)).toEqual([]);
  for (const file of FILES.filter((one) => one.startsWith('server/src/picture/')))
    expect(readFileSync(join(ROOT, file), 'utf8'), file).not.toMatch(/\b(?:document|window|process|Buffer|DOMParser)\.[a-z]/);
});

test('the PDF library is known to the worker of handouts alone, which nobody imports; a handout is laid out without Node', () => {
  expect(new Set(IMPORTS.filter(({ to }) => /^(?:pdfkit|svg-to-pdfkit)$/.test(to)).map(({ from }) => from))).toEqual(
    new Set(['server/src/pdf.ts']),
  );
  expect(IMPORTS.filter(({ to }) => to === 'server/src/pdf').map(({ from }) => from)).toEqual(['server/src/handout-worker.ts']);
  expect(IMPORTS.filter(({ to }) => to === 'server/src/handout-worker')).toEqual([]);
  const handout = IMPORTS.filter(({ from }) => from.startsWith('server/src/handout/'));
  expect(handout.length).toBeGreaterThan(20);
  expect(handout.filter(({ to }) => to.startsWith('node:') || !to.includes('/'))).toEqual([]);
});

test('what is brought in needs the language, theory and model alone, and neither a page nor Node; its libraries are its own', () => {
  const imports = IMPORTS.filter(({ from }) => from.startsWith('server/src/imports/'));
  expect(imports.length).toBeGreaterThan(30);
  const allowed = /^(?:grammar\/|server\/src\/(?:theory|model|imports)\/|(?:fraction\.js|saxes|fflate)$)/;
  expect(imports.filter(({ to }) => !allowed.test(to))).toEqual([]);
  expect(
    IMPORTS.filter(({ from, to }) => /^(?:saxes|fflate)$/.test(to) && !from.startsWith('server/src/imports/')).map(({ from }) => from),
  ).toEqual(['server/src/exports/mxl.ts']);
});

test('the code actions of one purpose do not import those of another: what they share is how edits are written', () => {
  const folderOf = (path: string): string => /^server\/src\/assists\/([^/]+)\//.exec(path)?.[1] ?? '';
  const within = IMPORTS.filter(({ from, to }) => folderOf(from) !== '' && to.startsWith('server/src/assists/'));
  expect(within.length).toBeGreaterThan(100);
  const allowed = ({ from, to }: Import): boolean =>
    folderOf(to) === folderOf(from) || (folderOf(from) !== 'writing' && folderOf(to) === 'writing') || to === 'server/src/assists/assist';
  expect(within.filter((one) => !allowed(one))).toEqual([]);
});

test('what hands out in the editor is a bundle of its own: the extension knows its types alone, and starts without it', () => {
  const toHandouts = IMPORTS.filter(
    ({ from, to }) =>
      /^client\/src\/handout\/(?!register$)/.test(to) &&
      !from.startsWith('client/src/handout/') &&
      !from.startsWith('client/preview/handout'),
  );
  expect(toHandouts).toEqual([]);
  const fromRegister = IMPORTS.filter(({ from, to }) => from === 'client/src/handout/register.ts' && to.startsWith('client/'));
  expect(fromRegister).toEqual([{ from: 'client/src/handout/register.ts', to: 'client/src/handout/handouts', typeOnly: true }]);
  expect(IMPORTS.filter(({ to, typeOnly }) => to === 'server/src/handout-service' && !typeOnly)).toEqual([]);
});

test('so is what exports', () => {
  const toExport = IMPORTS.filter(
    ({ from, to }) => /^client\/src\/export\/(?!register$)/.test(to) && !from.startsWith('client/src/export/'),
  );
  expect(toExport).toEqual([]);
  const fromRegister = IMPORTS.filter(({ from, to }) => from === 'client/src/export/register.ts' && to.startsWith('client/'));
  expect(fromRegister).toEqual([{ from: 'client/src/export/register.ts', to: 'client/src/export/exports', typeOnly: true }]);
  expect(IMPORTS.filter(({ to, typeOnly }) => to === 'server/src/export-service' && !typeOnly)).toEqual([]);
});

test('so is what brings in', () => {
  const toImport = IMPORTS.filter(
    ({ from, to }) => /^client\/src\/import\/(?!register$)/.test(to) && !from.startsWith('client/src/import/'),
  );
  expect(toImport).toEqual([]);
  const fromRegister = IMPORTS.filter(({ from, to }) => from === 'client/src/import/register.ts' && to.startsWith('client/'));
  expect(fromRegister).toEqual([{ from: 'client/src/import/register.ts', to: 'client/src/import/bring-in', typeOnly: true }]);
  expect(IMPORTS.filter(({ to, typeOnly }) => to === 'server/src/import-service' && !typeOnly)).toEqual([]);
});

test('what writes a sound file is a bundle of its own, too', () => {
  expect(IMPORTS.filter(({ from, to }) => /^client\/src\/sound\/(?!register$)/.test(to) && !from.startsWith('client/src/sound/'))).toEqual(
    [],
  );
  const fromRegister = IMPORTS.filter(
    ({ from, to, typeOnly }) => from === 'client/src/sound/register.ts' && to.startsWith('client/src/sound/') && !typeOnly,
  );
  expect(fromRegister).toEqual([]);
});

test('no two files import each other, but for their types', () => {
  const edges = new Map<string, Set<string>>();
  for (const { from, to, typeOnly } of IMPORTS) {
    if (typeOnly) continue;
    const file = FILES.find((one) => one === `${to}.ts` || one === join(to, 'index.ts'));
    if (file !== undefined) edges.set(from, (edges.get(from) ?? new Set()).add(file));
  }
  const cycles: string[] = [];
  const state = new Map<string, 'open' | 'done'>();
  const visit = (file: string, path: readonly string[]): void => {
    if (state.get(file) === 'open') cycles.push([...path.slice(path.indexOf(file)), file].join(' -> '));
    if (state.has(file)) return;
    state.set(file, 'open');
    for (const next of edges.get(file) ?? []) visit(next, [...path, file]);
    state.set(file, 'done');
  };
  for (const file of FILES) visit(file, []);
  expect(cycles).toEqual([]);
});
