/** The score beside the text: one page that follows the phrase document being written. */
import * as vscode from 'vscode';
import type { LanguageClient, TextEdit } from 'vscode-languageclient/node';
import { baseName } from '../base-name';
import type { CalmFindings } from '../calm/findings';
import { showWarning } from '../notice';
import { cursorPlace, type TextPlace } from '../text-place';
import { knownOf, wholeScore } from './known';
import type {
  FromView,
  Order,
  PlayedTake,
  Score,
  ScorePhrase,
  SentScore,
  Stretch,
  TakeAsk,
  ToView,
  Track,
  TrackSamples,
  ViewOptions,
} from './messages';
import { readOptions } from './options';
import { pageHtml } from './page';
import { columnOf, editorOf } from './text-column';

const VIEW = 'phrasewright.score';
const KEPT = 'score.options';
/** Phrases that an answer may bring whole: a long lesson comes in parts, from the cursor outwards, so that typing goes on meanwhile. */
const MOST_AT_ONCE = 12;
/** Keys that stop the sound are bound while it plays. */
const PLAYING = 'phrasewright.playing';

export interface ScoreView extends vscode.Disposable {
  /** Shows the score of a place, beside the text; without one, of the phrase at the cursor. */
  show(place?: TextPlace): Promise<void>;
  /** Asks something of the score, which is shown first if it is to play. */
  order(order: Order, place?: TextPlace): Promise<void>;
  isOpen(): boolean;
  /** What the reader chose. */
  options(): ViewOptions;
  /** Sound made by the page, which has to be shown. Throws an error for people where it cannot be made, and a CancellationError. */
  render(track: Track, token: vscode.CancellationToken): Promise<TrackSamples>;
  /** Shows the phrase as it would be after some edits, or again as it is; nothing where the score is not open. */
  showInstead(choice: Choice | null): Promise<void>;
}

/** Edits that are not made yet, for one version of a document. */
export interface Choice extends TextPlace {
  readonly version: number;
  readonly edits: readonly TextEdit[];
  /** What would be done, in words. */
  readonly title: string;
}

type Rendered = Extract<FromView, { type: 'rendered' }>['made'];

/** A score as it was sent to the page, and the document it is of. */
interface Shown {
  readonly document: vscode.TextDocument;
  readonly score: Score;
}

