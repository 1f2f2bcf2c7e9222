/** Findings, pushed to a client that does not ask, and answered to one that does. */
import {
  CancellationToken,
  DocumentDiagnosticReportKind,
  ResponseError,
  type Diagnostic,
  type DocumentDiagnosticParams,
  type DocumentDiagnosticReport,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { faultOf } from '../../model/faults';
import type { Snapshot } from '../../model/snapshot';
import { readAll } from '../../rules/findings';
import { onDocumentInPieces } from '../answer';
import type { Session } from '../session';
import { isSameTold, toldOf, type Told } from '../told';

/** Long enough for the keys of one chord of keystrokes to come in together, too short to be noticed. */
const PAUSE = 30;

export function handleDiagnostics(session: Session): void {
  session.connection.languages.diagnostics.on(
    onDocumentInPieces<DocumentDiagnosticParams, DocumentDiagnosticReport>(
      { what: 'findings', session },
      { kind: DocumentDiagnosticReportKind.Full, items: [] },
      function* (document, { previousResultId }) {
        yield* readAll(session.snapshotOf(document), session.settings.theory);
        const { resultId, told } = reportOn(document);
        return previousResultId === resultId
          ? { kind: DocumentDiagnosticReportKind.Unchanged, resultId }
          : { kind: DocumentDiagnosticReportKind.Full, resultId, items: told.flat() };
      },
    ),
  );
  const reports = new Map<string, Report>();
  /** The same one as long as an edit moves no finding, and brings none in or takes none away. */
  const reportOn = (document: TextDocument): Report => {
    const snapshot = session.snapshotOf(document);
    const last = reports.get(document.uri);
    const isOfSettings = last?.settingsVersion === session.settingsVersion;
    if (isOfSettings && last.snapshot === snapshot) return last;
    const told = toldOf({ document, snapshot, theory: session.settings.theory, manual: session.client.manual });
    const isSame = isOfSettings && isSameTold(last.told, told);
    const { settingsVersion } = session;
    const report = isSame
      ? { ...last, snapshot }
      : { snapshot, settingsVersion, told, resultId: `${numberOf(snapshot)}.${settingsVersion}` };
    reports.set(document.uri, report);
    return report;
  };
  const waiting = new Map<string, NodeJS.Timeout>();
  session.documents.onDidChangeContent(({ document: { uri } }) => {
    // A version that another has overtaken by then is never worked on.
    if (session.client.pulls || waiting.has(uri)) return;
    waiting.set(
      uri,
      setTimeout(() => {
        waiting.delete(uri);
        const document = session.documents.get(uri);
        if (document !== undefined) pushDiagnostics(document, session);
      }, PAUSE),
    );
  });
  session.documents.onDidClose(({ document: { uri } }) => {
    clearTimeout(waiting.get(uri));
    waiting.delete(uri);
    reports.delete(uri);
    session.forget(uri);
    if (!session.client.pulls) session.connection.sendDiagnostics({ uri, diagnostics: [] }).catch(session.complain);
  });
}

/** What a client that asks was last told of a document. */
interface Report {
  readonly snapshot: Snapshot;
  readonly settingsVersion: number;
  readonly told: Told;
  readonly resultId: string;
}

const numbers = new WeakMap<Snapshot, number>();
let last = 0;

/** Snapshots are told apart by numbers: two texts can have one version, as when a document is closed and opened again. */
function numberOf(snapshot: Snapshot): number {
  const known = numbers.get(snapshot) ?? (last += 1);
  numbers.set(snapshot, known);
  return known;
}

/** Tells the client the findings of a document, unless it asks for them itself. They wait in the queue like an answer: of a text that moves on meanwhile, those of the newest are told. */
export function pushDiagnostics({ uri }: TextDocument, session: Session): void {
  if (session.client.pulls) return;
  const find = (): TextDocument | undefined => session.documents.get(uri);
  const findings = session.queue.add<PublishDiagnosticsParams | null>({
    urgency: 'now',
    token: CancellationToken.None,
    about: () => `${find()?.version}.${session.settingsVersion}`,
    *begin() {
      const document = find();
      if (document === undefined) return null;
      yield* readAll(session.snapshotOf(document), session.settings.theory);
      return { uri, version: document.version, diagnostics: diagnosticsOf(document, session) };
    },
  });
  findings
    .then((told) => (told === null || told instanceof ResponseError ? undefined : session.connection.sendDiagnostics(told)))
    .catch((error: unknown) => session.complain(faultOf('the request for findings', error)));
}

function diagnosticsOf(document: TextDocument, session: Session): Diagnostic[] {
  return toldOf({
    document,
    snapshot: session.snapshotOf(document),
    theory: session.settings.theory,
    manual: session.client.manual,
  }).flat();
}
