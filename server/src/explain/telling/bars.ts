/** What is written in a bar, as text that is the same where the bar is. */
import { ofReading } from '../../analysis/of-reading';
import { groupedBy } from '../../model/grouped';
import type { Bar, Note } from '../../model/types';

export interface WrittenBar {
  readonly bar: Bar;
  readonly notes: readonly Note[];
  /** Places and pitches of its notes, and their lengths but for the last one's, which may be held. */
  readonly line: string;
  /** The same with its chords and their places. */
  readonly whole: string;
}

/** The bars of a phrase by their numbers; a pickup is none. */
export const writtenBars = ofReading(({ phrase }): ReadonlyMap<number, WrittenBar> => {
  const notesOf = groupedBy(phrase.notes, ({ bar }) => [bar]);
  let first = 0;
  return new Map(
    phrase.bars
      .filter(({ number }) => number > 0)
      .map((bar) => {
        const end = bar.onset.add(bar.length);
        while (first < phrase.spans.length && phrase.spans[first]!.end.compare(bar.onset) <= 0) first += 1;
        const chords: string[] = [`${bar.length.toFraction()}`];
        for (let at = first; at < phrase.spans.length && phrase.spans[at]!.onset.compare(end) < 0; at += 1) {
          const { onset, symbol } = phrase.spans[at]!;
          chords.push(`${onset.compare(bar.onset) <= 0 ? '0' : onset.sub(bar.onset).toFraction()} ${symbol}`);
        }
        const notes = notesOf.get(bar.number) ?? [];
        const line = notes
          .map(
            ({ onset, duration, midi }, i) =>
              `${onset.sub(bar.onset).toFraction()} ${midi} ${i === notes.length - 1 ? '' : duration.toFraction()}`,
          )
          .join();
        return [bar.number, { bar, notes, line, whole: `${line}|${chords.join()}` }];
      }),
  );
});
