/** Bringing in scores from the editor: a bundle of its own, loaded by the first command. */
import { join } from 'node:path';
import * as vscode from 'vscode';
import type * as Service from '../../../server/src/import-service';
import { baseName } from '../base-name';
import { diskWords } from '../whole-file';
import { showInformation, showProgress } from '../notice';
import { writeLesson, type Lesson } from './lesson';
import { askWishes, type Wishes } from './options';
import { createPartQuestion } from './part';
import { chooseScores } from './scores';
import type { Outcome } from './summary';
import { tell } from './tell';

/** Takes what a menu names, or asks; nothing that is there already is overwritten. */
export type BringIn = (named: readonly unknown[]) => Promise<void>;

/** `plain` takes scores as they are, `withWishes` asks for bars and chords first. */
export function createBringIn(output: vscode.LogOutputChannel): { readonly plain: BringIn; readonly withWishes: BringIn } {
  // The server's side is a file of its own beside this one, so that neither bundle has the other in it.
  const service = require(join(__dirname, 'import-service.cjs')) as typeof Service;
  const run = async (named: readonly unknown[], ask: (what: string) => Promise<Wishes | undefined>): Promise<void> => {
    const scores = await chooseScores(named);
    if (scores === undefined) return;
    if (scores.length === 0) {
      void showInformation('There is no score here that ends in .musicxml, .mxl or .xml.');
      return;
    }
    const wishes = await ask(scores.length === 1 ? baseName(scores[0]!) : `${scores.length} Scores`);
    if (wishes === undefined) return;
    const outcomes = await bringIn(scores, wishes, service);
    const shown = outcomes.flatMap(({ lesson }) => lesson ?? []).filter(({ isSaved }) => scores.length === 1 || !isSaved);
    for (const { uri } of shown) await vscode.window.showTextDocument(uri, { preview: false });
    // The place where the command ends: what is said now need not be answered.
    void tell(outcomes, output);
  };
  return { plain: (named) => run(named, async () => ({})), withWishes: (named) => run(named, (what) => askWishes(what, service)) };
}

interface Made extends Outcome {
  readonly lesson: Lesson | null;
}

/** One after another; what fails does not hold up the others. Left half way, what was made by then is told. */
async function bringIn(scores: readonly vscode.Uri[], wishes: Wishes, service: typeof Service): Promise<Made[]> {
  const partOf = createPartQuestion();
  return showProgress(
    { where: scores.length === 1 ? vscode.ProgressLocation.Window : vscode.ProgressLocation.Notification, title: 'Bringing in' },
    async (progress, token) => {
      const outcomes: Made[] = [];
      for (const [i, uri] of scores.entries()) {
        if (token.isCancellationRequested) break;
        const score = baseName(uri);
        progress.report({
          message: scores.length === 1 ? score : `${i + 1} of ${scores.length}: ${score}`,
          increment: 100 / scores.length,
        });
        try {
          outcomes.push({ score, ...(await brought(uri, wishes, service, partOf)) });
        } catch (error) {
          if (error instanceof vscode.CancellationError) break;
          outcomes.push({ score, lesson: null, report: [], error: reasonOf(error, service) });
        }
      }
      return outcomes;
    },
  );
}

function reasonOf(error: unknown, { Unreadable, withoutOption }: typeof Service): string {
  if (error instanceof Unreadable) return withoutOption(error.message);
  if (error instanceof vscode.FileSystemError) return `${diskWords(error)}.`;
  return `this is a mistake in Phrasewright itself. ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`;
}

async function brought(
  uri: vscode.Uri,
  wishes: Wishes,
  { importMusicXml, partsIn, refuseTooLarge }: typeof Service,
  partOf: ReturnType<typeof createPartQuestion>,
): Promise<Pick<Made, 'lesson' | 'report'>> {
  // What is far too large is not even read.
  refuseTooLarge((await vscode.workspace.fs.stat(uri)).size);
  const bytes = await vscode.workspace.fs.readFile(uri);
  const part = await partOf(baseName(uri), partsIn(bytes));
  const { text, report } = importMusicXml(bytes, baseName(uri).replace(/(?<=.)\.[^.]*$/, ''), { ...wishes, part });
  return { lesson: await writeLesson(uri, text), report };
}
