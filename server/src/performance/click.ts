/** The clicks: the count-in, and every felt beat. */
import { ZERO } from '../model/time';
import type { Score } from './score';
import type { Clock } from './swing';
import type { Sound } from './types';

/** Seconds. */
const LENGTH = 0.05;

export function clickSounds({ clicks }: Score, seconds: Clock): Sound[] {
  return clicks.map(({ at, accent }) => click(seconds(at), accent));
}

export interface CountIn {
  /** Seconds before the music, and the clicks in them. */
  readonly seconds: number;
  readonly sounds: readonly Sound[];
}

/**
 * Whole bars of clicks up to bar 1, or up to where a stretch without a pickup begins. A pickup sounds in the last of them; the beats
 * it covers are clicked with the music. `clock` is that of the first pass, `tempo` in beats a minute.
 */
export function countInOf({ bars, from }: Score, countIn: number, clock: Clock, tempo: number): CountIn {
  const { meter } = bars[0]!;
  const wholeBars = Number.isNaN(countIn) ? 0 : Math.min(4, Math.max(0, Math.round(countIn)));
  const anchor = from.compare(ZERO) < 0 ? ZERO : from;
  const pickup = clock(anchor) - clock(from);
  const counted = (wholeBars * meter.beatCount * 60) / tempo;
  const first = anchor.sub(meter.length.mul(wholeBars));
  const start = Math.max(0, pickup - counted);
  const sounds: Sound[] = [];
  for (let beat = 0; first.add(meter.beat.mul(beat)).compare(from) < 0; beat += 1)
    sounds.push(click(start + (beat * 60) / tempo, beat % meter.beatCount === 0));
  return { seconds: Math.max(0, counted - pickup), sounds };
}

function click(at: number, accent: boolean): Sound {
  return { voice: 'click', at, length: LENGTH, midi: [], velocity: accent ? 0.8 : 0.6, accent };
}
