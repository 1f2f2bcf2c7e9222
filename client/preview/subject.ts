/** What the controls speak of and act on: the phrase that sounds, else the one that is looked at. */
import type { ScorePhrase } from '../src/score/messages';

export interface Subject {
  readonly uri: string;
  readonly phrase: ScorePhrase;
}

/** Beats a minute that the reader set, by what `nameOf` calls a phrase. */
export type Tempos = ReadonlyMap<string, number>;

/** The phrase of a document: its place in it may change while it is spoken of. */
export function nameOf({ uri, phrase }: Subject): string {
  return `${uri} ${phrase.name}`;
}

/** The tempos after one was set; null takes it back to what is written. */
export function withTempo(tempos: Tempos, subject: Subject, tempo: number | null): Tempos {
  const changed = new Map(tempos);
  if (tempo === null) changed.delete(nameOf(subject));
  else changed.set(nameOf(subject), tempo);
  return changed;
}

/** `“Footbridge”, bar 2`; without a note the name alone. */
export function soundingWords({ name, notes, bars }: Pick<ScorePhrase, 'name' | 'notes' | 'bars'>, note: number | null): string {
  const title = name === '' ? 'A phrase without a name' : `“${name}”`;
  const onset = note === null ? undefined : notes[note]?.onset;
  const bar = onset === undefined ? undefined : bars.find(({ from, to }) => onset >= from && onset < to);
  if (bar === undefined) return title;
  return `${title}, ${bar.number === 0 ? 'pickup' : `bar ${bar.number}`}`;
}
