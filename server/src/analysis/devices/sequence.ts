import { staffPlace } from '../../theory/pitch';
import type { Find, Found } from './device';
import type { Event, Study } from './study';

/** Three notes or more, repeated at once with the same rhythm and generic intervals at another pitch (common practice). */
export const sequence: Find = (study) => {
  const found: Found[] = [];
  let from = 0;
  while (from < study.events.length) {
    const match = [6, 5, 4, 3].map((size) => repeated(study, from, size)).find((one) => one !== null) ?? null;
    if (match === null) from += 1;
    else {
      found.push(match.match);
      from += match.count;
    }
  }
  return found;
};

function repeated({ events }: Study, from: number, size: number): { match: Found; count: number } | null {
  const model = events.slice(from, from + size);
  let copies = 1;
  while (isCopy(model, events.slice(from + copies * size, from + (copies + 1) * size))) copies += 1;
  if (copies < 2) return null;
  const all = events.slice(from, from + copies * size);
  return { count: all.length, match: { notes: all.flatMap((event) => event.notes), target: null, detail: `${size} notes, ${copies} times` } };
}

function isCopy(model: readonly Event[], copy: readonly Event[]): boolean {
  if (copy.length !== model.length || copy.some((event) => event.opens) || copy[0]!.midi === model[0]!.midi) return false;
  // A model that only repeats one interval would make every scale a sequence.
  const steps = model.slice(1).map((event, i) => staffPlace(event.note.pitch) - staffPlace(model[i]!.note.pitch));
  if (new Set(steps.map(Math.sign)).size < 2) return false;
  return model.every((event, i) => {
    const other = copy[i]!;
    const sameRhythm = event.end.sub(event.onset).equals(other.end.sub(other.onset)) || i === model.length - 1;
    return sameRhythm && (i === 0 || staffPlace(event.note.pitch) - staffPlace(model[i - 1]!.note.pitch) === staffPlace(other.note.pitch) - staffPlace(copy[i - 1]!.note.pitch));
  });
}
