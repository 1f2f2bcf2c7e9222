/** Writing files from the editor. */
import * as vscode from 'vscode';
import { baseName } from './base-name';
import { diskWords, nameBeside, putWhole } from './whole-file';

/** Writes a file, in place of one that is there. Throws an error for people where that cannot be; then what stood there is as it was. */
export async function replaceFile(target: vscode.Uri, bytes: Uint8Array): Promise<void> {
  try {
    await putWhole(vscode.workspace.fs, { target, beside: beside(target), overwrite: true }, bytes);
  } catch (error) {
    throw new Error(`${baseName(target)}: ${diskWords(error)}. What stood in its place is as it was.`, { cause: error });
  }
}

/** Writes a file where there is none. Throws the file system's error where that cannot be, or another program was first. */
export function writeNewFile(target: vscode.Uri, bytes: Uint8Array): Promise<void> {
  return putWhole(vscode.workspace.fs, { target, beside: beside(target), overwrite: false }, bytes);
}

function beside(target: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(target, '..', nameBeside(baseName(target), crypto.randomUUID().slice(0, 8)));
}
