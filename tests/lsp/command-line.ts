/** The command line in this process: a start of Node takes longer than most commands. What is of the process itself, `cli.ts`, is tested by processes. */
import { main } from '../../server/src/command-line';

export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs a command in a folder; what it writes to the streams of the process is answered. One command at a time. */
export async function runIn(folder: string, args: readonly string[]): Promise<Ran> {
  const back = process.cwd();
  const out = heard(process.stdout);
  const err = heard(process.stderr);
  process.chdir(folder);
  try {
    const status = await main(args);
    return { status, out: out.text(), err: err.text() };
  } finally {
    process.chdir(back);
    out.end();
    err.end();
  }
}

function heard(stream: NodeJS.WriteStream): { text(): string; end(): void } {
  const { write } = stream;
  const chunks: Buffer[] = [];
  stream.write = (chunk: string | Uint8Array): boolean => {
    chunks.push(Buffer.from(chunk));
    return true;
  };
  return { text: () => Buffer.concat(chunks).toString('utf8'), end: () => void (stream.write = write) };
}
