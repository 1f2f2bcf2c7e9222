/** The facts that the rules about single notes share: the note, its place, its chord, and where it wants to go. */
import type { Problem, RelatedPlace } from '../../../grammar/tree';
import { isWrittenStrangely, ownInstead, saidFigure } from '../analysis/shown-figure';
import { deviceInto } from '../analysis/devices/read';
import type { ChordPlacement, Excuse, NoteReading, Reading, Sounding, Verdict } from '../analysis/types';
import { chordOfPlacement } from '../analysis/vocabulary';
import { formatFigure } from '../theory/figure';
import { formatNoteName, formatPitch, spokenName, midi, nearestOctave } from '../theory/pitch';
import { formatScale } from '../theory/scale';
import type { Pitch } from '../theory/types';
import type { Facts } from './rule';
import { beatWords, degreeName, numberWord } from './words';

/** Every note with a verdict of that kind, as a problem of the rule. */
export function verdictProblems(reading: Reading, rule: string, wanted: (verdict: Verdict, note: number) => boolean): Problem[] {
  return reading.notes
    .filter(({ note, verdict }) => verdict !== null && wanted(verdict, note))
    .map((note) => {
      const verdict = note.verdict!;
      const sounding = note.soundings[verdict.sounding]!;
      return {
        rule,
        severity: verdict.level,
        range: reading.phrase.notes[note.note]!.range,
        facts: noteFacts(reading, note, sounding),
        fixes: [],
        related: relatedPlaces(reading, note, sounding),
        about: { note: note.note, sounding: verdict.sounding },
      };
    });
}

function noteFacts(reading: Reading, note: NoteReading, sounding: Sounding): Facts {
  const { phrase } = reading;
  const written = phrase.notes[note.note]!;
  const { placement } = sounding;
  const span = phrase.spans[placement.span]!;
  const scale = reading.scales[placement.span];
  const goal = goalOf(reading, note, sounding);
  const { meter } = phrase.bars.find((bar) => bar.number === sounding.bar)!;
  const beats = sounding.until.sub(sounding.at).div(meter.beat);
  return {
    note: formatNoteName(written.pitch),
    place: beatWords(sounding.beat),
    bar: sounding.bar,
    chord: span.symbol,
    figure: figureFact(reading, note.note, placement),
    role: placement.role,
    against: placement.against === null ? '' : numberWord(placement.against),
    scale: scale == null ? '' : formatScale(scale),
    to: goal === null ? '' : spokenName(goal),
    moves: goal === null || midi(goal) < written.midi ? 'fall' : 'rise',
    held: sounding.held ? 'yes' : 'no',
    beats: beats.toFraction(),
    reason: note.verdict!.reason,
    ...(sounding.excuse === null ? {} : excuseFacts(reading, note.note, sounding.excuse, formatNoteName)),
  };
}

/** `11`, `b9, written A#`; `major third, where the chord has F`. */
function figureFact(reading: Reading, note: number, placement: ChordPlacement): string {
  const own = ownInstead(reading, placement);
  if (own !== null) return `${degreeName(placement.called)}, where the chord has ${spokenName(own)}`;
  return `${saidFigure(reading, placement)}${isWrittenStrangely(reading, note, placement) ? `, written ${formatNoteName(reading.phrase.notes[note]!.pitch)}` : ''}`;
}

/** How a note resolves: where it goes, the device of the phrase that tells it (empty where none does), and the kind of excuse. */
export function excuseFacts(reading: Reading, note: number, { kind, to }: Excuse, format: (pitch: Pitch) => string): Facts {
  const device = deviceInto(reading, note, to);
  return { goes: format(reading.phrase.notes[to]!.pitch), device: device === null ? '' : device.kind.replaceAll('-', ' '), excuse: kind };
}

/** The chord tone the note should go to: the one it rubs against, else the nearest (below before above). */
export function goalOf(reading: Reading, note: NoteReading, sounding: Sounding): Pitch | null {
  const written = reading.phrase.notes[note.note]!;
  const chord = chordOfPlacement(reading, sounding.placement);
  if (chord === null) return null;
  const { against } = sounding.placement;
  const tones = against === null ? chord.tones : chord.tones.filter((tone) => formatFigure(tone.figure) === formatFigure(against));
  const placed = tones.map((tone) => nearestOctave(tone.name, written.midi)).filter((pitch) => midi(pitch) !== written.midi);
  const distance = (pitch: Pitch): number => Math.abs(midi(pitch) - written.midi) * 2 + (midi(pitch) > written.midi ? 1 : 0);
  return placed.sort((a, b) => distance(a) - distance(b))[0] ?? null;
}

function relatedPlaces(reading: Reading, note: NoteReading, sounding: Sounding): RelatedPlace[] {
  const { phrase } = reading;
  const span = phrase.spans[sounding.placement.span]!;
  const tones =
    span.chord === null ? '' : span.chord.tones.map((tone) => `${spokenName(tone.name)} ${formatFigure(tone.figure)}`).join(', ');
  const related: RelatedPlace[] = [{ range: span.range, text: `${span.symbol} holds ${tones}.` }];
  const next = phrase.notes[note.note + 1];
  const goal = goalOf(reading, note, sounding);
  if (goal !== null && next !== undefined) {
    related.push({
      range: next.range,
      text: `The note that follows is ${formatPitch(next.pitch)}; ${spokenName(goal)} is where it wants to go.`,
    });
  }
  return related;
}
