/** What is handed out or exported: a lesson or a phrase of the editor, or files and folders of the explorer; as it is in the editor, saved or not. */
import * as vscode from 'vscode';
import type { LessonText } from '../../server/src/handout/types';
import type { Names as Named } from '../../server/src/lesson-names';
import { baseName } from './base-name';
import { besideLesson, withoutEnding } from './file-names';
import type { Subject as Names } from './subject';
import { diskWords } from './whole-file';

export type Subject =
  /** In an editor; `offset`: where the cursor is. */
  | { readonly kind: 'text'; readonly document: vscode.TextDocument; readonly offset: number }
  | { readonly kind: 'files'; readonly uris: readonly vscode.Uri[] };

/** What a menu names, or the lesson that is written; undefined where there is none. */
export function subjectOf([uri, uris]: readonly unknown[]): Subject | undefined {
  const named =
    Array.isArray(uris) && uris.length > 1
      ? uris.filter((one): one is vscode.Uri => one instanceof vscode.Uri)
      : uri instanceof vscode.Uri
        ? [uri]
        : [];
  const [only] = named;
  const editors = [vscode.window.activeTextEditor, ...vscode.window.visibleTextEditors].filter(
    (editor) => editor?.document.languageId === 'phrase',
  );
  const editor = only === undefined ? editors[0] : editors.find((one) => one?.document.uri.toString() === only.toString());
  if (named.length < 2 && editor !== undefined)
    return { kind: 'text', document: editor.document, offset: editor.document.offsetAt(editor.selection.active) };
  return named.length === 0 ? undefined : { kind: 'files', uris: named };
}

/** A subject as it can be kept while the editor is loaded anew. */
export interface Kept {
  readonly kind: Subject['kind'];
  /** Their addresses. */
  readonly uris: readonly string[];
}

export function keptOf(subject: Subject): Kept {
  return { kind: subject.kind, uris: (subject.kind === 'text' ? [subject.document.uri] : subject.uris).map(String) };
}

/** What was kept, of which nothing is taken on trust; null where there is nothing, or it is gone. */
export async function subjectKept(raw: unknown): Promise<Subject | null> {
  const { kind, uris } = (raw ?? {}) as Partial<Record<keyof Kept, unknown>>;
  const named = (Array.isArray(uris) ? uris : [])
    .filter((one): one is string => typeof one === 'string')
    .map((one) => vscode.Uri.parse(one));
  const [first] = named;
  if (first === undefined) return null;
  if (kind !== 'text') return { kind: 'files', uris: named };
  try {
    const editor = vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === first.toString());
    const document = editor?.document ?? (await vscode.workspace.openTextDocument(first));
    return { kind: 'text', document, offset: editor === undefined ? 0 : document.offsetAt(editor.selection.active) };
  } catch {
    return null;
  }
}

/** Whether it changes with a document. */
export function holds(subject: Subject, { uri }: vscode.TextDocument): boolean {
  const address = uri.toString();
  if (subject.kind === 'text') return subject.document.uri.toString() === address;
  return subject.uris.some((one) => address === one.toString() || address.startsWith(`${one.toString().replace(/\/$/, '')}/`));
}

/** Where it lies, and how a file that is made of it is called without its ending: one of several lessons is called `several`. */
export function placeOf(subject: Subject, several: string): { readonly folder: vscode.Uri | undefined; readonly name: string } {
  if (subject.kind === 'files') {
    const [first, more] = subject.uris;
    const name = more === undefined ? withoutEnding(baseName(first!)) : several;
    return { folder: vscode.Uri.joinPath(first!, '..'), name };
  }
  return besideLesson(subject.document);
}

/** How it is called: a lesson by its title where it has one. `namesAt` reads a text. */
export function namesOf(subject: Subject, namesAt: (text: string, offset: number) => Named): Names {
  if (subject.kind === 'files') return { lesson: subject.uris.map(baseName).join(', '), phrase: null };
  const { lesson, phrase } = namesAt(subject.document.getText(), subject.offset);
  return { lesson: lesson === null ? baseName(subject.document.uri) : `“${lesson}”`, phrase };
}

/** The lessons in the order of the book. Throws an error for people where there is none, or one cannot be read. */
export async function lessonsOf(subject: Subject, what: 'lesson' | 'phrase'): Promise<LessonText[]> {
  if (subject.kind === 'text') {
    const { document, offset } = subject;
    return [{ name: besideLesson(document).name, text: document.getText(), ...(what === 'phrase' ? { at: offset } : {}) }];
  }
  const files = (await Promise.all(subject.uris.map(filesOf))).flat();
  if (files.length === 0) throw new Error(`${subject.uris.map(baseName).join(', ')}: there is no file here that ends in .phrase.`);
  return Promise.all(files.map(async (uri) => ({ name: withoutEnding(baseName(uri)), text: await textOf(uri) })));
}

/** A file, or every `.phrase` below a folder, in the order of their paths. */
async function filesOf(uri: vscode.Uri): Promise<vscode.Uri[]> {
  const { type } = await vscode.workspace.fs.stat(uri).then(
    (found) => found,
    (error: unknown) => {
      throw new Error(`${baseName(uri)} could not be read: ${diskWords(error)}.`, { cause: error });
    },
  );
  if ((type & vscode.FileType.Directory) === 0) return [uri];
  const found = await vscode.workspace.findFiles(new vscode.RelativePattern(uri, '**/*.phrase'), null);
  return found.sort((a, b) => compareNames(a.path.split('/'), b.path.split('/')));
}

function compareNames([a, ...deeper]: readonly string[], [b, ...deepest]: readonly string[]): number {
  if (a === undefined || b === undefined) return a === b ? 0 : a === undefined ? -1 : 1;
  return a === b ? compareNames(deeper, deepest) : a < b ? -1 : 1;
}

/** What the editor has of a file, saved or not; else what the disk has. */
async function textOf(uri: vscode.Uri): Promise<string> {
  const open = vscode.workspace.textDocuments.find((document) => document.uri.toString() === uri.toString());
  if (open !== undefined) return open.getText();
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await vscode.workspace.fs.readFile(uri));
  } catch (error) {
    throw new Error(
      error instanceof TypeError
        ? `${baseName(uri)} is not UTF-8. Save it as UTF-8 and try again.`
        : `${baseName(uri)} could not be read: ${diskWords(error)}.`,
    );
  }
}
