/** The panel that holds the page of the score: opened, restored by the editor, closed. */
import * as vscode from 'vscode';
import type { FromView, ToView } from './messages';
import { pageHtml } from './page';

/** By which the editor knows the panel, also when it restores it. */
export const VIEW = 'phrasewright.score';

export interface PagePanel extends vscode.Disposable {
  isOpen(): boolean;
  column(): vscode.ViewColumn | undefined;
  /** Tells the page something; nobody where it is closed. */
  post(message: ToView): void;
  /** Opens the page, or brings it to the front; the text keeps the focus. */
  show(): void;
  focus(): void;
  /** There is one page: another that turns up (restored by the editor) takes the place of the first. */
  adopt(fresh: vscode.WebviewPanel): void;
  /** The page has said that it listens. */
  listens(): void;
  /** Ends when the page listens; where it is closed meanwhile, too, and whoever waited finds that there is none. */
  whenReady(): Promise<void>;
}

export interface PageEvents {
  receive(message: FromView): Promise<void>;
  /** The page is another one, or none: it has nothing of what was sent. */
  onForgotten(): void;
  /** The page was closed. */
  onClosed(): void;
}

export function createPagePanel(
  extension: vscode.Uri,
  { receive, onForgotten, onClosed }: PageEvents,
  output: vscode.LogOutputChannel,
): PagePanel {
  let panel: vscode.WebviewPanel | undefined;
  let ready: Promise<void> = Promise.resolve();
  let isReady: () => void = () => undefined;

  const adopt = (fresh: vscode.WebviewPanel): void => {
    panel?.dispose();
    panel = fresh;
    onForgotten();
    const dist = vscode.Uri.joinPath(extension, 'dist');
    ready = new Promise((resolve) => {
      isReady = resolve;
    });
    fresh.webview.options = { enableScripts: true, localResourceRoots: [dist] };
    fresh.webview.onDidReceiveMessage((message: FromView) => {
      if (panel === fresh) receive(message).catch((error: unknown) => output.error(error instanceof Error ? error : String(error)));
    });
    fresh.onDidDispose(() => {
      if (panel !== fresh) return;
      isReady();
      panel = undefined;
      onForgotten();
      onClosed();
    });
    fresh.webview.html = pageHtml(fresh.webview, dist);
  };

  return {
    isOpen: () => panel !== undefined,
    column: () => panel?.viewColumn,
    post: (message) => void panel?.webview.postMessage(message),
    show() {
      if (panel === undefined) adopt(opened());
      else panel.reveal(isOverText(panel) ? vscode.ViewColumn.Beside : undefined, true);
    },
    focus: () => panel?.reveal(undefined, false),
    adopt,
    listens: () => isReady(),
    whenReady: () => ready,
    dispose: () => panel?.dispose(),
  };
}

function opened(): vscode.WebviewPanel {
  // Sound goes on while another tab covers the score, so its page is kept.
  return vscode.window.createWebviewPanel(
    VIEW,
    'Score',
    { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
    { retainContextWhenHidden: true },
  );
}

/** The page never comes over the text it belongs to. */
function isOverText({ viewColumn }: vscode.WebviewPanel): boolean {
  return viewColumn !== undefined && viewColumn === vscode.window.activeTextEditor?.viewColumn;
}
