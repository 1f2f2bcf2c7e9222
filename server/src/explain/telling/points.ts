/** What is worth saying of a stretch beside what it is: where it leads, what happens inside it, what the signs mean. */
import type { Device } from '../../analysis/devices/device';
import { isDominant } from '../../analysis/vocabulary';
import type { Reading } from '../../analysis/types';
import { talkOf, wordsOf } from '../device-words';
import { chordName, degreeWords, noteName, withRole } from '../note-words';
import { breathAfter, notesIn, type Stretch } from './stretches';

export interface Point {
  readonly words: string;
  /** How much a teacher wants to say it, 0 to 10. */
  readonly weight: number;
  /** The notes it is about. */
  readonly notes: readonly number[];
  /** Where it leads; a note that is led to is told so once. */
  readonly target: number | null;
}

/** The points of a stretch in the order of weight, each thing once; `beginning` are the devices of the phrase by their first notes. */
export function pointsOf(reading: Reading, stretch: Stretch, beginning: ReadonlyMap<number, readonly Device[]>): readonly Point[] {
  const devices = notesIn(stretch).flatMap((note) => beginning.get(note) ?? []).filter((device) => device !== stretch.device);
  const found = [...devices.flatMap((device) => devicePoint(reading, device, stretch)), ...tensions(reading, stretch), ...signs(reading, stretch), ...held(reading, stretch)];
  return onceOnly([...found].sort((a, b) => b.weight - a.weight || a.notes[0]! - b.notes[0]!));
}

function onceOnly(points: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (const point of points) {
    const same = kept.some((other) => other.words === point.words || (other.notes.some((note) => point.notes.includes(note)) && (other.target === point.target || point.target === null)));
    if (!same) kept.push(point);
  }
  return kept;
}

/** Ornaments in the scale are heard without being named; a chromatic one is worth a word. */
function devicePoint(reading: Reading, device: Device, stretch: Stretch): Point[] {
  const words = wordsOf(device.kind);
  if (words.weight < 4 && !isForeign(reading, device)) return [];
  // What is told as a stretch elsewhere is told there.
  if (words.stretch > 0 && device.kind !== 'enclosure' && device.kind !== 'double-chromatic') return [];
  if (device.kind === 'sequence') return [];
  const isInStretch = stretch.as === 'device' && ['chromatic-run', 'bebop-line', 'scale-run'].includes(stretch.device!.kind);
  if (isInStretch && ['passing-tone', 'approach', 'neighbour-tone', 'double-chromatic'].includes(device.kind)) return [];
  return [{ words: words.clause(talkOf(device, reading)), weight: words.weight, notes: device.notes, target: device.target }];
}

function isForeign(reading: Reading, { notes }: Device): boolean {
  return notes.some((note) => {
    const { placement } = reading.notes[note]!;
    return placement?.role === 'outside' || placement?.borrowed === true;
  });
}

/** An altered tension of a dominant that goes by half step to a chord tone. */
function tensions(reading: Reading, stretch: Stretch): Point[] {
  const found: Point[] = [];
  for (let note = stretch.from; note <= stretch.to; note += 1) {
    const next = note + 1;
    const [own, other] = [reading.notes[note]!.placement, reading.notes[next]?.placement];
    if (own == null || other == null || breathAfter(reading, note)) continue;
    const chord = reading.phrase.spans[own.span]!.chord;
    const size = Math.abs(reading.phrase.notes[next]!.midi - reading.phrase.notes[note]!.midi);
    const isAltered = own.called.alter !== 0 && [9, 11, 13].includes(own.called.number);
    if (chord === null || !isDominant(chord) || !isAltered || size !== 1 || other.role !== 'chord-tone') continue;
    const way = reading.phrase.notes[next]!.midi < reading.phrase.notes[note]!.midi ? 'falls' : 'rises';
    const to = other.span === own.span ? `the ${degreeWords(reading, other)}` : withRole(reading, next);
    found.push({ words: `the ${degreeWords(reading, own)}${isSpelledOut(stretch) ? '' : `, ${noteName(reading, note)},`} ${way} to ${to}`, weight: other.span === own.span ? 6 : 8, notes: [note], target: next });
  }
  return found;
}

/** Whether the stretch says the figures of its notes. */
function isSpelledOut({ as, device, from, to }: Stretch): boolean {
  return to - from < 8 && (as === 'device' ? ['arpeggio', 'triplet-arpeggio', 'cell', 'upper-structure'].includes(device!.kind) : as !== 'repeat' && to > from);
}

/** A note that sounds on into another chord, where no device tells it. */
function held(reading: Reading, stretch: Stretch): Point[] {
  const found: Point[] = [];
  for (let note = stretch.from; note <= stretch.to; note += 1) {
    const into = reading.notes[note]!.soundings.find(({ held }) => held);
    if (into === undefined || into.placement.span === reading.notes[note]!.placement?.span) continue;
    const { placement } = into;
    found.push({ words: `${noteName(reading, note)} is held into ${chordName(reading, placement)} as its ${degreeWords(reading, placement)}`, weight: 6, notes: [note], target: null });
  }
  return found;
}

/** What `!`, a ghost note, N.C. and a slash bass mean here. */
function signs(reading: Reading, stretch: Stretch): Point[] {
  const found: Point[] = [];
  for (let note = stretch.from; note <= stretch.to; note += 1) {
    const { marks, span } = reading.phrase.notes[note]!;
    const { placement } = reading.notes[note]!;
    const point = (words: string, weight: number): void => void found.push({ words, weight, notes: [note], target: null });
    if (marks.includes('intended') && placement !== null && (placement.role === 'avoid' || placement.role === 'outside')) {
      point(`${withRole(reading, note)}, is meant to rub (!)`, 9);
    }
    if (marks.includes('ghost')) point(`${noteName(reading, note)} is a ghost note, felt more than heard`, 5);
    const isFirst = note === 0 || reading.phrase.notes[note - 1]!.span !== span;
    const written = span === null ? null : reading.phrase.spans[span]!;
    if (written === null || !isFirst) continue;
    if (written.chord === null && written.symbol === 'N.C.') point('no chord sounds under it (N.C.)', 6);
    const bass = written.chord?.bass ?? null;
    if (bass !== null) point(`${written.symbol.split('/').pop()!} lies in the bass under ${written.symbol.slice(0, written.symbol.lastIndexOf('/'))}`, 5);
  }
  return found;
}
