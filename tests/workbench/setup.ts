/** Before the first real-editor file of a run: the editor is there, with the extension installed once; each file gets a copy of its own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { installEditor, installExtension, packageExtension, writeSettings } from '../../client/editor/tools.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    /** The data folder of an editor that has the extension. */
    readonly editorData: string;
  }
}

export function setup(project: TestProject): () => void {
  installEditor();
  const data = mkdtempSync(join(tmpdir(), 'phrasewright-editor-'));
  writeSettings(data);
  installExtension(data, process.env['PHRASEWRIGHT_VSIX'] ?? packageExtension());
  project.provide('editorData', data);
  return () => rmSync(data, { recursive: true, force: true });
}
