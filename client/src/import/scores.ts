/** Which scores are brought in: those that a menu names, those below a folder, or those that are chosen from the disk. */
import * as vscode from 'vscode';

const ENDINGS = ['musicxml', 'mxl', 'xml'];

/** In the order of their paths; undefined where the dialog is left. A folder stands for every score below it. */
export async function chooseScores([uri, uris]: readonly unknown[]): Promise<vscode.Uri[] | undefined> {
  const named =
    Array.isArray(uris) && uris.length > 0
      ? uris.filter((one): one is vscode.Uri => one instanceof vscode.Uri)
      : uri instanceof vscode.Uri
        ? [uri]
        : await askForScores();
  if (named === undefined) return undefined;
  const found = new Map((await Promise.all(named.map(scoresOf))).flat().map((one) => [one.toString(), one]));
  return [...found.values()];
}

async function askForScores(): Promise<vscode.Uri[] | undefined> {
  const beside = vscode.window.activeTextEditor?.document;
  const folder =
    beside !== undefined && !beside.isUntitled ? vscode.Uri.joinPath(beside.uri, '..') : vscode.workspace.workspaceFolders?.[0]?.uri;
  return vscode.window.showOpenDialog({
    title: 'Bring In',
    openLabel: 'Bring In',
    canSelectMany: true,
    filters: { 'Scores in MusicXML': ENDINGS },
    ...(folder === undefined ? {} : { defaultUri: folder }),
  });
}

async function scoresOf(uri: vscode.Uri): Promise<vscode.Uri[]> {
  const isFolder = await vscode.workspace.fs.stat(uri).then(
    ({ type }) => (type & vscode.FileType.Directory) !== 0,
    () => false,
  );
  if (!isFolder) return [uri];
  const endings = [...ENDINGS, ...ENDINGS.map((ending) => ending.toUpperCase())].join(',');
  const found = await vscode.workspace.findFiles(new vscode.RelativePattern(uri, `**/*.{${endings}}`), null);
  return found.sort((a, b) => (a.path < b.path ? -1 : 1));
}
