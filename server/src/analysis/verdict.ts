/** What is said about a note: the table of THEORY ("Where it falls, and what is said"), row by row. */
import type { Note } from '../model/types';
import type { MelodicContext } from './excuse';
import type { NoteReading, Sounding, Verdict } from './types';
import { isLeap, nextOther } from './vocabulary';

const ORDER = { warning: 0, information: 1, hint: 2 } as const;

/** The gravest thing to say of a note over the chords it sounds in; null where there is nothing to say. */
export function verdictOf(reading: Pick<NoteReading, 'soundings'>, note: Note, context: MelodicContext): Verdict | null {
  if (context.slips.has(note.index)) return null;
  let gravest: Verdict | null = null;
  reading.soundings.forEach((sounding, i) => {
    const said = soundingVerdict(sounding, context) ?? borrowedLeap(sounding, note, context);
    if (said !== null && (gravest === null || ORDER[said.level] < ORDER[gravest.level])) gravest = { ...said, sounding: i };
  });
  return gravest;
}

type Said = Omit<Verdict, 'sounding'>;

function soundingVerdict(sounding: Sounding, context: MelodicContext): Said | null {
  const { role } = sounding.placement;
  if (role !== 'avoid' && role !== 'outside') return null;
  const reason = reasonOf(sounding, context);
  if (reason === null) return null;
  if (sounding.excuse !== null) {
    return reason === 'strong' || reason === 'long' ? { level: 'hint', reason } : null;
  }
  return { level: gravity(reason, role, sounding, context), reason };
}

/** The first row of the table that fits; null for a short offbeat. */
function reasonOf(sounding: Sounding, { places }: MelodicContext): Verdict['reason'] | null {
  const { beat } = places.barAt(sounding.at).meter;
  const beats = sounding.until.sub(sounding.at).div(beat);
  if (sounding.strong) return 'strong';
  if (beats.compare(2) >= 0) return 'long';
  const strong = places.nextStrong(sounding.at);
  if (strong !== null && strong.sub(sounding.at).compare(beat) < 0 && sounding.until.sub(strong).compare(beat) >= 0) return 'push';
  if (places.isOnBeat(sounding.at)) return 'beat';
  return beats.compare(1) >= 0 ? 'offbeat-long' : null;
}

function gravity(reason: Verdict['reason'], role: 'avoid' | 'outside', sounding: Sounding, { places }: MelodicContext): Verdict['level'] {
  if (reason === 'strong' || reason === 'long' || reason === 'push') return 'warning';
  const lastsBeat = sounding.until.sub(sounding.at).compare(places.barAt(sounding.at).meter.beat) >= 0;
  return reason === 'beat' && lastsBeat && role === 'outside' ? 'warning' : 'information';
}

/** A borrowed tension that lasts a beat or more and is left by leap to no chord tone. */
function borrowedLeap(sounding: Sounding, note: Note, context: MelodicContext): Said | null {
  if (!sounding.placement.borrowed) return null;
  const { beat } = context.places.barAt(sounding.at).meter;
  if (sounding.until.sub(sounding.at).compare(beat) < 0) return null;
  const next = nextOther(note, context);
  if (next === null || !isLeap(note, next) || context.roles[next.index] === 'chord-tone') return null;
  return { level: 'hint', reason: 'borrowed-leap' };
}
