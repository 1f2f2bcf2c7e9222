/** The handout beside the text: it follows edits, the cursor from phrase to phrase, and what is chosen. */
import * as vscode from 'vscode';
import type { HandoutMaker, HandoutRequest, Made } from '../../../server/src/hand-out';
import { pageShell } from '../page-shell';
import type { FromPreview, ToPreview } from './messages';
import { holds, type Subject } from '../lessons';

const VIEW = 'phrasewright.handout';
/** Waits for a pause in typing (milliseconds). */
const PAUSE = 350;

export interface Preview extends vscode.Disposable {
  /** Opens beside the text, or takes another subject. */
  show(subject: Subject): void;
  /** Goes on in a panel that the editor brings back after it was loaded anew. */
  restore(panel: vscode.WebviewPanel, subject: Subject): void;
  /** What was chosen is another now. */
  refresh(): void;
  isOpen(): boolean;
}

export interface PreviewTools {
  readonly extension: vscode.Uri;
  readonly maker: HandoutMaker;
  readonly request: (subject: Subject) => Promise<HandoutRequest>;
  readonly output: vscode.LogOutputChannel;
}

export function createPreview({ extension, maker, request, output }: PreviewTools): Preview {
  let panel: vscode.WebviewPanel | undefined;
  let subject: Subject | undefined;
  let timer: NodeJS.Timeout | undefined;
  /** What is being made. */
  let running: AbortController | undefined;
  let isReady = false;

  const post = (message: ToPreview): void => void panel?.webview.postMessage(message);

  const soon = (pause = PAUSE): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void make(), pause);
  };

  /** Only the newest is wanted: an older one ends before its next phrase, and what it engraved is kept by the worker. */
  const make = async (): Promise<void> => {
    // A page that is hidden is made when it is seen again.
    if (panel?.visible !== true || !isReady || subject === undefined) return;
    running?.abort(new vscode.CancellationError());
    const mine = new AbortController();
    running = mine;
    // What comes at once needs no word.
    const slow = setTimeout(() => post({ type: 'busy', words: 'The preview is being made …' }), 2 * PAUSE);
    try {
      const made = await maker.make(await request(subject), {
        signal: mine.signal,
        onProgress: (done, total) => {
          if (done < total) post({ type: 'busy', words: `The preview is being made: ${done} of ${total} phrases.` });
        },
      });
      if (running === mine) show(made);
    } catch (error) {
      if (running !== mine || error instanceof vscode.CancellationError) return;
      output.warn(error instanceof Error ? error.message : String(error));
      post({ type: 'failed', words: error instanceof Error ? error.message : String(error) });
    } finally {
      clearTimeout(slow);
      if (running === mine) running = undefined;
    }
  };

  const show = ({ bytes, notices }: Made): void => {
    const html = new TextDecoder().decode(bytes);
    post({ type: 'handout', html, notices });
  };

  /** There is one: another that turns up takes its place. */
  const adopt = (fresh: vscode.WebviewPanel): void => {
    panel?.dispose();
    panel = fresh;
    isReady = false;
    const dist = vscode.Uri.joinPath(extension, 'dist');
    fresh.webview.options = { enableScripts: true, localResourceRoots: [dist] };
    fresh.webview.onDidReceiveMessage(({ type }: FromPreview) => {
      if (type !== 'ready' || panel !== fresh) return;
      isReady = true;
      soon(0);
    });
    // What is hidden is not made. One that is hidden for so short that it keeps its page (while the editor puts back its columns) says nothing
    // when it is seen again; a page that was lost says that it is ready, and what is made by then is at hand.
    let wasVisible = fresh.visible;
    fresh.onDidChangeViewState(() => {
      if (fresh.visible && !wasVisible) soon(0);
      wasVisible = fresh.visible;
    });
    fresh.onDidDispose(() => {
      if (panel !== fresh) return;
      panel = undefined;
      running?.abort(new vscode.CancellationError());
      clearTimeout(timer);
    });
    fresh.webview.html = pageHtml(fresh.webview, dist);
  };

  const follow = (editor: vscode.TextEditor | undefined): void => {
    if (panel === undefined || editor?.document.languageId !== 'phrase' || subject?.kind !== 'text') return;
    const offset = editor.document.offsetAt(editor.selection.active);
    if (subject.document === editor.document && subject.offset === offset) return;
    subject = { kind: 'text', document: editor.document, offset };
    soon();
  };

  const subscriptions = [
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => follow(textEditor)),
    vscode.window.onDidChangeActiveTextEditor(follow),
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (contentChanges.length > 0 && subject !== undefined && holds(subject, document)) soon();
    }),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('phrasewright')) soon();
    }),
  ];
  return {
    show(wanted) {
      subject = wanted;
      if (panel === undefined)
        adopt(vscode.window.createWebviewPanel(VIEW, 'Handout', { viewColumn: columnBeside(), preserveFocus: true }));
      else {
        panel.reveal(undefined, true);
        soon(0);
      }
    },
    restore(fresh, wanted) {
      subject = wanted;
      adopt(fresh);
    },
    refresh: () => soon(0),
    isOpen: () => panel !== undefined,
    dispose() {
      panel?.dispose();
      for (const one of subscriptions) one.dispose();
    },
  };
}

/** Where the score is, else beside the text: two columns are enough. */
function columnBeside(): vscode.ViewColumn {
  const { all, activeTabGroup } = vscode.window.tabGroups;
  return all.find((group) => group !== activeTabGroup)?.viewColumn ?? vscode.ViewColumn.Beside;
}

/** The handout brings letters as data, no script, and its style is put in by the script. */
function pageHtml(webview: vscode.Webview, dist: vscode.Uri): string {
  return pageShell(webview, dist, {
    title: 'Handout',
    name: 'handout',
    policy: [`script-src ${webview.cspSource}`, 'font-src data:'],
    attributes: 'class="preview"',
    body: ['<div id="state" role="status"></div>', '<ul id="notices" role="status"></ul>', '<main id="handout"></main>'],
  });
}
