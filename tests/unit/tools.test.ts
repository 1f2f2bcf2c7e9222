/** Installing what is missing never empties a folder that only a link leads to. */
import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { CannotGoOn, installProject } from '../../client/editor/tools.mjs';

let home: string;
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'phrasewright-tools-'));
});
afterEach(() => rmSync(home, { recursive: true, force: true }));

test('packages behind a link are left alone: it is told, with what to do', () => {
  const [root, shared] = [join(home, 'project'), join(home, 'shared')];
  for (const folder of [root, shared]) mkdirSync(folder);
  writeFileSync(join(shared, 'kept.txt'), 'kept');
  writeFileSync(join(root, 'package.json'), '{ "name": "project", "version": "1.0.0" }');
  writeFileSync(
    join(root, 'package-lock.json'),
    '{ "name": "project", "version": "1.0.0", "lockfileVersion": 3, "packages": { "": { "name": "project", "version": "1.0.0" } } }',
  );
  symlinkSync(shared, join(root, 'node_modules'), 'junction');
  expect(() => installProject(root)).toThrow(CannotGoOn);
  expect(() => installProject(root)).toThrow(/node_modules is a link.*nothing was done.*Remove the link/);
  expect(existsSync(join(shared, 'kept.txt'))).toBe(true);
});
