/** The edits of an action that is chosen come from the menu that offered it: nothing of it is tried again, unless the text has changed. */
import { PassThrough } from 'node:stream';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import {
  CodeActionRequest,
  CodeActionResolveRequest,
  createConnection,
  createProtocolConnection,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  StreamMessageReader,
  StreamMessageWriter,
  type CodeAction,
  type ProtocolConnection,
} from 'vscode-languageserver/node';
import { ASSISTS } from '../../server/src/assists/registry';
import { startServer } from '../../server/src/protocol/server';

const URI = 'file:///a.phrase';
const TEXT = 'phrase "A"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-G B-D F4-D | E ~ C ~ |\n';
let client: ProtocolConnection;
/** How often an assist was asked what it offers. */
let tries = 0;

beforeAll(async () => {
  const [up, down] = [new PassThrough(), new PassThrough()];
  startServer(createConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), 'file:///RULES.md');
  client = createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up));
  client.listen();
  const capabilities = { textDocument: { diagnostic: {}, codeAction: { dataSupport: true, resolveSupport: { properties: ['edit'] } } } };
  await client.sendRequest(InitializeRequest.type, { processId: null, rootUri: null, workspaceFolders: null, capabilities });
  await client.sendNotification(InitializedNotification.type, {});
  await client.sendNotification(DidOpenTextDocumentNotification.type, {
    textDocument: { uri: URI, languageId: 'phrase', version: 1, text: TEXT },
  });
  for (const assist of ASSISTS) {
    const { offers } = assist;
    vi.spyOn(assist, 'offers').mockImplementation((context) => {
      tries += 1;
      return offers.call(assist, context);
    });
  }
});
afterAll(() => {
  vi.restoreAllMocks();
  client.dispose();
});

const menuAt = async (word: string, only?: string[]): Promise<CodeAction[]> => {
  const row = TEXT.split('\n').findIndex((line) => line.includes(word));
  const at = { line: row, character: TEXT.split('\n')[row]!.indexOf(word) };
  return (await client.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: URI },
    range: { start: at, end: at },
    context: { diagnostics: [], ...(only === undefined ? {} : { only }) },
  })) as CodeAction[];
};
const resolved = (action: CodeAction): Promise<CodeAction> => client.sendRequest(CodeActionResolveRequest.type, action);

test('of a menu, of all forms of a kind, and of the menus of two places that are shown as one', async () => {
  const menu = await menuAt('E ~');
  const forms = await menuAt('E ~', ['refactor.rewrite.enclosure']);
  const title = await menuAt('phrase "A"');
  expect(menu.length).toBeGreaterThan(3);
  expect(forms.length).toBeGreaterThan(3);
  const before = tries;
  for (const action of [...menu, ...forms, ...title]) expect((await resolved(action)).edit, action.title).toBeDefined();
  expect(tries).toBe(before);
});

test('one that is kept no longer is worked out again, and is the same', async () => {
  const [first] = await menuAt('E ~');
  const edit = (await resolved(first!)).edit;
  for (const word of ['A-G', 'B-D', 'phrase "A"', 'C ~', 'key C']) await menuAt(word);
  const before = tries;
  expect((await resolved(first!)).edit).toEqual(edit);
  expect(tries).toBeGreaterThan(before);
});
