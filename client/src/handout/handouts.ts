/** Handing out from the editor: a bundle of its own, loaded by the first of these commands. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type { HandoutRequest } from '../../../server/src/hand-out';
import { nameOfTitle } from '../../../server/src/file-names';
import type * as Service from '../../../server/src/handout-service';
import { keptOf, lessonsOf, namesOf, placeOf, subjectKept, subjectOf, type Subject } from '../lessons';
import { writeMade } from '../made-file';
import { showInformation } from '../notice';
import type { Subject as Names } from '../subject';
import { askHandout } from './ask';
import { FORMAT_WORDS, leftOut, readChoice, type Choice } from './choice';
import { createPreview } from './preview';

const KEPT = 'handout.choice';
/** What the preview shows, in this window. */
const SHOWN = 'handout.shown';

export interface Handouts extends vscode.Disposable {
  /** Asks, and does what is chosen: of what a menu names, or of the lesson that is written. */
  handOut(named: readonly unknown[]): Promise<void>;
  preview(named: readonly unknown[]): Promise<void>;
  /** The preview in a panel that the editor brings back, of what it showed. */
  restore(panel: vscode.WebviewPanel): Promise<void>;
}

export function createHandouts(context: vscode.ExtensionContext, output: vscode.LogOutputChannel): Handouts {
  // The server's side is a file of its own beside this one, so that neither bundle has the other in it.
  const { CHOICES, createHandoutMaker, namesAt, theoryOf } = require(join(__dirname, 'handout-service.cjs')) as typeof Service;
  const maker = createHandoutMaker();
  const choice = (): Choice => readChoice(context.globalState.get(KEPT), CHOICES);

  const request = async (subject: Subject, to: HandoutRequest['to']): Promise<HandoutRequest> => {
    const { what, options } = choice();
    return {
      lessons: await lessonsOf(subject, what),
      options: { ...options, without: leftOut(options, CHOICES) },
      to,
      theory: theoryOf(vscode.workspace.getConfiguration().get('phrasewright')),
    };
  };
  const preview = createPreview({ extension: context.extensionUri, maker, output, request: (subject) => request(subject, 'html') });

  const words = (subject: Subject): Names => namesOf(subject, namesAt);
  const subject = (named: readonly unknown[]): Subject | undefined => {
    const found = subjectOf(named);
    if (found === undefined)
      void showInformation('Open a lesson, or choose a file or a folder in the explorer: that is what will be handed out.');
    return found;
  };
  const show = (wanted: Subject): void => {
    void context.workspaceState.update(SHOWN, keptOf(wanted));
    preview.show(wanted);
  };
  return {
    async handOut(named) {
      const wanted = subject(named);
      if (wanted === undefined) return;
      const answer = await askHandout({
        choices: CHOICES,
        subject: words(wanted),
        choice: choice(),
        wasChosen: context.globalState.get(KEPT) !== undefined,
        isPreviewOpen: preview.isOpen(),
        onChange(changed) {
          void context.globalState.update(KEPT, changed);
          preview.refresh();
        },
      });
      if (answer === 'preview') show(wanted);
      if (answer !== 'write') return;
      const { format, options, what } = choice();
      const { folder, name } = placeOf(wanted, 'handout');
      const phrase = what === 'phrase' ? words(wanted).phrase : null;
      await writeMade({
        words: { does: 'Hand Out', doing: 'Handing out', what: 'handout' },
        format: { label: FORMAT_WORDS[format][0], ending: format },
        output,
        // What is handed out is read just before it is made.
        make: async (watch) => maker.make(await request(wanted, format), watch),
        place: { folder, name, ending: `${phrase === null ? '' : `-${nameOfTitle(phrase)}`}${CHOICES.endings[options.sheet]}.${format}` },
      });
    },
    async preview(named) {
      const wanted = subject(named);
      if (wanted !== undefined) show(wanted);
    },
    async restore(panel) {
      const wanted = (await subjectKept(context.workspaceState.get(SHOWN))) ?? subjectOf([]);
      if (wanted === undefined) panel.dispose();
      else preview.restore(panel, wanted);
    },
    dispose() {
      preview.dispose();
      maker.dispose();
    },
  };
}
