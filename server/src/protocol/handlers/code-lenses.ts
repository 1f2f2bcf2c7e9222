/** Lenses: with what they say, or, for a client that asks for that where it shows them, without. */
import type { CodeLens, CodeLensParams } from 'vscode-languageserver';
import { codeLenses, lensAbove, lensesBySlice, LENS_ACTIONS, type CodeLens as PlainLens } from '../../features/code-lenses';
import type { WaitingFinding } from '../../features/score/types';
import { faultOf } from '../../model/faults';
import { onDocument } from '../answer';
import { toCodeLens, toLensCommand, toRange } from '../convert';
import { keptInLine } from '../kept';
import type { Session } from '../session';

/** What a lens says whose phrase is gone; the client asks for all lenses again. */
const SILENT = { title: '', command: '' };

export function handleCodeLenses(session: Session): void {
  // “Play” and “Show the score” are of no use to a client that can do neither; the line about the phrase is for all.
  const isOfUse = ({ action }: Pick<PlainLens, 'action'>): boolean => action === 'explain' || session.client.playsPhrases;
  const origins = openOrigins();
  const kept = keptInLine<readonly CodeLens[]>();
  session.connection.onCodeLens(
    onDocument<CodeLensParams, CodeLens[]>({ what: 'lines above phrases', urgency: 'later', session }, [], (document) => {
      const snapshot = session.snapshotOf(document);
      if (!session.client.resolvesLenses)
        return codeLenses(snapshot, session.settings)
          .filter(isOfUse)
          .map((lens) => toCodeLens(document, lens, session.client));
      return lensesBySlice(snapshot, session.settings).flatMap(({ kept: place, start, phrase }) =>
        kept(place, document.positionAt(start).line, phrase, () => {
          const range = toRange(document, start + place.start, start + place.end);
          return LENS_ACTIONS.filter((action) => isOfUse({ action })).map((action) => ({
            range,
            data: origins.write({ uri: document.uri, phrase, action }),
          }));
        }),
      );
    }),
  );
  session.connection.onCodeLensResolve((lens) => {
    const origin = origins.read(originOf(lens.data));
    const document = origin === null ? undefined : session.documents.get(origin.uri);
    if (origin === null || document === undefined) return { ...lens, command: SILENT };
    try {
      const said = lensAbove(session.snapshotOf(document), origin.phrase, origin.action, session.settings.theory, waitingOf(lens.data));
      return { ...lens, command: said === null ? SILENT : toLensCommand(document, said, session.client) };
    } catch (error) {
      session.complain(faultOf('what a line above a phrase says', error));
      return { ...lens, command: SILENT };
    }
  });
}

/** A client that keeps findings back says which: it sends the data of a lens as `origin`, beside them. */
interface WithWaiting {
  readonly origin: unknown;
  readonly waiting: readonly WaitingFinding[];
}

function hasWaiting(data: unknown): data is WithWaiting {
  return typeof data === 'object' && data !== null && 'origin' in data && 'waiting' in data && Array.isArray(data.waiting);
}

function originOf(data: unknown): unknown {
  return hasWaiting(data) ? data.origin : data;
}

function waitingOf(data: unknown): readonly WaitingFinding[] {
  return hasWaiting(data) ? data.waiting : [];
}

/** What finds a lens again when its client asks what it says. */
interface LensOrigin {
  readonly uri: string;
  /** The index of its phrase among those of the file. */
  readonly phrase: number;
  readonly action: PlainLens['action'];
}

interface Origins {
  write(origin: LensOrigin): string;
  /** Null where it was not written here. */
  read(data: unknown): LensOrigin | null;
}

/** Origins in a few characters, with a number for the address: a long file has thousands, sent after each keystroke. */
function openOrigins(): Origins {
  const uris: string[] = [];
  const numbers = new Map<string, number>();
  const numberOf = (uri: string): number => {
    const known = numbers.get(uri) ?? uris.push(uri) - 1;
    numbers.set(uri, known);
    return known;
  };
  return {
    write: ({ uri, phrase, action }) => `${numberOf(uri)} ${phrase} ${action}`,
    read(data) {
      const [, number, phrase, name] = /^(\d+) (\d+) ([a-z]+)$/.exec(typeof data === 'string' ? data : '') ?? [];
      const uri = uris[Number(number)];
      const action = LENS_ACTIONS.find((one) => one === name);
      return uri === undefined || action === undefined ? null : { uri, phrase: Number(phrase), action };
    },
  };
}
