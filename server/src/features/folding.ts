/** What folds: every item that takes more than a line, and runs of comments. Offsets in the file. */
import { lineStart } from '../../../grammar/lines';
import { guarded } from '../model/faults';
import { perPart } from '../model/per-part';
import type { Snapshot } from '../model/snapshot';

export interface Fold {
  readonly start: number;
  readonly end: number;
  readonly kind: 'region' | 'comment';
}

export function folds(snapshot: Snapshot): readonly Fold[] {
  const { slices } = snapshot;
  return foldsOfParts(snapshot, null).flatMap((own, i) => {
    const by = slices[i]!.start;
    return own.map(({ start, end, kind }): Fold => ({ start: start + by, end: end + by, kind }));
  });
}

/** Offsets count from the start of the slice. */
const foldsOfParts = perPart<readonly Fold[], null>(
  ({ parsed: { item, text } }) => {
    const whole: Fold[] = item.kind === 'stray' ? [] : [{ start: item.keyword.range.start, end: item.range.end, kind: 'region' }];
    return [
      ...whole,
      ...guarded('the folding of comments', [], () =>
        commentRuns(
          item.comments.map(({ range }) => range),
          text,
        ),
      ),
    ];
  },
  () => true,
);

/** Comments on lines that follow each other, each alone on its line. */
function commentRuns(comments: readonly { start: number; end: number }[], text: string): Fold[] {
  const runs: { start: number; end: number; count: number }[] = [];
  for (const comment of comments) {
    if (text.slice(lineStart(text, comment.start), comment.start).trim() !== '') continue;
    const last = runs[runs.length - 1];
    if (last !== undefined && /^\s*$/.test(text.slice(last.end, comment.start))) {
      last.end = comment.end;
      last.count += 1;
    } else runs.push({ ...comment, count: 1 });
  }
  return runs.filter(({ count }) => count > 1).map(({ start, end }) => ({ start, end, kind: 'comment' as const }));
}
