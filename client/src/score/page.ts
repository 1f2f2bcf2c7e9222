/** The page of the score: its resources, and what it may load. */
import * as vscode from 'vscode';

/** Only the extension's own files are loaded; no inline script or style; WebAssembly for the engraving library. */
export function pageHtml(webview: vscode.Webview, dist: vscode.Uri): string {
  const address = (...path: string[]): string => webview.asWebviewUri(vscode.Uri.joinPath(dist, ...path)).toString();
  const policy = [
    "default-src 'none'", `script-src ${webview.cspSource} 'wasm-unsafe-eval'`, `style-src ${webview.cspSource}`, `font-src ${webview.cspSource}`,
    // The recordings of the piano are read as bytes.
    `connect-src ${webview.cspSource}`,
    "base-uri 'none'", "form-action 'none'",
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="en">
<head>
  <meta charset="utf-8">
  <meta http-equiv="Content-Security-Policy" content="${policy}">
  <meta name="viewport" content="width=device-width, initial-scale=1">
  <title>Score</title>
  <link rel="stylesheet" href="${address('preview', 'score.css')}">
</head>
<body data-engine="${address('verovio', 'verovio-module.js')}" data-toolkit="${address('verovio', 'verovio.js')}" data-piano="${address('piano')}">
  <div id="controls"></div>
  <div id="notice" role="status"></div>
  <div id="choice" role="status"></div>
  <button type="button" id="begin" class="play" hidden>Begin a lesson</button>
  <main id="score"></main>
  <script type="module" src="${address('preview', 'score.js')}"></script>
</body>
</html>`;
}
