/** The values of the rows that are no music: keys, meters, tempos, parts, levels, tags. */
import type { Snapshot } from '../../model/snapshot';
import { PARTS, soundingRange } from '../../theory/part';
import { formatPitch } from '../../theory/pitch';
import type { Proposal, RowBefore } from './completion';

const TONICS = ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb'];
const METERS = [
  ['4/4', 'four beats'],
  ['3/4', 'three beats'],
  ['6/8', 'two dotted beats'],
  ['12/8', 'four dotted beats'],
  ['5/4', 'five beats'],
  ['2/2', 'two half-note beats'],
] as const;
const LEVELS = [
  ['1', 'simple'],
  ['2', ''],
  ['3', ''],
  ['4', ''],
  ['5', 'demanding'],
] as const;

export function propertyValues({ keyword, before }: RowBefore, snapshot: Snapshot): readonly Proposal[] {
  const written = before
    .trim()
    .split(/\s+/)
    .filter((word) => word !== '');
  switch (keyword) {
    case 'key':
      if (written.length === 0) return TONICS.map((tonic) => value(tonic, 'tonic'));
      return written.length === 1 ? [value('major', ''), value('minor', '')] : [];
    case 'meter':
      return written.length === 0 ? METERS.map(([meter, detail]) => value(meter, detail)) : [];
    case 'tempo':
      return written.length === 1 ? [value('swing', 'eighths long–short'), value('straight', 'eighths even')] : [];
    case 'part':
      return written.length === 0 ? PARTS.map((part) => value(part.name, rangeWords(part))) : [];
    case 'level':
      return written.length === 0 ? LEVELS.map(([level, detail]) => value(level, detail)) : [];
    case 'tag':
      return tagsOf(snapshot)
        .filter((tag) => !written.includes(tag))
        .map((tag) => value(tag, 'used in this file'));
    default:
      return [];
  }
}

function value(label: string, detail: string): Proposal {
  return { label, kind: 'value', detail };
}

function rangeWords(part: (typeof PARTS)[number]): string {
  const { low, high } = soundingRange(part);
  return `sounds ${formatPitch(low)} to ${formatPitch(high)}`;
}

/** Tags that the file uses already, so that one thing keeps one tag. */
function tagsOf({ slices }: Snapshot): readonly string[] {
  const rows = slices.flatMap(({ parsed: { item } }) => (item.kind === 'phrase' || item.kind === 'lesson' ? item.rows : []));
  return [...new Set(rows.flatMap((row) => (row.kind === 'tag' ? row.tags.map(({ text }) => text) : [])))].sort();
}
