/** A part that throws costs only itself, and is told once: every rule, every device, every code action and every feature, each in turn. */
import { PassThrough } from 'node:stream';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import {
  createConnection,
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  LogMessageNotification,
  ShowMessageNotification,
  StreamMessageReader,
  StreamMessageWriter,
  type ProtocolConnection,
} from 'vscode-languageserver/node';
import { checkClaims } from '../../server/src/analysis/claims/check';
import { devicesOf, matchesOf } from '../../server/src/analysis/devices/read';
import { DEVICES } from '../../server/src/analysis/devices/table';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { ASSISTS, offersAt } from '../../server/src/assists/registry';
import { exampleOf } from '../../server/src/assists/manual';
import { Fault, faultWords, onceEach, onFault } from '../../server/src/model/faults';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { startServer } from '../../server/src/protocol/server';
import { findingsOf, type Finding } from '../../server/src/rules/findings';
import { ANALYSIS_RULES, RULES } from '../../server/src/rules/registry';

/** Names of features that throw whatever they are asked. */
const { broken, brokenBy } = await vi.hoisted(async () => {
  const { breakable } = await import('./breakable');
  const broken = new Set<string>();
  return { broken, brokenBy: (feature: string) => breakable(() => broken.has(feature)) };
});
vi.mock('../../server/src/features/hover/index', brokenBy('hover'));
vi.mock('../../server/src/features/code-lenses', brokenBy('lenses'));
vi.mock('../../server/src/features/inlay-hints', brokenBy('hints'));
vi.mock('../../server/src/features/symbols', brokenBy('outline'));
vi.mock('../../server/src/features/folding', brokenBy('folding'));
vi.mock('../../server/src/features/score/index', brokenBy('score'));
vi.mock('../../server/src/performance/take', brokenBy('take'));
vi.mock('../../server/src/explain/walkthrough', brokenBy('explain'));
vi.mock('../../server/src/features/code-actions', brokenBy('actions'));
vi.mock('../../server/src/features/completion/index', brokenBy('completion'));
vi.mock('../../server/src/features/format', brokenBy('formatting'));
vi.mock('../../server/src/features/definition', brokenBy('definition'));
vi.mock('../../server/src/features/references', brokenBy('references'));

let versions = 0;
const read = (text: string): Snapshot => openSnapshot('file:///a.phrase', (versions += 1), text);
const found = (text: string): readonly Finding[] => findingsOf(read(text), DEFAULT_THEORY);
const throws = (): never => {
  throw new Error('out of order');
};
/** What is told while something is done, each thing once. */
const toldWhile = (work: () => void): string[] => {
  const told: string[] = [];
  const end = onFault(onceEach((fault) => void told.push(faultWords(fault))));
  work();
  end();
  return told;
};

afterEach(() => {
  vi.restoreAllMocks();
  broken.clear();
});

/** Every rule of the analysis speaks in it, some more than once. */
const RULED = ANALYSIS_RULES.flatMap(({ example }) => [example, example]).join('\n\n');

describe('a rule that throws', () => {
  const all = found(RULED);
  test.each(ANALYSIS_RULES.map((rule) => [rule.id, rule] as const))(
    '%s: the findings of all others stay, and it is told once',
    (id, rule) => {
      expect(all.some((finding) => finding.rule === id)).toBe(true);
      vi.spyOn(rule, 'check').mockImplementation(throws);
      const findings = found(RULED);
      expect(findings.filter((finding) => finding.rule !== 'rule-failed')).toEqual(all.filter((finding) => finding.rule !== id));
      expect(findings.filter((finding) => finding.rule === 'rule-failed').map(({ message }) => message)).toEqual([
        expect.stringContaining(`“${id}”`),
      ]);
    },
  );

  test.each(RULES.filter(({ example }) => example !== '').map((rule) => [rule.id, rule] as const))(
    '%s without words: its finding keeps its place, and it is told once',
    (id, rule) => {
      const text = `${rule.example}\n\n${rule.example}`;
      const before = found(text);
      vi.spyOn(rule, 'message').mockImplementation(throws);
      let findings: readonly Finding[] = [];
      const told = toldWhile(() => (findings = found(text)));
      expect(findings.map((finding) => [finding.rule, finding.start])).toEqual(before.map((finding) => [finding.rule, finding.start]));
      expect(findings.filter((finding) => finding.rule !== id)).toEqual(before.filter((finding) => finding.rule !== id));
      expect(told).toEqual([expect.stringContaining(id)]);
    },
  );
});

const LINE =
  '  key C major\n  over | Dm7 G7 | Cmaj7 | Am7 D7 | G7 |\n  line | D4-F A-C5 B4-D5 F-Ab | G-F# F-E D#-D E ~ | E5-G C-E F#4-A C5-B4 | C5-B4 A-B G ~ |\n';

describe('a device that throws', () => {
  const readingOf = (text: string) => readPhrase(read(text).phrases[0]!.phrase, DEFAULT_THEORY);
  test.each(DEVICES.map((row) => [row.id, row] as const))(
    '%s: all others are found, its claims are neither proved nor refuted, and it is told once',
    (id, row) => {
      const words = id.replaceAll('-', ' ');
      const text = `phrase "A"\n${LINE}  claim ${id}\n  claim range C1 to C8\n  claim range C1 to C2\n`;
      const before = matchesOf(readingOf(text));
      vi.spyOn(row as { find: (typeof row)['find'] }, 'find').mockImplementation(throws);
      const told = toldWhile(() => {
        const reading = readingOf(text);
        expect(matchesOf(reading)).toEqual(before.filter(({ kind }) => kind !== id));
        expect(devicesOf(reading).some(({ kind }) => kind === id)).toBe(false);
        expect(checkClaims(reading).map(({ status }) => status)).toEqual(['unchecked', 'holds', 'refuted']);
        expect(
          found(text)
            .filter(({ rule }) => /claim|rule-failed/.test(rule))
            .map(({ rule }) => rule),
        ).toEqual(['claim-refuted']);
        matchesOf(readingOf(text));
      });
      expect(told).toEqual([`A fault of Phrasewright: the device “${words}” broke off: out of order. Everything else goes on.`]);
    },
  );
});

