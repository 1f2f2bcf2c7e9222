/** The claims that hold of a phrase: what a lesson could say of it and be right. */
import { calledFigure } from '../../theory/called';
import { copyable, formatFigure } from '../../theory/figure';
import type { Chord, NoteName, Scale } from '../../theory/types';
import { formatNoteName, formatPitch } from '../../theory/pitch';
import { scaleText } from '../../theory/scale';
import type { Note } from '../../model/types';
import type { DeviceKind, Match } from '../devices/device';
import { devicesOf } from '../devices/read';
import { placesOf } from '../places';
import type { ChordPlacement, Reading } from '../types';
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
  return ['diatonic', 'chord-tones', ...share, 'no clash', ...scales(reading)];
}

/** The scale of the only chord there is, and those of lines in one; of several chords `diatonic` says it. */
function scales(reading: Reading): string[] {
  const named = (scale: Scale): string => `scale ${formatNoteName(scale.root)} ${scaleText(scale.name)}`;
  const ofChords = new Set(reading.scales.flatMap((scale) => (scale === null ? [] : [named(scale)])));
  return [
    ...(ofChords.size === 1 ? ofChords : []),
    ...devicesOf(reading).flatMap(({ scale }) => (scale === undefined ? [] : [named(scale)])),
  ];
}

/** What a lesson calls a resolution: guide tones first, then tensions, leading tones, suspensions, notes that lean on the next. */
const RESOLVING: readonly DeviceKind[] = ['guide-tone-resolution', 'tension-resolution', 'leading-tone', 'suspension', 'appoggiatura'];

function resolutions(reading: Reading): string[] {
  const found = devicesOf(reading);
  return RESOLVING.flatMap((kind) =>
    found
      .filter((match) => match.kind === kind)
      .flatMap((match): string[] => {
        const [from, to] = [lastPlacement(reading, match.notes), reading.notes[match.target!]!.placement];
        // A chord tone that another chord takes over is told by its numbers, a tension by its colour.
        const name = ({ called: figure, role }: ChordPlacement): string =>
          role === 'chord-tone' ? String(figure.number) : formatFigure(figure);
        return from === null || to === null ? [] : [`resolves ${name(from)} to ${name(to)}`];
      }),
  );
}

/** A suspension is what it is over the chord that it is held into. */
function lastPlacement({ notes }: Reading, device: readonly number[]): ChordPlacement | null {
  const last = notes[device[device.length - 1]!]!;
  return last.soundings.at(-1)?.placement ?? last.placement;
}

/** Where a line comes to rest: on strong places first, then where a note lasts a beat or anticipates. Never a note of which something is to be said. */
function landings(reading: Reading): string[] {
  const { notes, phrase } = reading;
  const places = placesOf(phrase, reading.context);
  const lasts = ({ onset, duration }: Note): boolean => duration.compare(places.barAt(onset).meter.beat) >= 0;
  const rests = notes.filter(
    ({ note, verdict, pickup, strong, anticipation }) =>
      verdict === null && !pickup && (strong || anticipation || lasts(phrase.notes[note]!)),
  );
  const landing = ({ note: index }: Reading['notes'][number]): string[] => {
    const note = phrase.notes[index]!;
    const chord = phrase.spans.findLast((span) => span.onset.compare(note.onset) <= 0)?.chord ?? null;
    return chord === null ? [] : [`lands ${called(chord, note.pitch, reading)} at ${placeOf(note)}`];
  };
  return [...rests.filter(({ strong }) => strong), ...rests.filter(({ strong }) => !strong)].flatMap(landing);
}

function devices(reading: Reading): string[] {
  const { phrase, notes } = reading;
  const found = devicesOf(reading);
  const one = (match: Match): string[] => {
    const at = `at ${placeOf(phrase.notes[match.target ?? match.notes[0]!]!)}`;
    const span = match.target === null ? null : (notes[match.target]!.placement?.span ?? null);
    const chord = span === null ? null : phrase.spans[span]!.chord;
    const of =
      match.kind === 'enclosure' && chord !== null
        ? [`enclosure of ${called(chord, phrase.notes[match.target!]!.pitch, reading)} ${at}`]
        : [];
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
