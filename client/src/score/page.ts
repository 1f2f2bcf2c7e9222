/** The page of the score: its resources, and what it may load. */
import type * as vscode from 'vscode';
import { addressIn, pageShell } from '../page-shell';

/** Only the extension's own files are loaded; WebAssembly for the engraving library. */
export function pageHtml(webview: vscode.Webview, dist: vscode.Uri): string {
  const address = (...path: string[]): string => addressIn(webview, dist, ...path);
  return pageShell(webview, dist, {
    title: 'Score',
    name: 'score',
    // The recordings of the piano are read as bytes.
    policy: [`script-src ${webview.cspSource} 'wasm-unsafe-eval'`, `font-src ${webview.cspSource}`, `connect-src ${webview.cspSource}`],
    attributes: `data-engine="${address('verovio', 'verovio-module.js')}" data-toolkit="${address('verovio', 'verovio.js')}" data-piano="${address('piano')}"`,
    body: [
      '<div id="controls"></div>',
      '<div id="notice" role="status"></div>',
      '<div id="choice" role="status"></div>',
      '<button type="button" id="begin" class="play" hidden>Begin a lesson</button>',
      '<main id="score"></main>',
    ],
  });
}
