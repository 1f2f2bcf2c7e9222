/** The keywords that may start a row, those of the block at hand first. */
import type { Snapshot } from '../../model/snapshot';
import { keywordMeaning } from '../hover/keyword';
import type { Proposal } from './completion';

const TOP = ['phrase', 'changes', 'cell', 'lesson'];
const OF_LESSON = ['about', 'level', 'tag', 'say'];
const OF_PHRASE = ['over', 'line', 'degrees', 'say', 'claim', 'key', 'meter', 'tempo', 'part', 'level', 'tag'];

/** A file has one lesson, so `lesson` is not offered twice. */
export function keywordsAt({ slices }: Snapshot, offset: number): readonly Proposal[] {
  const block = slices.findLast(({ start, parsed }) => start + parsed.item.keyword.range.end <= offset)?.parsed.item.kind;
  const rows = block === 'phrase' ? OF_PHRASE : block === 'lesson' ? OF_LESSON : [];
  const top = slices.some(({ parsed }) => parsed.item.kind === 'lesson') ? TOP.filter((word) => word !== 'lesson') : TOP;
  return [...rows, ...top].map((label) => ({ label, kind: 'keyword', detail: (keywordMeaning(label) ?? '').replaceAll('`', '') }));
}
