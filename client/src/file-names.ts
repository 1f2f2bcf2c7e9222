/** Names of files that are made from a lesson, and where they are offered to lie. */
import * as vscode from 'vscode';
import { baseName } from './base-name';

/** The folder of a lesson (of an untitled one the workspace's), and how it is called without its ending. */
export function besideLesson({ uri, isUntitled }: vscode.TextDocument): { readonly folder: vscode.Uri | undefined; readonly name: string } {
  return {
    folder: isUntitled ? vscode.workspace.workspaceFolders?.[0]?.uri : vscode.Uri.joinPath(uri, '..'),
    name: withoutEnding(baseName(uri)),
  };
}

export function withoutEnding(name: string): string {
  return name.replace(/(?<=.)\.phrase$/, '');
}
