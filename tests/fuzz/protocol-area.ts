/**
 * The server as a process, and a client that breaks the rules: places outside the text, versions out of order, documents that are not open,
 * questions taken back, thousands of changes at once, parameters of any shape. It lives, and what it publishes and answers is of the text
 * that the changes make by the protocol's own rules (Language Server Protocol 3.17, "Text Documents").
 */
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { CancellationTokenSource } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { toDiagnostic } from '../../server/src/protocol/convert';
import { findingsOf } from '../../server/src/rules/findings';
import { startClient, type TestClient } from '../lsp/client';
import { shards } from '../property/arbitrary';
import { area } from './area';
import { mutatedLesson } from './texts';

const METHODS = [
  'textDocument/hover',
  'textDocument/completion',
  'textDocument/definition',
  'textDocument/references',
  'textDocument/documentHighlight',
  'textDocument/prepareRename',
  'textDocument/rename',
  'textDocument/inlayHint',
  'textDocument/codeLens',
  'textDocument/documentSymbol',
  'textDocument/foldingRange',
  'textDocument/formatting',
  'textDocument/rangeFormatting',
  'textDocument/codeAction',
  'codeAction/resolve',
  'textDocument/diagnostic',
  'phrasewright/explain',
  'phrasewright/score',
  'phrasewright/take',
  'phrasewright/actions',
  'phrasewright/edits',
] as const;

interface Place {
  readonly line: number;
  readonly character: number;
}

/** Mostly near the text's beginning, so that many are in it; the rest anywhere. */
const number = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: 0, max: 30 }) },
  { weight: 1, arbitrary: fc.constantFrom(-1, -5, 2 ** 31 - 1, 1e9, 100_000) },
);
const place: fc.Arbitrary<Place> = fc.record({ line: number, character: number });
const change = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      range: fc.record({ start: place, end: place }),
      text: fc.oneof(shards, fc.constantFrom('🎷', '\ud83c', '\r', '\r\n', '\n')),
    }),
  },
  { weight: 1, arbitrary: fc.record({ text: mutatedLesson }) },
);
type Change = { readonly range?: { readonly start: Place; readonly end: Place }; readonly text: string };

const step = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      do: fc.constant('change' as const),
      by: fc.constantFrom(1, 1, 1, 0, -1, 7),
      changes: fc.array(change as fc.Arbitrary<Change>, { maxLength: 4 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('change often' as const),
      times: fc.integer({ min: 500, max: 3000 }),
      changes: fc
        .array(change as fc.Arbitrary<Change>, { minLength: 1, maxLength: 2 })
        .filter((all) => all.every(({ range }) => range !== undefined)),
    }),
  },
  { weight: 3, arbitrary: fc.constant({ do: 'pull' as const }) },
  {
    weight: 4,
    arbitrary: fc.record({
      do: fc.constant('ask' as const),
      method: fc.constantFrom(...METHODS),
      position: place,
      end: place,
      uri: fc.constantFrom('own', 'own', 'own', 'file:///nobody.phrase', '', 'no address', '../../x'),
      isTakenBack: fc.boolean(),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('ask anything' as const),
      method: fc.constantFrom(...METHODS),
      params: fc.oneof(
        fc.anything({ maxDepth: 3, withNullPrototype: false }).map(plain),
        fc.constantFrom({}, null, { textDocument: null }, { textDocument: { uri: 7 } }),
      ),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('change a stranger' as const),
      uri: fc.constantFrom('file:///nobody.phrase', '', 'x'),
      version: fc.constantFrom(null, -1, 0, 5),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('change without a version' as const), text: shards }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('open again' as const), text: mutatedLesson, isClosed: fc.boolean() }) },
);
type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;

/** What can be sent of a value. */
function plain(value: unknown): object | null {
  try {
    const sent: unknown = JSON.parse(JSON.stringify(value) ?? 'null');
    return typeof sent === 'object' ? sent : { value: sent };
  } catch {
    return null;
  }
}

/** The text after a change. A character past the end of its line is the end of the line, a line past the last one the end of the text. */
export function changed(text: string, { range, text: inserted }: Change): string {
  if (range === undefined) return inserted;
  const [start, end] = [offsetOf(text, range.start), offsetOf(text, range.end)].sort((a, b) => a - b) as [number, number];
  return text.slice(0, start) + inserted + text.slice(end);
}

function offsetOf(text: string, { line, character }: Place): number {
  if (line < 0) return 0;
  let start = 0;
  for (const [i, one] of text.split(/(?<=\r\n|\n|\r(?!\n))/).entries()) {
    if (i === line) return start + Math.min(Math.max(0, character), one.replace(/[\r\n]+$/, '').length);
    start += one.length;
  }
  return text.length;
}

