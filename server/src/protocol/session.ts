/** What the handlers of one connection share: the open documents, a snapshot of each, the settings, the client. */
import { TextDocuments, type Connection } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { DEFAULT_SETTINGS, type Settings } from '../features/options';
import { openSnapshot, type Snapshot } from '../model/snapshot';
import type { Client } from './client';
import { DOCUMENTS } from './documents';

export interface Session {
  readonly connection: Connection;
  readonly documents: TextDocuments<TextDocument>;
  client: Client;
  settings: Settings;
  /** Counts changes of settings, so that an unchanged document is told anew when they change. */
  settingsVersion: number;
  /** The snapshot of a document's present version; every handler of that version gets the same one. */
  snapshotOf(document: TextDocument): Snapshot;
  /** Drops what is remembered of a closed document. */
  forget(uri: string): void;
  /** Logs an error for the output channel; the server goes on. */
  complain(error: unknown): void;
}

export function openSession(connection: Connection, client: Client): Session {
  const snapshots = new Map<string, Snapshot>();
  return {
    connection,
    documents: new TextDocuments(DOCUMENTS),
    client,
    settings: DEFAULT_SETTINGS,
    settingsVersion: 0,
    snapshotOf(document) {
      const known = snapshots.get(document.uri);
      const text = document.getText();
      // A client that gives two texts one version is wrong, but is told of the text it has.
      if (known?.version === document.version && known.text === text) return known;
      const fresh = openSnapshot(document.uri, document.version, text, known);
      snapshots.set(document.uri, fresh);
      return fresh;
    },
    forget: (uri) => void snapshots.delete(uri),
    complain: (error) => connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error)),
  };
}