export function createScoreView(
  context: vscode.ExtensionContext,
  client: LanguageClient,
  output: vscode.LogOutputChannel,
  calm: CalmFindings,
): ScoreView {
  const sounding = vscode.window.createTextEditorDecorationType({
    backgroundColor: new vscode.ThemeColor('phrasewright.scoreSounding'),
    borderRadius: '3px',
  });
  let panel: vscode.WebviewPanel | undefined;
  let ready: Promise<void> = Promise.resolve();
  let isReady: () => void = () => undefined;
  let options: ViewOptions = readOptions(context.globalState.get(KEPT));
  /** Where the cursor is in the phrase document that was last written in. */
  let followed: TextPlace | undefined;
  /** The column of the editor that was last written in: a text may be open in two. */
  let column: vscode.ViewColumn | undefined;
  let shown: Shown | undefined;
  /** What is shown in place of the text as it is. */
  let choice: Choice | null = null;
  /** The question that is on its way, and whether to ask again after it. */
  let asking: Promise<void> | undefined;
  let askAgain = false;

  /** Sounds that are being made, by their question. */
  const renderings = new Map<number, (made: Rendered) => void>();
  let renderAsks = 0;

  const post = (message: ToView): void => void panel?.webview.postMessage(message);

  const follow = (editor: vscode.TextEditor | undefined): void => {
    if (editor?.document.languageId !== 'phrase') return;
    followed = { document: editor.document, position: editor.selection.active };
    column = editor.viewColumn;
  };

  // ── The score ──

  /** Asks for the score. While an answer is awaited further wishes are kept as one, so that fast typing asks only for the newest. */
  const refresh = (): Promise<void> => {
    askAgain = true;
    asking ??= ask().finally(() => {
      asking = undefined;
    });
    return asking;
  };

  const ask = async (): Promise<void> => {
    while (askAgain) {
      askAgain = false;
      if (panel === undefined || followed === undefined || !client.isRunning()) return;
      const closed = followed;
      let place = closed;
      try {
        if (closed.document.isClosed) {
          place = { ...closed, document: await reopened(closed.document.uri) };
          if (followed === closed) followed = place;
        }
        await showScore(place);
      } catch {
        // The server is stopping or starting: the next change asks again, and the output channel has the reason.
      }
      // An undo or a paste moves the cursor after the text has changed: it may be in another phrase by now.
      if (followed !== place && phraseAtCursor() === null) askAgain = true;
    }
  };

  const showScore = async ({ document, position }: TextPlace): Promise<void> => {
    const asked = { scope: options.scope, pitch: options.pitch };
    const instead = choice !== null && choice.version === choice.document.version ? choice : null;
    if (instead !== null) {
      const score = await client.sendRequest<Score | null>('phrasewright/score', {
        ...params(instead.document, instead.position),
        options: { ...asked, instead: instead.edits },
      });
      // Its offsets are of a text that is not there: it is looked at, and leads nowhere.
      shown = undefined;
      if (score !== null && choice === instead)
        post({ type: 'score', uri: instead.document.uri.toString(), score, instead: instead.title });
      return;
    }
    const waiting = await calm.waitingIn(document);
    const { version } = document;
    const before = shown;
    const known = before === undefined ? new Map<number, ScorePhrase>() : knownOf(before.score);
    const sent = await client.sendRequest<SentScore | null>('phrasewright/score', {
      ...params(document, position),
      options: { ...asked, waiting, known: [...known.keys()], most: MOST_AT_ONCE },
    });
    // A page that was opened meanwhile has nothing yet: it asks by itself.
    if (sent === null || shown !== before) return;
    const score = wholeScore(sent, known);
    if (score === null) throw new Error('The server counts on a phrase of a score that was not asked for.');
    // Of a text that has gone on it is not known what has to wait: its own picture is asked for already.
    if (score.version !== version && askAgain) return;
    shown = { document, score };
    post({ type: 'score', uri: document.uri.toString(), score: sent, instead: null });
    postCursor();
  };

  /** The index of the phrase that the cursor is in. */
  const phraseAtCursor = (): number | null => {
    if (shown === undefined || followed?.document !== shown.document) return null;
    const offset = shown.document.offsetAt(followed.position);
    // Where one phrase ends something else starts, but at the end of the text.
    const index = shown.score.phrases.findLastIndex(
      ({ start, end }) => offset >= start && (offset < end || offset === shown?.document.getText().length),
    );
    return index < 0 ? null : index;
  };

  const isCurrent = ({ document, score }: Shown): boolean => score.version === document.version;

  const postCursor = (): void => {
    if (shown === undefined || followed === undefined || !isCurrent(shown)) return;
    const index = phraseAtCursor();
    // Between phrases the next one is looked at, and no note of it.
    if (index === null)
      return shown.score.here === null ? undefined : post({ type: 'cursor', phrase: shown.score.here, note: null, selection: null });
    const phrase = shown.score.phrases[index]!;
    const editor = editorOf(shown.document, column);
    post({
      type: 'cursor',
      phrase: index,
      note: noteAt(phrase, shown.document.offsetAt(followed.position)),
      selection: editor === undefined ? null : selectedStretch(phrase, editor),
    });
  };

  const moved = (): void => {
    if (panel === undefined || followed === undefined) return;
    if (shown === undefined || shown.document !== followed.document || phraseAtCursor() === null) void refresh();
    else postCursor();
  };

  // ── What the page says ──

  const receive = async (message: FromView): Promise<void> => {
    switch (message.type) {
      case 'ready':
        markSounding(null);
        // A page that is loaded again has none of what was sent before.
        shown = undefined;
        void vscode.commands.executeCommand('setContext', PLAYING, false);
        post({ type: 'options', options });
        isReady();
        return refresh();
      case 'more':
        return refresh();
      case 'begin':
        return void vscode.commands.executeCommand('phrasewright.newLesson');
      case 'options': {
        const before = options;
        options = readOptions(message.options);
        await context.globalState.update(KEPT, options);
        return options.scope === before.scope && options.pitch === before.pitch ? undefined : refresh();
      }
      case 'select':
        await openText();
        return goTo(shown?.score.phrases[message.place.phrase]?.notes[message.place.note], message.focus);
      case 'go-to-finding':
        await openText();
        return goTo(shown?.score.phrases[message.phrase]?.findings[message.finding], true);
      case 'take':
        return post({ type: 'take', ask: message.question.ask, take: await takeOf(message.question) });
      case 'sounding':
        // Before the mark is made: what comes back tells the way alone.
        post({ type: 'pong', sent: message.sent });
        return markSounding(
          message.place === null ? null : (shown?.score.phrases[message.place.phrase]?.notes[message.place.note] ?? null),
        );
      case 'playing':
        return void vscode.commands.executeCommand('setContext', PLAYING, message.isPlaying);
      case 'rendered':
        return renderings.get(message.ask)?.(message.made);
      case 'without-piano':
        output.warn(`The piano could not be loaded: ${message.reason}`);
        return void showWarning('The piano could not be loaded, so what it plays has a synthesized sound. The output says why.');
      case 'ping':
        return post({ type: 'pong', sent: message.sent });
    }
  };

  /** A score stays when its text is closed; then the text is read anew, for it may have been closed without being saved. */
  const openText = async (): Promise<void> => {
    if (shown?.document.isClosed === true) await refresh();
  };

  const goTo = async (place: { readonly start: number; readonly end: number } | undefined, focus: boolean): Promise<void> => {
    // Offsets belong to one version: while a newer score is on its way, they would select the wrong place.
    if (place === undefined || shown === undefined || !isCurrent(shown)) return;
    const { document } = shown;
    const selection = new vscode.Selection(document.positionAt(place.start), document.positionAt(place.end));
    const editor = editorOf(document, column);
    if (editor === undefined || focus) {
      const viewColumn = editor?.viewColumn ?? columnOf(document, panel?.viewColumn);
      await vscode.window.showTextDocument(document, { viewColumn, preserveFocus: !focus, selection }).then(undefined, (error: unknown) => {
        output.error(error instanceof Error ? error : String(error));
        void showWarning(`${baseName(document.uri)} cannot be opened: it was moved or deleted.`);
      });
      return;
    }
    editor.selection = selection;
    editor.revealRange(selection, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    follow(editor);
  };

  /** What plays may be of another phrase, or of another file, than what is shown. */
  const takeOf = async ({ uri, name, start, stretch, tempo, ratio, countIn, practice }: TakeAsk): Promise<PlayedTake | null> => {
    if (shown !== undefined && !isCurrent(shown)) await refresh();
    await openText();
    if (!client.isRunning()) return null;
    try {
      const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri) ?? (await reopened(vscode.Uri.parse(uri)));
      const asked = { stretch, tempo, ratio, countIn, practice, pitch: options.pitch };
      return await client.sendRequest<PlayedTake | null>('phrasewright/take', {
        ...params(document, document.positionAt(start)),
        options: asked,
        name,
      });
    } catch (error) {
      output.error(`The sound could not be made: ${error instanceof Error ? error.message : String(error)}`);
      return null;
    }
  };

  /** One place of one document at most: every other mark is taken away. */
  const markSounding = (place: { readonly start: number; readonly end: number } | null): void => {
    const current = place !== null && shown !== undefined && isCurrent(shown) ? shown.document : undefined;
    for (const editor of vscode.window.visibleTextEditors) {
      const { document } = editor;
      editor.setDecorations(
        sounding,
        place !== null && document === current ? [new vscode.Range(document.positionAt(place.start), document.positionAt(place.end))] : [],
      );
    }
  };

  const params = (
    document: vscode.TextDocument,
    position: vscode.Position,
  ): { textDocument: { uri: string }; position: { line: number; character: number } } => ({
    textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) },
    position: client.code2ProtocolConverter.asPosition(position),
  });

  // ── The panel ──

  /** There is one page: where another turns up (restored by the editor), it takes the place of the first. */
  const adopt = (fresh: vscode.WebviewPanel): void => {
    panel?.dispose();
    panel = fresh;
    shown = undefined;
    const dist = vscode.Uri.joinPath(context.extensionUri, 'dist');
    ready = new Promise((resolve) => {
      isReady = resolve;
    });
    fresh.webview.options = { enableScripts: true, localResourceRoots: [dist] };
    fresh.webview.onDidReceiveMessage((message: FromView) => {
      if (panel === fresh) receive(message).catch((error: unknown) => output.error(error instanceof Error ? error : String(error)));
    });
    fresh.onDidDispose(() => {
      if (panel !== fresh) return;
      // Whoever waits for the page goes on, and finds that there is none.
      isReady();
      markSounding(null);
      void vscode.commands.executeCommand('setContext', PLAYING, false);
      panel = undefined;
      shown = undefined;
      for (const answer of renderings.values()) answer('The score was closed, which makes the sound.');
    });
    fresh.webview.html = pageHtml(fresh.webview, dist);
  };

  const show = async (place = cursorPlace(), focus: 'text' | 'score' = 'text'): Promise<void> => {
    if (place !== undefined) followed = place;
    // Sound goes on while another tab covers the score, so its page is kept.
    if (panel === undefined)
      adopt(
        vscode.window.createWebviewPanel(
          VIEW,
          'Score',
          { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
          { retainContextWhenHidden: true },
        ),
      );
    // Never over the text it belongs to.
    else
      panel.reveal(
        panel.viewColumn !== undefined && panel.viewColumn === vscode.window.activeTextEditor?.viewColumn
          ? vscode.ViewColumn.Beside
          : undefined,
        true,
      );
    await ready;
    await refresh();
    if (focus === 'score') panel?.reveal(undefined, false);
  };

  const order = async (asked: Order, place?: TextPlace): Promise<void> => {
    if (asked.kind === 'play') await show(place);
    else if (asked.kind === 'explain') await show(place, 'score');
    else if (asked.kind === 'mute-line' && panel === undefined) {
      options = { ...options, lineMuted: !options.lineMuted };
      await context.globalState.update(KEPT, options);
    } else await ready;
    post({ type: 'order', order: asked });
  };

  const render = (track: Track, token: vscode.CancellationToken): Promise<TrackSamples> => {
    renderAsks += 1;
    const mine = renderAsks;
    return new Promise<TrackSamples>((resolve, reject) => {
      const cancelled = token.onCancellationRequested(() => reject(new vscode.CancellationError()));
      renderings.set(mine, (made) => {
        cancelled.dispose();
        if (typeof made === 'string') reject(new Error(made));
        else resolve({ samples: new Int16Array(made.bytes), rate: made.rate, lacksPiano: made.lacksPiano });
      });
      if (token.isCancellationRequested) reject(new vscode.CancellationError());
      else if (panel === undefined)
        reject(new Error('The score is closed, which makes the sound. Leave it open until the file is written.'));
      else post({ type: 'render', ask: mine, track });
    }).finally(() => renderings.delete(mine));
  };

  follow(vscode.window.activeTextEditor);
  const subscriptions = [
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
    // What plays goes on under the new name.
    vscode.workspace.onDidRenameFiles(({ files }) =>
      post({ type: 'renamed', files: files.map(({ oldUri, newUri }) => ({ from: oldUri.toString(), to: newUri.toString() })) }),
    ),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('phrasewright')) void refresh();
    }),
    calm.onDidRelease((document) => {
      if (document === followed?.document) void refresh();
    }),
    client.onDidChangeState(() => {
      // Another server counts its revisions anew.
      shown = undefined;
      void refresh();
    }),
  ];
  return {
    show,
    order,
    isOpen: () => panel !== undefined,
    options: () => options,
    render,
    async showInstead(wanted) {
      if (choice === null && wanted === null) return;
      choice = wanted;
      await refresh();
    },
    dispose() {
      panel?.dispose();
      for (const one of subscriptions) one.dispose();
    },
  };
}

