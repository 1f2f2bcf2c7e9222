/** What is remembered of each open document: all that changes of it in one record, of which each part takes what it needs. */
import type * as vscode from 'vscode';
import { openCalm, type Calm } from './calm';
import type { Found } from './moving';

/** A finding of the language client's, with its place as offsets. */
export interface Placed extends Found {
  readonly diagnostic: vscode.Diagnostic;
}

/** A whole report of the server's, and the version that it is of. */
export interface Report {
  readonly id: string | undefined;
  readonly items: readonly vscode.Diagnostic[];
  readonly version: number;
}

export interface Watched {
  calm: Calm<Placed>;
  /** The version that the text of `calm` is of. */
  version: number;
  /** The last whole report, which the server names when nothing has changed. */
  report: Report | undefined;
  timer: NodeJS.Timeout | undefined;
}

/** By the addresses of the documents. */
export type WatchedDocuments = Map<string, Watched>;

/** What is remembered of a document; undefined before its findings were asked for. */
export function watchedOf(all: ReadonlyMap<string, Watched>, { uri }: Pick<vscode.TextDocument, 'uri'>): Watched | undefined {
  return all.get(uri.toString());
}

/** The same, remembered from now on. */
export function watch(all: WatchedDocuments, document: vscode.TextDocument): Watched {
  const known = watchedOf(all, document);
  if (known !== undefined) return known;
  const fresh: Watched = { calm: openCalm(document.getText()), version: document.version, report: undefined, timer: undefined };
  all.set(document.uri.toString(), fresh);
  return fresh;
}

export function forget(all: WatchedDocuments, document: vscode.TextDocument): void {
  clearTimeout(watchedOf(all, document)?.timer);
  all.delete(document.uri.toString());
}

/** Whether nothing is to be waited for: the server has told of the text as it is, or it was not asked and nobody writes. */
export function isTold(one: Pick<Watched, 'calm' | 'report'> | undefined): boolean {
  return one === undefined || one.calm.report !== null || (one.calm.writing === null && one.report === undefined);
}
