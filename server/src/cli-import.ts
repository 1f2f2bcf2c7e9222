/** `import`: scores in MusicXML become lessons; what was not kept is told line by line on standard error. */
import { basename } from 'node:path';
import { importOptions, type Values } from './cli-arguments';
import { placed } from './cli-export';
import { importMusicXml, type Imported } from './imports/import';
import { Unreadable } from './imports/unreadable';
import { CannotRun, STANDARD_INPUT, type ScoreFile } from './read-text';
import { forTerminal } from './terminal-text';
import { writeNew } from './write-files';

/** Answers the exit code: 1 where something was left out. Nothing is written where one of the files cannot be read. */
export async function importScores(scores: readonly ScoreFile[], values: Values): Promise<number> {
  const options = importOptions(values);
  const { out } = values;
  if (out === undefined && scores.length > 1) throw new CannotRun('several files need a folder to be written to. Add --out DIR.');
  const imported = scores.map((score) => ({ ...score, ...brought(score, options) }));
  if (out === undefined) {
    for (const { text } of imported) process.stdout.write(text);
  } else {
    const outputs = placed(
      imported.map(({ name, text }) => ({ name, content: text })),
      out,
      '.phrase',
    );
    const isTerminal = process.stdin.isTTY === true && process.stderr.isTTY === true && !scores.some(({ file }) => file === STANDARD_INPUT);
    await writeNew(outputs, values.force === true ? 'overwrite' : isTerminal ? 'ask' : 'refuse');
    for (const { file } of outputs.files) process.stdout.write(forTerminal(`wrote ${file}\n`));
  }
  const lines = imported.flatMap(({ file, report }) => report.map((line) => ({ file, ...line })));
  for (const { file, text } of lines) process.stderr.write(forTerminal(`${file}: ${text}\n`));
  return lines.some(({ kind }) => kind === 'left-out') ? 1 : 0;
}

function brought({ file, bytes, name }: ScoreFile, options: ReturnType<typeof importOptions>): Imported {
  try {
    return importMusicXml(bytes, basename(name), options);
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    throw new CannotRun(error.message.startsWith('--') ? error.message : `${file}: ${error.message}`);
  }
}
