/** Whole files or none: what stands on the disk after one of several could not be put into its place. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { replaceFiles, writeNew } from '../../../server/src/write-files';

/** Files that the disk refuses to put into their places. */
const refused = vi.hoisted(() => new Set<string>());
vi.mock('node:fs', async (original) => {
  const fs = await original<typeof import('node:fs')>();
  return {
    ...fs,
    renameSync(from: string, to: string): void {
      if (refused.has(to) && from.endsWith('.part')) throw Object.assign(new Error('EROFS: read-only file system'), { code: 'EROFS' });
      fs.renameSync(from, to);
    },
  };
});

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-write-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
  refused.clear();
});
const file = (name: string): string => join(folder, name);
const contents = (): Record<string, string> => Object.fromEntries(readdirSync(folder).sort().map((name) => [name, readFileSync(file(name), 'utf8')]));

describe('several files', () => {
  test('are all written, and nothing else is left', () => {
    writeFileSync(file('b.mid'), 'old');
    replaceFiles([{ file: file('a.mid'), content: 'a' }, { file: file('b.mid'), content: 'b' }]);
    expect(contents()).toEqual({ 'a.mid': 'a', 'b.mid': 'b' });
  });

  test('are what they were where the last cannot be put into its place', () => {
    writeFileSync(file('b.mid'), 'old');
    refused.add(file('c.mid'));
    const outputs = ['a', 'b', 'c', 'd'].map((name) => ({ file: file(`${name}.mid`), content: name }));
    expect(() => replaceFiles(outputs)).toThrow(/c\.mid: it stands on a disk that cannot be written\. Nothing was written\./);
    expect(contents()).toEqual({ 'b.mid': 'old' });
  });

  test('are none where one of their places is a folder', async () => {
    mkdirSync(file('b.mid'));
    await expect(writeNew({ folder, files: [{ file: file('a.mid'), content: 'a' }, { file: file('b.mid'), content: 'b' }] }, 'overwrite')).rejects.toThrow('this is a folder');
    expect(readdirSync(folder)).toEqual(['b.mid']);
  });
});
