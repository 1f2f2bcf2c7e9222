/** The way of a report from the server to the editor: what of it waits is held back. */
import * as vscode from 'vscode';
import { vsdiag, type Middleware } from 'vscode-languageclient/node';
import type { Taking } from './taking';
import { watch, type Placed, type Report, type Watched, type WatchedDocuments } from './watched';

type ProvideDiagnostics = NonNullable<Middleware['provideDiagnostics']>;
type Answer = Exclude<Awaited<ReturnType<ProvideDiagnostics>>, null | undefined>;

/** `taken` is called when a report was taken. */
export function createReports(all: WatchedDocuments, take: Taking['take'], taken: () => void): ProvideDiagnostics {
  return async (document, previousResultId, token, next) => {
    const open = openDocument(document);
    if (open === undefined) return next(document, previousResultId, token);
    const { version } = open;
    const one = watch(all, open);
    const known = one.report?.id === previousResultId ? one.report : undefined;
    const answer = await next(document, known?.id, token);
    if (answer === undefined || answer === null) return answer;
    const report = reportIn(answer, version) ?? known;
    // The answer is to a text that has gone on: the language client asks again, and until then its findings stay.
    if (report === undefined || open.version !== version || one.version !== version)
      return { kind: vsdiag.DocumentDiagnosticReportKind.unChanged, resultId: '' };
    one.report = report;
    if (one.calm.report === null || report !== known) {
      take(open, { kind: 'report', findings: report.items.map((diagnostic) => placed(open, diagnostic)) });
      taken();
    }
    return shownOf(one, report);
  };
}

function openDocument(document: vscode.TextDocument | vscode.Uri): vscode.TextDocument | undefined {
  if (!(document instanceof vscode.Uri)) return document;
  return vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === document.toString());
}

/** The report that an answer has; undefined where it says that nothing has changed. */
function reportIn(answer: Answer, version: number): Report | undefined {
  return answer.kind === vsdiag.DocumentDiagnosticReportKind.full ? { id: answer.resultId, items: answer.items, version } : undefined;
}

function shownOf({ calm }: Watched, { id }: Report): Answer {
  return {
    kind: vsdiag.DocumentDiagnosticReportKind.full,
    ...(id === undefined ? {} : { resultId: id }),
    items: calm.shown.map(({ diagnostic }) => diagnostic),
  };
}

/** The server’s mark of a finding that may go with what is being written. */
const EARLY = 'early';

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
