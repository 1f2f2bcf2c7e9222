/** The guard round every handler. */
import { expect, test } from 'vitest';
import { CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { onDocument } from '../../server/src/protocol/answer';
import { openQueue } from '../../server/src/protocol/queue';
import type { Session } from '../../server/src/protocol/session';

const uri = 'file:///a.phrase';
const open = TextDocument.create(uri, 'phrase', 1, 'phrase "A"\n');

const ask = async (handle: () => string, token = CancellationToken.None, asked = uri): Promise<{ answer: unknown; log: unknown[] }> => {
  const log: unknown[] = [];
  const queue = openQueue({ now: () => 0, next: queueMicrotask });
  const session = {
    queue,
    documents: { get: (one: string) => (one === uri ? open : undefined) },
    complain: (error: unknown) => log.push(error),
  } as unknown as Session;
  return { answer: await onDocument({ what: 'hover', session }, 'nothing', handle)({ textDocument: { uri: asked } }, token), log };
};

test('a handler that fails is logged, and answered with an error that names the request', async () => {
  const mistake = new Error('a mistake');
  const { answer, log } = await ask(() => {
    throw mistake;
  });
  expect(log).toMatchObject([{ of: 'the request for hover', cause: mistake }]);
  expect(answer).toMatchObject({ code: ErrorCodes.InternalError, message: expect.stringContaining('(hover)') as string });
});

test('a refusal is answered as it is, and is no mistake to log', async () => {
  const refusal = new ResponseError(LSPErrorCodes.RequestFailed, 'no');
  const { answer, log } = await ask(() => {
    throw refusal;
  });
  expect({ answer, log }).toEqual({ answer: refusal, log: [] });
});

test('cancelled and closed documents are not worked on', async () => {
  const never = (): string => {
    throw new Error('was worked on');
  };
  expect((await ask(never, CancellationToken.Cancelled)).answer).toMatchObject({ code: LSPErrorCodes.RequestCancelled });
  expect(await ask(never, CancellationToken.None, 'file:///other.phrase')).toEqual({ answer: 'nothing', log: [] });
});
