/** Runs over a dominant that are in an altered or a diminished scale, and which of them are heard to be. */
import type { Device } from '../../analysis/devices/device';
import type { Reading } from '../../analysis/types';
import { chroma } from '../../theory/pitch';
import { scale } from '../../theory/scale';
import type { ScaleName } from '../../theory/types';
import { FEW, scaleTold, talkOf } from '../device-words';

/** Scales that share many notes over a dominant: a few notes may lie in two of them. */
const ALIKE: readonly ScaleName[] = ['altered', 'half-whole diminished', 'mixolydian b9 b13'];

/** Whether a run would be named by such a scale though all its notes lie in another one, too: E-Eb-Db-C-Bb over C7 is altered and diminished. Its figures say more. */
export function isOfTwoScales(reading: Reading, device: Pick<Device, 'notes' | 'target' | 'detail'>): boolean {
  const talk = talkOf(device, reading);
  const own = scaleTold(talk);
  if (own === null || !ALIKE.includes(own.name) || talk.notes.length > FEW) return false;
  return ALIKE.some((name) => {
    const { sounds } = scale(own.root, name);
    return name !== own.name && talk.notes.every((note) => sounds.has(chroma(reading.phrase.notes[note]!.pitch)));
  });
}
