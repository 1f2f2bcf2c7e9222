/** Takes what happens to a document, sees to it that time goes on for it, and has findings shown that need not wait any longer. */
import * as vscode from 'vscode';
import { step, wakeAt, type CalmEvent } from './calm';
import { pensToTell, showsOthers } from './upshot';
import { watch, type Placed, type Watched, type WatchedDocuments } from './watched';

export interface Taking {
  /** Takes an event, and answers whether other findings are to be shown than before. */
  take(document: vscode.TextDocument, event: CalmEvent<Placed>): boolean;
  /** Takes an event, and releases what need not wait after it. */
  releasing(document: vscode.TextDocument, event: CalmEvent<Placed>): void;
}

export interface TakingParts {
  /** Tells the server where last bars of rows are being written. */
  tellPens(document: vscode.TextDocument, offsets: readonly number[]): void;
  /** Has other findings shown than before. */
  release(document: vscode.TextDocument): void;
}

export function createTaking(all: WatchedDocuments, { tellPens, release }: TakingParts): Taking {
  const take = (document: vscode.TextDocument, event: CalmEvent<Placed>): boolean => {
    const one = watch(all, document);
    const before = one.calm;
    one.calm = step(before, event, Date.now());
    const pens = pensToTell(before, event.kind, one.calm);
    if (pens !== null) tellPens(document, pens);
    wake(one, () => rest(document));
    return showsOthers(before, one.calm);
  };
  const rest = (document: vscode.TextDocument): void => {
    // The editor tells of cursors only when they move, so that an edit elsewhere leaves it open where they are.
    const isMoved = take(document, { kind: 'cursors', offsets: cursorsIn(document) });
    if (take(document, { kind: 'time' }) || isMoved) release(document);
  };
  return {
    take,
    releasing(document, event) {
      if (take(document, event)) release(document);
    },
  };
}

/** Looks again when it is time, in place of the time that was set before. */
function wake(one: Watched, look: () => void): void {
  clearTimeout(one.timer);
  const at = wakeAt(one.calm);
  // A timer may be a millisecond early; and keys that came while the extension host stood still are taken before the time.
  one.timer = at === null ? undefined : setTimeout(() => setTimeout(look, 0), Math.max(0, at - Date.now()) + 1);
}

function cursorsIn(document: vscode.TextDocument): number[] {
  return vscode.window.visibleTextEditors
    .filter((editor) => editor.document === document)
    .flatMap(({ selections }) => offsetsOf(document, selections));
}

export function offsetsOf(document: vscode.TextDocument, selections: readonly vscode.Selection[]): number[] {
  return selections.map(({ active: place }) => document.offsetAt(place));
}
