/** Scores as they cross from the server to the extension and on to the page: of phrases that are there already only where they begin now. */
import type { Score, ScorePhrase, SentScore } from './messages';

/** The phrases of a score that need not be sent again, by their revision. What is broken elsewhere, is being written, or is still to come, is always sent. */
export function knownOf({ phrases }: Pick<Score, 'phrases'>): ReadonlyMap<number, ScorePhrase> {
  return new Map(
    phrases.flatMap((phrase) => (phrase.revision > 0 && phrase.broken === null && !phrase.unfinished ? [[phrase.revision, phrase]] : [])),
  );
}

/** The whole of a score. Null where it counts on a phrase that is not there: then it has to be asked for anew. */
export function wholeScore(sent: SentScore, known: ReadonlyMap<number, ScorePhrase>): Score | null {
  const phrases: ScorePhrase[] = [];
  for (const one of sent.phrases) {
    if (!('same' in one)) phrases.push(one);
    else {
      const phrase = known.get(one.same);
      if (phrase === undefined) return null;
      phrases.push(movedTo(one.start, phrase));
    }
  }
  return { ...sent, phrases };
}

/** Whether more of the score is to be asked for. */
export function isPartial({ phrases }: Pick<Score, 'phrases'>): boolean {
  return phrases.some(({ revision }) => revision === 0);
}

function movedTo(start: number, phrase: ScorePhrase): ScorePhrase {
  const by = start - phrase.start;
  if (by === 0) return phrase;
  const move = <T extends { readonly start: number; readonly end: number }>(place: T): T => ({
    ...place,
    start: place.start + by,
    end: place.end + by,
  });
  return {
    ...move(phrase),
    notes: phrase.notes.map((note) => ({ ...move(note), holds: note.holds.map(move) })),
    findings: phrase.findings.map(move),
  };
}
