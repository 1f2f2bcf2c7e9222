/** A handout into a file: where to, progress that can be cancelled, and what was not done as asked. */
import * as vscode from 'vscode';
import type { HandoutMaker, HandoutRequest, Made } from '../../../server/src/hand-out';
import { safeName } from '../../../server/src/file-names';
import { baseName } from '../base-name';
import { replaceFile } from '../write-file';
import { showError, showInformation, showProgress, showWarning } from '../notice';
import { FORMAT_WORDS } from './choice';

export interface Writing {
  readonly maker: HandoutMaker;
  /** Reads what is handed out, just before it is made. */
  readonly request: () => Promise<HandoutRequest>;
  readonly to: HandoutRequest['to'];
  /** Offered as the file's place. */
  readonly place: { readonly folder: vscode.Uri | undefined; readonly name: string; readonly ending: string };
  readonly output: vscode.LogOutputChannel;
}

/** Asks for the place, makes the handout and writes it. What fails is told. */
export async function writeHandout({ maker, request, to, place: { folder, name, ending: proposed }, output }: Writing): Promise<void> {
  const ending = `.${to}`;
  const target = await vscode.window.showSaveDialog({
    title: 'Hand Out', saveLabel: 'Hand Out', filters: { [FORMAT_WORDS[to][0]]: [to] },
    ...(folder === undefined ? {} : { defaultUri: vscode.Uri.joinPath(folder, safeName(name, proposed, 'handout')) }),
  });
  if (target === undefined) return;
  if (target.path.endsWith('.phrase')) {
    void showError(`${baseName(target)} is a lesson, and a handout would take its place. Choose a name that ends in ${ending}.`);
    return;
  }
  try {
    const made = await showProgress({ where: vscode.ProgressLocation.Notification, title: `Handing out ${baseName(target)}` }, async (progress, token) => {
      const stop = new AbortController();
      token.onCancellationRequested(() => stop.abort(new vscode.CancellationError()));
      let told = 0;
      const one = await maker.make(await request(), {
        signal: stop.signal,
        onProgress(done, total) {
          progress.report({ message: `${done} of ${total} ${total === 1 ? 'phrase' : 'phrases'}`, increment: (100 * (done - told)) / total });
          told = done;
        },
      });
      await replaceFile(target, one.bytes);
      return one;
    });
    // The place where the command ends: what is said now need not be answered.
    void say(target, made, output);
  } catch (error) {
    if (error instanceof vscode.CancellationError) return;
    output.error(error instanceof Error ? error : String(error));
    void showError(`No handout was written. ${error instanceof Error ? error.message : String(error)}`);
  }
}

async function say(target: vscode.Uri, { notices }: Made, output: vscode.LogOutputChannel): Promise<void> {
  for (const notice of notices) output.warn(`${baseName(target)}: ${notice}`);
  const isHere = vscode.env.uiKind === vscode.UIKind.Desktop && vscode.env.remoteName === undefined;
  const open = isHere ? ['Open'] : vscode.workspace.getWorkspaceFolder(target) === undefined ? [] : ['Show in the Explorer'];
  const [first, ...more] = notices;
  const written = `Wrote ${baseName(target)}.`;
  const answer = first === undefined
    ? await showInformation(written, ...open)
    : await showWarning(`${written} ${first}`, ...open, ...(more.length === 0 ? [] : [`${more.length} More …`]));
  if (answer === 'Open') await vscode.env.openExternal(target);
  else if (answer === 'Show in the Explorer') await vscode.commands.executeCommand('revealInExplorer', target);
  else if (answer !== undefined) output.show();
}