/** The diagnostics of a text, of nothing that was before it. */
function diagnosticsFor(uri: string, text: string): unknown {
  const document = TextDocument.create(uri, 'phrase', 1, text);
  return JSON.parse(
    JSON.stringify(findingsOf(openSnapshot(uri, 1, text), DEFAULT_THEORY).map((finding) => toDiagnostic(document, finding, MANUAL))),
  );
}

const MANUAL = 'https://rules.example/manual';
/** Milliseconds without an answer after which the server is taken for dead: so long that no busy machine reaches it. */
const DEAD = 60_000;

let client: Promise<TestClient> | undefined;
let documents = 0;

async function abuse([first, steps]: readonly [string, readonly Step[]]): Promise<void> {
  const { connection, pushed } = await (client ??= startClient({}, () => {}, { manual: MANUAL }));
  const uri = `file:///abused-${(documents += 1)}.phrase`;
  let [text, version, resultId] = [first, 1, undefined as string | undefined];
  let known: unknown;
  /** Texts that had a version: what is published for it is of one of them. */
  const texts = new Map<number, string[]>();
  const publishedFrom = pushed.length;
  const note = (): void => void texts.set(version, [...(texts.get(version) ?? []), text]);
  const open = async (): Promise<void> => {
    await connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'phrase', version, text } });
    note();
  };
  const send = async (contentChanges: readonly Change[]): Promise<void> => {
    await connection.sendNotification('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
    note();
  };
  const pull = async (): Promise<void> => {
    const report = await answered(
      connection.sendRequest<{ kind: string; resultId: string; items: unknown }>('textDocument/diagnostic', {
        textDocument: { uri },
        previousResultId: resultId,
      }),
      'textDocument/diagnostic',
    );
    if (report.kind === 'full') known = report.items;
    resultId = report.resultId;
    if (!isDeepStrictEqual(known, diagnosticsFor(uri, text)))
      throw new Error(
        `answered with diagnostics (${report.kind}) of another text than version ${version}, which is\n${JSON.stringify(text)}`,
      );
  };
  await open();
  for (const one of steps) {
    switch (one.do) {
      case 'change':
        version += one.by;
        text = one.changes.reduce(changed, text);
        await send(one.changes);
        break;
      case 'change often': {
        const changes = Array.from({ length: one.times }, (_, i) => one.changes[i % one.changes.length]!);
        version += 1;
        text = changes.reduce(changed, text);
        await send(changes);
        break;
      }
      case 'pull':
        await pull();
        break;
      case 'ask': {
        const source = new CancellationTokenSource();
        const { position, end } = one;
        const asking = connection.sendRequest(
          one.method,
          {
            textDocument: { uri: one.uri === 'own' ? uri : one.uri },
            position,
            range: { start: position, end },
            context: { diagnostics: [], includeDeclaration: true },
            newName: 'new',
            options: {},
          },
          source.token,
        );
        if (one.isTakenBack) source.cancel();
        await answered(
          asking.catch(() => null),
          one.method,
        );
        break;
      }
      case 'ask anything':
        await answered(
          connection.sendRequest(one.method, one.params).catch(() => null),
          one.method,
        );
        break;
      case 'change a stranger':
        await connection.sendNotification('textDocument/didChange', {
          textDocument: { uri: one.uri, version: one.version },
          contentChanges: [{ text: 'phrase' }],
        });
        await connection.sendNotification('textDocument/didClose', { textDocument: { uri: one.uri } });
        break;
      case 'change without a version':
        // The protocol forbids it; the server says so in its log and keeps what it has.
        await connection.sendNotification('textDocument/didChange', {
          textDocument: { uri, version: null },
          contentChanges: [{ text: one.text }],
        });
        break;
      case 'open again':
        if (one.isClosed) await connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
        [text, version] = [one.text, 1];
        await open();
    }
  }
  await pull();
  await connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  for (const { uri: of, version: published, diagnostics } of pushed.slice(publishedFrom)) {
    // The one without a version takes away the diagnostics of a closed document.
    if (of !== uri || published === undefined) continue;
    const told = JSON.parse(JSON.stringify(diagnostics)) as unknown;
    if (!(texts.get(published) ?? []).some((one) => isDeepStrictEqual(told, diagnosticsFor(uri, one))))
      throw new Error(`diagnostics were published for version ${published} that no text of it has`);
  }
}

/** Rejects where no answer comes. */
async function answered<T>(asking: Promise<T>, method: string): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${method} got no answer`)), DEAD);
  });
  try {
    return await Promise.race([asking, late]);
  } finally {
    clearTimeout(timer);
  }
}

export const protocol = area({
  name: 'protocol',
  share: 7,
  turn: 30,
  inputs: fc.tuple(mutatedLesson, fc.array(step, { maxLength: 12 })),
  check: (input) => abuse(input),
  async end() {
    await (await client)?.close();
    client = undefined;
  },
});
