/** The score beside the text: one page that follows the phrase document being written. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { TextPlace } from '../text-place';
import { DEFAULT_OPTIONS, type FromView, type NotePlace, type Order, type Score, type ScorePhrase, type Stretch, type Take, type TakeAsk, type ToView, type ViewOptions } from './messages';
import { pageHtml } from './page';

const VIEW = 'phrasewright.score';
const KEPT = 'score.options';

export interface ScoreView extends vscode.Disposable {
  /** Shows the score of a place, beside the text; without one, of the phrase at the cursor. */
  show(place?: TextPlace): Promise<void>;
  /** Shows the score and asks something of it. */
  order(order: Order, place?: TextPlace): Promise<void>;
}

export function createScoreView(context: vscode.ExtensionContext, client: LanguageClient): ScoreView {
  const sounding = vscode.window.createTextEditorDecorationType({
    backgroundColor: new vscode.ThemeColor('phrasewright.scoreSounding'),
    borderRadius: '3px',
  });
  let panel: vscode.WebviewPanel | undefined;
  let ready: Promise<void> = Promise.resolve();
  let isReady: () => void = () => undefined;
  let options: ViewOptions = readOptions(context.globalState.get(KEPT));
  /** What the page shows, and the document it is of. */
  let followed: TextPlace | undefined;
  let shown: { readonly document: vscode.TextDocument; readonly score: Score } | undefined;
  let asking = false;
  let askAgain = false;

  const post = (message: ToView): void => void panel?.webview.postMessage(message);

  /** The place the score is of: the cursor of the phrase document that was last written in. */
  const follow = (editor: vscode.TextEditor | undefined): void => {
    if (editor?.document.languageId === 'phrase') followed = { document: editor.document, position: editor.selection.active };
  };

  /** Asks for the score; while an answer is awaited further wishes are kept as one, so that fast typing asks only for the newest. */
  const refresh = async (): Promise<void> => {
    if (panel === undefined || followed === undefined || !client.isRunning()) return;
    if (asking) {
      askAgain = true;
      return;
    }
    asking = true;
    try {
      do {
        askAgain = false;
        await showScore(followed);
      } while (askAgain);
    } catch {
      // The server is stopping or starting: the next change asks again, and the output channel has the reason.
    } finally {
      asking = false;
    }
  };

  const showScore = async ({ document, position }: TextPlace): Promise<void> => {
    const score = await client.sendRequest<Score | null>('phrasewright/score', { ...params(document, position), options: { scope: options.scope, pitch: options.pitch } });
    // Between phrases the last score stays: it is what the reader was looking at.
    if (score === null || (score.phrases.length === 0 && shown?.document === document && options.scope === 'phrase')) return;
    shown = { document, score };
    post({ type: 'score', uri: document.uri.toString(), score, phrase: phraseAtCursor() ?? 0 });
    postCursor();
  };

  const phraseAtCursor = (): number | null => {
    if (shown === undefined || followed === undefined || followed.document !== shown.document) return null;
    const offset = shown.document.offsetAt(followed.position);
    const index = shown.score.phrases.findIndex(({ start, end }) => offset >= start && offset <= end);
    return index < 0 ? null : index;
  };

  const postCursor = (): void => {
    const phrase = phraseAtCursor();
    if (phrase === null || shown === undefined || followed === undefined || shown.score.version !== shown.document.version) return;
    const editor = editorOf(shown.document);
    const notes = shown.score.phrases[phrase]!;
    const at = shown.document.offsetAt(followed.position);
    post({ type: 'cursor', phrase, note: noteAt(notes, at), selection: editor === undefined ? null : selectedStretch(notes, editor) });
  };

  const moved = (): void => {
    if (panel === undefined || followed === undefined) return;
    const isElsewhere = shown?.document !== followed.document || phraseAtCursor() === null;
    if (isElsewhere) void refresh();
    else postCursor();
  };

  const receive = async (message: FromView): Promise<void> => {
    switch (message.type) {
      case 'ready':
        post({ type: 'options', options });
        isReady();
        return refresh();
      case 'options': {
        const asksAnew = message.options.scope !== options.scope || message.options.pitch !== options.pitch;
        options = message.options;
        await context.globalState.update(KEPT, options);
        return asksAnew ? refresh() : undefined;
      }
      case 'select':
        return select(message.place, message.focus);
      case 'go-to':
        return goTo(message.start, message.end, true);
      case 'take':
        return post({ type: 'take', ask: message.question.ask, take: await takeOf(message.question) });
      case 'sounding':
        return markSounding(message.place);
      case 'ping':
        return post({ type: 'pong', sent: message.sent });
    }
  };

  const select = async ({ phrase, note }: NotePlace, focus: boolean): Promise<void> => {
    const place = shown?.score.phrases[phrase]?.notes[note];
    if (place !== undefined) await goTo(place.start, place.end, focus);
  };

  /** Offsets belong to one version: while a newer score is on its way, a click would select the wrong place. */
  const goTo = async (start: number, end: number, focus: boolean): Promise<void> => {
    if (shown === undefined || shown.score.version !== shown.document.version) return;
    const { document } = shown;
    const selection = new vscode.Selection(document.positionAt(start), document.positionAt(end));
    const editor = editorOf(document);
    if (editor === undefined || focus) {
      await vscode.window.showTextDocument(document, { viewColumn: editor?.viewColumn ?? vscode.ViewColumn.One, preserveFocus: !focus, selection });
      return;
    }
    editor.selection = selection;
    editor.revealRange(selection, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    follow(editor);
  };

  const takeOf = async (question: TakeAsk): Promise<Take | null> => {
    const phrase = shown?.score.phrases[question.phrase];
    if (shown === undefined || phrase === undefined || !client.isRunning()) return null;
    const { stretch, tempo, ratio, countIn, practice } = question;
    try {
      return await client.sendRequest<Take | null>('phrasewright/take', { ...params(shown.document, shown.document.positionAt(phrase.start)), options: { stretch, tempo, ratio, countIn, practice } });
    } catch {
      return null;
    }
  };

  const markSounding = (place: NotePlace | null): void => {
    if (shown === undefined) return;
    const note = place === null ? undefined : shown.score.phrases[place.phrase]?.notes[place.note];
    const { document, score } = shown;
    const ranges = note === undefined || score.version !== document.version ? [] : [new vscode.Range(document.positionAt(note.start), document.positionAt(note.end))];
    for (const editor of vscode.window.visibleTextEditors) if (editor.document === document) editor.setDecorations(sounding, ranges);
  };

  const params = (document: vscode.TextDocument, position: vscode.Position): { textDocument: { uri: string }; position: { line: number; character: number } } => ({
    textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) },
    position: client.code2ProtocolConverter.asPosition(position),
  });

  const adopt = (fresh: vscode.WebviewPanel): void => {
    panel = fresh;
    shown = undefined;
    const dist = vscode.Uri.joinPath(context.extensionUri, 'dist');
    ready = new Promise((resolve) => {
      isReady = resolve;
    });
    fresh.webview.options = { enableScripts: true, localResourceRoots: [dist] };
    fresh.webview.onDidReceiveMessage((message: FromView) => void receive(message));
    fresh.onDidDispose(() => {
      markSounding(null);
      panel = undefined;
      shown = undefined;
    });
    fresh.webview.html = pageHtml(fresh.webview, dist);
  };

  const show = async (place?: TextPlace): Promise<void> => {
    if (place !== undefined) followed = place;
    else follow(vscode.window.activeTextEditor);
    if (panel === undefined) {
      // Sound goes on while another tab covers the score, so its page is kept.
      adopt(vscode.window.createWebviewPanel(VIEW, 'Score', { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }, { retainContextWhenHidden: true }));
      await ready;
      return;
    }
    panel.reveal(undefined, true);
    await ready;
    await refresh();
  };

  const disposables = [
    sounding,
    vscode.window.registerWebviewPanelSerializer(VIEW, {
      deserializeWebviewPanel: async (restored) => {
        follow(vscode.window.activeTextEditor ?? vscode.window.visibleTextEditors.find(({ document }) => document.languageId === 'phrase'));
        adopt(restored);
      },
    }),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
      follow(textEditor);
      if (textEditor.document.languageId === 'phrase') moved();
    }),
    vscode.window.onDidChangeActiveTextEditor((editor) => {
      follow(editor);
      if (editor?.document.languageId === 'phrase') moved();
    }),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document === followed?.document) void refresh();
    }),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('phrasewright')) void refresh();
    }),
    client.onDidChangeState(() => void refresh()),
  ];
  follow(vscode.window.activeTextEditor);
  return {
    show,
    async order(order, place) {
      await show(place);
      await refresh();
      post({ type: 'order', order });
    },
    dispose() {
      panel?.dispose();
      for (const one of disposables) one.dispose();
    },
  };
}

