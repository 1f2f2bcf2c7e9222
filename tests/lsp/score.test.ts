/** Scores, sound and the lines above phrases, as an editor asks for them. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  CodeLensRefreshRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
  DidChangeConfigurationNotification,
  DidCloseTextDocumentNotification,
  type CodeLens,
  type Position,
} from 'vscode-languageserver/node';
import type { Score, ScoreOptions } from '../../server/src/features/score/types';
import type { Take, TakeOptions } from '../../server/src/performance/types';
import { startClient, type TestClient } from './client';

const at = (line: number, character: number): Position => ({ line, character });
const TEXT =
  'lesson "Two"\nphrase "A 🎷"\n  key  C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D | E ~ C ~ |\nphrase "Empty"\nphrase "B"\n  tempo 120 straight\n  over | F |\n  line | F4 A C ~ |\n';
const uri = 'file:///score.phrase';
const textDocument = { uri };
const PHRASE: ScoreOptions = { scope: 'phrase', pitch: 'written' };
const PLAIN: TakeOptions = { stretch: null, tempo: null, ratio: null, countIn: 0, practice: { kind: 'plain' } };

const lenses = async ({ connection }: TestClient, of = uri): Promise<CodeLens[]> =>
  (await connection.sendRequest(CodeLensRequest.type, { textDocument: { uri: of } }))!;

describe('a client that plays phrases', () => {
  let client: TestClient;
  beforeAll(async () => {
    client = await startClient({ textDocument: { diagnostic: {} } }, undefined, { playsPhrases: true });
    await client.open(uri, TEXT);
  });
  afterAll(() => client.close());

  const score = (position: Position, options: ScoreOptions = PHRASE): Promise<Score | null> =>
    client.connection.sendRequest<Score | null>('phrasewright/score', { textDocument, position, options });
  const take = (position: Position, options: TakeOptions = PLAIN): Promise<Take | null> =>
    client.connection.sendRequest<Take | null>('phrasewright/take', { textDocument, position, options });

  test('gets the score of the phrase at a position, of its version', async () => {
    const found = await score(at(4, 10));
    expect(found).toMatchObject({ version: 1, here: 0, phrases: [{ name: 'A 🎷', heading: 'C major, 4/4, 120 swing', broken: null }] });
    expect(found!.phrases[0]!.notes).toHaveLength(10);
    expect(found!.phrases[0]!.musicXml).toContain('<score-partwise version="4.0">');
    expect((await score(at(0, 0)))!.phrases.map(({ name }) => name)).toEqual(['A 🎷']);
    expect((await score(at(0, 0), { scope: 'lesson', pitch: 'concert' }))!.phrases.map(({ name }) => name)).toEqual(['A 🎷', 'Empty', 'B']);
  });

  test('gets what the defaults say where it gives no options', async () => {
    const asked = { textDocument, position: at(4, 10) };
    expect(await client.connection.sendRequest<Score>('phrasewright/score', asked)).toMatchObject({ phrases: [{ name: 'A 🎷' }] });
    expect(await client.connection.sendRequest<Score>('phrasewright/score', { ...asked, options: { scope: 'lesson' } })).toMatchObject({
      count: 3,
      phrases: [{}, {}, {}],
    });
    const plain = await take(at(4, 10));
    expect(plain!.sounds.length).toBeGreaterThan(0);
    expect(await client.connection.sendRequest<Take>('phrasewright/take', asked)).toEqual(plain);
    expect(await client.connection.sendRequest<Take>('phrasewright/take', { ...asked, options: { tempo: 60 } })).toMatchObject({
      passes: [{ tempo: 60 }],
    });
  });

  test('gets the sound of the phrase at a position, and none between phrases', async () => {
    const found = await take(at(7, 3));
    expect(found!.cursor.map(({ note }) => note)).toEqual([0, 1, 2]);
    // Four beats at 120 a minute.
    expect(found!.length).toBeCloseTo(2);
    expect((await take(at(7, 3), { ...PLAIN, tempo: 60, countIn: 1 }))!.length).toBeCloseTo(8);
    expect((await take(at(5, 3)))!.sounds).toEqual([]);
    expect(await take(at(0, 0))).toBeNull();
    // What was asked for by its name may have moved meanwhile.
    const named = (name: string): Promise<Take | null> =>
      client.connection.sendRequest<Take | null>('phrasewright/take', { textDocument, position: at(0, 0), options: PLAIN, name });
    expect((await named('B'))!.cursor).toHaveLength(3);
    expect(await named('C')).toBeNull();
  });

  test('gets the walk-through of the phrase at a position, between phrases of the next one, and a plain sentence where there is none', async () => {
    const explain = (of: string, position: Position): Promise<string | null> =>
      client.connection.sendRequest<string | null>('phrasewright/explain', { textDocument: { uri: of }, position });
    expect(await explain(uri, at(9, 9))).toMatch(/^B\n/);
    expect(await explain(uri, at(0, 3))).toMatch(/^A 🎷\n/);
    await client.open('file:///empty.phrase', '\n');
    expect(await explain('file:///empty.phrase', at(0, 0))).toMatch(/^This file has no phrase yet\./);
  });

  test('is told what it can do with each phrase that has notes', async () => {
    const found = await lenses(client);
    expect(found.map(({ range, command }) => [range.start, command!.title, command!.command])).toEqual([
      [at(1, 7), 'Play', 'phrasewright.playPhrase'],
      [at(1, 7), 'Show the score', 'phrasewright.showScore'],
      [at(1, 7), expect.any(String), 'phrasewright.openWalkthrough'],
      [at(6, 7), 'Play', 'phrasewright.playPhrase'],
      [at(6, 7), 'Show the score', 'phrasewright.showScore'],
      [at(6, 7), expect.any(String), 'phrasewright.openWalkthrough'],
    ]);
    expect(found[2]!.command!.title).toMatch(/^Nothing clashes; 2 bars in C major, over a ii–V–I: /);
    expect(found.map(({ command }) => command!.arguments)).toEqual([
      ...Array<unknown>(3).fill([uri, at(1, 0)]),
      ...Array<unknown>(3).fill([uri, at(6, 0)]),
    ]);
    // The place that a command is given is a place in its phrase, though another phrase ends there.
    expect((await score(at(6, 0)))!.phrases.map(({ name }) => name)).toEqual(['B']);
  });

  test('after an edit, gets what stands there now', async () => {
    await client.edit(uri, 2, [{ range: { start: at(9, 9), end: at(9, 13) }, text: 'Bb4 F' }]);
    const found = await score(at(9, 9));
    expect(found).toMatchObject({ version: 2, phrases: [{ notes: [{ finding: 'warning', figure: '11' }, {}, {}] }] });
    expect((await lenses(client))[5]!.command!.title).toContain('1 note clashes');
    await client.change(uri, 3, TEXT);
  });

  test('of a closed document there is nothing', async () => {
    const gone = 'file:///gone.phrase';
    await client.open(gone, TEXT);
    await client.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri: gone } });
    expect(await lenses(client, gone)).toEqual([]);
    expect(
      await client.connection.sendRequest('phrasewright/score', { textDocument: { uri: gone }, position: at(4, 10), options: PHRASE }),
    ).toBeNull();
    expect(
      await client.connection.sendRequest('phrasewright/take', { textDocument: { uri: gone }, position: at(4, 10), options: PLAIN }),
    ).toBeNull();
  });
});

describe('a client that asks what lenses say where it shows them', () => {
  let client: TestClient;
  beforeAll(async () => {
    client = await startClient({ textDocument: { codeLens: { resolveSupport: { properties: ['command'] } } } }, undefined, {
      playsPhrases: true,
    });
    await client.open(uri, TEXT);
  });
  afterAll(() => client.close());

  const said = (lens: CodeLens): Promise<CodeLens> => client.connection.sendRequest(CodeLensResolveRequest.type, lens);

  test('gets their places first, and then the same as one that does not', async () => {
    const other = await startClient({}, undefined, { playsPhrases: true });
    await other.open(uri, TEXT);
    const whole = await lenses(other);
    await other.close();
    const places = await lenses(client);
    expect(places).toHaveLength(6);
    expect(places.filter(({ command }) => command !== undefined)).toEqual([]);
    const resolved = await Promise.all(places.map(said));
    expect(resolved.map(({ range, command }) => ({ range, command }))).toEqual(whole);
  });

  test('is told of the newest text, and nothing of a phrase that is gone', async () => {
    const places = await lenses(client);
    await client.change(uri, 2, 'phrase "Only"\n  over | C7 |\n  line | C4 E G ~ |\n');
    expect((await said(places[2]!)).command!.title).toMatch(/^Nothing clashes; 1 bar/);
    expect((await said(places[5]!)).command).toEqual({ title: '', command: '' });
  });
});

describe('a client without the commands', () => {
  let client: TestClient;
  let refreshes = 0;
  let refreshed: () => void = () => {};
  beforeAll(async () => {
    client = await startClient({ workspace: { codeLens: { refreshSupport: true } } }, (connection) => {
      connection.onRequest(CodeLensRefreshRequest.type, () => {
        refreshes += 1;
        refreshed();
      });
    });
    await client.open(uri, TEXT);
  });
  afterAll(() => client.close());

  const change = async (settings: unknown): Promise<void> => {
    const done = new Promise<void>((resolve) => (refreshed = resolve));
    await client.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: { phrasewright: settings } });
    await done;
  };

  test('gets a line about each phrase, which cannot be pressed', async () => {
    expect((await lenses(client)).map(({ command }) => command)).toEqual([
      { title: expect.stringMatching(/^Nothing clashes; 2 bars in C major/) as string, command: '' },
      { title: expect.stringMatching(/^Nothing clashes; 1 bar/) as string, command: '' },
    ]);
  });

  test('a change of settings is told, and takes the lines away', async () => {
    expect(refreshes).toBe(0);
    await change({ codeLenses: false });
    expect(await lenses(client)).toEqual([]);
    await change({});
    expect(await lenses(client)).toHaveLength(2);
    expect(refreshes).toBe(2);
  });

  test('a change of what clashes is a change of the line', async () => {
    const text = 'phrase "A"\n  key C major\n  over | Dm7 | G7 |\n  line | B4 D F A | C ~ ~ ~ |\n';
    const strict = 'file:///strict.phrase';
    await client.open(strict, text);
    const [before] = await lenses(client, strict);
    await change({ profile: 'harmonic' });
    const [after] = await lenses(client, strict);
    expect([before!.command!.title, after!.command!.title].map((title) => /\d+ notes? clash\w*|Nothing clashes/.exec(title)![0])).toEqual([
      '1 note clashes',
      '2 notes clash',
    ]);
  });
});
