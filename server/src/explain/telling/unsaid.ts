/** What is heard without being named, and what is told elsewhere. */
import type { Device } from '../../analysis/devices/device';
import { devicesAt, devicesOf } from '../../analysis/devices/read';
import { ofReading } from '../../analysis/of-reading';
import { placesOf } from '../../analysis/places';
import { colourOfVamp } from '../../analysis/setting';
import type { Reading } from '../../analysis/types';
import { chordOfPlacement, isDominant } from '../../analysis/vocabulary';
import { chroma } from '../../theory/pitch';
import { wordsOf } from '../device-words';
import { isFlatTension } from './harmony-points';
import { isToldNeighbour } from './neighbours';
import { isAlongBass } from './passing-chords';
import { BESIDES } from './point';
import { isHeard, isOfFigures, isRepeated, isToldAtOnce } from './sequences';
import { isByHalfSteps, isFlagged, mostFigures, type Stretch } from './stretch';
import { stretchesOf } from './stretches';

/** Ornaments in the scale are heard without being named; a chromatic one is worth a word. */
export function goesWithoutSaying(reading: Reading, device: Device, stretch: Stretch): boolean {
  const words = wordsOf(device.kind);
  if (words.weight < 4 && !isForeign(reading, device)) return true;
  // What is told as a stretch elsewhere is told there.
  if (words.stretch > 0 && !['enclosure', 'double-chromatic', 'sequence'].includes(device.kind)) return true;
  // What bars before did is told where it is done again.
  if (device.kind === 'sequence' && isRepeated(reading, device)) return true;
  if (device.kind === 'sequence' && !isHeard(reading, device)) return true;
  // Two statements of three notes are heard where each begins with a beat, or goes there and back.
  if (device.kind === 'sequence' && device.notes.length === 6 && !isToldAtOnce(reading, device) && !isThereAndBack(reading, device))
    return true;
  // The colour of a vamp is told where it is first heard.
  if (device.kind === 'modal-colour' && devicesOf(reading).some((other) => other.kind === 'modal-colour' && other.from < device.from))
    return true;
  // An altered tension that the figures of the stretch name belongs to the dominant.
  if (
    ['passing-tone', 'approach', 'appoggiatura'].includes(device.kind) &&
    isSpelledOut(stretch) &&
    device.notes.every((note) => isAltered(reading, note))
  )
    return true;
  // The words of a stretch have told the neighbour.
  if (['neighbour-tone', 'tension-resolution'].includes(device.kind) && isToldNeighbour(reading, device, stretch)) return true;
  // An enclosure tells that its target comes early.
  if (device.kind === 'anticipation' && enclosuresOf(reading, device.from).some((one) => isTold(reading, one, stretch))) return true;
  if (device.kind === 'tension-resolution' && isApproach(reading, device)) return true;
  const isInStretch =
    isByHalfSteps(reading, stretch) ||
    (stretch.as === 'device' && ['chromatic-run', 'bebop-line', 'scale-run'].includes(stretch.device!.kind));
  if (
    isInStretch &&
    (['passing-tone', 'approach', 'neighbour-tone', 'double-chromatic'].includes(device.kind) ||
      (device.kind === 'tension-resolution' && (isWithinChord(reading, device) || stretch.device?.kind === 'chromatic-run')))
  )
    return true;
  // A line whose figures go from the one to the other says it: b9-1-b7-5.
  if (
    device.kind === 'tension-resolution' &&
    stretch.as === 'line' &&
    device.target === device.to + 1 &&
    device.target <= stretch.to &&
    isSpelledOut(stretch)
  )
    return true;
  // A note that more than one other parts from its target is not heard to lead there.
  if (BESIDES.has(device.kind) && device.target! > device.to + 2) return true;
  // Where a run leads, it says.
  if (stretch.device?.kind === 'scale-run' && device.kind === 'tension-resolution' && device.target === stretch.device.to) return true;
  // A tension that goes elsewhere first is not heard to resolve within its chord.
  if (device.kind === 'tension-resolution' && isWithinChord(reading, device) && device.target! > device.to + 1) return true;
  // What only comes back after other notes leads nowhere.
  if (
    device.kind === 'guide-tone-resolution' &&
    device.target! > device.to + 1 &&
    reading.phrase.notes[device.target!]!.midi === reading.phrase.notes[device.to]!.midi
  )
    return true;
  // A passing chord takes its tones along with the bass.
  if (isAlongBass(reading, device)) return true;
  // Where a pickup leads, it says.
  if (reading.phrase.notes[stretch.to]!.bar === 0 && words.weight < 4) return true;
  // A ninth or thirteenth on its way, that figures name with the note that it goes to, has said it.
  if (
    device.kind === 'passing-tone' &&
    stretch.as === 'line' &&
    isSpelledOut(stretch) &&
    device.target! <= stretch.to &&
    device.notes.every((note) => isMild(reading, note))
  )
    return true;
  // What leans is heard to lean where it rubs.
  if (
    device.kind === 'appoggiatura' &&
    (isColour(reading, device.notes[0]!) || isMild(reading, device.notes[0]!) || isAltered(reading, device.target!))
  )
    return true;
  // The notes belong to the figures that are told, or to a finding.
  if (device.kind === 'enclosure' && (isOfFigures(reading, device) || device.notes.some((note) => isFlagged(reading, note)))) return true;
  if (device.kind === 'enclosure' && isFirstStep(reading, device, stretch)) return true;
  // A long last note, or one from a beat on, is no event at the bar line.
  if (device.kind === 'held-over' && device.detail === 'into a bar' && !isSyncopated(reading, device)) return true;
  return false;
}

