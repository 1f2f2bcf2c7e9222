/** The findings that the editor shows: the server's, but for those that wait until the writer rests. */
import * as vscode from 'vscode';
import { vsdiag, type Middleware } from 'vscode-languageclient/node';
import { openCalm, pensOf, REST, samePlaces, step, wakeAt, type Calm, type CalmEvent } from './calm';
import type { WaitingFinding } from '../score/messages';
import type { Found } from './moving';

/** A finding of the language client's, with its place as offsets. */
interface Placed extends Found {
  readonly diagnostic: vscode.Diagnostic;
}

/** What is remembered of an open document. */
interface Watched {
  calm: Calm<Placed>;
  /** The version that the text of `calm` is of. */
  version: number;
  /** The last whole report, which the server names when nothing has changed. */
  report: { readonly id: string | undefined; readonly items: readonly vscode.Diagnostic[]; readonly version: number } | undefined;
  timer: NodeJS.Timeout | undefined;
}

export interface CalmFindings extends vscode.Disposable {
  readonly middleware: Pick<Middleware, 'provideDiagnostics'>;
  /** What waits in the text as it is, as soon as the server has told of it. */
  waitingIn(document: vscode.TextDocument): Promise<readonly WaitingFinding[]>;
  /** Something that waited in a document waits no longer, or is read otherwise. */
  readonly onDidRelease: vscode.Event<vscode.TextDocument>;
}

/** The server’s mark of a finding that may go with what is being written. */
const EARLY = 'early';

/** Milliseconds: a server that takes longer to report is not waited for. */
const PATIENCE = 500;

export interface CalmServer {
  /** Makes the language client ask for the findings of a document, so that those it was given are replaced. */
  askAgain(document: vscode.TextDocument): void;
  /** Tells the server where last bars of rows are being written, for the version that the document has now; none: nowhere. */
  tellPens(document: vscode.TextDocument, offsets: readonly number[]): void;
}

