/** The degrees of the notes, drawn small above them. They take no room: notes stay under their chords, and no figure reads as an octave. */
import * as vscode from 'vscode';
import type { CalmFindings } from './calm/findings';
import { FIGURE_SIZE, noteStart, widthLeft } from './degree-room';
import { InlayHintRequest, type InlayHint, type LanguageClient, type Middleware } from 'vscode-languageclient/node';

/** Lines above and below those in sight whose degrees are drawn, so that scrolling shows none late. */
const MARGIN = 40;

export interface DegreeHints extends vscode.Disposable {
  /** Leaves to the editor the hints that are words. */
  readonly middleware: Pick<Middleware, 'provideInlayHints'>;
}

export function degreeHints(
  clientNow: () => LanguageClient | undefined,
  calm: Pick<CalmFindings, 'waitingIn' | 'onDidRelease'>,
): DegreeHints {
  /** One kind of decoration for each figure and width: both are few. */
  const figures = new Map<string, vscode.TextEditorDecorationType>();
  const drawing = new Map<vscode.TextEditor, Promise<void>>();
  const wanted = new Set<vscode.TextEditor>();

  const draw = async (editor: vscode.TextEditor): Promise<void> => {
    const { document } = editor;
    const hints = await degreesIn(editor, clientNow(), calm);
    // What is known of an older text belongs to other places; the change has asked for the newer one.
    if (hints === null) return;
    const places = new Map<string, vscode.Range[]>();
    const sorted = [...hints].sort((a, b) => a.position.line - b.position.line || a.position.character - b.position.character);
    const starts = sorted.map(({ position: { line, character } }) => ({
      line,
      start: noteStart(line < document.lineCount ? document.lineAt(line).text : '', character),
    }));
    sorted.forEach(({ label }, i) => {
      const [{ line, start }, next] = [starts[i]!, starts[i + 1]];
      const figure = typeof label === 'string' ? label : label.map(({ value }) => value).join('');
      const width = widthLeft(figure, next?.line === line ? next.start - start : Infinity);
      const kind = `${width} ${figure}`;
      if (!figures.has(kind)) figures.set(kind, above(figure, width));
      const range = document.validateRange(new vscode.Range(line, start, line, start + 1));
      places.set(kind, [...(places.get(kind) ?? []), range]);
    });
    for (const [kind, type] of figures) editor.setDecorations(type, places.get(kind) ?? []);
  };

  /** While an answer is awaited further wishes are kept as one. */
  const refresh = (editor: vscode.TextEditor): void => {
    if (editor.document.languageId !== 'phrase') return;
    wanted.add(editor);
    if (drawing.has(editor)) return;
    const work = async (): Promise<void> => {
      while (wanted.delete(editor)) await draw(editor);
    };
    // The server is stopping or starting: the next change asks again, and the output channel has the reason.
    drawing.set(
      editor,
      work()
        .catch(() => undefined)
        .finally(() => drawing.delete(editor)),
    );
  };
  const refreshAll = (document?: vscode.TextDocument): void => {
    for (const editor of vscode.window.visibleTextEditors) if (document === undefined || editor.document === document) refresh(editor);
  };

  const subscriptions = [
    vscode.workspace.onDidChangeTextDocument(({ document }) => refreshAll(document)),
    calm.onDidRelease(refreshAll),
    vscode.window.onDidChangeTextEditorVisibleRanges(({ textEditor }) => refresh(textEditor)),
    vscode.window.onDidChangeVisibleTextEditors(() => refreshAll()),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('editor.inlayHints')) refreshAll();
    }),
  ];
  return {
    middleware: {
      async provideInlayHints(document, range, token, next) {
        // The editor asks when it opens a document, and when the server says that the settings have changed.
        refreshAll(document);
        return (await next(document, range, token))?.filter((hint) => !isDegree(hint)).map(withRoom);
      },
    },
    dispose() {
      for (const one of [...subscriptions, ...figures.values()]) one.dispose();
    },
  };
}

/**
 * While a line is edited the editor holds its hints to the length they had and puts an ellipsis for the last sign of each. A sign
 * without width at its end is what goes instead.
 */
function withRoom(hint: vscode.InlayHint): vscode.InlayHint {
  if (typeof hint.label === 'string') hint.label += '\u200B';
  return hint;
}

/** The degrees in sight of an editor; null where the text has changed meanwhile. */
async function degreesIn(
  { document, visibleRanges }: vscode.TextEditor,
  client: LanguageClient | undefined,
  calm: Pick<CalmFindings, 'waitingIn'>,
): Promise<readonly InlayHint[] | null> {
  const isOn = vscode.workspace.getConfiguration('editor', document).get<string>('inlayHints.enabled', 'on').startsWith('on');
  if (!isOn || client?.isRunning() !== true || visibleRanges.length === 0) return [];
  const { version } = document;
  const first = Math.max(0, visibleRanges[0]!.start.line - MARGIN);
  const last = visibleRanges.at(-1)!.end.line + MARGIN;
  const waiting = showsClashesAlone(document) ? await calm.waitingIn(document) : [];
  const hints = await client.sendRequest<InlayHint[] | null>(InlayHintRequest.method, {
    waiting,
    textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) },
    range: { start: { line: first, character: 0 }, end: { line: last, character: 0 } },
  });
  return document.version === version ? (hints ?? []).filter(isDegree) : null;
}

/** Then a degree tells by itself that its note clashes. */
function showsClashesAlone(document: vscode.TextDocument): boolean {
  return vscode.workspace.getConfiguration('phrasewright', document).get<string>('inlayHints.degrees') === 'clashes';
}

function isDegree(hint: object): boolean {
  return 'data' in hint && hint.data === 'degree';
}

/**
 * A figure that begins where its note does, narrowed to a share of its width where another is near, in the room that the height of a
 * line leaves (package.json sets it, and keeps the border of the current line out of it). The editor has no option for that; what
 * follows the first word is its way to let rules of style through. Without them the figure stands before the note.
 */
function above(figure: string, width: number): vscode.TextEditorDecorationType {
  return vscode.window.createTextEditorDecorationType({
    rangeBehavior: vscode.DecorationRangeBehavior.ClosedClosed,
    before: {
      contentText: figure,
      color: new vscode.ThemeColor('phrasewright.degree'),
      fontStyle: 'normal',
      fontWeight: 'normal',
      textDecoration: `none; position: absolute; font-size: ${FIGURE_SIZE}em; line-height: 1; margin-top: -0.35em; transform: scaleX(${width}); transform-origin: left; pointer-events: none`,
    },
  });
}
