/** The question for the part of a score. */
import * as vscode from 'vscode';
import { asWords } from '../words';
import type { PartSummary } from '../../../server/src/import-service';

/** Asks where there are several, but not again for the same ones; answers what the import takes. */
export function createPartQuestion(): (score: string, parts: readonly PartSummary[]) => Promise<string> {
  const answers = new Map<string, number>();
  return async (score, parts) => {
    const key = JSON.stringify(parts.map(({ name }) => name));
    const known = parts.length === 1 ? 0 : answers.get(key);
    const place = known ?? (await ask(score, parts));
    answers.set(key, place);
    return parts[place]!.part;
  };
}

/** The place in the list. Throws `CancellationError` where it is left. */
async function ask(score: string, parts: readonly PartSummary[]): Promise<number> {
  const items = parts.map(({ name, measures, hasChords }, place) => ({
    label: asWords(name),
    description: `${measures} ${measures === 1 ? 'measure' : 'measures'}${hasChords ? ', chord symbols' : ''}`,
    place,
  }));
  // One may want to look elsewhere before one answers, and Escape leaves it.
  const picked = await vscode.window.showQuickPick(items, {
    title: asWords(`The Part of ${score} to Bring In`),
    ignoreFocusOut: true,
    placeHolder: 'Chord symbols come from another part where the one you choose has none',
  });
  if (picked === undefined) throw new vscode.CancellationError();
  return picked.place;
}
