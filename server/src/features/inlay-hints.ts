/** The degree after each note, as the writer wishes: none, those that clash, or all. */
import { readPhrase } from '../analysis/read';
import type { Snapshot } from '../model/snapshot';
import { formatFigure } from '../theory/figure';
import { roleWords } from './hover/words';
import type { Settings } from './options';

export interface InlayHint {
  /** Offset in the file, just after the note. */
  readonly offset: number;
  readonly label: string;
  readonly tooltip: string;
}

export function inlayHints(snapshot: Snapshot, start: number, end: number, { theory, degreeHints }: Settings): readonly InlayHint[] {
  if (degreeHints === 'off') return [];
  return snapshot.phrases
    .filter(({ start: at, phrase }) => at <= end && at + phrase.text.length >= start)
    .flatMap(({ start: at, phrase }) =>
      readPhrase(phrase, theory).notes.flatMap(({ note: index, standing, verdict }): InlayHint[] => {
        const note = phrase.notes[index]!;
        // A cell's notes share one place in the text, and a degree needs no hint of itself.
        const wanted = degreeHints === 'all' || verdict !== null;
        const itself = note.node.head.kind === 'degree' && verdict === null;
        if (standing === null || note.cell !== null || !wanted || itself) return [];
        const { symbol } = phrase.spans[standing.span]!;
        return [{ offset: at + note.range.end, label: formatFigure(standing.figure), tooltip: `${formatFigure(standing.figure)} of ${symbol}: ${roleWords(standing.role)}` }];
      }),
    );
}
