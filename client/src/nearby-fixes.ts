/**
 * Where the note at the cursor has no finding, the editor looks for fixes along its line, and its menu shows them above all that was asked for at
 * the cursor. A line of ours holds dozens of notes: their fixes are shown only where the cursor's own place has nothing to offer.
 */
import * as vscode from 'vscode';
import type { Middleware } from 'vscode-languageclient/node';

export function nearbyFixes(): Pick<Middleware, 'provideCodeActions'> {
  /** The last place of a cursor that was asked about, where it had something to offer. */
  let offering: { readonly uri: string; readonly version: number; readonly at: vscode.Position } | undefined;
  return {
    async provideCodeActions(document, range, context, token, next) {
      const uri = document.uri.toString();
      const cursor = vscode.window.activeTextEditor?.document === document ? vscode.window.activeTextEditor.selection.active : undefined;
      const isAtCursor = cursor !== undefined && range.contains(cursor);
      const isFromLine =
        cursor !== undefined &&
        !isAtCursor &&
        range.isEmpty &&
        range.start.line === cursor.line &&
        context.only?.value === vscode.CodeActionKind.QuickFix.value;
      if (isFromLine && offering?.uri === uri && offering.version === document.version && offering.at.isEqual(cursor)) return [];
      const actions = await next(document, range, context, token);
      if (isAtCursor) offering = (actions?.length ?? 0) > 0 ? { uri, version: document.version, at: cursor } : undefined;
      return actions;
    },
  };
}
