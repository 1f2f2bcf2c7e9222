/** Taking notes out of a line: their time goes to the note before, or to the one they lean on. */
import { firstExcuse } from '../../analysis/excuse';
import type { Fraction } from '../../model/fraction';
import type { Device, DeviceKind } from '../../analysis/devices/device';
import type { Reading } from '../../analysis/types';
import { ZERO } from '../../model/time';
import type { Note } from '../../model/types';
import { soundsOf, type Sound } from '../writing/score';

/** Devices whose notes stand in the place of their target: without them the target comes at once. */
const LEANING: ReadonlySet<DeviceKind> = new Set(['appoggiatura', 'suspension', 'retardation']);

/**
 * The sounds of a line without some of its notes. The time of a note that is left out goes to the note before it; where it stood
 * on the beat in place of the note it resolves to, or nothing stood before it, to the next one that stays. Rests stay rests.
 */
export function without(reading: Reading, dropped: ReadonlySet<number>): Sound[] {
  const leaning = leaningNotes(reading);
  const sounds = soundsOf(reading.phrase);
  const kept: Sound[] = [];
  let waiting: Fraction | null = null;
  sounds.forEach((sound, i) => {
    const last = kept[kept.length - 1];
    const joined = last !== undefined && last.end.equals(sound.onset);
    if (dropped.has(i)) {
      if (waiting === null && joined && !leaning.has(i)) kept[kept.length - 1] = { ...last, end: sound.end };
      else if (waiting === null) waiting = sound.onset;
      return;
    }
    const before: Sound | undefined = sounds[i - 1];
    const onset: Fraction = waiting !== null && leaning.has(i - 1) && before!.end.equals(sound.onset) ? waiting : sound.onset;
    waiting = null;
    // A note that only came back from its neighbour is not struck again.
    const comesBack = i > 0 && dropped.has(i - 1) && joined && last.like.midi === sound.like.midi && onset.compare(ZERO) > 0;
    if (comesBack) kept[kept.length - 1] = { ...last, end: sound.end };
    else kept.push({ ...sound, onset });
  });
  return kept;
}

/** The notes that are to give way to what they resolve to. */
function leaningNotes(reading: Reading): ReadonlySet<number> {
  return new Set(reading.notes.flatMap((read) => (read.strong && firstExcuse(read)?.to === read.note + 1 ? [read.note] : [])));
}

/** The notes of a device that may go, so that the line it adorns is left; null where it is no adornment. */
export function adornment({ kind, notes, target }: Device, line: readonly Note[]): readonly number[] | null {
  if (ADORNING.has(kind)) return target === null && LEANING.has(kind) ? null : notes;
  if (kind === 'mordent') return notes.slice(1);
  // A turn is told by its second note, the main one.
  if (kind === 'turn') return notes.filter((note, i) => i !== 1 && line[note] !== undefined);
  return null;
}

const ADORNING: ReadonlySet<DeviceKind> = new Set([
  'enclosure',
  'double-chromatic',
  'suspension',
  'retardation',
  'appoggiatura',
  'approach',
  'neighbour-tone',
  'passing-tone',
  'escape-tone',
  'chromatic-run',
  'triplet-arpeggio',
]);

/** The chord tones on strong places, and the notes that a strong note which is none resolves to: what is left of a line at its barest. */
export function skeletonNotes({ notes, phrase }: Reading): ReadonlySet<number> {
  const kept = new Set<number>();
  for (const read of notes) {
    const { note, strong, pickup, placement, anticipation } = read;
    if (pickup) continue;
    const excuse = firstExcuse(read);
    const isChordTone = placement !== null && placement.role === 'chord-tone';
    if (isChordTone && (strong || anticipation)) kept.add(note);
    if (!isChordTone && strong && excuse !== null && excuse.to === note + 1) kept.add(excuse.to);
  }
  const first = notes.find(({ pickup, placement }) => !pickup && placement?.role === 'chord-tone');
  if (kept.size === 0 && first !== undefined && phrase.notes.length > 0) kept.add(first.note);
  return kept;
}

/** All notes but some. */
export function others({ phrase }: Reading, kept: ReadonlySet<number>): ReadonlySet<number> {
  return new Set(phrase.notes.map(({ index }) => index).filter((index) => !kept.has(index)));
}
