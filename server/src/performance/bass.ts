/** The sounds of the bass: the root (or the written bass) under each chord, the fifth in the middle of a long bar. */
import { chroma } from '../theory/pitch';
import type { Playing } from './line';
import type { Score, Strike } from './score';
import type { Sound } from './types';
import { octavesOf } from './voicings';

/** MIDI numbers, inclusive: A1 to E3, the low register of a double bass (common practice). Every pitch class is in it. */
export const BASS = { low: 33, middle: 42, high: 52 } as const;

const VELOCITY = 0.6;

export function bassSounds({ bass }: Score, { seconds, shift }: Playing): Sound[] {
  let before: number = BASS.middle;
  return bass.map((strike): Sound => {
    const octaves = octavesOf(pitchClassOf(strike) + shift, BASS);
    before = octaves.reduce((nearest, note) => (Math.abs(note - before) < Math.abs(nearest - before) ? note : nearest));
    const at = seconds(strike.from);
    return { voice: 'bass', at, length: seconds(strike.to) - at, midi: [before], velocity: VELOCITY, accent: false };
  });
}

function pitchClassOf({ chord, middle }: Strike): number {
  const fifth = middle ? chord.tones.find(({ figure }) => figure.number === 5) : undefined;
  return chroma(fifth?.name ?? chord.bass ?? chord.root);
}
