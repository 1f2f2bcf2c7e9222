/** Every request at places of lessons with something wrong in them: answered, in time, for the version asked, and inside the text. */
import fc from 'fast-check';
import { ResponseError } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { ListedForms } from '../../server/src/protocol/convert';
import { area, type Meter } from './area';
import { startLocalServer, type LocalServer } from './local-server';
import { mutatedLesson } from './texts';

const URI = 'file:///fuzz.phrase';

interface Place {
  readonly line: number;
  readonly character: number;
}

const textDocument = { uri: URI };
const options = { tabSize: 2, insertSpaces: true };

/** Requests that ask about a document as a whole. */
const WHOLE: Readonly<Record<string, object>> = {
  'textDocument/diagnostic': { textDocument },
  'textDocument/documentSymbol': { textDocument },
  'textDocument/foldingRange': { textDocument },
  'textDocument/codeLens': { textDocument },
  'textDocument/formatting': { textDocument, options },
  'phrasewright/score': { textDocument, position: { line: 0, character: 0 }, options: { scope: 'lesson', pitch: 'written' } },
};

/** Those that ask about a place, or about what is between it and another. */
const AT: Readonly<Record<string, (position: Place, other: Place) => object>> = {
  'textDocument/hover': (position) => ({ textDocument, position }),
  'textDocument/completion': (position) => ({ textDocument, position }),
  'textDocument/definition': (position) => ({ textDocument, position }),
  'textDocument/references': (position) => ({ textDocument, position, context: { includeDeclaration: true } }),
  'textDocument/documentHighlight': (position) => ({ textDocument, position }),
  'textDocument/prepareRename': (position) => ({ textDocument, position }),
  'textDocument/rename': (position) => ({ textDocument, position, newName: 'quite_new' }),
  'textDocument/inlayHint': (start, end) => ({ textDocument, range: { start, end } }),
  'textDocument/rangeFormatting': (start, end) => ({ textDocument, range: { start, end }, options }),
  'textDocument/codeAction': (position) => ({ textDocument, range: { start: position, end: position }, context: { diagnostics: [] } }),
  'phrasewright/explain': (position) => ({ textDocument, position }),
  'phrasewright/score': (position) => ({ textDocument, position, options: { pitch: 'concert' } }),
  'phrasewright/take': (position) => ({ textDocument, position }),
};

/** Those that ask about a selection. */
const SELECTED: Readonly<Record<string, (start: Place, end: Place) => object>> = {
  'textDocument/codeAction': (start, end) => ({ textDocument, range: { start, end }, context: { diagnostics: [] } }),
  'phrasewright/actions': (start, end) => ({ textDocument, range: { start, end } }),
};

/** One server for all inputs; each lesson is closed before the next is opened. */
let server: Promise<LocalServer> | undefined;

