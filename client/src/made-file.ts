/** What is made of lessons, into a file: where to, progress that can be cancelled, and what was not done as asked. */
import * as vscode from 'vscode';
import { safeName } from '../../server/src/file-names';
import { baseName } from './base-name';
import { showError, showInformation, showProgress, showWarning } from './notice';
import { replaceFile } from './write-file';

export interface Made {
  readonly bytes: Uint8Array;
  /** A sentence each. */
  readonly notices: readonly string[];
}

export interface Watch {
  readonly signal: AbortSignal;
  readonly onProgress: (done: number, total: number) => void;
}

export interface Making {
  /** *Hand Out*, *Handing out*; what is not written where it fails: *handout*. */
  readonly words: { readonly does: string; readonly doing: string; readonly what: string };
  /** How the dialog calls files of the format, and what they end in: `pdf`. */
  readonly format: { readonly label: string; readonly ending: string };
  /** Offered as the file's place; `ending`: what the lesson's name is followed by. */
  readonly place: { readonly folder: vscode.Uri | undefined; readonly name: string; readonly ending: string };
  readonly make: (watch: Watch) => Promise<Made>;
  readonly output: vscode.LogOutputChannel;
}

/** Asks for the place, makes what is wanted and writes it. What fails is told. */
export async function writeMade({
  words,
  format: { label, ending },
  place: { folder, name, ending: proposed },
  make,
  output,
}: Making): Promise<void> {
  const target = await vscode.window.showSaveDialog({
    title: words.does,
    saveLabel: words.does,
    filters: { [label]: [ending] },
    ...(folder === undefined ? {} : { defaultUri: vscode.Uri.joinPath(folder, safeName(name, proposed, words.what)) }),
  });
  if (target === undefined) return;
  if (target.path.endsWith('.phrase')) {
    void showError(`${baseName(target)} is a lesson, and the ${words.what} would take its place. Choose a name that ends in .${ending}.`);
    return;
  }
  await telling(words, output, async () => {
    const made = await watched({ title: `${words.doing} ${baseName(target)}`, unit: 'phrase' }, async (watch) => {
      const one = await make(watch);
      await replaceFile(target, one.bytes);
      return one;
    });
    // The place where the command ends: what is said now need not be answered.
    void tellWritten(
      { place: target, written: `Wrote ${baseName(target)}.`, notices: made.notices.map((notice) => ({ file: baseName(target), notice })) },
      output,
    );
  });
}

/** Does something with progress, told in units, that can be cancelled. Rejects with the editor's `CancellationError` where it is. */
export function watched<T>(
  { title, unit }: { readonly title: string; readonly unit: 'phrase' | 'file' },
  work: (watch: Watch) => Promise<T>,
): Thenable<T> {
  return showProgress({ where: vscode.ProgressLocation.Notification, title }, (progress, token) => {
    const stop = new AbortController();
    token.onCancellationRequested(() => stop.abort(new vscode.CancellationError()));
    let told = 0;
    return work({
      signal: stop.signal,
      onProgress(done, total) {
        progress.report({ message: `${done} of ${total} ${unit}${total === 1 ? '' : 's'}`, increment: (100 * (done - told)) / total });
        told = done;
      },
    });
  });
}

/** Tells why nothing was written; what was cancelled is not told. */
export async function telling({ what }: Making['words'], output: vscode.LogOutputChannel, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (error instanceof vscode.CancellationError) return;
    output.error(error instanceof Error ? error : String(error));
    void showError(`No ${what} was written. ${error instanceof Error ? error.message : String(error)}`);
  }
}

export interface Written {
  /** The file, or the folder of several. */
  readonly place: vscode.Uri;
  readonly written: string;
  readonly notices: readonly { readonly file: string; readonly notice: string }[];
}

/** Says what was written, with the first thing that was not done as asked; the output lists them all. */
export async function tellWritten({ place, written, notices }: Written, output: vscode.LogOutputChannel): Promise<void> {
  for (const { file, notice } of notices) output.warn(`${file}: ${notice}`);
  // Only a program of the machine that has the file can open it: the editor in a browser, or one of another machine, shows such a file as bytes or as source; but it plays sound.
  const isHere = vscode.env.uiKind === vscode.UIKind.Desktop && vscode.env.remoteName === undefined;
  const open =
    isHere || place.path.endsWith('.wav')
      ? ['Open']
      : vscode.workspace.getWorkspaceFolder(place) === undefined
        ? []
        : ['Show in the Explorer'];
  const [first, ...more] = notices;
  const answer =
    first === undefined
      ? await showInformation(written, ...open)
      : await showWarning(`${written} ${first.notice}`, ...open, ...(more.length === 0 ? [] : [`${more.length} More …`]));
  if (answer === 'Open') await (isHere ? vscode.env.openExternal(place) : vscode.commands.executeCommand('vscode.open', place));
  else if (answer === 'Show in the Explorer') await vscode.commands.executeCommand('revealInExplorer', place);
  else if (answer !== undefined) output.show();
}
