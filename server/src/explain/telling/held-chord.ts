/** Chord tones held one after another, up or down: a chord that fills a bar or more, of which no note is a landing of its own. */
import { devicesAt } from '../../analysis/devices/read';
import { ofReading } from '../../analysis/of-reading';
import { placesOf } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { isJoined } from '../../analysis/vocabulary';
import { breathAfter } from './breath';
import { isFlagged, notesIn, type Stretch } from './stretch';

const FEWEST = 3;
/** Half steps: smaller ones belong to a scale. */
const LEAST_LEAP = 3;

/** Such chords, each from its first note to its last, with a breath within; a rest of a beat parts them. */
export const heldChords = ofReading((reading): readonly Pick<Stretch, 'from' | 'to'>[] => {
  const found: Pick<Stretch, 'from' | 'to'>[] = [];
  for (let from = 0; from + FEWEST <= reading.notes.length; ) {
    let to = from;
    while (goesOn(reading, from, to)) to += 1;
    const notes = notesIn({ from, to });
    const pitches = new Set(notes.map((note) => reading.phrase.notes[note]!.midi % 12));
    const isChord = pitches.size >= FEWEST && notes.slice(0, -1).some((note) => breathAfter(reading, note));
    if (isChord) found.push({ from, to });
    from = isChord ? to + 1 : Math.max(to, from + 1);
  }
  return found;
});

/** Two chord tones that fill a bar, the first of them held and the second not, or both alike where the line goes on: one landing tells half of such a bar. What is enclosed belongs to the bar before. */
export const heldPairs = ofReading((reading): readonly Pick<Stretch, 'from' | 'to'>[] => {
  const { notes } = reading.phrase;
  return notes.slice(0, -1).flatMap((own, from) => {
    const [next, after] = [notes[from + 1]!, notes[from + 2]];
    const isBar = own.bar > 0 && next.bar === own.bar && notes[from - 1]?.bar !== own.bar && after?.bar !== own.bar;
    const isPair =
      isBar &&
      !devicesAt(reading, from).some(({ kind, target }) => kind === 'enclosure' && target === from) &&
      breathAfter(reading, from) &&
      (!breathAfter(reading, from + 1) || (own.duration.equals(next.duration) && after !== undefined && isJoined(next, after))) &&
      isJoined(own, next) &&
      own.midi % 12 !== next.midi % 12 &&
      [from, from + 1].every((note) => isHeldTone(reading, note)) &&
      reading.notes[from]!.placement!.span === reading.notes[from + 1]!.placement!.span;
    return isPair ? [{ from, to: from + 1 }] : [];
  });
});

/** Whether the note after `to` goes on with what began at `from`. */
function goesOn(reading: Reading, from: number, to: number): boolean {
  const { notes } = reading.phrase;
  const [own, next] = [notes[to]!, notes[to + 1]];
  if (next === undefined || !isHeldTone(reading, to) || !isHeldTone(reading, to + 1)) return false;
  const size = next.midi - own.midi;
  const way = from === to ? Math.sign(size) : Math.sign(own.midi - notes[from]!.midi);
  const { beat } = placesOf(reading.phrase, reading.context).barAt(own.onset).meter;
  const isJoined = next.onset.sub(own.onset.add(own.duration)).compare(beat) < 0;
  return (
    isJoined &&
    Math.abs(size) >= LEAST_LEAP &&
    Math.sign(size) === way &&
    reading.notes[to]!.placement!.span === reading.notes[to + 1]!.placement!.span
  );
}

function isHeldTone(reading: Reading, note: number): boolean {
  const { onset, duration } = reading.phrase.notes[note]!;
  const { beat } = placesOf(reading.phrase, reading.context).barAt(onset).meter;
  return duration.compare(beat) >= 0 && reading.notes[note]!.placement?.role === 'chord-tone' && !isFlagged(reading, note);
}
