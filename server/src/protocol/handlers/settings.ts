/** The settings of the section `phrasewright`: asked for at the start and at every change, or taken as the client sends them. */
import { CodeLensRefreshRequest, DidChangeConfigurationNotification } from 'vscode-languageserver';
import { readSettings } from '../../features/options';
import type { Session } from '../session';
import { pushDiagnostics } from './diagnostics';

const SECTION = 'phrasewright';

export function handleSettings(session: Session): void {
  const { connection } = session;
  let asked = 0;
  const ask = async (): Promise<void> => {
    asked += 1;
    const question = asked;
    const answer: unknown = await connection.workspace.getConfiguration(SECTION);
    // The answer to an older question may come last; it tells what no longer holds.
    if (question === asked) changeSettings(answer, session);
  };
  connection.onInitialized(() => {
    if (!session.client.asksSettings) return;
    const registered = session.client.tellsSettings
      ? connection.client.register(DidChangeConfigurationNotification.type, { section: SECTION })
      : Promise.resolve();
    registered.then(ask).catch(session.complain);
  });
  connection.onDidChangeConfiguration(({ settings }: { settings: unknown }) => {
    if (session.client.asksSettings) ask().catch(session.complain);
    else changeSettings((settings as { phrasewright?: unknown } | null)?.phrasewright, session);
  });
}

function changeSettings(raw: unknown, session: Session): void {
  const { client, connection, documents } = session;
  session.settings = readSettings(raw);
  session.settingsVersion += 1;
  if (client.refreshesHints) connection.languages.inlayHint.refresh().catch(session.complain);
  if (client.refreshesLenses) connection.sendRequest(CodeLensRefreshRequest.type).catch(session.complain);
  if (client.pulls && client.refreshesDiagnostics) connection.languages.diagnostics.refresh().catch(session.complain);
  for (const document of documents.all()) pushDiagnostics(document, session);
}
