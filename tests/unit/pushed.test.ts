/** Findings of a client that does not ask for them, on a clock of the test's own: they come in pieces, and are those of the newest text. */
import { expect, test } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { PublishDiagnosticsParams } from 'vscode-languageserver';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot } from '../../server/src/model/snapshot';
import { pushDiagnostics } from '../../server/src/protocol/handlers/diagnostics';
import { openQueue } from '../../server/src/protocol/queue';
import type { Session } from '../../server/src/protocol/session';

const URI = 'file:///pushed.phrase';
const textOf = (line: string): string =>
  Array.from({ length: 20 }, (_, i) => `phrase "Number ${i}"\n  over | Cmaj7 |\n  line | ${line} |\n\n`).join('');

/** A session with one open document, whose queue does a piece or two a round, and what it told its client. */
function opened(text: string) {
  const rounds: (() => void)[] = [];
  const told: PublishDiagnosticsParams[] = [];
  const documents = new Map([[URI, TextDocument.create(URI, 'phrase', 1, text)]]);
  let time = 0;
  const session = {
    client: { pulls: false, manual: '' },
    documents,
    queue: openQueue({ now: () => (time += 5), next: (run) => void rounds.push(run) }),
    settings: DEFAULT_SETTINGS,
    settingsVersion: 0,
    snapshotOf: (document: TextDocument) => openSnapshot(URI, document.version, document.getText()),
    connection: { sendDiagnostics: (params: PublishDiagnosticsParams) => Promise.resolve(void told.push(params)) },
    complain: (error: unknown) => {
      throw error;
    },
  };
  const round = async (): Promise<void> => {
    rounds.shift()?.();
    await Promise.resolve();
  };
  return { session: session as unknown as Session, documents, told, rounds, round };
}

test('a file is read in pieces, between which others are let in', async () => {
  const { session, documents, told, rounds, round } = opened(textOf('E4 G C'));
  pushDiagnostics(documents.get(URI)!, session);
  let count = 0;
  for (; rounds.length > 0; count += 1) await round();
  expect(count).toBeGreaterThan(5);
  expect(told).toMatchObject([{ uri: URI, version: 1 }]);
  expect(told[0]!.diagnostics).toHaveLength(20);
});

test('where the text moves on meanwhile, the findings of the newest are told, once', async () => {
  const { session, documents, told, rounds, round } = opened(textOf('E4 G C'));
  pushDiagnostics(documents.get(URI)!, session);
  for (let i = 0; i < 3; i += 1) await round();
  documents.set(URI, TextDocument.create(URI, 'phrase', 2, textOf('E4 G C ~')));
  while (rounds.length > 0) await round();
  expect(told).toEqual([{ uri: URI, version: 2, diagnostics: [] }]);
});

test('of a document that is closed meanwhile nothing is told', async () => {
  const { session, documents, told, rounds, round } = opened(textOf('E4 G C'));
  pushDiagnostics(documents.get(URI)!, session);
  for (let i = 0; i < 3; i += 1) await round();
  documents.delete(URI);
  while (rounds.length > 0) await round();
  expect(told).toEqual([]);
});
