/** The command line when something in it, or in the world, breaks off: what was there stays, and why is said once. */
import { spawnSync } from 'node:child_process';
import {
  closeSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, type Plugin } from 'esbuild';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleHandout } from '../../client/bundle-handout.mjs';
import { bundledCli } from './bundles';
import { runIn } from './command-line';

const LESSON = 'phrase "Clean"\n  key     C major\n  over    | Dm7 G7  | Cmaj7     |\n  line    | D4 F A G | E-G C B3 ~ |\n';

const brokenDevice: Plugin = {
  name: 'broken-device',
  setup: (plugins) =>
    plugins.onLoad({ filter: /devices[/\\]enclosure\.ts$/ }, () => ({
      contents: 'export const enclosure = () => { throw new Error("out of order"); };',
    })),
};

/** Whatever tells of “Weir” cannot be engraved. */
const brokenEngraving: Plugin = {
  name: 'broken-engraving',
  setup: (plugins) =>
    plugins.onLoad({ filter: /picture[/\\]engraver\.ts$/ }, ({ path }) => {
      const [before, after] = readFileSync(path, 'utf8').split(/(?<=\n {4}engrave\(engraving, width\) \{\n)/);
      return { loader: 'ts', contents: `${before}if (engraving.musicXml.includes('Weir')) throw new Error('out of ink');\n${after!}` };
    }),
};

/** No bar of five beats gets its beams. */
const brokenBeams: Plugin = {
  name: 'broken-beams',
  setup: (plugins) =>
    plugins.onLoad({ filter: /exports[/\\]beams\.ts$/ }, ({ path }) => {
      const [before, after] = readFileSync(path, 'utf8').split(/(?<=export function beamsOf\(.*\{\n)/);
      return { loader: 'ts', contents: `${before}if (meter.beats === 5) throw new Error('out of beams');\n${after!}` };
    }),
};

let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-cli-faults-'));
  // It looks for the worker of handouts beside it.
  copyFileSync(await bundledCli(), join(folder, 'cli.cjs'));
  await build({
    entryPoints: ['server/src/cli.ts'],
    bundle: true,
    platform: 'node',
    format: 'cjs',
    logLevel: 'error',
    outfile: join(folder, 'broken.cjs'),
    plugins: [brokenDevice, brokenBeams],
  });
  await bundleHandout(folder, { plugins: [brokenDevice, brokenEngraving], logLevel: 'error' });
  writeFileSync(join(folder, 'clean.phrase'), LESSON);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(
  cli: 'cli' | 'broken',
  args: readonly string[],
  out: 'pipe' | number = 'pipe',
): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(folder, `${cli}.cjs`), ...args], {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', out, 'pipe'],
  });
  return { status, out: stdout ?? '', err: stderr };
}

describe('a device that throws', () => {
  const TOLD = 'phrasewright: A fault of Phrasewright: the device “enclosure” broke off: out of order. Everything else goes on.\n';

  test('is told once, and the phrase is explained without it', () => {
    const { status, out, err } = run('broken', ['explain', 'clean.phrase']);
    expect({ status, err }).toEqual({ status: 0, err: TOLD });
    expect(out).toContain('Clean');
  });

  test('is told once by however many workers', () => {
    const names = Array.from({ length: 8 }, (_, i) => `long-${i}.phrase`);
    for (const name of names) writeFileSync(join(folder, name), LESSON.repeat(300));
    const { status, out, err } = run('broken', ['explain', ...names]);
    expect({ status, err }).toEqual({ status: 0, err: TOLD });
    expect(out.match(/^Clean$/gm)).toHaveLength(8 * 300);
  });
});

test('a handout is made without a device that throws, and says so once', () => {
  const { status, out, err } = run('broken', ['export', '--to', 'html', 'clean.phrase']);
  expect(err.match(/the device “enclosure” broke off/g)).toHaveLength(1);
  // Not all that was asked is in it.
  expect(status).toBe(1);
  expect(out).toContain('Clean');
});

test.each(['html', 'pdf'])(
  'a handout (%s) is made without the notation of a phrase that cannot be engraved, which is named once, in whatever keys',
  (to) => {
    writeFileSync(join(folder, 'weir.phrase'), `${LESSON}${LESSON.replace('Clean', 'Weir')}${LESSON.replace('Clean', 'Lock')}`);
    const { status, err } = run('cli', [
      'export',
      '--to',
      to,
      '--keys',
      'C,F',
      '--parts',
      'trumpet,alto-sax',
      '--out',
      `made.${to}`,
      'weir.phrase',
    ]);
    expect(err.match(/Weir/g)).toHaveLength(1);
    expect(err).toContain(
      'phrasewright: A fault of Phrasewright: the notation of “Weir” broke off: out of ink. Everything else goes on.\n',
    );
    expect(status).toBe(1);
    const file = readFileSync(join(folder, `made.${to}`), 'utf8');
    if (to === 'pdf') expect(file).toMatch(/^%PDF-1\.7[^]*%%EOF\s*$/);
    else {
      expect(file.match(/<h2 /g)).toHaveLength(12);
      expect(file.match(/<svg /g)).toHaveLength(8);
      expect(file.match(/This phrase could not be drawn/g)).toHaveLength(4);
    }
  },
);

