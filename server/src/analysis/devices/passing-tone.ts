import { isStep, move } from '../vocabulary';
import type { Find, Found } from './device';
import { after, before, inScale, type Event, type Study } from './study';

/** One or two notes by step in one direction between two chord tones or tensions (OMT). */
export const passingTone: Find = (study) => study.events.flatMap((event) => [...passing(study, [event]), ...passingTwo(study, event)]);

function passingTwo(study: Study, event: Event): Found[] {
  const second = after(study, event);
  return second === null ? [] : passing(study, [event, second]);
}

function passing(study: Study, notes: readonly Event[]): Found[] {
  const previous = before(study, notes[0]!);
  const next = after(study, notes[notes.length - 1]!);
  if (previous === null || next === null || notes.some((event) => event.basic || event.chord === null)) return [];
  // What is struck again is dwelt on, not passed.
  const isStruckAgain = (event: Event): boolean => event.notes.length > 1;
  if (notes.some(isStruckAgain) || (isStruckAgain(previous) && isStruckAgain(next))) return [];
  const chain = [previous, ...notes, next];
  const direction = Math.sign(move(previous, notes[0]!));
  const onward = chain.every(
    (event, i) => i === 0 || (isStep(chain[i - 1]!, event) && Math.sign(move(chain[i - 1]!, event)) === direction),
  );
  const settled = (event: Event): boolean => event.role === 'chord-tone' || event.role === 'tension' || event.role === 'blue';
  if (!onward || !settled(previous) || !settled(next)) return [];
  // A tension between two chord tones is told by one passing note; two are needed only where neither end of one would do.
  if (notes.length === 2 && notes.some((event) => settled(event))) return [];
  const colour = notes.every((event) => inScale(event.scale, event)) ? 'diatonic' : 'chromatic';
  return [
    { notes: notes.flatMap((event) => event.notes), target: next.notes[0]!, detail: `${colour}, ${direction > 0 ? 'rising' : 'falling'}` },
  ];
}
