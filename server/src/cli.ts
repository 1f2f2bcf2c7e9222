/** The command line as a process: its arguments, its streams, its exit code. */
import { isMainThread, parentPort } from 'node:worker_threads';
import { HELP, main } from './command-line';
import { reasonOf } from './read-text';
import { answerErrands } from './report-workers';

/** Runs the language server; the transport is one that `vscode-languageserver` reads from the arguments itself. */
function serveFrom(args: readonly string[]): void {
  if (args.includes('--help') || args.includes('-h')) {
    process.stdout.write(HELP);
    return;
  }
  if (!args.some((arg) => /^--(?:stdio|node-ipc|socket|pipe)(?:=|$)/.test(arg))) {
    process.stderr.write('phrasewright: serve needs to be told how to talk. Write serve --stdio.\n');
    process.exitCode = 2;
    return;
  }
  // The server is heavy; only `serve` loads it.
  void import('./main-node').then(({ serve }) => serve());
}

// A reader that has seen enough (`phrasewright explain … | head`) is no failure of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') return;
  process.stderr.write(`phrasewright: standard output: ${reasonOf(error)}.\n`);
  process.exit(2);
});

const [, , ...args] = process.argv;
if (!isMainThread) answerErrands(parentPort!);
else if (args[0] === 'serve') serveFrom(args.slice(1));
else
  void main(args).then((code) => {
    process.exitCode = code;
  });
