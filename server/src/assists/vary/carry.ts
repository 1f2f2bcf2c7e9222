/** Carrying a melody from one chord to another: chord tones to the matching chord tones, scale notes to the matching scale. */
import { figureName } from '../../theory/figure';
import { chroma, midi, nearestOctave, soundClass } from '../../theory/pitch';
import type { Chord, NoteName, Pitch, Scale } from '../../theory/types';

export interface Ground {
  readonly chord: Chord;
  readonly scale: Scale | null;
}

/** The note over `to` that is what a note over `from` is there; null for a note foreign to chord and scale. */
export function matching(name: NoteName, from: Ground, to: Ground): NoteName | null {
  const sound = chroma(name);
  const tone = from.chord.tones.find((one) => chroma(one.name) === sound);
  const inScale = from.scale?.tones.find((one) => chroma(one.name) === sound);
  const figure = tone?.figure ?? inScale?.figure;
  if (figure === undefined) return null;
  const step = figure.number % 7;
  const byChord = to.chord.tones.find(({ figure: other }) => other.number % 7 === step);
  const byScale = to.scale?.tones.find(({ figure: other }) => other.number % 7 === step);
  // A chord tone looks for a chord tone; a sixth chord has no seventh, and the other way round, so the scale answers for it.
  const found = tone === undefined ? (byScale ?? byChord) : (byChord ?? byScale);
  return found?.name ?? figureName(to.chord.root, figure);
}

/** A melody note and what it stands over before and after. */
export interface Step {
  readonly pitch: Pitch;
  readonly from: Ground;
  readonly to: Ground;
  /** Half steps by which the whole moves. */
  readonly by: number;
}

/** Carries a line over; a chromatic note keeps its distance to the next note, for that is what it is heard by. Pitches that are settled stay. */
export function carried(steps: readonly Step[], settled: ReadonlyMap<number, Pitch> = new Map()): Pitch[] {
  const result: Pitch[] = Array<Pitch>(steps.length);
  for (let i = steps.length - 1; i >= 0; i -= 1) {
    const { pitch, from, to, by } = steps[i]!;
    const known = settled.get(i);
    if (known !== undefined) {
      result[i] = known;
      continue;
    }
    const name = matching({ letter: pitch.letter, alter: pitch.alter }, from, to);
    const next = steps[i + 1];
    result[i] =
      name !== null
        ? nearestOctave(name, midi(pitch) + by)
        : next === undefined
          ? moved(pitch, by)
          : besides(pitch, next.pitch, result[i + 1]!);
  }
  return result;
}

function moved(pitch: Pitch, by: number): Pitch {
  return spelled(midi(pitch) + by, pitch);
}

/** As far from its next note as before, spelled by as many letters if that can be written. */
function besides(pitch: Pitch, next: Pitch, carriedNext: Pitch): Pitch {
  const wanted = midi(carriedNext) + midi(pitch) - midi(next);
  const steps = letterSteps(next, pitch);
  const index = LETTERS.indexOf(carriedNext.letter) + carriedNext.octave * 7 + steps;
  const letter = LETTERS[((index % 7) + 7) % 7]!;
  const natural: Pitch = { letter, alter: 0, octave: Math.floor(index / 7) };
  const alter = wanted - midi(natural);
  return Math.abs(alter) <= 1 ? { ...natural, alter } : spelled(wanted, pitch);
}

const LETTERS: readonly Pitch['letter'][] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];

function letterSteps(from: Pitch, to: Pitch): number {
  return LETTERS.indexOf(to.letter) + to.octave * 7 - LETTERS.indexOf(from.letter) - from.octave * 7;
}

/** A sound by a natural letter, else by a flat or a sharp as its model has it. */
function spelled(sound: number, like: NoteName): Pitch {
  const names = LETTERS.flatMap((letter) => [0, like.alter < 0 ? -1 : 1].map((alter) => ({ letter, alter })));
  const name = names.find((one) => chroma(one) === soundClass(sound))!;
  return nearestOctave(name, sound);
}
