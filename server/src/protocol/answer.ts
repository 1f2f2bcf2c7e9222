/** The guard round every handler: it waits in the queue; one that fails is logged and answered, and takes neither the server nor another handler with it. */
import { ErrorCodes, ResponseError, type CancellationToken, type TextDocumentIdentifier } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { faultOf } from '../model/faults';
import type { Pieces } from '../model/pieces';
import type { Urgency } from './queue';
import type { Session } from './session';

export interface Question {
  /** How the request is named in an error. */
  readonly what: string;
  /** `now`, unless said. */
  readonly urgency?: Urgency;
  readonly session: Session;
}

/** `never`: an error carries no data, which suits every request. */
type Handler<P, R> = (params: P, token: CancellationToken) => Promise<R | ResponseError<never>>;

/**
 * Makes a handler of a function of an open document. A document that is closed by now gets the empty answer: a question that
 * crossed with the closing is no mistake of anybody's. A request that was cancelled in time is not worked on; one that the text
 * has overtaken is answered for the newest text.
 */
export function onDocument<P extends { textDocument: TextDocumentIdentifier }, R>(
  question: Question,
  nothing: R,
  handle: (document: TextDocument, params: P) => R,
): Handler<P, R> {
  return onDocumentInPieces(question, nothing, function* (document, params): Pieces<R> {
    return handle(document, params);
  });
}

/** The same of work that may be put off between its pieces. Where the text moves on meanwhile, it begins again. */
export function onDocumentInPieces<P extends { textDocument: TextDocumentIdentifier }, R>(
  { what, urgency = 'now', session }: Question,
  nothing: R,
  handle: (document: TextDocument, params: P) => Pieces<R>,
): Handler<P, R> {
  return async (params, token) => {
    const find = (): TextDocument | undefined => session.documents.get(params.textDocument.uri);
    try {
      return await session.queue.add({
        urgency,
        token,
        about: () => find()?.version,
        *begin(): Pieces<R> {
          const document = find();
          return document === undefined ? nothing : yield* handle(document, params);
        },
      });
    } catch (error) {
      if (error instanceof ResponseError) return error as ResponseError<never>;
      session.complain(faultOf(`the request for ${what}`, error));
      return new ResponseError<never>(ErrorCodes.InternalError, `Phrasewright could not answer (${what}). The output channel says why.`);
    }
  };
}