function enclosuresOf(reading: Reading, note: number): readonly Device[] {
  return devicesAt(reading, note).filter(({ kind, target }) => kind === 'enclosure' && target === note);
}

/** Whether an enclosure is told as a stretch, or beside one. */
function isTold(reading: Reading, enclosure: Device, stretch: Stretch): boolean {
  return stretchesOf(reading).some(({ device }) => device === enclosure) || !goesWithoutSaying(reading, enclosure, stretch);
}

/** Notes of an enclosure of which the last is heard as an approach, and as nothing of its chord. */
const MANY_ENCLOSING = 4;

/** Whether a tension is no more than the approach within an enclosure: the last of four notes, or one that rises though it is flat. */
export function isApproach(reading: Reading, { from, target }: Device): boolean {
  if (target === null) return false;
  const isRising = reading.phrase.notes[from]!.midi < reading.phrase.notes[target]!.midi;
  const isFlat = isFlatTension(reading.notes[from]!.placement!.called);
  return enclosuresOf(reading, target).some(
    ({ notes }) => (notes.includes(from) && isRising && isFlat) || (notes.length >= MANY_ENCLOSING && notes[notes.length - 1] === from),
  );
}

/** Whether the figures of a stretch have told the notes that wrap a target, and a scale over the same chord begins with the last of them and goes through the target. */
function isFirstStep(reading: Reading, { notes, target }: Device, stretch: Stretch): boolean {
  const last = notes[notes.length - 1]!;
  return (
    isSpelledOut(stretch) &&
    reading.notes[last]!.placement?.span === reading.notes[target!]!.placement?.span &&
    notes.every((note) => note >= stretch.from && note <= stretch.to) &&
    stretchesOf(reading).some(
      ({ device, from, to }) => device?.kind === 'scale-run' && device.notes.includes(last) && from <= target! && to > target!,
    )
  );
}

/** Each note comes back to the first, within a bar; over a bar line both statements begin with a beat, or both beside it. */
function isThereAndBack({ phrase, context }: Reading, { notes: [first, , third, fourth] }: Device): boolean {
  const places = placesOf(phrase, context);
  const isWithinBar = phrase.notes[first!]!.bar === phrase.notes[fourth!]!.bar;
  return (
    phrase.notes[first!]!.midi === phrase.notes[third!]!.midi &&
    (isWithinBar || places.isOnBeat(phrase.notes[first!]!.onset) === places.isOnBeat(phrase.notes[fourth!]!.onset))
  );
}

function isSyncopated({ phrase, context }: Reading, { from }: Device): boolean {
  return !placesOf(phrase, context).isOnBeat(phrase.notes[from]!.onset);
}

/** Whether a note of it is none of the scale that its chord has there. */
function isForeign(reading: Reading, { notes }: Device): boolean {
  return notes.some((note) => {
    const { placement } = reading.notes[note]!;
    const scale = placement === null ? null : reading.scales[placement.span];
    return (
      placement?.role === 'outside' ||
      placement?.borrowed === true ||
      (scale != null && !scale.sounds.has(chroma(reading.phrase.notes[note]!.pitch)))
    );
  });
}

/** The colour of a vamp's mode, which is told as that. */
function isColour(reading: Reading, note: number): boolean {
  return chroma(reading.phrase.notes[note]!.pitch) === colour(reading);
}

const colour = ofReading((reading): number | null => {
  const found = colourOfVamp(reading);
  return found === null ? null : chroma(reading.phrase.notes[found.note]!.pitch);
});

/** A natural tension, or a note over no chord. */
function isMild({ notes }: Reading, note: number): boolean {
  const { placement } = notes[note]!;
  return placement === null || (placement.called.alter === 0 && [9, 13].includes(placement.called.number));
}

function isAltered(reading: Reading, note: number): boolean {
  const { placement } = reading.notes[note]!;
  const chord = chordOfPlacement(reading, placement);
  return (
    chord !== null &&
    isDominant(chord) &&
    (placement!.role === 'tension' || chord.family === 'altered') &&
    placement!.called.alter !== 0 &&
    placement!.called.number !== 7
  );
}

/** Whether the stretch says the figures of its notes. */
export function isSpelledOut({ as, device, from, to }: Stretch): boolean {
  return (
    to - from < mostFigures(as) &&
    (as === 'device'
      ? ['arpeggio', 'triplet-arpeggio', 'cell', 'upper-structure'].includes(device!.kind)
      : as !== 'repeat' && to - from >= (as === 'line' ? 2 : 3))
  );
}

export function isWithinChord({ notes }: Reading, { notes: own, target }: Device): boolean {
  return target !== null && notes[own[0]!]!.placement?.span === notes[target]!.placement?.span;
}
