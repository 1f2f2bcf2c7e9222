import type { Finder, Match } from './device';
import { isBasic, type Study } from './study';

/** A tone of the next chord, sounded before it: held into the change, left alone there, or struck again with it (OMT). */
export const anticipation: Finder = {
  kinds: ['anticipation'],
  layer: 'ornament',
  find: (study) => [
    ...study.reading.notes.filter((note) => note.anticipation).map(({ note }) => matchOf(note, follower(study, note))),
    ...struckAgain(study),
  ],
};

/** Notes that the chord's coming in strikes again. They are heard against their own chord: the change has a note of its own. */
function struckAgain(study: Study): Match[] {
  const { reading, places } = study;
  return reading.notes.flatMap((read) => {
    const note = reading.phrase.notes[read.note]!;
    const target = follower(study, read.note);
    const change = places.nextChange(note.onset);
    const own = read.placement?.span ?? null;
    const next = target === null ? null : (reading.notes[target]!.placement?.span ?? null);
    if (read.anticipation || read.pickup || places.isStrong(note.onset) || target === null || change === null || own === null || next === null) return [];
    const isAtChange = reading.phrase.notes[target]!.onset.equals(change.at);
    if (!isAtChange || change.at.sub(note.onset).compare(places.barAt(note.onset).meter.beat) > 0) return [];
    const [before, after] = [reading.phrase.spans[own]!.chord, reading.phrase.spans[next]!.chord];
    return before === null || after === null || isBasic(before, note) || !isBasic(after, note) ? [] : [matchOf(read.note, target)];
  });
}

/** The next note, where it sounds the same. */
function follower({ reading: { phrase } }: Study, note: number): number | null {
  const next = phrase.notes[note + 1];
  return next !== undefined && next.midi === phrase.notes[note]!.midi ? next.index : null;
}

function matchOf(note: number, target: number | null): Match {
  return { kind: 'anticipation', notes: [note], target, detail: '' };
}
