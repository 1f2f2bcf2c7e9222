/** A lesson that was brought in: a file beside its score, in place of none that is there. */
import * as vscode from 'vscode';
import { safeName } from '../../../server/src/file-names';
import { baseName } from '../base-name';
import { diskWords } from '../whole-file';
import { writeNewFile } from '../write-file';

/** What was made: a file, or, where none can be written there, a document without one. */
export interface Lesson {
  readonly name: string;
  readonly uri: vscode.Uri;
  readonly isSaved: boolean;
}

/** `tune.phrase` for `tune.mxl`; `tune-2.phrase` where that is taken. */
export async function writeLesson(score: vscode.Uri, text: string): Promise<Lesson> {
  try {
    const uri = await written(score, new TextEncoder().encode(text));
    return { name: baseName(uri), uri, isSaved: true };
  } catch (error) {
    const { uri } = await vscode.workspace.openTextDocument({ language: 'phrase', content: text });
    return { name: `${baseName(uri)}, which is not saved yet (${diskWords(error)})`, uri, isSaved: false };
  }
}

/** More windows than that do not write at one moment. */
const MOST_TRIES = 20;

/** Another window may take a place after it was found free: then the next one is sought. */
async function written(score: vscode.Uri, bytes: Uint8Array): Promise<vscode.Uri> {
  for (let tries = 1; ; tries += 1) {
    const uri = await freePlace(score);
    try {
      await writeNewFile(uri, bytes);
      return uri;
    } catch (error) {
      if (tries === MOST_TRIES || !(error instanceof vscode.FileSystemError && error.code === 'FileExists')) throw error;
    }
  }
}

async function freePlace(score: vscode.Uri): Promise<vscode.Uri> {
  const stem = baseName(score).replace(/(?<=.)\.(?:musicxml|mxl|xml)$/i, '');
  for (let count = 1; ; count += 1) {
    const uri = vscode.Uri.joinPath(score, '..', safeName(stem, `${count === 1 ? '' : `-${count}`}.phrase`, 'lesson'));
    if (!(await isTaken(uri))) return uri;
  }
}

/** By a file, or by a document of that name that is not saved yet. */
async function isTaken(uri: vscode.Uri): Promise<boolean> {
  if (vscode.workspace.textDocuments.some((document) => document.uri.path === uri.path)) return true;
  return vscode.workspace.fs.stat(uri).then(
    () => true,
    (error: unknown) => {
      if (error instanceof vscode.FileSystemError && error.code === 'FileNotFound') return false;
      throw error;
    },
  );
}
