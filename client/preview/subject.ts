/** What the controls speak of and act on: the phrase that sounds, else the one that is looked at. */
import type { Renamed, ScorePhrase } from '../src/score/messages';

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

/** The address of a document after files or folders were renamed. */
export function renamed(uri: string, files: readonly Renamed[]): string {
  const file = files.find(({ from }) => uri === from || uri.startsWith(`${from}/`));
  return file === undefined ? uri : `${file.to}${uri.slice(file.from.length)}`;
}

/** The tempos after files or folders were renamed. */
export function renamedTempos(tempos: Tempos, files: readonly Renamed[]): Tempos {
  return new Map(
    [...tempos].map(([name, tempo]) => {
      const end = name.indexOf(' ');
      return [`${renamed(name.slice(0, end), files)}${name.slice(end)}`, tempo];
    }),
  );
}

/** `“Footbridge”, bar 2`; without a note the name alone. */
export function soundingWords({ name, notes, bars }: Pick<ScorePhrase, 'name' | 'notes' | 'bars'>, note: number | null): string {
  const title = name === '' ? 'A phrase without a name' : `“${name}”`;
  const onset = note === null ? undefined : notes[note]?.onset;
  const bar = onset === undefined ? undefined : bars.find(({ from, to }) => onset >= from && onset < to);
  if (bar === undefined) return title;
  return `${title}, ${bar.number === 0 ? 'pickup' : `bar ${bar.number}`}`;
}
