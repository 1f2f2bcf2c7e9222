/** What stands above a phrase tells nothing of findings that wait: the server is told which. */
import type * as vscode from 'vscode';
import type { Middleware } from 'vscode-languageclient/node';
import type { CalmFindings } from './findings';

/** What the server sends beside a lens, so that it finds it again. */
interface WithData {
  data: unknown;
}

export function calmLenses({ waitingIn }: Pick<CalmFindings, 'waitingIn'>): Pick<Middleware, 'provideCodeLenses' | 'resolveCodeLens'> {
  const origins = new WeakMap<vscode.CodeLens, { readonly document: vscode.TextDocument; readonly origin: unknown }>();
  return {
    async provideCodeLenses(document, token, next) {
      const lenses = await next(document, token);
      for (const lens of lenses ?? []) if (hasData(lens)) origins.set(lens, { document, origin: lens.data });
      return lenses;
    },
    async resolveCodeLens(lens, token, next) {
      const known = origins.get(lens);
      if (known !== undefined && hasData(lens)) {
        const waiting = await waitingIn(known.document);
        lens.data = { origin: known.origin, waiting };
      }
      return next(lens, token);
    },
  };
}

function hasData(lens: vscode.CodeLens): lens is vscode.CodeLens & WithData {
  return 'data' in lens && lens.data !== undefined;
}
