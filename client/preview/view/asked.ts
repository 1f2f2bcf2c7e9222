/** What is asked to be played, and what it is to sound as. */
import type { Practice, ScorePhrase, Stretch, ViewOptions, What } from '../../src/score/messages';
import type { Repeat } from '../playing/state';
import type { Cursor } from './cursor';

export interface Asked {
  readonly what: What;
  readonly kind: Practice['kind'];
}

/** The stretch of a phrase (null: all of it); `none` where nothing is selected, or no note tells the bar. */
export function stretchOf(
  { notes, bars }: Pick<ScorePhrase, 'notes' | 'bars'>,
  what: What,
  cursor: Pick<Cursor, 'note' | 'selection'>,
): Stretch | null | 'none' {
  if (what === 'phrase') return null;
  if (what === 'selection') return cursor.selection ?? 'none';
  const note = cursor.note === null ? undefined : notes[cursor.note];
  const bar = note === undefined ? undefined : bars.find(({ from, to }) => note.onset >= from && note.onset < to);
  return bar === undefined ? 'none' : { from: bar.from, to: bar.to };
}

/** `tempo`: the one that is played, in beats a minute. */
export function practiceOf(kind: Practice['kind'], tempo: number, { step, rise, order }: ViewOptions): Practice {
  if (kind === 'faster') return { kind, step, top: tempo + rise };
  return kind === 'keys' ? { kind, order } : { kind };
}

/** A bar is asked for to hear it again and again; what is practised goes on until it is stopped. */
export function repeatOf({ what, kind }: Asked, { loop }: Pick<ViewOptions, 'loop'>): Repeat {
  if (kind === 'faster') return 'last';
  return kind === 'keys' || what === 'bar' || loop ? 'all' : 'none';
}
