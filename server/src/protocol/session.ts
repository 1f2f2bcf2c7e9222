/** What the handlers of one connection share: the open documents, a snapshot of each, the settings, the client. */
import { TextDocuments, type Connection, type Position } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { DEFAULT_SETTINGS, type Settings } from '../features/options';
import type { TextEdited } from '../../../grammar/slices';
import { openSnapshot, whileWritten, type Snapshot } from '../model/snapshot';
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
  /** The snapshot of a document's present version, as it is read while somebody writes where `writes` told; every handler gets the same one. */
  snapshotOf(document: TextDocument): Snapshot;
  /** The same as if nobody wrote: what is changed is proved on the text as it stands. */
  wholeSnapshotOf(document: TextDocument): Snapshot;
  /** Somebody writes in a version of a document at some places; none: no longer. Of a version that is to come it is remembered. */
  writes(uri: string, written: WrittenPlaces): void;
  /** Drops what is remembered of a closed document. */
  forget(uri: string): void;
  /** Logs an error for the output channel, of a fault the first one alone, which the writer is told, too; the server goes on. */
  complain(error: unknown): void;
}

export interface WrittenPlaces {
  readonly version: number;
  readonly positions: readonly Position[];
}

export function openSession(connection: Connection, client: Client): Session {
  const snapshots = new Map<string, { readonly of: TextDocument; readonly snapshot: Snapshot }>();
  const edits = new WeakMap<TextDocument, TextEdited>();
  const places = new Map<string, WrittenPlaces>();
  const read = new WeakMap<Snapshot, { readonly at: readonly number[]; readonly snapshot: Snapshot }>();
  const wholeSnapshotOf = (document: TextDocument): Snapshot => {
    const known = snapshots.get(document.uri);
    // A client that opens a document twice is taken at its last word: edits count from the text of their own document.
    const edited = known?.of === document ? edits.get(document) : undefined;
    if (known?.of === document && edited === undefined && known.snapshot.version === document.version) return known.snapshot;
    const snapshot = openSnapshot(document.uri, document.version, document.getText(), known?.snapshot, edited);
    edits.delete(document);
    snapshots.set(document.uri, { of: document, snapshot });
    return snapshot;
  };
  return {
    connection,
    documents: new TextDocuments(noting(edits)),
    queue: openQueue({ now: () => performance.now(), next: (run) => void setImmediate(run) }),
    client,
    settings: DEFAULT_SETTINGS,
    settingsVersion: 0,
    wholeSnapshotOf,
    snapshotOf(document) {
      const whole = wholeSnapshotOf(document);
      const written = places.get(document.uri);
      if (written?.version !== document.version) return whole;
      const at = written.positions.map((position) => document.offsetAt(position));
      const known = read.get(whole);
      if (known !== undefined && known.at.join() === at.join()) return known.snapshot;
      const snapshot = whileWritten(whole, at);
      read.set(whole, { at, snapshot });
      return snapshot;
    },
    writes(uri, written) {
      if (written.positions.length === 0) places.delete(uri);
      else places.set(uri, written);
    },
    forget(uri) {
      snapshots.delete(uri);
      places.delete(uri);
    },
    complain: openComplaints(connection),
  };
}
