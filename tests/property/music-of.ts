/** What must stay when a text is written anew: what sounds when, what is numbered, and what is said beside it. */
import { parseFile } from '../../grammar/parser';
import { openSnapshot } from '../../server/src/model/snapshot';

/** The music of a text: what sounds when, and the paragraphs beside it. */
export function musicOf(text: string): string[] {
  return openSnapshot('file:///a.phrase', 1, text).phrases.map(({ phrase }) =>
    [
      ...phrase.notes.map((note) => `${note.onset.toFraction()} ${note.duration.toFraction()} ${note.midi} ${note.marks.join()}`),
      ...phrase.spans.map((span) => `${span.onset.toFraction()} ${span.end.toFraction()} ${span.symbol}`),
      ...phrase.figures.map((figure) => `${figure.note} ${figure.accidental}${figure.number}`),
      // White space at the end of a string without its closing quote goes.
      ...phrase.says.map((told) => told.replace(/\s+/g, ' ').trim()),
      ...phrase.bars.map((bar) => `${bar.number} ${bar.length.toFraction()}`),
    ].join('\n'),
  );
}

export function commentsOf(text: string): string[] {
  return parseFile(text).flatMap(({ parsed }) => parsed.item.comments.map((comment) => comment.text.trimEnd()));
}
