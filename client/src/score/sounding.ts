/** What the editor shows of the sound: a mark on the note in the text, and keys that stop it. */
import * as vscode from 'vscode';
import type { Target } from './text-target';

/** Keys that stop the sound are bound while it plays. */
const PLAYING = 'phrasewright.playing';

export interface Sounding extends vscode.Disposable {
  /** One place of one document at most: every other mark is taken away. */
  mark(target: Target | null): void;
  setPlaying(isPlaying: boolean): void;
  /** Nothing plays, and nothing is marked. */
  end(): void;
}

export function createSounding(): Sounding {
  const type = vscode.window.createTextEditorDecorationType({
    backgroundColor: new vscode.ThemeColor('phrasewright.scoreSounding'),
    borderRadius: '3px',
  });
  const mark = (target: Target | null): void => {
    for (const editor of vscode.window.visibleTextEditors)
      editor.setDecorations(type, editor.document === target?.document ? [target.range] : []);
  };
  const setPlaying = (isPlaying: boolean): void => void vscode.commands.executeCommand('setContext', PLAYING, isPlaying);
  return {
    mark,
    setPlaying,
    end() {
      mark(null);
      setPlaying(false);
    },
    dispose: () => type.dispose(),
  };
}
