/** The language server as an editor sees it, over standard input and output. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  CodeActionRequest,
  DidCloseTextDocumentNotification,
  DidChangeConfigurationNotification,
  DocumentDiagnosticRequest,
  DocumentFormattingRequest,
  DocumentSymbolRequest,
  FoldingRangeRequest,
  HoverRequest,
  InlayHintRequest,
  type CodeAction,
  type Diagnostic,
  type DocumentSymbol,
  type MarkupContent,
} from 'vscode-languageserver/node';
import { startClient, type TestClient } from './client';

const TEXT = 'phrase "Harbour steps"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4 F A G | F-A C-E G ~ |\n';
const URI = 'file:///lesson.phrase';

describe('a client that pulls', () => {
  let client: TestClient;
  beforeAll(async () => {
    client = await startClient({ textDocument: { diagnostic: {} } });
    await client.open(URI, TEXT);
  });
  afterAll(() => client.close());

  const pull = (previousResultId?: string) =>
    client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri: URI }, previousResultId });

  test('is told the findings, with rule, place, reason, related places and a link', async () => {
    const report = await pull();
    expect(report.kind).toBe('full');
    const [finding] = (report as { items: Diagnostic[] }).items;
    expect(finding).toMatchObject({
      code: 'clash',
      severity: 2,
      source: 'phrasewright',
      range: { start: { line: 3, character: 20 }, end: { line: 3, character: 21 } },
      message: 'F lands on beat 1 over Cmaj7: it is the 11, a half step above the third. Let it fall to E, or move it off the beat.',
    });
    expect(finding!.codeDescription!.href).toMatch(/RULES\.md#rule-clash$/);
    expect(finding!.relatedInformation!.map(({ location }) => location.range.start.line)).toEqual([2, 3]);
  });

  test('is told “unchanged” where nothing changed', async () => {
    const first = await pull();
    expect((await pull(first.resultId)).kind).toBe('unchanged');
  });

  test('is told “unchanged” where an edit leaves all findings where they are, and all of them where it moves one', async () => {
    const uri = 'file:///moved.phrase';
    const clean = 'phrase "Clean"\n  line | C4 ~ ~ ~ |\n\n';
    const pullAgain = async (previousResultId?: string) => {
      const report = await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri }, previousResultId });
      return {
        kind: report.kind,
        id: report.resultId,
        lines: (report as { items?: Diagnostic[] }).items?.map(({ range, relatedInformation }) =>
          [range, ...relatedInformation!.map(({ location }) => location.range)].map(({ start }) => start.line),
        ),
      };
    };
    await client.open(uri, clean + TEXT);
    const first = await pullAgain();
    expect(first.lines).toEqual([[6, 5, 6]]);
    await client.change(uri, 2, clean.replace('C4', 'D4') + TEXT);
    expect(await pullAgain(first.id)).toMatchObject({ kind: 'unchanged', id: first.id });
    // A client that does not know what it was told is told all.
    expect(await pullAgain()).toMatchObject({ kind: 'full', id: first.id, lines: [[6, 5, 6]] });
    await client.change(uri, 3, `${clean.replace('C4', 'D4')}\n${TEXT}`);
    const moved = await pullAgain(first.id);
    expect(moved).toMatchObject({ kind: 'full', lines: [[7, 6, 7]] });
    await client.change(uri, 4, clean + TEXT);
    expect(await pullAgain(moved.id)).toMatchObject({ kind: 'full', lines: [[6, 5, 6]] });
  });

  test('that tells where it writes is told what is early to tell, until it tells that it has left', async () => {
    const uri = 'file:///writing.phrase';
    const text = 'phrase "Ebb"\n  over | Gm7 C7 | Fmaj7 |\n  line | Bb4-D F-A ';
    const told = async () =>
      (
        (await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri } })) as { items: Diagnostic[] }
      ).items.map(({ code, data }) => [code, data]);
    const hints = async () =>
      (await client.connection.sendRequest(InlayHintRequest.type, {
        textDocument: { uri },
        range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
      }))!.map(({ label }) => label);
    const writes = (version: number, position: { line: number; character: number } | null) =>
      client.connection.sendNotification('phrasewright/writing', {
        textDocument: { uri, version },
        positions: position === null ? [] : [position],
      });
    await client.open(uri, text.slice(0, -1));
    // It is told before the text.
    await writes(2, { line: 2, character: 19 });
    await client.change(uri, 2, text);
    expect(await told()).toEqual([['line-shorter-than-chords', 'early']]);
    expect(await hints()).toEqual(['b3', '5', 'b7', '9']);
    await writes(2, null);
    expect(await told()).toEqual([
      ['line-shorter-than-chords', undefined],
      ['clash', undefined],
    ]);
    expect(await hints()).toEqual(['b3', '5', '11', '3']);
    // What is told of a version does not hold for the next.
    await writes(2, { line: 2, character: 19 });
    await client.change(uri, 3, `${text} `);
    expect((await told()).map(([, data]) => data)).toEqual([undefined, undefined]);
  });

  test('of several cursors, each in its bar, is told what is early of each', async () => {
    const uri = 'file:///cursors.phrase';
    const one = 'phrase "Ebb"\n  over | Gm7 C7 | Fmaj7 |\n  line | Bb4-D F-A\n\n';
    await client.open(uri, one + one);
    await client.connection.sendNotification('phrasewright/writing', {
      textDocument: { uri, version: 1 },
      positions: [
        { line: 2, character: 18 },
        { line: 6, character: 18 },
      ],
    });
    const { items } = (await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri } })) as {
      items: Diagnostic[];
    };
    expect(items.map(({ code, data }) => [code, data])).toEqual([
      ['line-shorter-than-chords', 'early'],
      ['line-shorter-than-chords', 'early'],
    ]);
  });

  test('is told of the text that it has, whatever versions it counts', async () => {
    const uri = 'file:///again.phrase';
    const codes = async (previousResultId?: string) => {
      const report = await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri }, previousResultId });
      return { kind: report.kind, codes: (report as { items?: Diagnostic[] }).items?.map(({ code }) => code), id: report.resultId };
    };
    await client.open(uri, TEXT);
    const first = await codes();
    expect(first.codes).toEqual(['clash']);
    await client.change(uri, 1, TEXT.replace('F-A C-E', 'E-A C-E'));
    const second = await codes(first.id);
    expect(second).toMatchObject({ kind: 'full', codes: [] });
    await client.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri } });
    await client.open(uri, TEXT);
    expect(await codes(second.id)).toMatchObject({ kind: 'full', codes: ['clash'] });
  });

  test('reads a note’s degree and role, and a chord’s tones and avoid notes', async () => {
    const hover = async (line: number, character: number): Promise<string> =>
      (
        (await client.connection.sendRequest(HoverRequest.type, { textDocument: { uri: URI }, position: { line, character } }))!
          .contents as MarkupContent
      ).value;
    expect(await hover(3, 20)).toContain('**F4** is the **11** of `Cmaj7` (C ionian): perfect eleventh, avoid note.');
    const chord = await hover(2, 20);
    expect(chord).toContain('C 1, E 3, G 5, B 7');
    expect(chord).toContain('Tensions: D 9, A 13. Avoid notes: F 11.');
    expect(chord).toContain('In C major: I.');
    expect(await hover(0, 10)).toContain('**Harbour steps**');
    expect(await hover(2, 3)).toContain('**over**');
  });

  test('sees a degree after every note', async () => {
    const hints = await client.connection.sendRequest(InlayHintRequest.type, {
      textDocument: { uri: URI },
      range: { start: { line: 0, character: 0 }, end: { line: 4, character: 0 } },
    });
    expect(hints!.map(({ label }) => label)).toEqual(['1', 'b3', '9', '1', '11', '13', '1', '3', '5']);
  });

  test('finds the outline, the folds and the formatting', async () => {
    const symbols = (await client.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri: URI } })) as DocumentSymbol[];
    expect(symbols.map(({ name }) => name)).toEqual(['Harbour steps']);
    expect(symbols[0]!.children).toMatchObject([{ name: '| Dm7 G7 | Cmaj7 |', detail: 'bars 1–2' }]);
    expect(await client.connection.sendRequest(FoldingRangeRequest.type, { textDocument: { uri: URI } })).toMatchObject([
      { startLine: 0, endLine: 3 },
    ]);
    const edits = await client.connection.sendRequest(DocumentFormattingRequest.type, {
      textDocument: { uri: URI },
      options: { tabSize: 2, insertSpaces: true },
    });
    expect(edits!.map(({ newText }) => newText)).toEqual([
      '  key     C major',
      '  over    | Dm7  G7  | Cmaj7       |',
      '  line    | D4 F A G | F-A C-E G ~ |',
    ]);
  });

  test('is offered repairs that name the notes, each with the finding it removes', async () => {
    const at = { line: 3, character: 20 };
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument: { uri: URI },
      range: { start: at, end: at },
      context: { diagnostics: [] },
    })) as CodeAction[];
    expect(actions.length).toBeLessThanOrEqual(12);
    const wrap = actions.find(({ title }) => title.startsWith('Enclose E: F-D E'))!;
    expect(wrap.kind).toBe('quickfix');
    expect(wrap.diagnostics![0]!.code).toBe('clash');
    expect(actions.some(({ title }) => title === 'Mark F as intended: F!')).toBe(true);
  });

  test('hears of a changed profile at once', async () => {
    const uri = 'file:///dorian.phrase';
    await client.open(uri, 'phrase "A"\n  key C major\n  over | Dm7 | G7 |\n  line | B4 D F A | G ~ ~ ~ |\n');
    const codes = async (): Promise<unknown[]> => {
      const report = await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri } });
      return (report as { items: Diagnostic[] }).items.map(({ code }) => code);
    };
    expect(await codes()).toEqual([]);
    await client.connection.sendNotification(DidChangeConfigurationNotification.type, {
      settings: { phrasewright: { profile: 'harmonic' } },
    });
    expect(await codes()).toEqual(['clash']);
    await client.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: { phrasewright: {} } });
    expect(await codes()).toEqual([]);
  });
});

describe('a client that is pushed to', () => {
  let client: TestClient;
  beforeAll(async () => {
    client = await startClient({});
  });
  afterAll(() => client.close());

  test('is told the findings when a document opens, and when it changes', async () => {
    const opened = client.nextDiagnostics(URI);
    await client.open(URI, TEXT);
    expect((await opened).map(({ code }) => code)).toEqual(['clash']);
    const changed = client.nextDiagnostics(URI);
    await client.change(URI, 2, TEXT.replace('F-A C-E', 'E-A C-E'));
    expect(await changed).toEqual([]);
  });

  const LONG_LINE = `phrase "A"\n  over | Cmaj7 |\n  line | C4 ${'D-E F G A '.repeat(20_000)}|\n`;
  const HARD: readonly (readonly [string, string, (diagnostics: Diagnostic[]) => void])[] = [
    ['empty', '', (found) => expect(found).toEqual([])],
    [
      '10 MB',
      'phrase "A"\n  line | C4 D E F |\n'.repeat(320_000),
      (found) => expect(found.map(({ code }) => code)).toEqual(['file-too-long']),
    ],
    [
      'one endless line',
      LONG_LINE,
      (found) =>
        expect(found).toMatchObject([{ code: 'file-too-long', message: expect.stringContaining('What starts here has') as string }]),
    ],
    ['one long line', LONG_LINE.slice(0, 90_000), (found) => expect(found.map(({ code }) => code)).toContain('bar-length')],
    ['no line end at all', 'x'.repeat(90_000), (found) => expect(found.map(({ code }) => code)).toEqual(['unknown-keyword'])],
    [
      'CRLF and tabs',
      'phrase "A"\r\n\tkey\tC major\r\n\tover\t|\tCmaj7 |\r\n\tline\t|\tF4-A C-E G ~\t|\r\n',
      (found) => expect(found).toMatchObject([{ code: 'clash', range: { start: { line: 3, character: 8 } } }]),
    ],
    ['emoji in the title', 'phrase "🎷🎶 café"\n  over | Cmaj7 |\n  line | E4 G C E |\n', (found) => expect(found).toEqual([])],
    ['a byte order mark', '\uFEFFphrase "A"\n  over | Cmaj7 |\n  line | E4 G C E |\n', (found) => expect(found).toEqual([])],
  ];
  test.each(HARD)('answers a document that is %s', async (name, text, check) => {
    const uri = `file:///${encodeURIComponent(name)}.phrase`;
    const found = client.nextDiagnostics(uri);
    await client.open(uri, text);
    check(await found);
  });
});
