/** Several lessons, each into a file of its own in a folder that is asked for. */
import * as vscode from 'vscode';
import type { Exported } from '../../../server/src/export-service';
import { baseName } from '../base-name';
import { tellWritten, watched, type Watch } from '../made-file';
import { askModal } from '../notice';
import { replaceFile } from '../write-file';

export interface Several {
  /** Offered as the place. */
  readonly folder: vscode.Uri | undefined;
  /** Different names. */
  readonly files: readonly string[];
  /** Null where a lesson has no phrase. */
  readonly make: (index: number, watch: Watch) => Promise<Exported | null>;
  readonly output: vscode.LogOutputChannel;
}

/** Nothing is replaced unasked, and each file is whole. One that cannot be made or written holds up no other, and is told; throws an error for people where none could be. */
export async function writeSeveral({ folder, files, make, output }: Several): Promise<void> {
  const [into] =
    (await vscode.window.showOpenDialog({
      title: `Export ${files.length} Lessons`,
      openLabel: 'Export Here',
      canSelectFiles: false,
      canSelectFolders: true,
      ...(folder === undefined ? {} : { defaultUri: folder }),
    })) ?? [];
  if (into === undefined) return;
  const there = await existing(into, files);
  if (
    there.length > 0 &&
    !(await askModal(
      `${there.length === 1 ? `${there[0]} exists` : `${there.length} files exist`} already in ${baseName(into)}. Replace ${there.length === 1 ? 'it' : 'them'}?`,
      'Replace',
    ))
  )
    return;
  const notices: { file: string; notice: string }[] = [];
  let count = 0;
  await watched({ title: `Exporting to ${baseName(into)}`, unit: 'file' }, async ({ signal, onProgress }) => {
    for (const [i, file] of files.entries()) {
      const made = await make(i, { signal, onProgress: () => undefined })
        .then(async (one) => {
          if (one !== null) await replaceFile(vscode.Uri.joinPath(into, file), one.bytes);
          return one ?? new Error('there is no phrase in its lesson.');
        })
        .catch((error: unknown) => {
          if (error instanceof vscode.CancellationError) throw error;
          return error instanceof Error ? error : new Error(String(error));
        });
      if (made instanceof Error) notices.push({ file, notice: `${file} was not written: ${made.message}` });
      else {
        count += 1;
        notices.push(...made.notices.map((notice) => ({ file, notice: `${file}: ${notice}` })));
      }
      onProgress(i + 1, files.length);
    }
  });
  if (count === 0) throw new Error(notices[0]!.notice);
  void tellWritten({ place: into, written: `Wrote ${count} ${count === 1 ? 'file' : 'files'} to ${baseName(into)}.`, notices }, output);
}

async function existing(folder: vscode.Uri, files: readonly string[]): Promise<string[]> {
  const found = await Promise.all(
    files.map((file) =>
      vscode.workspace.fs.stat(vscode.Uri.joinPath(folder, file)).then(
        () => [file],
        () => [],
      ),
    ),
  );
  return found.flat();
}
