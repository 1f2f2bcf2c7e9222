/** Rewriting a phrase without changing what sounds: proved by reading the result. */
import { parseSlice } from '../../../../grammar/parser';
import { applyEdits } from '../../../../grammar/printer';
import type { TextEdit } from '../../../../grammar/tree';
import { buildPhrase } from '../../model/build';
import type { Phrase } from '../../model/types';
import { chroma } from '../../theory/pitch';
import type { AssistContext, Offer } from '../assist';
import { laidOut } from './phrase-title';
import { openSnapshot } from '../../model/snapshot';

/** An offer that makes the edits and lays the phrase out, if the same notes sound over the same chords. */
export function sameSound(context: AssistContext, edits: readonly TextEdit[], title: string): Offer[] {
  if (edits.length === 0) return [];
  const { phrase } = context.placed;
  const slice = parseSlice(
    applyEdits(
      phrase.text,
      [...edits].sort((a, b) => a.range.start - b.range.start),
    ),
  );
  if (slice.item.kind !== 'phrase') return [];
  const after = buildPhrase(slice, slice.item, context.snapshot.definitions).phrase;
  return sounds(after) === sounds(phrase) ? laidOut(context, edits, title) : [];
}

/** Whether the file, with edits that may also reach outside the phrase, still has this phrase with the same sound, and no new error. */
export function keepsSound({ snapshot, placed }: AssistContext, edits: readonly TextEdit[]): boolean {
  const inFile = edits.map(({ range, text }) => ({ range: { start: range.start + placed.start, end: range.end + placed.start }, text }));
  const after = openSnapshot(
    snapshot.uri,
    snapshot.version,
    applyEdits(
      snapshot.text,
      inFile.sort((a, b) => a.range.start - b.range.start),
    ),
  );
  const index = snapshot.phrases.indexOf(placed);
  const errors = ({ problems }: typeof after): number => problems.filter(({ problem }) => problem.severity === 'error').length;
  const phrase = after.phrases[index]?.phrase;
  return phrase !== undefined && sounds(phrase) === sounds(placed.phrase) && errors(after) <= errors(snapshot);
}

function sounds({ notes, spans }: Phrase): string {
  const line = notes.map((note) => `${note.onset.toFraction()} ${note.duration.toFraction()} ${note.midi}`);
  const harmony = spans.map(
    ({ onset, end, chord }) =>
      `${onset.toFraction()} ${end.toFraction()} ${chord === null ? '' : chord.tones.map((tone) => chroma(tone.name)).join()}`,
  );
  return [...line, ...harmony].join('\n');
}
