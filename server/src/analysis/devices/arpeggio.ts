import { chroma, soundClass } from '../../theory/pitch';
import { move } from '../vocabulary';
import type { Find } from './device';
import { runs, type Event } from './study';

/** Three or more notes in one direction through neighbouring chord tones; 3-5-7-9 counts (common practice). */
export const arpeggio: Find = (study) =>
  runs(study.events, 3, arpeggiates).map((run) => ({
    notes: run.flatMap((event) => event.notes),
    target: null,
    detail: move(run[0]!, run[1]!) > 0 ? 'rising' : 'falling',
  }));

/** Whether a run of chord tones over one chord goes on to a neighbouring one, by a third or more. */
export function arpeggiates(from: Event, to: Event, run: readonly Event[]): boolean {
  if (from.chord === null || from.span !== to.span || !isOfStack(from) || !isOfStack(to)) return false;
  const size = move(from, to);
  if (Math.abs(size) < 3 || (run.length > 1 && Math.sign(move(run[0]!, run[1]!)) !== Math.sign(size))) return false;
  if (from.role !== 'chord-tone' && to.role !== 'chord-tone') return false;
  return Math.abs(size) <= 4 || !skips(from, to);
}

/** A chord tone, or the 9 on top of the stack of thirds. */
function isOfStack(event: Event): boolean {
  return event.role === 'chord-tone' || (event.read.placement?.figure.number === 9 && event.role === 'tension');
}

/** Whether a basic tone of the chord lies strictly between two notes. */
function skips(from: Event, to: Event): boolean {
  const low = Math.min(from.midi, to.midi);
  const high = Math.max(from.midi, to.midi);
  const basic = new Set(from.chord!.tones.filter((tone) => tone.basic).map((tone) => chroma(tone.name)));
  for (let sound = low + 1; sound < high; sound += 1) if (basic.has(soundClass(sound))) return true;
  return false;
}
