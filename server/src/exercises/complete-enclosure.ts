/** Complete the enclosure: its notes are left out, the target is given. Every way that the analysis knows for an enclosure is a right answer. */
import { devicesOf, matchesOfKind } from '../analysis/devices/read';
import type { Device } from '../analysis/devices/device';
import type { Reading } from '../analysis/types';
import { readable } from '../assists/writing/plan';
import { soundsOf, type Sound } from '../assists/writing/score';
import { pictureData } from '../handout/picture-data';
import { transposePitch } from '../theory/interval';
import { midi } from '../theory/pitch';
import type { Pitch } from '../theory/types';
import { faultsOf, nameAsRead, placeWords, withLine, type Make, type Material } from './exercise';

export const completeEnclosure: Make = (material, random) => {
  const { placed, reading } = material;
  if (faultsOf(reading).length > 0) return null;
  const whole = devicesOf(reading).filter(
    ({ kind, target, notes }) =>
      kind === 'enclosure' &&
      target !== null &&
      notes.length <= MOST_NOTES &&
      isOfDifferentNotes(reading, notes) &&
      notes.every((note) => reading.phrase.notes[note]!.cell === null),
  );
  const [device] = random.shuffled(whole);
  if (device === undefined) return null;
  const asked = withLine(
    material,
    soundsOf(reading.phrase).filter((_, i) => !device.notes.includes(i)),
  );
  if (asked === null) return null;
  const target = reading.phrase.notes[device.target!]!;
  const first = reading.phrase.notes[device.notes[0]!]!;
  const own = namesOf(reading, device.notes);
  const others = enclosuresOf(material, device)
    .map((one) => namesOf(one, device.notes))
    .filter((names) => names !== own);
  const options = { degrees: false, devices: false };
  const [name, count] = [nameAsRead(reading, target.pitch), device.notes.length === 2 ? 'two' : 'three'];
  return {
    kind: 'complete-enclosure',
    phrase: placed.phrase.name,
    prompt: `The ${count} notes from ${placeWords(first)} are left out; rests stand in their place. Write them so that they enclose the ${name} of ${placeWords(target)}.`,
    asked: [{ reading: asked, data: pictureData(asked, []), options }],
    answered: [
      {
        reading,
        data: { ...pictureData(reading, []), devices: [{ name: 'enclosure', from: device.notes[0]!, to: device.target! }] },
        options: { degrees: true, devices: true },
      },
    ],
    answer: `${own} in this line.${others.length === 0 ? ' There is no other.' : ` As good: ${[...new Set(others)].join(', ')}.`}`,
  };
};

/** Of four notes there are more ways than a key could list. */
const MOST_NOTES = 3;

/** A note that is struck again counts once in an enclosure: how often each is to be struck could not be told from the rests. */
function isOfDifferentNotes({ phrase }: Reading, notes: readonly number[]): boolean {
  return notes.every((note, i) => i === 0 || phrase.notes[note]!.midi !== phrase.notes[notes[i - 1]!]!.midi);
}

/** Letters and half steps from the target: an enclosure stays within a whole step, or a step of the scale where that leaps. */
const BESIDE = [
  [1, 1],
  [1, 2],
  [1, 3],
  [-1, -1],
  [-1, -2],
  [-1, -3],
] as const;

/** The phrase with each enclosure of the same target by as many notes at the same times, in which nothing is wrong. */
export function enclosuresOf(material: Material, { notes, target }: Pick<Device, 'notes' | 'target'>): Reading[] {
  const { phrase } = material.reading;
  const goal = phrase.notes[target!]!;
  const choices = BESIDE.map(([diatonic, chromatic]) => transposePitch(goal.pitch, { diatonic, chromatic }));
  return ways(choices, notes.length)
    .filter(closesIn(goal.pitch))
    .flatMap((pitches) => {
      const sounds = soundsOf(phrase).map((sound, i): Sound => {
        const at = notes.indexOf(i);
        return at < 0 ? sound : { ...sound, pitch: readable(phrase, pitches[at]!, sound.onset) };
      });
      const reading = withLine(material, sounds);
      const isOne =
        reading !== null &&
        faultsOf(reading).length === 0 &&
        matchesOfKind(reading, 'enclosure').some((match) => match.target === target && match.notes.join() === notes.join());
      return isOne ? [reading] : [];
    });
}

function ways(choices: readonly Pitch[], length: number): Pitch[][] {
  return length === 0 ? [[]] : ways(choices, length - 1).flatMap((before) => choices.map((one) => [...before, one]));
}

/** Only ways that may be one are read: on both sides, and each side closing in. */
function closesIn(target: Pitch): (pitches: readonly Pitch[]) => boolean {
  return (pitches) => {
    const offs = pitches.map((pitch) => midi(pitch) - midi(target));
    const sides = [offs.filter((off) => off > 0), offs.filter((off) => off < 0).map((off) => -off)];
    return sides.every((side) => side.length > 0 && side.every((off, i) => i === 0 || off < side[i - 1]!));
  };
}

function namesOf(reading: Reading, notes: readonly number[]): string {
  return notes.map((note) => nameAsRead(reading, reading.phrase.notes[note]!.pitch)).join('-');
}