function editorOf(document: vscode.TextDocument): vscode.TextEditor | undefined {
  const editors = vscode.window.visibleTextEditors.filter((editor) => editor.document === document);
  return editors.find((editor) => editor === vscode.window.activeTextEditor) ?? editors[0];
}

/** The note written at an offset, or held there. A place between two notes belongs to the one that starts there. */
function noteAt({ notes }: ScorePhrase, offset: number): number | null {
  const holds = (start: number, end: number): boolean => offset >= start && offset <= end;
  const here = notes.flatMap((note, index) => (holds(note.start, note.end) || note.holds.some(({ start, end }) => holds(start, end)) ? [{ note, index }] : []));
  return (here.find(({ note }) => note.start <= offset && offset < note.end) ?? here[0])?.index ?? null;
}

/** The time that the selected notes take; null where fewer than two are selected. */
function selectedStretch({ notes }: ScorePhrase, { document, selections }: vscode.TextEditor): Stretch | null {
  const ranges = selections.filter(({ isEmpty }) => !isEmpty).map((one) => ({ start: document.offsetAt(one.start), end: document.offsetAt(one.end) }));
  const chosen = notes.filter((note) => ranges.some(({ start, end }) => note.start < end && note.end > start));
  if (chosen.length < 2) return null;
  return { from: Math.min(...chosen.map(({ onset }) => onset)), to: Math.max(...chosen.map(({ onset, duration }) => onset + duration)) };
}

/** Kept options of an older version may lack what this one knows. */
function readOptions(kept: unknown): ViewOptions {
  const stored = typeof kept === 'object' && kept !== null ? (kept as Partial<ViewOptions>) : {};
  return { ...DEFAULT_OPTIONS, ...stored, levels: { ...DEFAULT_OPTIONS.levels, ...stored.levels } };
}
