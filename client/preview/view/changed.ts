/** What other options change. */
import type { ViewOptions } from '../../src/score/messages';
import type { PageOptions } from '../phrases/room';

const PICTURED = ['degrees', 'devices', 'walkthrough', 'size'] as const satisfies readonly (keyof PageOptions)[];
const SOUNDS = ['loop', 'ratio', 'step', 'rise', 'order'] as const;

/** Whether the page is to be drawn anew. Another scope or pitch comes with another score. */
export function changesPicture(before: ViewOptions, after: ViewOptions): boolean {
  return PICTURED.some((name) => after[name] !== before[name]);
}

/** Whether what plays is to be made anew. Levels and muting are heard without that. */
export function changesSound(before: ViewOptions, after: ViewOptions): boolean {
  return SOUNDS.some((name) => after[name] !== before[name]);
}