/** A text that was closed, from where it is kept. Throws where it is kept nowhere. */
async function reopened(uri: vscode.Uri): Promise<vscode.TextDocument> {
  // One that was never saved would come back empty.
  if (uri.scheme === 'untitled') throw new Error(`“${uri.path}” was closed without being saved.`);
  return vscode.workspace.openTextDocument(uri);
}

/** The note written at an offset, or held there. A place between two notes belongs to the one that starts there. */
function noteAt({ notes }: ScorePhrase, offset: number): number | null {
  const holds = (start: number, end: number): boolean => offset >= start && offset <= end;
  const here = notes.flatMap((note, index) =>
    holds(note.start, note.end) || note.holds.some(({ start, end }) => holds(start, end)) ? [{ note, index }] : [],
  );
  return (here.find(({ note }) => note.start <= offset && offset < note.end) ?? here[0])?.index ?? null;
}

/** The time that the selected notes take; null where fewer than two are selected. */
function selectedStretch({ notes }: ScorePhrase, { document, selections }: vscode.TextEditor): Stretch | null {
  const ranges = selections
    .filter(({ isEmpty }) => !isEmpty)
    .map((one) => ({ start: document.offsetAt(one.start), end: document.offsetAt(one.end) }));
  const chosen = notes.filter((note) => ranges.some(({ start, end }) => note.start < end && note.end > start));
  if (chosen.length < 2) return null;
  return { from: Math.min(...chosen.map(({ onset }) => onset)), to: Math.max(...chosen.map(({ onset, duration }) => onset + duration)) };
}
