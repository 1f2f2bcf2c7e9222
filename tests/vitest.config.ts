import { readdirSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { basename, join } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Milliseconds: a test that takes so long hangs. Work that takes a minute on a machine that is shared is none that hangs. */
const HANGS = 120_000;

/** Milliseconds: what the editor shows is waited for so long; left to itself vitest gives up after a second, which a busy machine takes now and then. */
const SHOWN = 30_000;

const CORE = ['unit', 'property', 'outside', 'lsp', 'fuzz']
  .flatMap((folder) =>
    readdirSync(join(import.meta.dirname, folder), { recursive: true, encoding: 'utf8' }).map((file) => join('tests', folder, file)),
  )
  .filter((file) => file.endsWith('.test.ts'));
/** A file that puts something in the place of a module, or counts what its code does, needs modules of its own. */
const ALONE = CORE.filter((file) => /vi\.mock\(|openCounter\(/.test(readFileSync(join(import.meta.dirname, '..', file), 'utf8')));

/** Files of the real editor, the longest first: one that begins late ends after all others. */
const LONGEST = ['text', 'sounding', 'files', 'two-windows', 'killed'].map((name) => `${name}.test.ts`);
function placeOf({ moduleId }: TestSpecification): number {
  const place = LONGEST.indexOf(basename(moduleId));
  return place < 0 ? LONGEST.length : place;
}

/**
 * What all core files share. Random phrases are thrown away as soon as they are looked at: with 64 megabytes for what is new (left to itself
 * the engine has 16) most of it never has to be copied, which takes a tenth of the time off.
 */
const SHARED = { root: '.', globalSetup: 'tests/lsp/setup.ts', testTimeout: HANGS, execArgv: ['--max-semi-space-size=64'] };

/** Files of the real editor wait much and work much by turns, the others only work: they run beside each other, in equal shares from the beginning to the end. */
class Mixed extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const share = (part: readonly TestSpecification[]): { readonly file: TestSpecification; readonly at: number }[] =>
      part.map((file, i) => ({ file, at: i / part.length }));
    const isWorkbench = ({ project }: TestSpecification): boolean => project.name === 'workbench';
    return [
      ...share(sorted.filter(isWorkbench).sort((a, b) => placeOf(a) - placeOf(b))),
      ...share(sorted.filter((one) => !isWorkbench(one))),
    ]
      .sort((a, b) => a.at - b.at)
      .map(({ file }) => file);
  }
}

export default defineConfig({
  test: {
    // One more than there are cores (left to itself vitest leaves a core free), since files of the real editor wait much; no more than four,
    // since an editor and its browser take a gigabyte.
    maxWorkers: Math.min(4, availableParallelism() + 1),
    sequence: { sequencer: Mixed },
    projects: [
      // Modules are loaded once for all files: no file may leave them changed.
      { test: { ...SHARED, name: 'core', include: CORE, exclude: ALONE, isolate: false } },
      { test: { ...SHARED, name: 'core-alone', include: ALONE } },
      {
        test: {
          name: 'workbench',
          root: '.',
          include: ['tests/workbench/**/*.test.ts'],
          globalSetup: ['tests/workbench/setup.ts'],
          expect: { poll: { timeout: SHOWN } },
          testTimeout: 180_000,
          hookTimeout: 240_000,
        },
      },
    ],
  },
});
