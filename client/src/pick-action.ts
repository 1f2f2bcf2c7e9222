/** Commands that offer the code actions of some kinds for the phrase at the cursor, wherever in it the cursor is, and do the one that is picked. */
import * as vscode from 'vscode';
import { showInformation } from './notice';

interface Choice {
  readonly command: string;
  readonly kinds: readonly string[];
  /** What to ask where there are several. */
  readonly question: string;
  /** What to say where there is none. */
  readonly nothing: string;
}

const CHOICES: readonly Choice[] = [
  {
    command: 'phrasewright.transposePhrase',
    kinds: ['refactor.rewrite.transpose'],
    question: 'To which key?',
    nothing: 'The phrase at the cursor has no key, and its chords tell none. Write a key row first.',
  },
  {
    command: 'phrasewright.copyToTwelveKeys',
    kinds: ['refactor.rewrite.twelve-keys'],
    question: 'In which order?',
    nothing: 'The phrase at the cursor has no key, and its chords tell none. Write a key row first.',
  },
  {
    command: 'phrasewright.writeSteps',
    kinds: ['refactor.rewrite.steps'],
    question: 'Which steps?',
    nothing: 'The phrase at the cursor cannot be taken apart: it needs chords, and bars without errors.',
  },
  {
    command: 'phrasewright.varyPhrase',
    question: 'How should the phrase change?',
    nothing: 'No variation of the phrase at the cursor is free of new clashes.',
    kinds: [
      'refactor.rewrite.skeleton',
      'refactor.rewrite.mode',
      'refactor.rewrite.harmonic-rhythm',
      'refactor.rewrite.octave',
      'refactor.rewrite.displace',
      'refactor.rewrite.bars',
    ],
  },
  {
    command: 'phrasewright.rewritePhrase',
    question: 'How should it be written?',
    nothing: 'There is no other way to write the phrase at the cursor.',
    kinds: [
      'refactor.rewrite.spelling',
      'refactor.rewrite.line',
      'refactor.rewrite.chords',
      'refactor.extract.changes',
      'refactor.inline.changes',
      'refactor.rewrite.systems',
      'refactor.rewrite.file',
    ],
  },
];

export function registerChoices(): vscode.Disposable[] {
  return CHOICES.map((choice) => vscode.commands.registerCommand(choice.command, () => choose(choice)));
}

/** As many as any kind has: their edits are asked for at once, since a picked one must have them. */
const MOST = 30;

async function choose({ kinds, question, nothing }: Choice): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== 'phrase') return;
  const { document, selection } = editor;
  const version = document.version;
  const lists = await Promise.all(
    kinds.map((kind) =>
      vscode.commands.executeCommand<vscode.CodeAction[]>('vscode.executeCodeActionProvider', document.uri, selection, kind, MOST),
    ),
  );
  const actions = lists.flat().filter(({ edit }) => edit !== undefined);
  if (actions.length === 0) {
    void showInformation(nothing);
    return;
  }
  const picked =
    actions.length === 1
      ? actions[0]
      : (
          await vscode.window.showQuickPick(
            actions.map((action) => ({ label: action.title, action })),
            { placeHolder: question },
          )
        )?.action;
  // The edits are for the text as it was when the question was asked.
  if (picked?.edit !== undefined && document.version === version) await vscode.workspace.applyEdit(picked.edit);
}
