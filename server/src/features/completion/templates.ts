/** Whole items, rows and progressions that are written with fields to fill in, aligned as the formatter aligns them. What is left as it is may be printed: no field holds words that say nothing. */
import { freshName } from '../../assists/writing/definitions';
import type { Definitions } from '../../model/types';
import type { Key } from '../../theory/types';
import type { Template } from './template';

/** A top-level item by its keyword, from the start of its line. Names that the file has already are not given again. */
export function itemTemplate(keyword: string, { changes, cells }: Definitions): Template | null {
  switch (keyword) {
    case 'lesson':
      return ['lesson "', ['Title'], '"\n'];
    case 'phrase':
      return [
        'phrase "',
        ['Name'],
        '"\n  key     ',
        ['C'],
        ' ',
        ['major', 'minor'],
        '\n  tempo   ',
        ['120'],
        ' ',
        ['swing', 'straight'],
        '\n  over    | ',
        ['Cmaj7'],
        '    |\n  line    | ',
        ['E4 G C E'],
        ' |\n',
      ];
    case 'changes':
      return ['changes ', [freshName(changes, 'turn')], ' = | ', ['Gm7 C7'], ' | ', ['Fmaj7'], ' |'];
    case 'cell':
      return ['cell    ', [freshName(cells, 'climb')], ' = ', ['1-2 3-5']];
    default:
      return null;
  }
}

/** The rows of a system, from the start of their line. */
export const SYSTEM_TEMPLATE: Template = [
  '  over    | ',
  ['Dm7     G7'],
  '      | ',
  ['Cmaj7'],
  '   |\n  line    | ',
  ['1-3 5-7 3-5 7-9'],
  ' | ',
  ['3 ~ . .'],
  ' |',
];

/** Progressions, bar by bar in numerals of a key. */
export const PROGRESSIONS: Readonly<Record<Key['mode'], readonly { readonly label: string; readonly bars: readonly string[] }[]>> = {
  major: [
    { label: 'ii-V-I', bars: ['ii7', 'V7', 'Imaj7'] },
    { label: 'ii-V-I short', bars: ['ii7 V7', 'Imaj7'] },
  ],
  minor: [
    { label: 'ii-V-i', bars: ['iim7b5', 'V7b9', 'i6'] },
    { label: 'ii-V-i short', bars: ['iim7b5 V7b9', 'i6'] },
  ],
};
