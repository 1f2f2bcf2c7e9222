/** A sound file from the editor: a bundle of its own, loaded by the first command. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { baseName } from '../base-name';
import { nameOfTitle, safeName } from '../../../server/src/file-names';
import { besideLesson } from '../file-names';
import { tellWritten } from '../made-file';
import { showError, showInformation, showProgress } from '../notice';
import { DEFAULT_OPTIONS, type PlayedTake, type Score, type ScorePhrase } from '../score/messages';
import type { ScoreView } from '../score/panel';
import type { TextPlace } from '../text-place';
import { replaceFile } from '../write-file';
import { askSound } from './ask';
import { endingOf, levelsOf, practiceOf, readChoice, soundsOf, type Choice } from './choice';
import { wavOf } from './wav';

const KEPT = 'sound.choice';

/** Seconds of silence between the phrases of a lesson, after each has rung out. */
const PAUSE = 1;

export interface Tools {
  readonly context: vscode.ExtensionContext;
  readonly client: LanguageClient;
  readonly view: ScoreView;
  readonly output: vscode.LogOutputChannel;
}

/** Asks what is to be heard and where to, and writes the file. What fails is told. */
export async function writeSound(tools: Tools, place: TextPlace): Promise<void> {
  const { context } = tools;
  const { document, position } = place;
  const score = await scoreOf(tools, place);
  if (score.phrases.length === 0)
    return void showInformation('There is no phrase to hear here. Write one: phrase "Name", and under it a line of notes.');
  const offset = document.offsetAt(position);
  const here = score.phrases.find(({ start, end }) => offset >= start && offset <= end);
  const kept = context.globalState.get(KEPT);
  const choice = await askSound({
    subject: {
      lesson: score.lesson === null ? baseName(document.uri) : `“${score.lesson}”`,
      phrase: here === undefined ? null : here.name,
    },
    choice: readChoice(kept),
    wasChosen: kept !== undefined,
    onChange: (changed) => void context.globalState.update(KEPT, changed),
  });
  if (choice === undefined) return;
  const { folder, name } = besideLesson(document);
  const ofPhrase = choice.what === 'phrase' && here !== undefined;
  const target = await askTarget(
    folder,
    safeName(name, `${ofPhrase ? `-${nameOfTitle(here.name)}` : ''}${endingOf(choice)}.wav`, 'lesson'),
  );
  if (target !== undefined) await write(tools, place, target, choice, ofPhrase ? here : null);
}

async function askTarget(folder: vscode.Uri | undefined, name: string): Promise<vscode.Uri | undefined> {
  const target = await vscode.window.showSaveDialog({
    title: 'Write a Sound File',
    saveLabel: 'Write',
    filters: { WAV: ['wav'] },
    ...(folder === undefined ? {} : { defaultUri: vscode.Uri.joinPath(folder, name) }),
  });
  if (target?.path.endsWith('.phrase') !== true) return target;
  void showError(`${baseName(target)} is a lesson, and the sound would take its place. Choose a name that ends in .wav.`);
  return undefined;
}

/** `only`: the phrase at the cursor; null: the lesson. */
async function write(tools: Tools, place: TextPlace, target: vscode.Uri, choice: Choice, only: ScorePhrase | null): Promise<void> {
  const { output } = tools;
  try {
    const notices = await showProgress(
      { where: vscode.ProgressLocation.Notification, title: `Writing ${baseName(target)}` },
      async (progress, token) => {
        // The text may have changed while the questions stood.
        const { phrases } = await scoreOf(tools, place);
        const chosen =
          only === null
            ? phrases
            : phrases.filter(
                (phrase) =>
                  phrase.name === only.name &&
                  (phrase.start === only.start || phrases.filter(({ name }) => name === only.name).length === 1),
              );
        if (chosen.length === 0) throw new Error(`“${only?.name ?? ''}” is no longer in the text.`);
        const made = await rendered(tools, place, choice, chosen, {
          token,
          onProgress: (done) =>
            progress.report({
              message: `${done} of ${chosen.length} ${chosen.length === 1 ? 'phrase' : 'phrases'}`,
              increment: done === 0 ? 0 : 100 / chosen.length,
            }),
        });
        await replaceFile(target, made.bytes);
        return made.notices;
      },
    );
    // The place where the command ends: what is said now need not be answered.
    void tellWritten(
      { place: target, written: `Wrote ${baseName(target)}.`, notices: notices.map((notice) => ({ file: baseName(target), notice })) },
      output,
    );
  } catch (error) {
    if (error instanceof vscode.CancellationError) return;
    output.error(error instanceof Error ? error : String(error));
    void showError(`No sound file was written. ${error instanceof Error ? error.message : String(error)}`);
  }
}

interface Going {
  readonly token: vscode.CancellationToken;
  readonly onProgress: (done: number) => void;
}

/** All takes are asked for first, so that they are of one text; then they are rendered one at a time. */
async function rendered(
  { client, view }: Tools,
  { document }: TextPlace,
  choice: Choice,
  phrases: readonly ScorePhrase[],
  { token, onProgress }: Going,
): Promise<{ bytes: Uint8Array; notices: string[] }> {
  const { levels, ratio, order } = view.options();
  const notices: string[] = [];
  const takes: PlayedTake[] = [];
  for (const { name, start, tempo, broken } of phrases) {
    const options = {
      ratio,
      countIn: choice.countIn,
      practice: practiceOf(choice, order),
      tempo: choice.tempo === 1 ? null : tempo * choice.tempo,
    };
    const take = await client.sendRequest<PlayedTake | null>(
      'phrasewright/take',
      { ...params(client, { document, position: document.positionAt(start) }), options, name },
      token,
    );
    const sounds = take === null ? [] : soundsOf(take, choice);
    if (take === null || !sounds.some(({ at }) => at >= take.countIn)) {
      notices.push(`“${name}” was left out: nothing of what you chose sounds in it.`);
      continue;
    }
    if (broken !== null) notices.push(`“${name}” has an error, so its notes may not all be there: ${broken.message}`);
    takes.push({ ...take, sounds });
  }
  if (takes.length === 0) throw new Error(notices[0] ?? 'Nothing sounds.');
  await view.show();
  onProgress(0);
  const stretches: Int16Array[] = [];
  let rate = 0;
  let lacksPiano = false;
  for (const [i, { sounds, length }] of takes.entries()) {
    const made = await view.render(
      {
        sounds,
        length,
        levels: levelsOf(levels, DEFAULT_OPTIONS.levels),
        piano: choice.piano.filter((voice) => choice.voices.includes(voice)),
      },
      token,
    );
    lacksPiano ||= made.lacksPiano;
    rate = made.rate;
    stretches.push(made.samples, ...(i === takes.length - 1 ? [] : [new Int16Array(PAUSE * rate)]));
    onProgress(i + 1);
  }
  if (lacksPiano) notices.push('The piano could not be loaded, so what it plays has a synthesized sound.');
  return { bytes: wavOf(stretches, rate), notices };
}

function scoreOf({ client }: Tools, place: TextPlace): Promise<Score> {
  return client
    .sendRequest<Score | null>('phrasewright/score', { ...params(client, place), options: { scope: 'lesson' } })
    .then((score) => {
      if (score === null) throw new Error('The text could not be read.');
      return score;
    });
}

function params(client: LanguageClient, { document, position }: TextPlace): object {
  return {
    textDocument: { uri: client.code2ProtocolConverter.asUri(document.uri) },
    position: client.code2ProtocolConverter.asPosition(position),
  };
}
