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
    if (into !== undefined) return staysAsChordTone(soundings) || kept.has(note) ? [] : [{ notes: [note], target: null, detail: 'into a chord' }];
    return isTiedIntoBar(study, note) ? [{ notes: [note], target: null, detail: 'into a bar' }] : [];
  });
};

/** What changes at the bar line is the chord's to tell. */
function isTiedIntoBar({ reading: { phrase }, places }: Study, note: number): boolean {
  const { onset, duration } = phrase.notes[note]!;
  const bar = places.barAt(onset);
  const end = onset.add(duration);
  return phrase.bars.some((later) => later.number > bar.number && barLineOf(later).compare(onset) > 0 && barLineOf(later).compare(end) < 0);
}
