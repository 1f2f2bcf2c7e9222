/** What the pages of the score and of the handout have in common: their own files, and no other thing, are loaded. */
import * as vscode from 'vscode';

export interface PageShell {
  readonly title: string;
  /** The style and the script of the page in `dist/preview`, without their endings. */
  readonly name: string;
  /** What the page may load besides its script and its style, as directives of a Content-Security-Policy. */
  readonly policy: readonly string[];
  /** The attributes of the body, and the markup in it. */
  readonly attributes: string;
  readonly body: readonly string[];
}

/** No inline script or style, no form, no other base. */
export function pageShell(webview: vscode.Webview, dist: vscode.Uri, { title, name, policy, attributes, body }: PageShell): string {
  const file = (ending: string): string => addressIn(webview, dist, 'preview', `${name}.${ending}`);
  const directives = ["default-src 'none'", ...policy, `style-src ${webview.cspSource}`, "base-uri 'none'", "form-action 'none'"];
  return `<!DOCTYPE html>
<html lang="en">
<head>
  <meta charset="utf-8">
  <meta http-equiv="Content-Security-Policy" content="${directives.join('; ')}">
  <meta name="viewport" content="width=device-width, initial-scale=1">
  <title>${title}</title>
  <link rel="stylesheet" href="${file('css')}">
</head>
<body ${attributes}>
${body.map((line) => `  ${line}`).join('\n')}
  <script type="module" src="${file('js')}"></script>
</body>
</html>`;
}

/** The address of a file of ours, for a page. */
export function addressIn(webview: vscode.Webview, dist: vscode.Uri, ...path: string[]): string {
  return webview.asWebviewUri(vscode.Uri.joinPath(dist, ...path)).toString();
}
