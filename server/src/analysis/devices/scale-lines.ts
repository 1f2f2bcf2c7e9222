import { formatNoteName, chroma } from '../../theory/pitch';
import { scale } from '../../theory/scale';
import type { Chord, NoteName, Scale, ScaleName } from '../../theory/types';
import { isDominant, isMinor } from '../harmonies';
import type { Finder, Match } from './device';
import { inScale, isChordTone, isStep, type Event, type Study } from './study';

/** Five notes or more wholly in a pentatonic, blues or bebop scale of a closed list of roots, not better told more simply (OMT). */
export const scaleLines: Finder = {
  kinds: ['pentatonic-line', 'blues-line', 'bebop-line'],
  layer: 'figure',
  find: (study) => stretches(study).flatMap((stretch) => line(study, stretch).slice(0, 1)),
};

const LEAST = 5;

/** The events over one chord symbol, unparted. */
function stretches({ events, reading }: Study): Event[][] {
  const found: Event[][] = [];
  for (const event of events) {
    const last = found[found.length - 1];
    const previous = last?.[last.length - 1];
    const sameChord = previous?.span != null && event.span !== null && reading.context.ofSpan[previous.span] === reading.context.ofSpan[event.span];
    if (sameChord && !event.opens) last!.push(event);
    else found.push([event]);
  }
  return found.filter((stretch) => stretch.length >= LEAST && stretch[0]!.chord !== null);
}

function line(study: Study, stretch: readonly Event[]): Match[] {
  const { chord } = stretch[0]!;
  const { tonic } = study.reading.context;
  return candidates(chord!, tonic?.tonic ?? null).flatMap(({ kind, scale: wanted }) => {
    const run = longestInside(stretch, wanted);
    if (run.length < LEAST || !isTold(kind, run, wanted)) return [];
    return [{ kind, notes: run.flatMap((event) => event.notes), target: null, detail: `${formatNoteName(wanted.root)} ${wanted.name}` }];
  });
}

interface Candidate {
  readonly kind: 'pentatonic-line' | 'blues-line' | 'bebop-line';
  readonly scale: Scale;
}

/** The closed list: which scales a chord is played with, blues first where its notes are heard. */
function candidates(chord: Chord, tonic: NoteName | null): Candidate[] {
  const on = (kind: Candidate['kind'], root: NoteName, name: ScaleName): Candidate => ({ kind, scale: scale(root, name) });
  const { root } = chord;
  const home = tonic ?? root;
  if (isDominant(chord)) {
    return [on('blues-line', home, 'minor blues'), on('blues-line', root, 'minor blues'), on('blues-line', root, 'major blues'), on('bebop-line', root, 'bebop dominant'), on('pentatonic-line', home, 'minor pentatonic'), on('pentatonic-line', root, 'major pentatonic'), on('pentatonic-line', root, 'minor pentatonic')];
  }
  if (isMinor(chord)) return [on('blues-line', root, 'minor blues'), on('bebop-line', root, 'bebop dorian'), on('pentatonic-line', root, 'minor pentatonic')];
  if (chord.family.startsWith('major')) return [on('bebop-line', root, 'bebop major'), on('pentatonic-line', root, 'major pentatonic')];
  return [];
}

function longestInside(stretch: readonly Event[], wanted: Scale): Event[] {
  let best: Event[] = [];
  let run: Event[] = [];
  for (const event of stretch) {
    run = inScale(wanted, event) ? [...run, event] : [];
    if (run.length > best.length) best = run;
  }
  return best;
}

/** The half step that a bebop scale adds, above its root. */
const ADDED: Partial<Record<ScaleName, number>> = { 'bebop dominant': 11, 'bebop major': 8, 'bebop dorian': 4 };

/** What makes the line of its kind, so that an arpeggio or a plain run is not called one. */
function isTold(kind: Candidate['kind'], run: readonly Event[], wanted: Scale): boolean {
  const above = run.map((event) => (chroma(event.note.pitch) - chroma(wanted.root) + 12) % 12);
  const distinct = new Set(above);
  if (distinct.size < 4) return false;
  switch (kind) {
    case 'blues-line':
      return wanted.name === 'minor blues' ? distinct.has(6) && distinct.has(3) : distinct.has(3) && distinct.has(4);
    case 'bebop-line':
      return run.some((event, i) => i > 0 && i < run.length - 1 && above[i] === ADDED[wanted.name] && isPassingHalfStep(event, run[i - 1]!, run[i + 1]!));
    case 'pentatonic-line':
      return run.some((event) => !event.basic) && run.filter((event, i) => i > 0 && isStep(run[i - 1]!, event)).length < run.length - 1;
  }
}

/** Off the beat and foreign, between two chord tones on beats, by step on both sides. */
function isPassingHalfStep(event: Event, previous: Event, next: Event): boolean {
  const between = Math.sign(event.midi - previous.midi) === Math.sign(next.midi - event.midi);
  const half = Math.abs(event.midi - previous.midi) === 1 || Math.abs(next.midi - event.midi) === 1;
  return !isChordTone(event) && event.weight < 1 && previous.weight >= 1 && next.weight >= 1 && isChordTone(previous) && isChordTone(next) && between && half && isStep(previous, event) && isStep(event, next);
}
