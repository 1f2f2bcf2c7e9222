/** The guard round every handler: one that fails is logged and answered, and takes neither the server nor another handler with it. */
import { LSPErrorCodes, ErrorCodes, ResponseError, type CancellationToken, type TextDocumentIdentifier } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { Session } from './session';

export interface Question {
  /** How the request is named in an error. */
  readonly what: string;
  readonly session: Session;
}

/** `never`: an error carries no data, which suits every request. */
type Handler<P, R> = (params: P, token: CancellationToken) => R | ResponseError<never>;

/**
 * Makes a handler of a function of an open document. A document that is closed by now gets the empty answer: a question that
 * crossed with the closing is no mistake of anybody's. A request that was cancelled in time is not worked on.
 */
export function onDocument<P extends { textDocument: TextDocumentIdentifier }, R>(
  { what, session }: Question,
  nothing: R,
  handle: (document: TextDocument, params: P) => R,
): Handler<P, R> {
  return (params, token) => {
    if (token.isCancellationRequested) return new ResponseError<never>(LSPErrorCodes.RequestCancelled, 'The request was cancelled.');
    const document = session.documents.get(params.textDocument.uri);
    if (document === undefined) return nothing;
    try {
      return handle(document, params);
    } catch (error) {
      if (error instanceof ResponseError) return error as ResponseError<never>;
      session.complain(error);
      return new ResponseError<never>(ErrorCodes.InternalError, `Phrasewright could not answer (${what}). The output channel says why.`);
    }
  };
}