test('an export of music is made without a phrase that cannot be written, which is named, and is not all that was asked', () => {
  const weir = 'phrase "Weir"\n  meter 5/4\n  over | C6 |\n  line | C4-D E G E D |\n\n';
  writeFileSync(join(folder, 'music.phrase'), `${LESSON}\n${weir}${LESSON.replace('Clean', 'Lock')}`);
  const { status, out, err } = run('broken', ['export', '--to', 'musicxml', 'music.phrase']);
  expect({ status, err }).toEqual({
    status: 1,
    err: 'phrasewright: A fault of Phrasewright: the notation of “Weir” broke off: out of beams. Everything else goes on.\n',
  });
  expect([...out.matchAll(/<words font-weight="bold">(\w+)/g)].map(([, name]) => name)).toEqual(['Clean', 'Lock']);
});

test('an export of music says which phrase has an error, and which has a note that MIDI has no number for, and is not all that was asked', () => {
  writeFileSync(
    join(folder, 'music.phrase'),
    `${LESSON.replace('F A G', 'F xx G')}\n${LESSON.replace('Clean', 'High').replace('D4 F', 'D4 A9')}`,
  );
  const { status, err } = run('cli', ['export', '--to', 'midi', '--out', 'music.mid', 'music.phrase']);
  expect(status).toBe(1);
  expect(err).toMatch(
    /^phrasewright: music\.phrase: “Clean” has an error, so its notes may not all be there: .+\nphrasewright: music\.phrase: “High” holds a note that MIDI has no number for\. Move the phrase by octaves\. It is left out\.\n$/,
  );
});

/** A device that has no room for anything; Linux has it. */
const FULL = '/dev/full';

describe.skipIf(!existsSync(FULL))('a full disk', () => {
  const full = (...args: string[]): { status: number | null; err: string } => {
    const out = openSync(FULL, 'w');
    const { status, err } = run('cli', args, out);
    closeSync(out);
    return { status, err };
  };

  test.each([['format', 'clean.phrase'], ['explain', 'clean.phrase'], ['export', '--to', 'musicxml', 'clean.phrase'], ['--help']])(
    'under the output of %s is told in one line',
    (...args) => {
      expect(full(...args)).toEqual({ status: 2, err: 'phrasewright: standard output: there is no room on the disk.\n' });
    },
  );
});

describe('places that cannot be read or written', () => {
  const listed = (): string[] => readdirSync(folder).sort();
  beforeAll(() => {
    mkdirSync(join(folder, 'circle'));
    symlinkSync('round.phrase', join(folder, 'circle', 'round.phrase'));
  });

  test.each([
    ['a file that is gone', ['check', 'gone.phrase'], 'gone.phrase: there is no such file.'],
    ['a path through a file', ['check', 'clean.phrase/a.phrase'], 'clean.phrase/a.phrase: a part of its path is a file, not a folder.'],
    ['a link to itself', ['check', 'circle/round.phrase'], 'circle/round.phrase: it is a link that leads round in a circle.'],
    ['a link to itself in a folder', ['check', 'circle'], 'circle/round.phrase: it is a link that leads round in a circle.'],
    [
      'a link to itself that is written to',
      ['export', '--to', 'midi', '--out', 'circle/round.phrase/a.mid', 'clean.phrase'],
      'circle/round.phrase',
    ],
    ['a name that is too long', ['check', `${'a'.repeat(300)}.phrase`], 'its name is too long for this disk.'],
    [
      'a name that is too long to write',
      ['export', '--to', 'midi', '--out', `${'a'.repeat(300)}.mid`, 'clean.phrase'],
      'its name is too long for this disk. Nothing was written.',
    ],
    ['a folder below a file', ['export', '--to', 'midi', '--out', 'clean.phrase/a.mid', 'clean.phrase'], 'clean.phrase'],
  ] as const)('%s: one line says so, and nothing is written', async (_, args, told) => {
    const before = listed();
    const { status, out, err } = await runIn(folder, args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain(told);
    expect(err).not.toContain('mistake in Phrasewright');
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(listed()).toEqual(before);
    expect(readFileSync(join(folder, 'clean.phrase'), 'utf8')).toBe(LESSON);
  });
});