/** Asks everything at so many places of a text. */
export async function askAll(text: string, offsets: readonly number[], meter: Meter): Promise<void> {
  const { connection, complaints } = await (server ??= startLocalServer());
  const document = TextDocument.create(URI, 'phrase', 1, text);
  const ask = (method: string, params: object): Promise<unknown> =>
    meter.time(method, `${JSON.stringify(params)} in ${JSON.stringify(text)}`, async () => {
      try {
        const answer = await connection.sendRequest(method, params);
        checkAnswer(answer, document, method);
        return answer;
      } catch (error) {
        // What cannot be renamed is refused with a reason.
        if (error instanceof ResponseError && method === 'textDocument/rename' && error.code === -32803) return null;
        throw new Error(
          `${method} ${JSON.stringify(params)}: ${error instanceof Error ? error.message : String(error)}\n${complaints().join('\n')}`,
        );
      }
    });
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri: URI, languageId: 'phrase', version: 1, text } });
  try {
    for (const [method, params] of Object.entries(WHOLE)) await ask(method, params);
    for (const [i, offset] of offsets.entries()) {
      const at = document.positionAt(offset);
      const [start, end] = [offset, offsets[(i + 1) % offsets.length]!].sort((a, b) => a - b).map((one) => document.positionAt(one)) as [
        Place,
        Place,
      ];
      for (const [method, params] of Object.entries(AT)) {
        const answer = await ask(
          method,
          method === 'textDocument/inlayHint' || method === 'textDocument/rangeFormatting' ? params(start, end) : params(at, at),
        );
        if (method === 'textDocument/codeAction')
          for (const action of (answer as { data?: unknown; edit?: unknown }[]).slice(0, 3))
            if (action.data !== undefined) await ask('codeAction/resolve', action);
      }
      if (i % SELECTED_EVERY === 0)
        for (const [method, params] of Object.entries(SELECTED)) {
          const answer = await ask(method, params(start, end));
          if (method !== 'phrasewright/actions') continue;
          for (const { kind, name } of spread((answer as ListedForms | null)?.forms ?? []))
            await ask('phrasewright/edits', { ...params(start, end), version: document.version, kind, name });
        }
    }
    const told = complaints();
    if (told.length > 0) throw new Error(told.join('\n'));
  } finally {
    await connection.sendNotification('textDocument/didClose', { textDocument });
  }
}

/** Selections cost most: they are asked about at one place of so many. */
const SELECTED_EVERY = 5;

/** Three of the forms of a list, from its beginning to its end. */
function spread(forms: ListedForms['forms']): ListedForms['forms'] {
  return forms.filter((_, i) => i === 0 || i === forms.length >> 1 || i === forms.length - 1);
}

/** Ranges of the document lie in it, in order, and what names a version names this one; no number is none. */
function checkAnswer(answer: unknown, document: TextDocument, method: string): void {
  JSON.stringify(answer, (key, value: unknown) => {
    if (key === 'version' && value !== document.version) throw new Error(`${method} answers for version ${String(value)}`);
    if (isRange(value)) {
      for (const place of [value.start, value.end])
        if (!isIn(place, document)) throw new Error(`${method} names ${JSON.stringify(value)}, which is outside the text`);
      if (document.offsetAt(value.start) > document.offsetAt(value.end))
        throw new Error(`${method} names ${JSON.stringify(value)}, whose end is before its start`);
    }
    return value;
  });
}

function isRange(value: unknown): value is { readonly start: Place; readonly end: Place } {
  const { start, end } = (value ?? {}) as { start?: Partial<Place>; end?: Partial<Place> };
  return (
    typeof start?.line === 'number' &&
    typeof end?.line === 'number' &&
    typeof start.character === 'number' &&
    typeof end.character === 'number'
  );
}

function isIn(place: Place, document: TextDocument): boolean {
  const { line, character } = document.positionAt(document.offsetAt(place));
  return line === place.line && character === place.character;
}

async function end(): Promise<void> {
  (await server)?.close();
  server = undefined;
}

const places = (count: number): fc.Arbitrary<readonly number[]> => fc.array(fc.nat(), { minLength: count, maxLength: count });
const atPlaces = ([text, picks]: readonly [string, readonly number[]], meter: Meter): Promise<void> =>
  askAll(
    text,
    picks.map((pick) => pick % (text.length + 1)),
    meter,
  );

export const requests = area({ name: 'requests', share: 0, turn: 2, inputs: fc.tuple(mutatedLesson, places(20)), end, check: atPlaces });

/** What every test run has time for. */
export const fewRequests = area({
  name: 'a few requests',
  share: 1,
  turn: 5,
  inputs: fc.tuple(mutatedLesson, places(3)),
  end,
  check: atPlaces,
});

/** Twenty places of each make a thin net: of some lessons, every one. */
export const everywhere = area({
  name: 'requests everywhere',
  share: 0,
  turn: 1,
  inputs: mutatedLesson.map((text) => text.slice(0, 600)),
  end,
  check: (text, meter) =>
    askAll(
      text,
      Array.from({ length: text.length + 1 }, (_, i) => i),
      meter,
    ),
});
