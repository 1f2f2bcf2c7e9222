/** Names, completion, formatting of a part, code actions with versions, settings: as an editor asks for them. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  CodeActionResolveRequest,
  CodeActionRequest,
  CompletionItemKind,
  CompletionRequest,
  ConfigurationRequest,
  DefinitionRequest,
  DidChangeConfigurationNotification,
  DidCloseTextDocumentNotification,
  DocumentDiagnosticRequest,
  DocumentHighlightRequest,
  DocumentRangeFormattingRequest,
  HoverRequest,
  InlayHintRefreshRequest,
  InlayHintRequest,
  InsertTextFormat,
  PrepareRenameRequest,
  ReferencesRequest,
  RegistrationRequest,
  RenameRequest,
  type ClientCapabilities,
  type CodeAction,
  type CompletionItem,
  type CompletionList,
  type Diagnostic,
  type Position,
  type Range,
  type TextDocumentEdit,
} from 'vscode-languageserver/node';
import type { Score } from '../../server/src/features/score/types';
import type { FormEdits, ListedForm, ListedForms } from '../../server/src/protocol/convert';
import { startClient, type TestClient } from './client';

const at = (line: number, character: number): Position => ({ line, character });
const WHOLE: Range = { start: at(0, 0), end: at(99, 0) };

describe('a phrase to fill in', () => {
  const uri = 'file:///template.phrase';
  const offered = async (capabilities: ClientCapabilities): Promise<CompletionItem> => {
    const client = await startClient(capabilities);
    await client.open(uri, 'lesson "A"\n  phr');
    const { items } = (await client.connection.sendRequest(CompletionRequest.type, {
      textDocument: { uri },
      position: at(1, 5),
    })) as CompletionList;
    await client.close();
    return items.find(({ label }) => label === 'phrase')!;
  };
  const range = { start: at(1, 0), end: at(1, 5) };

  test('has fields and a choice for a client that goes from field to field', async () => {
    const item = await offered({ textDocument: { completion: { completionItem: { snippetSupport: true } } } });
    expect(item).toMatchObject({
      kind: CompletionItemKind.Snippet,
      insertTextFormat: InsertTextFormat.Snippet,
      filterText: '  phrase',
      textEdit: { range },
    });
    expect(item.textEdit!.newText).toContain('phrase "${1:Name}"\n  key     ${2:C} ${3|major,minor|}\n');
  });
  test('is plain text for another', async () => {
    const item = await offered({ textDocument: {} });
    expect(item.insertTextFormat ?? InsertTextFormat.PlainText).toBe(InsertTextFormat.PlainText);
    expect(item.textEdit).toMatchObject({ range, newText: expect.stringContaining('phrase "Name"\n  key     C major\n') });
    expect(item.textEdit!.newText).not.toContain('$');
  });
});

test('a blank behind the word of a row brings what it may say, and one among notes nothing; a client with that command opens the list behind a word that it takes', async () => {
  const uri = 'file:///blank.phrase';
  const client = await startClient({}, () => undefined, { opensLists: true });
  await client.open(uri, 'cell climb = 1-2\nphrase "A"\n  line | C4 \n  key \n  cla');
  const offered = async (line: number, character: number, context: { triggerKind: 1 } | { triggerKind: 2; triggerCharacter: ' ' }) =>
    (
      (await client.connection.sendRequest(CompletionRequest.type, {
        textDocument: { uri },
        position: at(line, character),
        context,
      })) as CompletionList
    ).items;
  expect((await offered(3, 6, { triggerKind: 2, triggerCharacter: ' ' })).map(({ label }) => label)).toContain('Bb');
  expect(await offered(2, 12, { triggerKind: 2, triggerCharacter: ' ' })).toEqual([]);
  expect((await offered(2, 12, { triggerKind: 1 })).map(({ label }) => label)).toEqual(['climb']);
  const claim = (await offered(4, 5, { triggerKind: 1 })).find(({ label }) => label === 'claim')!;
  expect(claim).toMatchObject({ textEdit: { newText: 'claim   ' }, command: { command: 'editor.action.triggerSuggest' } });
  await client.close();
});

describe('a client with a page of named cells', () => {
  const uri = 'file:///names.phrase';
  const textDocument = { uri };
  let client: TestClient;
  beforeAll(async () => {
    client = await startClient({ textDocument: { diagnostic: {} }, workspace: { workspaceEdit: { documentChanges: true } } });
    await client.open(
      uri,
      'cell climb = 1-2 3-5\nphrase "A"\n  over | Cmaj7 |\n  line | climb climb |\nphrase "B"\n  over | Cmaj7: |\n line | F4-A C-E G ~ |\n',
    );
  });
  afterAll(() => client.close());

  test('goes from a use to the definition, and finds all uses', async () => {
    expect(await client.connection.sendRequest(DefinitionRequest.type, { textDocument, position: at(3, 16) })).toEqual({
      uri,
      range: { start: at(0, 5), end: at(0, 10) },
    });
    const uses = await client.connection.sendRequest(ReferencesRequest.type, {
      textDocument,
      position: at(0, 7),
      context: { includeDeclaration: false },
    });
    expect(uses!.map(({ range }) => range.start)).toEqual([at(3, 9), at(3, 15)]);
    const marks = await client.connection.sendRequest(DocumentHighlightRequest.type, { textDocument, position: at(0, 7) });
    expect(marks!.map(({ kind }) => kind)).toEqual([3, 2, 2]);
  });

  test('renames, and is told why not', async () => {
    expect(await client.connection.sendRequest(PrepareRenameRequest.type, { textDocument, position: at(3, 10) })).toEqual({
      range: { start: at(3, 9), end: at(3, 14) },
      placeholder: 'climb',
    });
    expect(await client.connection.sendRequest(PrepareRenameRequest.type, { textDocument, position: at(6, 9) })).toBeNull();
    const edit = await client.connection.sendRequest(RenameRequest.type, { textDocument, position: at(3, 10), newName: 'rise' });
    const [change] = edit!.documentChanges as TextDocumentEdit[];
    expect(change!.textDocument).toEqual({ uri, version: 1 });
    expect(change!.edits).toHaveLength(3);
    await expect(client.connection.sendRequest(RenameRequest.type, { textDocument, position: at(3, 10), newName: 'B3' })).rejects.toThrow(
      '“B3” cannot be a name',
    );
  });

  test('is offered the scales of the chord before a colon', async () => {
    const { items } = (await client.connection.sendRequest(CompletionRequest.type, {
      textDocument,
      position: at(5, 15),
    })) as CompletionList;
    expect(items.map(({ label }) => label)).toEqual(expect.arrayContaining(['ionian', 'lydian']));
    expect(items.map(({ label }) => label)).not.toContain('dorian');
    expect(items[0]!.textEdit).toMatchObject({ range: { start: at(5, 15), end: at(5, 15) } });
  });

  test('formats the lines of a selection', async () => {
    const edits = await client.connection.sendRequest(DocumentRangeFormattingRequest.type, {
      textDocument,
      range: { start: at(6, 0), end: at(6, 3) },
      options: { tabSize: 8, insertSpaces: false },
    });
    expect(edits!.map(({ range, newText }) => [range.start.line, newText.trimEnd()])).toEqual([
      [6, expect.stringMatching(/^ {2}line {4}\| F4-A C-E G ~ \|$/)],
    ]);
  });

  test('asks for refactorings only, and gets edits that are made for its version', async () => {
    const ask = async (position: Position, only?: string[]): Promise<CodeAction[]> =>
      (await client.connection.sendRequest(CodeActionRequest.type, {
        textDocument,
        range: { start: position, end: position },
        context: { diagnostics: [], ...(only === undefined ? {} : { only }) },
      })) as CodeAction[];
    const kinds = (found: CodeAction[]): unknown[] => [...new Set(found.map(({ kind }) => kind!.split('.')[0]))];
    const [flagged, clean] = [at(6, 9), at(6, 17)];
    const actions = await ask(flagged);
    expect(kinds(actions)).toContain('quickfix');
    expect(kinds(await ask(flagged, ['refactor']))).not.toContain('quickfix');
    expect(kinds(await ask(clean, ['refactor']))).toEqual(['refactor']);
    expect(await ask(clean, ['quickfix'])).toEqual([]);
    expect((actions[0]!.edit!.documentChanges![0] as TextDocumentEdit).textDocument.version).toBe(1);
    expect(actions.filter(({ isPreferred }) => isPreferred).length).toBeLessThanOrEqual(1);
  });

  test('every action that claims a finding removes it', async () => {
    const copy = 'file:///copy.phrase';
    const text = 'phrase "B"\n  over | Cmaj7 |\n  line | F4-A C-E G ~ |\n';
    await client.open(copy, text);
    const ask = { textDocument: { uri: copy }, range: { start: at(2, 9), end: at(2, 9) }, context: { diagnostics: [] } };
    const repairs = ((await client.connection.sendRequest(CodeActionRequest.type, ask)) as CodeAction[]).filter(({ diagnostics }) =>
      diagnostics?.some(({ code }) => code === 'clash'),
    );
    expect(repairs.length).toBeGreaterThan(3);
    let version = 1;
    for (const { edit, title } of repairs) {
      const edits = [...(edit!.documentChanges![0] as TextDocumentEdit).edits] as { range: Range; newText: string }[];
      // From the last to the first, so that each range still counts in the text it was made for.
      const changes = edits
        .sort((a, b) => b.range.start.line - a.range.start.line || b.range.start.character - a.range.start.character)
        .map(({ range, newText }) => ({ range, text: newText }));
      await client.edit(copy, (version += 1), changes);
      const report = (await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri: copy } })) as {
        items: Diagnostic[];
      };
      expect({ title, codes: report.items.filter(({ severity }) => severity! <= 2).map(({ code }) => code) }).toEqual({ title, codes: [] });
      await client.change(copy, (version += 1), text);
    }
  });

  test('a document that is closed by now gets an empty answer', async () => {
    const gone = 'file:///gone.phrase';
    await client.open(gone, 'phrase "A"\n');
    await client.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri: gone } });
    expect(await client.connection.sendRequest(HoverRequest.type, { textDocument: { uri: gone }, position: at(0, 0) })).toBeNull();
    expect(await client.connection.sendRequest(InlayHintRequest.type, { textDocument: { uri: gone }, range: WHOLE })).toEqual([]);
    expect(await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri: gone } })).toMatchObject({
      kind: 'full',
      items: [],
    });
  });

  test('changes of parts give what the whole text gives, across CRLF and emoji', async () => {
    const [parts, whole] = ['file:///parts.phrase', 'file:///whole.phrase'];
    await client.open(parts, 'phrase "🎷🎷"\r\n  over | Cmaj7 |\r\n  line | E4-A C-E G ~ |\r\n');
    await client.edit(parts, 2, [
      { range: { start: at(0, 12), end: at(0, 12) }, text: ' café' },
      { range: { start: at(2, 9), end: at(2, 10) }, text: 'F' },
      { range: { start: at(2, 24), end: at(2, 24) }, text: '\r\n  say "🎶"' },
    ]);
    await client.open(whole, 'phrase "🎷🎷 café"\r\n  over | Cmaj7 |\r\n  line | F4-A C-E G ~ |\r\n  say "🎶"\r\n');
    const pull = async (one: string): Promise<Diagnostic[]> =>
      ((await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri: one } })) as { items: Diagnostic[] })
        .items;
    const plain = (items: Diagnostic[]): unknown[] => items.map(({ range, code, message }) => ({ range, code, message }));
    expect(plain(await pull(parts))).toEqual(plain(await pull(whole)));
    expect(await pull(parts)).toMatchObject([{ code: 'clash', range: { start: at(2, 9), end: at(2, 11) } }]);
  });
});

describe('a client whose settings are asked for', () => {
  const uri = 'file:///settings.phrase';
  const TEXT = 'phrase "A"\n  key C major\n  over | Dm7 | G7 |\n  line | B4 D F A | C ~ ~ ~ |\n';
  let settings: unknown = null;
  let refreshed: () => void = () => {};
  const sections: unknown[] = [];
  const registered: string[] = [];
  let client: TestClient;
  beforeAll(async () => {
    const workspace = { configuration: true, didChangeConfiguration: { dynamicRegistration: true }, inlayHint: { refreshSupport: true } };
    client = await startClient({ textDocument: { diagnostic: {} }, workspace }, (connection) => {
      connection.onRequest(ConfigurationRequest.type, ({ items }) => {
        sections.push(...items.map(({ section }) => section));
        return items.map(() => settings);
      });
      connection.onRequest(
        RegistrationRequest.type,
        ({ registrations }) => void registered.push(...registrations.map(({ method }) => method)),
      );
      connection.onRequest(InlayHintRefreshRequest.type, () => refreshed());
    });
    await client.open(uri, TEXT);
  });
  afterAll(() => client.close());

  const change = async (wanted: unknown): Promise<void> => {
    settings = wanted;
    const done = new Promise<void>((resolve) => (refreshed = resolve));
    await client.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: null });
    await done;
  };
  const hints = async (): Promise<unknown[]> =>
    (await client.connection.sendRequest(InlayHintRequest.type, { textDocument: { uri }, range: WHOLE }))!.map(({ label }) => label);

  test('degrees are shown for all notes, for those with a finding, or for none', async () => {
    await change({});
    expect(await hints()).toEqual(['13', '1', 'b3', '5', '11']);
    await change({ inlayHints: { degrees: 'clashes' } });
    expect(await hints()).toEqual(['11']);
    await change({ inlayHints: { degrees: 'off' } });
    expect(await hints()).toEqual([]);
    expect(new Set(sections)).toEqual(new Set(['phrasewright']));
    expect(registered).toEqual(['workspace/didChangeConfiguration']);
  });

  test('a change makes an unchanged document be told anew', async () => {
    await change({});
    const first = (await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri } })) as {
      resultId: string;
      items: Diagnostic[];
    };
    await change({ profile: 'harmonic' });
    const second = (await client.connection.sendRequest(DocumentDiagnosticRequest.type, {
      textDocument: { uri },
      previousResultId: first.resultId,
    })) as { kind: string; items: Diagnostic[] };
    expect(second.kind).toBe('full');
    expect(second.items.length).toBe(first.items.length + 1);
  });

  test('nonsense in the settings leaves the defaults', async () => {
    await change({ profile: 7, inlayHints: 'yes', theory: { flat6OfTonicMinor: 'no' } });
    expect(await hints()).toHaveLength(5);
    await change('nonsense');
    expect(await hints()).toHaveLength(5);
  });
});

describe('a client that is pushed to while it types fast', () => {
  test('is told of the last version, and not of each on the way', async () => {
    const client = await startClient({});
    const uri = 'file:///fast.phrase';
    await client.open(uri, 'phrase "A"\n');
    for (let version = 2; version <= 60; version += 1)
      await client.change(uri, version, `phrase "A"\n  over | Cmaj7 |\n  line | F4 ${'C '.repeat(version % 4)}|\n`);
    while (client.pushed.at(-1)?.version !== 60) await new Promise((resolve) => setTimeout(resolve, 10));
    expect(client.pushed.filter((one) => one.uri === uri).length).toBeLessThan(30);
    const cleared = client.nextDiagnostics(uri);
    await client.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri } });
    expect(await cleared).toEqual([]);
    await client.close();
  });
});

describe('a client that asks for edits when an action is chosen', () => {
  const uri = 'file:///resolve.phrase';
  const TEXT = 'phrase "A"\n  key     C major\n  over    | Dm7 G7  | Cmaj7   |\n  line    | D4 F A G | E ~ C ~ |\n';
  let client: TestClient;
  beforeAll(async () => {
    client = await startClient({
      textDocument: { diagnostic: {}, codeAction: { dataSupport: true, resolveSupport: { properties: ['edit'] } } },
    });
    await client.open(uri, TEXT);
  });
  afterAll(() => client.close());

  const ask = async (line: number, character: number, only?: string[]): Promise<CodeAction[]> =>
    (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument: { uri },
      range: { start: at(line, character), end: at(line, character) },
      context: { diagnostics: [], ...(only === undefined ? {} : { only }) },
    })) as CodeAction[];

  test('gets a short menu without edits, and the edits of the one it takes', async () => {
    const menu = await ask(3, 23);
    expect(menu.length).toBeGreaterThan(3);
    expect(menu.length).toBeLessThanOrEqual(12);
    expect(menu.every(({ edit }) => edit === undefined)).toBe(true);
    const wrap = await client.connection.sendRequest(
      CodeActionResolveRequest.type,
      menu.find(({ title }) => title.startsWith('Enclose E'))!,
    );
    expect(wrap.edit!.changes![uri]!.map(({ newText }) => newText)).toEqual(['F-D']);
  });

  test('asked for by its kind, an action is offered anywhere in the phrase, in all its forms', async () => {
    const keys = await ask(3, 14, ['refactor.rewrite.transpose']);
    expect(keys.map(({ title }) => title)).toContain('Transpose the phrase to Eb major');
    expect(keys.length).toBe(11);
    const moved = await client.connection.sendRequest(CodeActionResolveRequest.type, keys.find(({ title }) => title.endsWith('Eb major'))!);
    expect(moved.edit!.changes![uri]![0]!.newText).toBe(
      'phrase "A"\n  key     Eb major\n  over    | Fm7   Bb7  | Ebmaj7   |\n  line    | F4 Ab C Bb | G ~ Eb ~ |',
    );
  });

  test('gets no entry for a list that it cannot open', async () => {
    expect((await ask(3, 23)).map(({ title }) => title)).not.toContain('More …');
  });

  const listed = (): Promise<ListedForms> =>
    client.connection.sendRequest<ListedForms>('phrasewright/actions', {
      textDocument: { uri },
      range: { start: at(3, 23), end: at(3, 23) },
    });
  const editsOf = ({ kind, name }: Pick<ListedForm, 'kind' | 'name'>, version = 1): Promise<FormEdits | null> =>
    client.connection.sendRequest<FormEdits | null>('phrasewright/edits', {
      textDocument: { uri },
      range: { start: at(3, 23), end: at(3, 23) },
      version,
      kind,
      name,
    });

  test('gets all forms in groups, and the edits of each, for the version they are of', async () => {
    const { version, forms } = await listed();
    expect(version).toBe(1);
    const form = forms.find(({ title }) => title === 'Enclose E: F-Eb E, in place of G')!;
    expect(form).toEqual({
      title: 'Enclose E: F-Eb E, in place of G',
      name: 'Enclose E: F-Eb E, in place of G (above–below, chromatic)',
      group: 'Enclosure, above–below',
      kind: 'refactor.rewrite.enclosure',
      detail: 'above–below, chromatic',
      preferred: false,
    });
    expect(await editsOf(form)).toMatchObject({ version: 1, edits: [{ newText: 'F-Eb' }] });
    for (const one of forms) expect((await editsOf(one))!.edits.length, one.name).toBeGreaterThan(0);
  });

  test('gets the score as it would be after a form, and the document’s own again after that', async () => {
    const { forms } = await listed();
    const { edits } = (await editsOf(forms.find(({ title }) => title === 'Enclose E: F-Eb E, in place of G')!))!;
    const score = async (instead?: unknown): Promise<(string | null)[]> =>
      (
        await client.connection.sendRequest<Score>('phrasewright/score', {
          textDocument: { uri },
          position: at(3, 23),
          options: { scope: 'phrase', pitch: 'written', ...(instead === undefined ? {} : { instead }) },
        })
      ).phrases[0]!.notes.map(({ figure }) => figure);
    const before = await score();
    expect(before).toEqual(['1', 'b3', '9', '1', '3', '1']);
    expect(await score(edits)).toEqual(['1', 'b3', '9', 'b7', 'b13', '3', '1']);
    expect(await score()).toEqual(before);
  });

  test('an action of a text that has changed since gets no edit', async () => {
    const menu = await ask(3, 23);
    await client.change(uri, 2, `// new\n${TEXT}`);
    const late = await client.connection.sendRequest(
      CodeActionResolveRequest.type,
      menu.find(({ title }) => title.startsWith('Enclose E'))!,
    );
    expect(late.edit).toBeUndefined();
  });

  test('gets the edits of a form without having asked for the list, and none of a form that is not there or of another version', async () => {
    const form = { kind: 'refactor.rewrite.enclosure', name: 'Enclose E: F-Eb E, in place of G (above–below, chromatic)' };
    await client.change(uri, 3, TEXT);
    expect(await editsOf(form, 3)).toMatchObject({ version: 3, edits: [{ newText: 'F-Eb' }] });
    expect(await editsOf(form, 1)).toBeNull();
    expect(await editsOf({ ...form, name: 'Enclose E' }, 3)).toBeNull();
    expect(await editsOf({ ...form, kind: 'quickfix' }, 3)).toBeNull();
  });
});
