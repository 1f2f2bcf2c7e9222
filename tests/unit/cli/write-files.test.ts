/** Whole files or none: what stands on the disk after one of several could not be put into its place. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { replaceFiles, writeNew } from '../../../server/src/write-files';

/** Files that the disk refuses to put into their places, and how many bytes it has room for. */
const refused = vi.hoisted(() => new Set<string>());
const disk = vi.hoisted(() => ({ room: Infinity, links: true, beforePlacing: (): void => undefined }));
vi.mock('node:fs', async (original) => {
  const fs = await original<typeof import('node:fs')>();
  return {
    ...fs,
    renameSync(from: string, to: string): void {
      if (refused.has(to) && from.endsWith('.part')) throw Object.assign(new Error('EROFS: read-only file system'), { code: 'EROFS' });
      fs.renameSync(from, to);
    },
    // A disk that is full keeps what went onto it.
    writeFileSync(file: string, content: string, options?: object): void {
      fs.writeFileSync(file, content.slice(0, Math.max(0, disk.room)), options);
      disk.room -= content.length;
      if (disk.room < 0) throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' });
      disk.beforePlacing();
    },
    linkSync(from: string, to: string): void {
      if (!disk.links) throw Object.assign(new Error('EPERM: operation not permitted, link'), { code: 'EPERM' });
      fs.linkSync(from, to);
    },
    copyFileSync(from: string, to: string): void {
      fs.writeFileSync(to, '');
      if (disk.room <= 0) throw Object.assign(new Error('ENOSPC: no space left on device, copyfile'), { code: 'ENOSPC' });
      fs.copyFileSync(from, to);
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
  Object.assign(disk, { room: Infinity, links: true, beforePlacing: () => undefined });
});
const file = (name: string): string => join(folder, name);
const contents = (): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder)
      .sort()
      .map((name) => [name, readFileSync(file(name), 'utf8')]),
  );

describe('several files', () => {
  test('are all written, and nothing else is left', () => {
    writeFileSync(file('b.mid'), 'old');
    replaceFiles([
      { file: file('a.mid'), content: 'a' },
      { file: file('b.mid'), content: 'b' },
    ]);
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
    await expect(
      writeNew(
        {
          folder,
          files: [
            { file: file('a.mid'), content: 'a' },
            { file: file('b.mid'), content: 'b' },
          ],
        },
        'overwrite',
      ),
    ).rejects.toThrow('this is a folder');
    expect(readdirSync(folder)).toEqual(['b.mid']);
  });
});

describe('a full disk', () => {
  test.each([0, 1, 2, 4, 5])('with room for %i bytes leaves every file as it was', (room) => {
    writeFileSync(file('a.mid'), 'old a');
    writeFileSync(file('b.mid'), 'old b');
    disk.room = room;
    const outputs = ['a', 'b', 'c'].map((name) => ({ file: file(`${name}.mid`), content: 'xx' }));
    expect(() => replaceFiles(outputs)).toThrow(/[abc]\.mid: there is no room on the disk\. Nothing was written\./);
    expect(contents()).toEqual({ 'a.mid': 'old a', 'b.mid': 'old b' });
  });

  test('that has no room for what is kept meanwhile, and no links, leaves every file as it was', () => {
    writeFileSync(file('a.mid'), 'old a');
    Object.assign(disk, { room: 4, links: false });
    expect(() =>
      replaceFiles([
        { file: file('a.mid'), content: 'xx' },
        { file: file('b.mid'), content: 'xx' },
      ]),
    ).toThrow('there is no room on the disk');
    expect(contents()).toEqual({ 'a.mid': 'old a' });
  });
});

describe('a file that another program touches between reading and writing', () => {
  const touched = (touch: () => void): void => {
    writeFileSync(file('a.phrase'), 'a');
    writeFileSync(file('b.phrase'), 'b');
    disk.beforePlacing = () => {
      disk.beforePlacing = () => undefined;
      touch();
    };
  };
  const outputs = (): Parameters<typeof replaceFiles>[0] =>
    ['a', 'b'].map((name) => ({ file: file(`${name}.phrase`), content: name.toUpperCase(), before: name }));

  test('is written where it is as it was read', () => {
    touched(() => undefined);
    replaceFiles(outputs());
    expect(contents()).toEqual({ 'a.phrase': 'A', 'b.phrase': 'B' });
  });

  test('is not overwritten where it was changed, and no other is', () => {
    touched(() => writeFileSync(file('b.phrase'), 'typed meanwhile'));
    expect(() => replaceFiles(outputs())).toThrow(
      /b\.phrase: another program has changed it since it was read\. Nothing was written; try again\./,
    );
    expect(contents()).toEqual({ 'a.phrase': 'a', 'b.phrase': 'typed meanwhile' });
  });

  test('is not made again where it was taken away', () => {
    touched(() => rmSync(file('b.phrase')));
    expect(() => replaceFiles(outputs())).toThrow(/b\.phrase: there is no such file/);
    expect(contents()).toEqual({ 'a.phrase': 'a' });
  });
});
