/** How often the music is played, how fast and in which keys. */
import { homeKey, otherTonics } from '../analysis/keys';
import type { Reading } from '../analysis/types';
import { soundingRange } from '../theory/part';
import { chroma, formatNoteName, midi, parseNoteName, soundClass } from '../theory/pitch';
import type { Score } from './score';
import { held, quarterSeconds, ratioAt } from './swing';
import type { Pass, TakeOptions } from './types';

export type PassPlan = Pick<Pass, 'tempo' | 'ratio' | 'shift' | 'tonic'>;

const SLOWEST = 20;
const FASTEST = 400;
const STRAIGHTEST = 1;
const HARDEST_SWING = 4;
const MOST_PASSES = 60;

export function passesOf(reading: Reading, score: Score, options: TakeOptions): PassPlan[] {
  const { practice } = options;
  const written = reading.phrase.tempo.bpm;
  const tempo = held(options.tempo === null || Number.isNaN(options.tempo) ? written : options.tempo, SLOWEST, FASTEST);
  const key = homeKey(reading);
  const tonic = key === null ? null : formatNoteName(key.tonic);
  const planned = (at: number, keyOfPass = { shift: 0, tonic }): PassPlan => ({
    tempo: at,
    ratio: ratioOf(reading, score, options, at),
    ...keyOfPass,
  });
  switch (practice.kind) {
    case 'plain':
      return [planned(tempo)];
    case 'faster':
      return temposUpTo(tempo, practice.step, practice.top).map((at) => planned(at));
    case 'keys':
      return keysOf(reading, practice.order).map(({ shift, tonic: name }) =>
        planned(tempo, { shift: inRange(shift, reading, score), tonic: name }),
      );
  }
}

/** One ratio a pass, by the first meter that can swing. Where none can, the pass is straight whatever is asked. */
function ratioOf({ phrase }: Reading, { bars }: Score, { ratio }: TakeOptions, tempo: number): number {
  const simple = bars.find(({ meter }) => !meter.compound);
  if (simple === undefined) return STRAIGHTEST;
  if (ratio !== null && !Number.isNaN(ratio)) return held(ratio, STRAIGHTEST, HARDEST_SWING);
  if (phrase.tempo.feel === 'straight') return STRAIGHTEST;
  const written = phrase.tempo.ratio;
  return written === null ? ratioAt(1000 * quarterSeconds(simple.meter, tempo)) : held(written[0] / written[1], STRAIGHTEST, HARDEST_SWING);
}

/** From a tempo up to `top`, which is the last. Where the steps would be too many, they are made as much larger as it takes. */
function temposUpTo(tempo: number, step: number, top: number): number[] {
  const last = Math.min(top, FASTEST);
  if (!(last > tempo)) return [tempo];
  const asked = held(Number.isNaN(step) ? 1 : step, 1, 40);
  const count = Math.min(MOST_PASSES, Math.ceil((last - tempo) / asked) + 1);
  const taken = Math.max(asked, (last - tempo) / (count - 1));
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? last : tempo + i * taken));
}

/** The twelve keys, the phrase's own first: half steps up from it (0 to 11), and the tonic where the key is known. */
function keysOf(reading: Reading, order: 'cycle' | 'half-steps'): { shift: number; tonic: string | null }[] {
  const key = homeKey(reading);
  // A fifth down is a fourth up: five half steps.
  if (key === null) return Array.from({ length: 12 }, (_, i) => ({ shift: (i * (order === 'cycle' ? 5 : 1)) % 12, tonic: null }));
  const others = otherTonics(key, order).map((tonic) => ({ shift: soundClass(chroma(parseNoteName(tonic)!) - chroma(key.tonic)), tonic }));
  return [{ shift: 0, tonic: formatNoteName(key.tonic) }, ...others];
}

/** A shift up, or the same an octave lower: whichever keeps more notes in the part's range, then the smaller move (up, if equal). */
function inRange(shift: number, { phrase }: Reading, { notes }: Score): number {
  // The first pass is the phrase as written, whatever its range.
  if (shift === 0) return 0;
  const { low, high } = soundingRange(phrase.part);
  const inside = (by: number): number => notes.filter(({ note }) => note.midi + by >= midi(low) && note.midi + by <= midi(high)).length;
  const down = shift - 12;
  const gain = inside(down) - inside(shift);
  return gain > 0 || (gain === 0 && -down < shift) ? down : shift;
}
