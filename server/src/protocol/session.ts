/** What the handlers of one connection share: the open documents, a snapshot of each, the settings, the client. */
import { TextDocuments, type Connection } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { DEFAULT_SETTINGS, type Settings } from '../features/options';
import type { TextEdited } from '../../../grammar/slices';
import { openSnapshot, type Snapshot } from '../model/snapshot';
import type { Client } from './client';
import { openComplaints } from './complaints';
import { noting } from './documents';
import { openQueue, type Queue } from './queue';

export interface Session {
  readonly connection: Connection;
  readonly documents: TextDocuments<TextDocument>;
  /** All requests wait here. */
  readonly queue: Queue;
  client: Client;
  settings: Settings;
  /** Counts changes of settings, so that an unchanged document is told anew when they change. */
  settingsVersion: number;
  /** The snapshot of a document's present version; every handler of that version gets the same one. */
  snapshotOf(document: TextDocument): Snapshot;
  /** Drops what is remembered of a closed document. */
  forget(uri: string): void;
  /** Logs an error for the output channel, of a fault the first one alone, which the writer is told, too; the server goes on. */
  complain(error: unknown): void;
}

export function openSession(connection: Connection, client: Client): Session {
  const snapshots = new Map<string, { readonly of: TextDocument; readonly snapshot: Snapshot }>();
  const edits = new WeakMap<TextDocument, TextEdited>();
  return {
    connection,
    documents: new TextDocuments(noting(edits)),
    queue: openQueue({ now: () => performance.now(), next: (run) => void setImmediate(run) }),
    client,
    settings: DEFAULT_SETTINGS,
    settingsVersion: 0,
    snapshotOf(document) {
      const known = snapshots.get(document.uri);
      // A client that opens a document twice is taken at its last word: edits count from the text of their own document.
      const edited = known?.of === document ? edits.get(document) : undefined;
      if (known?.of === document && edited === undefined && known.snapshot.version === document.version) return known.snapshot;
      const snapshot = openSnapshot(document.uri, document.version, document.getText(), known?.snapshot, edited);
      edits.delete(document);
      snapshots.set(document.uri, { of: document, snapshot });
      return snapshot;
    },
    forget: (uri) => void snapshots.delete(uri),
    complain: openComplaints(connection),
  };
}