describe('a code action that throws', () => {
  test.each(ASSISTS.map((assist) => [assist.id, assist] as const))('%s: all others are offered, and it is told once', (id, assist) => {
    const { text, start, end } = exampleOf(id);
    const offered = (): string[] =>
      offersAt(read(text), { start, end, only: null }, DEFAULT_THEORY, (error) => errors.push(error)).map(
        (offer) => `${offer.assist}: ${offer.title} ${offer.detail}`,
      );
    const errors: unknown[] = [];
    const before = offered();
    expect(before.some((one) => one.startsWith(`${id}: `))).toBe(true);
    vi.spyOn(assist, 'offers').mockImplementation(throws);
    expect(offered()).toEqual(before.filter((one) => !one.startsWith(`${id}: `)));
    expect(errors).toEqual([expect.any(Fault)]);
    expect((errors[0] as Fault).of).toBe(`the action “${id}”`);
  });
});

describe('a feature that throws', () => {
  const URI = 'file:///a.phrase';
  const TEXT = `phrase "A"\n${LINE}  say "A line."\n`;
  const at = { textDocument: { uri: URI }, position: { line: 3, character: 10 } };
  const range = { start: { line: 3, character: 10 }, end: { line: 3, character: 10 } };
  /** The requests of each feature. */
  const REQUESTS: Readonly<Record<string, readonly (readonly [string, object])[]>> = {
    hover: [['textDocument/hover', at]],
    lenses: [['textDocument/codeLens', at]],
    hints: [['textDocument/inlayHint', { ...at, range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } } }]],
    outline: [['textDocument/documentSymbol', at]],
    folding: [['textDocument/foldingRange', at]],
    score: [['phrasewright/score', at]],
    take: [['phrasewright/take', at]],
    explain: [['phrasewright/explain', at]],
    actions: [
      ['textDocument/codeAction', { ...at, range, context: { diagnostics: [] } }],
      ['phrasewright/actions', { ...at, range }],
      [
        'phrasewright/edits',
        {
          ...at,
          range,
          kind: 'quickfix',
          name: 'None',
          get version() {
            return version;
          },
        },
      ],
    ],
    completion: [['textDocument/completion', at]],
    formatting: [['textDocument/formatting', { ...at, options: { tabSize: 2, insertSpaces: true } }]],
    definition: [['textDocument/definition', at]],
    references: [['textDocument/references', { ...at, context: { includeDeclaration: true } }]],
    findings: [['textDocument/diagnostic', at]],
  };
  let client: ProtocolConnection;
  const messages: string[] = [];
  const log: string[] = [];
  let version = 1;
  beforeAll(async () => {
    const [up, down] = [new PassThrough(), new PassThrough()];
    startServer(createConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), 'file:///RULES.md');
    client = createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up));
    client.onNotification(ShowMessageNotification.type, ({ message }) => void messages.push(message));
    client.onNotification(LogMessageNotification.type, ({ message }) => void log.push(message));
    client.listen();
    await client.sendRequest(InitializeRequest.type, {
      processId: null,
      rootUri: null,
      workspaceFolders: null,
      capabilities: { textDocument: { diagnostic: {} } },
    });
    await client.sendNotification(InitializedNotification.type, {});
    await client.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri: URI, languageId: 'phrase', version, text: TEXT },
    });
  });
  afterAll(() => client.dispose());

  /** Answers to all requests, in words; what comes with a version or a count of the server's is left out. */
  const answers = async (): Promise<Record<string, string[]>> =>
    Object.fromEntries(
      await Promise.all(
        Object.entries(REQUESTS).map(async ([name, requests]) => [
          name,
          await Promise.all(
            requests.map(([method, params]) =>
              client.sendRequest(method, params).then(
                (answer) => JSON.stringify(answer).replace(/"(?:resultId|version|revision)":(?:"[^"]*"|\d+)/g, ''),
                (error: Error) => `error: ${error.message}`,
              ),
            ),
          ),
        ]),
      ),
    );

  test.each(Object.keys(REQUESTS).filter((name) => name !== 'findings'))('%s: all others answer, and it is told once', async (name) => {
    const before = await answers();
    for (const [one, said] of Object.entries(before)) for (const answer of said) expect(answer, one).not.toMatch(/^error/);
    messages.length = 0;
    log.length = 0;
    broken.add(name);
    for (let keystrokes = 0; keystrokes < 3; keystrokes += 1) {
      // The same text as another version, so that nothing is answered from memory.
      version += 1;
      await client.sendNotification(DidChangeTextDocumentNotification.type, {
        textDocument: { uri: URI, version },
        contentChanges: [{ text: TEXT }],
      });
      const { [name]: lost, ...others } = await answers();
      expect(lost!.every((answer) => answer.startsWith('error: Phrasewright could not answer'))).toBe(true);
      const { [name]: _, ...wanted } = before;
      expect(others).toEqual(wanted);
    }
    const requests = REQUESTS[name]!.length;
    expect(messages).toHaveLength(requests);
    for (const message of messages)
      expect(message).toMatch(
        /^A fault of Phrasewright: the request for .+ broke off: .+ is broken\. Everything else goes on\. The output says more\.$/,
      );
    expect(log).toHaveLength(requests);
  });
});
