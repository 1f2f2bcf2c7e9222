/** The claims that hold of a phrase: what a lesson could say of it and be right. */
import { calledFigure } from '../../theory/called';
import { copyable } from '../../theory/figure';
import type { Chord, NoteName } from '../../theory/types';
import { formatNoteName, formatPitch } from '../../theory/pitch';
import { scaleText } from '../../theory/scale';
import type { Note } from '../../model/types';
import type { Match } from '../devices/device';
import { devicesOf } from '../devices/read';
import type { Reading } from '../types';
import { checkWords } from './check';

/** Without the keyword, likeliest first, each once; every one of them holds. None of a phrase without notes, of which anything could be said. */
export function holdingClaims(reading: Reading): readonly string[] {
  if (reading.phrase.notes.length === 0) return [];
  const candidates = [...wholePhrase(reading), ...resolutions(reading), ...landings(reading), ...devices(reading), ...range(reading)];
  return thoseThatHold([...new Set(candidates)], reading);
}

/** Of some claims, without the keyword, those that hold. */
export function thoseThatHold(claims: readonly string[], reading: Reading): string[] {
  return claims.filter((text) => checkWords(text.split(' '), reading).status === 'holds');
}

function wholePhrase(reading: Reading): string[] {
  const placed = reading.notes.filter((note) => note.placement !== null);
  const tones = placed.filter((note) => note.placement!.role === 'chord-tone').length;
  const percent = placed.length === 0 ? 0 : Math.floor((tones * 100) / placed.length);
  // A share below a half says nothing for the line.
  const share = percent >= 50 && percent < 100 ? [`chord-tones at least ${percent}%`] : [];
  const scales = reading.scales.flatMap((scale) => (scale === null ? [] : [`scale ${formatNoteName(scale.root)} ${scaleText(scale.name)}`]));
  return ['diatonic', 'chord-tones', ...share, 'no clash', ...scales];
}

/** Guide tones first: what a lesson names most. */
function resolutions({ notes }: Reading): string[] {
  const pairs = notes.flatMap(({ note, placement }) =>
    [notes[note + 1], notes[note + 2]].flatMap((next) => (placement === null || next?.placement == null ? [] : [`resolves ${placement.figure.number} to ${next.placement.figure.number}`])),
  );
  return ['resolves 7 to 3', 'resolves 3 to 7', ...pairs.sort()];
}

/** On strong places first. */
function landings(reading: Reading): string[] {
  const { notes, phrase } = reading;
  const landing = ({ note: index }: Reading['notes'][number]): string[] => {
    const note = phrase.notes[index]!;
    const chord = phrase.spans.findLast((span) => span.onset.compare(note.onset) <= 0)?.chord ?? null;
    return chord === null ? [] : [`lands ${called(chord, note.pitch, reading)} at ${placeOf(note)}`];
  };
  return [...notes.filter(({ strong }) => strong), ...notes.filter(({ strong }) => !strong)].flatMap(landing);
}

function devices(reading: Reading): string[] {
  const { phrase, notes } = reading;
  const found = devicesOf(reading);
  const one = (match: Match): string[] => {
    const at = `at ${placeOf(phrase.notes[match.target ?? match.notes[0]!]!)}`;
    const span = match.target === null ? null : (notes[match.target]!.placement?.span ?? null);
    const chord = span === null ? null : phrase.spans[span]!.chord;
    const of = match.kind === 'enclosure' && chord !== null ? [`enclosure of ${called(chord, phrase.notes[match.target!]!.pitch, reading)} ${at}`] : [];
    return [...of, `${match.kind} ${at}`];
  };
  return [...found.flatMap(one), ...new Set(found.map(({ kind }) => kind))];
}

function called(chord: Chord, note: NoteName, { numbers }: Reading): string {
  return copyable(chord, calledFigure(chord, note, { numbers, blue: false }));
}

function range({ phrase }: Reading): string[] {
  const sorted = [...phrase.notes].sort((a, b) => a.midi - b.midi);
  return [`range ${formatPitch(sorted[0]!.pitch)} to ${formatPitch(sorted[sorted.length - 1]!.pitch)}`];
}

function placeOf({ bar, beat }: Note): string {
  return `${bar}.${beat}`;
}
