/** What folds: every item that takes more than a line, and runs of comments. Offsets in the file. */
import type { Snapshot } from '../model/snapshot';

export interface Fold {
  readonly start: number;
  readonly end: number;
  readonly kind: 'region' | 'comment';
}

export function folds({ slices, text }: Snapshot): readonly Fold[] {
  return slices.flatMap(({ start, parsed }) => {
    const { item } = parsed;
    const whole: Fold[] = item.kind === 'stray' ? [] : [{ start: start + item.keyword.range.start, end: start + item.range.end, kind: 'region' }];
    return [...whole, ...commentRuns(item.comments.map(({ range }) => ({ start: start + range.start, end: start + range.end })), text)];
  });
}

/** Comments on lines that follow each other, each alone on its line. */
function commentRuns(comments: readonly { start: number; end: number }[], text: string): Fold[] {
  const runs: { start: number; end: number; count: number }[] = [];
  for (const comment of comments) {
    const lineStart = text.lastIndexOf('\n', comment.start - 1) + 1;
    if (text.slice(lineStart, comment.start).trim() !== '') continue;
    const last = runs[runs.length - 1];
    if (last !== undefined && /^\s*$/.test(text.slice(last.end, comment.start))) {
      last.end = comment.end;
      last.count += 1;
    } else runs.push({ ...comment, count: 1 });
  }
  return runs.filter(({ count }) => count > 1).map(({ start, end }) => ({ start, end, kind: 'comment' as const }));
}
