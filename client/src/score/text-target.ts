/** The way from the score into its text: where something of it stands, and how one gets there. */
import * as vscode from 'vscode';
import { baseName } from '../base-name';
import { showWarning } from '../notice';
import type { OffsetRange } from './offsets';
import { follow, isCurrent, type Reads, type ViewState } from './state';
import { columnOf, editorOf } from './text-column';

/** A place in a text as it is now. */
export interface Target {
  readonly document: vscode.TextDocument;
  readonly range: vscode.Range;
}

/** Where something of the score stands in its text; null where there is no such thing. */
export function targetOf({ shown }: Reads<'shown'>, place: OffsetRange | undefined): Target | null {
  // Offsets belong to one version: while a newer score is on its way, they would be of the wrong place.
  if (place === undefined || shown === undefined || !isCurrent(shown)) return null;
  const { document } = shown;
  return { document, range: new vscode.Range(document.positionAt(place.start), document.positionAt(place.end)) };
}

export interface GoToParts {
  readonly output: vscode.LogOutputChannel;
  /** Where the score stands. */
  column(): vscode.ViewColumn | undefined;
}

/** Selects a place in its text, which is opened where no editor shows it. */
export async function goTo(
  state: Pick<ViewState, 'followed' | 'column'>,
  { document, range }: Target,
  focus: 'text' | 'score',
  { output, column }: GoToParts,
): Promise<void> {
  const editor = editorOf(document, state.column);
  if (editor !== undefined && focus === 'score') {
    editor.selection = new vscode.Selection(range.start, range.end);
    editor.revealRange(range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    follow(state, editor);
    return;
  }
  const viewColumn = editor?.viewColumn ?? columnOf(document, column());
  try {
    await vscode.window.showTextDocument(document, { viewColumn, preserveFocus: focus === 'score', selection: range });
  } catch (error) {
    output.error(error instanceof Error ? error : String(error));
    void showWarning(`${baseName(document.uri)} cannot be opened: it was moved or deleted.`);
  }
}
