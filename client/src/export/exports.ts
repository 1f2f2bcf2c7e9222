/** Exporting from the editor: a bundle of its own, loaded by the first command. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import { differentNames, nameOfTitle, safeName } from '../../../server/src/file-names';
import type * as Service from '../../../server/src/export-service';
import type { LessonText } from '../../../server/src/handout/types';
import { MUSIC_ENDINGS } from '../../../server/src/music-formats';
import { lessonsOf, namesOf, placeOf, subjectOf } from '../lessons';
import { telling, writeMade, type Making, type Watch } from '../made-file';
import { showInformation } from '../notice';
import { askExport } from './ask';
import { endingOf, FORMAT_WORDS, readChoice, type Choice } from './choice';
import { writeSeveral } from './several';

const KEPT = 'export.choice';
const WORDS: Making['words'] = { does: 'Export', doing: 'Exporting', what: 'file' };

/** Asks, and writes what is chosen: of what a menu names, or of the lesson that is written. */
export function createExports(
  context: vscode.ExtensionContext,
  output: vscode.LogOutputChannel,
): (named: readonly unknown[]) => Promise<void> {
  // The server's side is a file of its own beside this one, so that neither bundle has the other in it.
  const { CHOICES, exportMusic, namesAt, theoryOf } = require(join(__dirname, 'export-service.cjs')) as typeof Service;
  const theory = (): ReturnType<typeof theoryOf> => theoryOf(vscode.workspace.getConfiguration().get('phrasewright'));
  const made = async (lesson: LessonText, { format, options }: Choice, watch: Watch): Promise<Service.Exported> => {
    const exported = await exportMusic({ lesson, to: format, options, theory: theory() }, watch);
    if (exported === null)
      throw new Error('There is no phrase to export. Write one that begins with the word phrase and a name in quotes.');
    return exported;
  };
  return async (named) => {
    const subject = subjectOf(named);
    if (subject === undefined)
      return void showInformation('Open a lesson, or choose a file or a folder in the explorer: that is what will be exported.');
    const names = namesOf(subject, namesAt);
    const kept = context.globalState.get(KEPT);
    const choice = await askExport({
      choices: CHOICES,
      subject: names,
      choice: readChoice(kept, CHOICES),
      wasChosen: kept !== undefined,
      onChange: (changed) => void context.globalState.update(KEPT, changed),
    });
    if (choice === undefined) return;
    const { format, what } = choice;
    await telling(WORDS, output, async () => {
      const { folder, name } = placeOf(subject, 'lessons');
      const lessons = await lessonsOf(subject, what);
      const [only, more] = lessons;
      if (only !== undefined && more === undefined) {
        const phrase = what === 'phrase' ? names.phrase : null;
        return writeMade({
          words: WORDS,
          format: { label: FORMAT_WORDS[format][0], ending: MUSIC_ENDINGS[format] },
          output,
          place: {
            folder,
            name: subject.kind === 'text' ? name : only.name,
            ending: `${phrase === null ? '' : `-${nameOfTitle(phrase)}`}${endingOf(choice)}`,
          },
          // The text may have changed while the questions stood.
          make: async (watch) => made((await lessonsOf(subject, what))[0]!, choice, watch),
        });
      }
      const files = differentNames(lessons.map((lesson) => safeName(lesson.name, endingOf(choice), 'lesson')));
      await writeSeveral({
        folder,
        output,
        files,
        make: (i, watch) => exportMusic({ lesson: lessons[i]!, to: format, options: choice.options, theory: theory() }, watch),
      });
    });
  };
}
