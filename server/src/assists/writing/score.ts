/** A whole line as notes in time, and its text anew: for actions that change more than a few beat groups. */
import type { Fraction } from '../../model/fraction';
import { dressed } from '../../../../grammar/printer';
import type { Bar, ChordSpan, Note, Phrase } from '../../model/types';
import { lastNotAfter, leastMultiple, ZERO } from '../../model/time';
import { writeDegree } from '../../theory/figure';
import { formatNoteName, midi, nearestOctave, nextAbove, nextBelow, pitchInText, sameName, writable } from '../../theory/pitch';
import type { Chord, Pitch } from '../../theory/types';
import { landsAt } from './plan';

/** A note to be written. Times are exact, in quarters from bar 1. */
export interface Sound {
  readonly onset: Fraction;
  readonly end: Fraction;
  readonly pitch: Pitch;
  /** The note it comes from, whose marks and way of writing (degree or pitch) it keeps. */
  readonly like: Note;
}

export type Measure = Pick<Bar, 'number' | 'onset' | 'length' | 'meter'>;

/** What the notes are written over. */
export interface Sheet {
  readonly phrase: Phrase;
  readonly measures: readonly Measure[];
  readonly spans: readonly Pick<ChordSpan, 'onset' | 'end' | 'chord'>[];
}

export function soundsOf(phrase: Phrase): Sound[] {
  return phrase.notes.map((note) => ({ onset: note.onset, end: note.onset.add(note.duration), pitch: note.pitch, like: note }));
}

/** The bars as they are written: of one that ends with a pickup into a later system, that end alone. */
export function measuresOf({ bars, groups }: Phrase): Measure[] {
  return bars.map((bar): Measure => {
    const first = bar.pickup ? groups.find((group) => group.bar === bar.number) : undefined;
    return first === undefined ? bar : { ...bar, onset: first.onset, length: bar.onset.add(bar.length).sub(first.onset) };
  });
}

/** The text of each measure, one beat group a beat; null where a note lies too low or too high to be written. The sounds are in order and do not overlap. */
export function writeMeasures(sheet: Sheet, sounds: readonly Sound[]): string[] | null {
  const texts = noteTexts(sheet, sounds);
  if (texts === null) return null;
  return sheet.measures.map((measure) => {
    const here = soundingIn(sounds, measure.onset, measure.onset.add(measure.length)).map(({ sound, index }) => ({
      sound,
      text: texts[index]!,
    }));
    const beats = Number(measure.length.div(measure.meter.beat).ceil().valueOf());
    return Array.from({ length: beats }, (_, i) => beatText(measure.onset.add(measure.meter.beat.mul(i)), measure.meter.beat, here)).join(
      ' ',
    );
  });
}

/** The sounds of a line that are heard between two times, each with its place in the line. The sounds are in order and do not overlap. */
export function soundingIn(sounds: readonly Sound[], from: Fraction, to: Fraction): { readonly sound: Sound; readonly index: number }[] {
  const found: { readonly sound: Sound; readonly index: number }[] = [];
  for (let index = lastNotAfter(sounds, from); index < sounds.length && sounds[index]!.onset.compare(to) < 0; index += 1) {
    const sound = sounds[index]!;
    if (sound.end.compare(from) > 0) found.push({ sound, index });
  }
  return found;
}

/** One beat in as few equal slots as its notes allow; `measure` are the sounds of its bar with their texts. */
function beatText(from: Fraction, length: Fraction, measure: readonly { readonly sound: Sound; readonly text: string }[]): string {
  const to = from.add(length);
  const here = measure.filter(({ sound }) => sound.onset.compare(to) < 0 && sound.end.compare(from) > 0);
  const inside = here.flatMap(({ sound }) => [sound.onset, sound.end]).filter((time) => time.compare(from) > 0 && time.compare(to) < 0);
  const slots = inside.reduce((count, time) => leastMultiple(count, Number(time.sub(from).div(length).d)), 1);
  return Array.from({ length: slots }, (_, i) => {
    const at = from.add(length.mul(i).div(slots));
    const starting = here.find(({ sound }) => sound.onset.equals(at));
    if (starting !== undefined) return starting.text;
    return here.some(({ sound }) => sound.onset.compare(at) < 0 && sound.end.compare(at) > 0) ? '~' : '.';
  }).join('-');
}

function noteTexts(sheet: Sheet, sounds: readonly Sound[]): string[] | null {
  const texts = sounds.map((sound, i) => noteText(sheet, sound, sounds[i - 1]?.pitch ?? null));
  return texts.every((text) => text !== null) ? texts : null;
}

/** A note as its writer would write it here: as it is written where that says the same, else a degree where it was one, an octave figure only where nothing else places it. */
export function noteText(sheet: Sheet, sound: Sound, previous: Pitch | null): string | null {
  const { pitch, like, onset } = sound;
  const { head } = like.node;
  const dress = { ...like.node, direction: null };
  if (saysTheSame(sheet, sound, previous)) return dressed(like.node, sheet.phrase.text.slice(head.range.start, head.range.end));
  const inOctave = pitchInText(pitch);
  if (previous === null) return inOctave === null ? null : dressed(dress, inOctave);
  const chord = chordAt(sheet.spans, onset);
  const name = { letter: pitch.letter, alter: pitch.alter };
  if (head.kind === 'degree' && chord !== null) {
    const direction = directionTo(pitch, previous);
    if (direction !== undefined) return dressed({ ...dress, direction }, writeDegree(chord, name));
  }
  const near = midi(nearestOctave(name, midi(previous))) === midi(pitch);
  if (near) return dressed(dress, formatNoteName(writable(pitch)));
  return inOctave === null ? null : dressed(dress, inOctave);
}

/** Whether a note as it is written is the same note where it now stands. */
function saysTheSame({ phrase, spans }: Sheet, { pitch, like, onset }: Sound, previous: Pitch | null): boolean {
  if (like.cell !== null || midi(like.pitch) !== midi(pitch) || !sameName(like.pitch, pitch)) return false;
  if (like.node.head.kind === 'degree' && chordAt(spans, onset) !== chordAt(phrase.spans, like.onset)) return false;
  return (previous === null && like.index === 0) || landsAt(like, previous);
}

/** The sign that places a pitch after another; undefined where none does. */
export function directionTo(pitch: Pitch, previous: Pitch): null | 'up' | 'down' | undefined {
  const name = { letter: pitch.letter, alter: pitch.alter };
  const from = midi(previous);
  if (midi(nearestOctave(name, from)) === midi(pitch)) return null;
  if (midi(nextAbove(name, from)) === midi(pitch)) return 'up';
  return midi(nextBelow(name, from)) === midi(pitch) ? 'down' : undefined;
}

/** The chord at a time; a pickup's is the first. */
export function chordAt(spans: Sheet['spans'], time: Fraction): Chord | null {
  const at = time.compare(ZERO) < 0 ? ZERO : time;
  const span = spans[lastNotAfter(spans, at)];
  return span !== undefined && span.onset.compare(at) <= 0 && span.end.compare(at) > 0 ? span.chord : null;
}