export function calmFindings({ askAgain, tellPens }: CalmServer): CalmFindings {
  const watched = new Map<string, Watched>();
  const reported = new vscode.EventEmitter<void>();
  const released = new vscode.EventEmitter<vscode.TextDocument>();

  const watch = (document: vscode.TextDocument): Watched => {
    const key = document.uri.toString();
    const known = watched.get(key) ?? {
      calm: openCalm<Placed>(document.getText()),
      version: document.version,
      report: undefined,
      timer: undefined,
    };
    watched.set(key, known);
    return known;
  };

  /** Takes an event, and sees to it that time goes on; answers whether other findings are shown than before. */
  const take = (document: vscode.TextDocument, event: CalmEvent<Placed>): boolean => {
    const one = watch(document);
    const before = one.calm;
    one.calm = step(before, event, Date.now());
    const pens = pensOf(one.calm);
    // An edit makes a version of its own, for which it is told anew.
    if (!samePlaces(pens, pensOf(before)) || (pens.length > 0 && event.kind === 'edit')) tellPens(document, pens);
    clearTimeout(one.timer);
    const at = wakeAt(one.calm);
    // A timer may be a millisecond early; and keys that came while the extension host stood still are taken before the time.
    one.timer = at === null ? undefined : setTimeout(() => setTimeout(() => rest(document), 0), Math.max(0, at - Date.now()) + 1);
    const isReadAnew = before.report !== null && one.calm.report === null;
    return isReadAnew || (one.calm.report !== null && one.calm.waiting.length < before.waiting.length);
  };
  /** The editor tells of cursors only when they move, so that an edit elsewhere leaves it open where they are. */
  const rest = (document: vscode.TextDocument): void => {
    const editors = vscode.window.visibleTextEditors.filter((editor) => editor.document === document);
    const isMoved = take(document, {
      kind: 'cursors',
      offsets: editors.flatMap(({ selections }) => selections.map(({ active: place }) => document.offsetAt(place))),
    });
    if (!take(document, { kind: 'time' }) && !isMoved) return;
    askAgain(document);
    released.fire(document);
  };
  const releasing = (document: vscode.TextDocument, event: CalmEvent<Placed>): void => {
    if (!take(document, event)) return;
    askAgain(document);
    released.fire(document);
  };
  const pause = (document: vscode.TextDocument | undefined): void => {
    if (document !== undefined && watched.has(document.uri.toString())) releasing(document, { kind: 'pause' });
  };

  const reasons = new WeakMap<vscode.TextDocument, vscode.TextDocumentSaveReason>();
  let active = vscode.window.activeTextEditor;
  const subscriptions = [
    reported,
    released,
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      const one = watched.get(document.uri.toString());
      if (one === undefined) return;
      one.version = document.version;
      // Places of the text before the change, from the last to the first.
      const changes = contentChanges
        .map(({ rangeOffset, rangeLength, text }) => ({ start: rangeOffset, end: rangeOffset + rangeLength, text }))
        .sort((a, b) => b.start - a.start);
      if (changes.length > 0) take(document, { kind: 'edit', text: document.getText(), changes, rest: restIn(document) });
    }),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor: { document }, selections }) => {
      if (watched.has(document.uri.toString()))
        releasing(document, { kind: 'cursors', offsets: selections.map(({ active: place }) => document.offsetAt(place)) });
    }),
    vscode.window.onDidChangeActiveTextEditor((editor) => {
      if (active?.document !== editor?.document) pause(active?.document);
      active = editor;
    }),
    vscode.window.onDidChangeWindowState(({ focused }) => {
      if (!focused) pause(active?.document);
    }),
    vscode.workspace.onWillSaveTextDocument(({ document, reason }) => void reasons.set(document, reason)),
    vscode.workspace.onDidSaveTextDocument((document) => {
      // An editor that saves by itself after a while says nothing of the writer.
      if (reasons.get(document) !== vscode.TextDocumentSaveReason.AfterDelay) pause(document);
    }),
    vscode.workspace.onDidCloseTextDocument(({ uri }) => {
      clearTimeout(watched.get(uri.toString())?.timer);
      watched.delete(uri.toString());
    }),
  ];

  return {
    middleware: {
      async provideDiagnostics(document, previousResultId, token, next) {
        const open =
          document instanceof vscode.Uri
            ? vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === document.toString())
            : document;
        if (open === undefined) return next(document, previousResultId, token);
        const { version } = open;
        const one = watch(open);
        const known = one.report !== undefined && one.report.id === previousResultId ? one.report : undefined;
        const answer = await next(document, known?.id, token);
        if (answer === undefined || answer === null) return answer;
        const report =
          answer.kind === vsdiag.DocumentDiagnosticReportKind.full ? { id: answer.resultId, items: answer.items, version } : known;
        // The answer is to a text that has gone on: the language client asks again, and until then its findings stay.
        if (report === undefined || open.version !== version || one.version !== version)
          return { kind: vsdiag.DocumentDiagnosticReportKind.unChanged, resultId: '' };
        one.report = report;
        if (one.calm.report === null || answer.kind === vsdiag.DocumentDiagnosticReportKind.full) {
          take(open, { kind: 'report', findings: report.items.map((diagnostic) => placed(open, diagnostic)) });
          reported.fire();
        }
        return {
          kind: vsdiag.DocumentDiagnosticReportKind.full,
          ...(report.id === undefined ? {} : { resultId: report.id }),
          items: one.calm.shown.map(({ diagnostic }) => diagnostic),
        };
      },
    },
    async waitingIn(document) {
      const isKnown = (): boolean => {
        const one = watched.get(document.uri.toString());
        return one === undefined || one.calm.report !== null || (one.calm.writing === null && one.report === undefined);
      };
      if (!isKnown()) {
        await new Promise<void>((resolve) => {
          const timer = setTimeout(() => done(), PATIENCE);
          const waiting = reported.event(() => isKnown() && done());
          const done = (): void => {
            clearTimeout(timer);
            waiting.dispose();
            resolve();
          };
        });
      }
      return (watched.get(document.uri.toString())?.calm.waiting ?? []).map(({ rule, start, end }) => ({ rule, start, end }));
    },
    onDidRelease: released.event,
    dispose() {
      for (const { timer } of watched.values()) clearTimeout(timer);
      for (const one of subscriptions) one.dispose();
    },
  };
}

function restIn(document: vscode.TextDocument): number {
  return vscode.workspace.getConfiguration('phrasewright', document).get<number>('findings.rest', REST);
}

function placed(document: vscode.TextDocument, diagnostic: vscode.Diagnostic): Placed {
  const { range, code, message } = diagnostic;
  return {
    rule: String(typeof code === 'object' ? code.value : code),
    message,
    start: document.offsetAt(range.start),
    end: document.offsetAt(range.end),
    isError: diagnostic.severity === vscode.DiagnosticSeverity.Error,
    // The language client keeps what the server sends beside a finding.
    early: 'data' in diagnostic && diagnostic.data === EARLY,
    diagnostic,
  };
}
