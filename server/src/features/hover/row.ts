/** The hover of a property of a phrase: the notes of its key, how its tempo is counted; then what the row means. */
import type { Row } from '../../../../grammar/tree';
import { formatKey } from '../../theory/key';
import { formatNoteName } from '../../theory/pitch';
import { scale } from '../../theory/scale';
import { keywordHover } from './keyword';

/** Markdown; null for a row that is no property. */
export function propertyHover(row: Row): string | null {
  switch (row.kind) {
    case 'key':
    case 'tempo':
    case 'meter':
    case 'part':
    case 'level':
    case 'tag':
      return [valueLine(row), keywordHover(row.kind)].filter((line) => line !== null).join('\n\n');
    default:
      return null;
  }
}

function valueLine(row: Row): string | null {
  if (row.kind === 'key' && row.tonic !== null && row.mode !== null) {
    const { tonic, mode } = row;
    const names = scale(tonic, mode === 'major' ? 'ionian' : 'aeolian')
      .tones.map(({ name }) => formatNoteName(name))
      .join(' ');
    return `**${formatKey({ tonic, mode })}**: ${names}${mode === 'minor' ? '; the sixth and seventh may be raised' : ''}.`;
  }
  if (row.kind === 'tempo' && row.bpm !== null) {
    const ratio = row.ratio === null ? '' : `, long to short as ${row.ratio.join(':')}`;
    return `**${row.bpm} beats a minute**, ${row.feel === 'straight' ? 'straight eighths' : `swung eighths${ratio}`}.`;
  }
  return null;
}
