/** The guard round every handler. */
import { expect, test } from 'vitest';
import { CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { onDocument } from '../../server/src/protocol/answer';
import type { Session } from '../../server/src/protocol/session';

const uri = 'file:///a.phrase';
const open = TextDocument.create(uri, 'phrase', 1, 'phrase "A"\n');

const ask = (handle: () => string, token = CancellationToken.None, asked = uri): { answer: unknown; log: unknown[] } => {
  const log: unknown[] = [];
  const session = { documents: { get: (one: string) => (one === uri ? open : undefined) }, complain: (error: unknown) => log.push(error) } as unknown as Session;
  return { answer: onDocument({ what: 'hover', session }, 'nothing', handle)({ textDocument: { uri: asked } }, token), log };
};

test('a handler that fails is logged, and answered with an error that names the request', () => {
  const mistake = new Error('a mistake');
  const { answer, log } = ask(() => {
    throw mistake;
  });
  expect(log).toEqual([mistake]);
  expect(answer).toMatchObject({ code: ErrorCodes.InternalError, message: expect.stringContaining('(hover)') as string });
});

test('a refusal is answered as it is, and is no mistake to log', () => {
  const refusal = new ResponseError(LSPErrorCodes.RequestFailed, 'no');
  const { answer, log } = ask(() => {
    throw refusal;
  });
  expect({ answer, log }).toEqual({ answer: refusal, log: [] });
});

test('cancelled and closed documents are not worked on', () => {
  const never = (): string => {
    throw new Error('was worked on');
  };
  expect(ask(never, CancellationToken.Cancelled).answer).toMatchObject({ code: LSPErrorCodes.RequestCancelled });
  expect(ask(never, CancellationToken.None, 'file:///other.phrase')).toEqual({ answer: 'nothing', log: [] });
});
