/** What the view of the score shows and follows: all that changes of it in one record, of which each part takes what it needs. */
import type * as vscode from 'vscode';
import type { TextEdit } from 'vscode-languageclient/node';
import type { TextPlace } from '../text-place';
import type { Score, ViewOptions } from './messages';
import { readOptions } from './options';

/** Edits that are not made yet, for one version of a document. */
export interface Choice extends TextPlace {
  readonly version: number;
  readonly edits: readonly TextEdit[];
  /** What would be done, in words. */
  readonly title: string;
}

/** A score as it was sent to the page, and the document it is of. */
export interface Shown {
  readonly document: vscode.TextDocument;
  readonly score: Score;
}

export interface ViewState {
  options: ViewOptions;
  /** Where the cursor is in the phrase document that was last written in. */
  followed: TextPlace | undefined;
  /** The column of the editor that was last written in: a text may be open in two. */
  column: vscode.ViewColumn | undefined;
  /** What the page has; undefined where it has nothing that can be counted on. */
  shown: Shown | undefined;
  /** What is shown in place of the text as it is. */
  choice: Choice | null;
}

/** What some part of the view reads of the record. */
export type Reads<K extends keyof ViewState> = Readonly<Pick<ViewState, K>>;

const KEPT = 'score.options';

/** `kept`: where the options are from one session to the next. */
export function openState(kept: vscode.Memento): ViewState {
  return { options: readOptions(kept.get(KEPT)), followed: undefined, column: undefined, shown: undefined, choice: null };
}

export async function chooseOptions(state: Pick<ViewState, 'options'>, kept: vscode.Memento, options: ViewOptions): Promise<void> {
  state.options = options;
  await kept.update(KEPT, options);
}

/** Follows the cursor of an editor, if that shows phrases. */
export function follow(state: Pick<ViewState, 'followed' | 'column'>, editor: vscode.TextEditor | undefined): void {
  if (editor?.document.languageId !== 'phrase') return;
  state.followed = { document: editor.document, position: editor.selection.active };
  state.column = editor.viewColumn;
}

/** Whether a score is of its text as it is now. */
export function isCurrent({ document, score }: Shown): boolean {
  return score.version === document.version;
}
