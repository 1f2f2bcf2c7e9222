import { barLineOf } from '../../model/time';
import { staysAsChordTone } from './common-tone';
import type { Find } from './device';
import { keptNotes } from './kept';
import type { Study } from './study';

/** A note tied into another chord or bar, where neither a suspension, an anticipation nor a common tone tells it (common practice). */
export const heldOver: Find = (study) => {
  const kept = new Set([...keptNotes(study, 'down'), ...keptNotes(study, 'up')].flatMap(({ notes }) => notes));
  return study.reading.notes.flatMap(({ note, soundings, anticipation }) => {
    if (anticipation) return [];
    const into = soundings.find(({ held }) => held);
    if (into !== undefined)
      return staysAsChordTone(soundings) || kept.has(note) ? [] : [{ notes: [note], target: null, detail: 'into a chord' }];
    return isTiedIntoBar(study, note) ? [{ notes: [note], target: null, detail: 'into a bar' }] : [];
  });
};

/** What changes at the bar line is the chord's to tell. */
function isTiedIntoBar({ reading: { phrase }, places }: Study, note: number): boolean {
  const { onset, duration } = phrase.notes[note]!;
  const end = onset.add(duration);
  const [first, last] = [places.barAt(onset), places.barAt(end)];
  // A pickup may be the last bar that its own note sounds in before the bar line.
  const crossed = last.number - first.number - (barLineOf(last).compare(end) < 0 ? 0 : 1);
  return crossed > 0 && barLineOf(last).compare(onset) > 0;
}
