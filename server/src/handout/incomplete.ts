import { breaksMusic } from '../model/breaks-music';
import type { Phrase } from '../model/types';
import type { Finding } from '../rules/findings';
import { quotedName } from './types';

/** What a phrase of a name is told not to have whole, by the first error in its music; null where there is none. Findings count from the start of the phrase's slice. */
export function incompleteWords(name: string, phrase: Phrase, findings: readonly Finding[]): string | null {
  const error = findings.find(({ severity, start }) => severity === 'error' && breaksMusic(phrase, start));
  return error === undefined ? null : `${quotedName(name)} has an error, so its notes may not all be there: ${error.message}`;
}
