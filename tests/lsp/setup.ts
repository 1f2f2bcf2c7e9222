/** Before the first file of a run: a folder for what is bundled from the sources, which is removed at the end. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { BUNDLES } from './bundles';

export function setup(project: TestProject): () => void {
  // Another project of the run has made it.
  if (process.env[BUNDLES] !== undefined) return () => undefined;
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-bundles-'));
  process.env[BUNDLES] = folder;
  // Where a run begins again since a source was changed, what was bundled is old.
  project.onTestsRerun(() => readdirSync(folder).forEach((file) => rmSync(join(folder, file), { force: true })));
  return () => {
    delete process.env[BUNDLES];
    rmSync(folder, { recursive: true, force: true });
  };
}
