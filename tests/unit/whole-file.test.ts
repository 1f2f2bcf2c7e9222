/** Files that the editor writes: whole or not at all, on a disk that fills up, refuses, or is written by another window. */
import { expect, test } from 'vitest';
import { diskWords, nameBeside, putWhole, type Disk } from '../../client/src/whole-file';

const failure = (code: string): Error => Object.assign(new Error(`${code}: the disk says no`), { code });
const bytes = new TextEncoder().encode('a new text');

/** A disk in memory. Where it has no room, a file is there with what went onto it, as on a real one. */
function diskWith(files: Map<string, string>, room = Infinity, refuses: (name: string) => boolean = () => false): Disk<string> {
  return {
    async writeFile(place, content) {
      const text = new TextDecoder().decode(content);
      files.set(place, text.slice(0, room));
      if (text.length > room) throw failure('ENOSPC');
    },
    async rename(from, to, { overwrite }) {
      if (refuses(to)) throw failure('NoPermissions');
      if (files.has(to) && !overwrite) throw failure('FileExists');
      files.set(to, files.get(from)!);
      files.delete(from);
    },
    async delete(place) {
      if (!files.delete(place)) throw failure('FileNotFound');
    },
  };
}

test('a file takes the place of the one that is there, and nothing is left beside it', async () => {
  const files = new Map([['a.pdf', 'old']]);
  await putWhole(diskWith(files), { target: 'a.pdf', beside: '.part', overwrite: true }, bytes);
  expect([...files]).toEqual([['a.pdf', 'a new text']]);
});

test.each([0, 1, 9])('on a disk with room for %i bytes what stood there stays, and nothing is left beside it', async (room) => {
  const files = new Map([['a.pdf', 'old']]);
  await expect(putWhole(diskWith(files, room), { target: 'a.pdf', beside: '.part', overwrite: true }, bytes)).rejects.toThrow('ENOSPC');
  expect([...files]).toEqual([['a.pdf', 'old']]);
});

test('what may not be put into its place is not left beside it', async () => {
  const files = new Map([['a.pdf', 'old']]);
  await expect(
    putWhole(
      diskWith(files, Infinity, () => true),
      { target: 'a.pdf', beside: '.part', overwrite: true },
      bytes,
    ),
  ).rejects.toThrow('NoPermissions');
  expect([...files]).toEqual([['a.pdf', 'old']]);
});

test('two windows that write one new file at once: one is first, and the other is told', async () => {
  const files = new Map<string, string>();
  const put = (unique: string): Promise<void> =>
    putWhole(
      diskWith(files),
      { target: 'a.phrase', beside: nameBeside('a.phrase', unique), overwrite: false },
      new TextEncoder().encode(unique),
    );
  const outcomes = await Promise.allSettled([put('one'), put('two')]);
  expect(outcomes.map(({ status }) => status)).toEqual(['fulfilled', 'rejected']);
  expect([...files]).toEqual([['a.phrase', 'one']]);
});

test('why, in words', () => {
  expect(diskWords(new Error('Unable to write file (Unknown (FileSystemError): Error: ENOSPC: no space left on device, write)'))).toBe(
    'there is no room on the disk',
  );
  expect(diskWords(failure('NoPermissions'))).toContain('permission denied');
  expect(diskWords(failure('FileNotFound'))).toContain('no longer there');
  expect(diskWords(new Error('Unable to write file (Error: EROFS: read-only file system, write)'))).toBe(
    'it stands on a disk that cannot be written',
  );
  expect(diskWords(new Error('Something else.'))).toBe('Something else');
});

test('a name beside a very long one is no longer than a disk takes', () => {
  expect(nameBeside('a'.repeat(255), '12345678').length).toBeLessThan(255);
});
