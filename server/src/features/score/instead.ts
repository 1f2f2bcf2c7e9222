/** A document as it would be after some edits, so that a choice can be seen before it is made. */
import { openSnapshot, type PlacedPhrase, type Snapshot } from '../../model/snapshot';
import type { PlacedEdit } from '../../rules/findings';
import { phraseAt } from '../place';

/**
 * A snapshot of the edited text, which is nobody's to keep, and the offset in it of what is to be looked at: the phrase of `offset` where the
 * edits change that, else the first phrase that they write. Phrases they leave alone are the snapshot's own.
 */
export function asItWouldBe(
  snapshot: Snapshot,
  offset: number,
  edits: readonly PlacedEdit[],
): { readonly snapshot: Snapshot; readonly offset: number } {
  let text = '';
  let done = 0;
  let moved = offset;
  for (const edit of [...edits].sort((a, b) => a.start - b.start)) {
    text += snapshot.text.slice(done, edit.start);
    if (edit.start <= offset) moved = edit.end <= offset ? offset + text.length + edit.text.length - edit.end : text.length;
    text += edit.text;
    done = edit.end;
  }
  const after = openSnapshot(snapshot.uri, snapshot.version, text + snapshot.text.slice(done), snapshot);
  const known = new Set(snapshot.phrases.map(wordsOf));
  const here = phraseAt(after, moved);
  const shown = here !== null && !known.has(wordsOf(here)) ? null : after.phrases.find((one) => !known.has(wordsOf(one)));
  return { snapshot: after, offset: shown == null ? moved : shown.start };
}

/** Copies that come after a phrase change the room behind it, and nothing of its own. */
function wordsOf({ phrase }: PlacedPhrase): string {
  return phrase.text.trim();
}
