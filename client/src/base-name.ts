/** How a file or a folder is called, without those it lies in. */
import type { Uri } from 'vscode';

export function baseName({ path }: Pick<Uri, 'path'>): string {
  return path.replace(/\/$/, '').split('/').at(-1)!;
}
