/** The pentatonic or blues scale that a whole line stays in: what a teacher says of it first. */
import type { DeviceKind } from '../analysis/devices/device';
import { devicesOf } from '../analysis/devices/read';
import { ofReading } from '../analysis/of-reading';
import { fallsFifth } from '../analysis/harmonies';
import { BLUES_FORMS, progressionsOf } from '../analysis/progressions';
import { isDominant, isMinor } from '../analysis/vocabulary';
import type { Reading } from '../analysis/types';
import { chroma } from '../theory/pitch';
import { isPentatonic, scale } from '../theory/scale';
import type { Chord, Key, NoteName, Scale, ScaleName } from '../theory/types';

/** Fewer notes stay in a scale by chance. */
export const FEWEST_IN_SCALE = 7;
/** Lines that are told by their scale. */
export const SCALE_LINES: ReadonlySet<DeviceKind> = new Set(['pentatonic-line', 'blues-line', 'bebop-line', 'superimposed-pentatonic']);

/** Null where there is none, and where a line within one bar is told by its device. */
export const wholeScale = ofReading((reading): Scale | null =>
  reading.phrase.notes.length < FEWEST_IN_SCALE ? null : (deviceOf(reading) ?? scaleOf(reading) ?? scaleOfPart(reading)),
);

/** Whether a scale is told of the whole line. */
export function isToldOfAll(reading: Reading, { root, name }: Scale): boolean {
  const whole = wholeScale(reading);
  return whole !== null && whole.name === name && chroma(whole.root) === chroma(root);
}

/** The scale of a device that holds all notes of some bars; null within one bar: there the device says it all. */
function deviceOf(reading: Reading): Scale | null {
  const { notes } = reading.phrase;
  const whole = devicesOf(reading).find(({ kind, from, to }) => SCALE_LINES.has(kind) && from === 0 && to === notes.length - 1);
  return whole === undefined || isWithinBar(reading) ? null : whole.scale!;
}

/** The blues scale of a part of the line, where all the rest lies in it, too: rests part a riff, and not its scale. */
function scaleOfPart(reading: Reading): Scale | null {
  const part = devicesOf(reading).find(
    ({ kind, scale: own }) => kind === 'blues-line' && reading.phrase.notes.every(({ pitch }) => own!.sounds.has(chroma(pitch))),
  );
  return part === undefined || isWithinBar(reading) ? null : part.scale!;
}

function isWithinBar({ phrase: { notes } }: Reading): boolean {
  return notes[0]!.bar === notes[notes.length - 1]!.bar;
}

const OVER_DOMINANT: readonly ScaleName[] = ['minor pentatonic', 'major pentatonic', 'minor blues', 'major blues'];
const OVER_MINOR: readonly ScaleName[] = ['minor pentatonic', 'minor blues'];
const OVER_MAJOR: readonly ScaleName[] = ['major pentatonic', 'major blues'];

/** Over changes a pentatonic scale of the key is heard; a blues scale is, where the home sounds like one. */
const OF_KEY: Readonly<Record<Key['mode'], ScaleName>> = { major: 'major pentatonic', minor: 'minor pentatonic' };

/** The smallest scale on the home that all notes stand in; each of its tones is heard, or a blues scale would be named for a pentatonic line. */
function scaleOf(reading: Reading): Scale | null {
  const sounds = new Set(reading.phrase.notes.map(({ pitch }) => chroma(pitch)));
  const scales = scalesOfHome(reading);
  const whole = scales.find(({ tones }) => tones.length === sounds.size && tones.every(({ name }) => sounds.has(chroma(name))));
  return whole === undefined || isWithinBar(reading) ? null : whole;
}

function scalesOfHome(reading: Reading): Scale[] {
  const home = homeOf(reading);
  const { tonic } = reading.context;
  if (home === null) {
    const ofKey = tonic === null || reading.context.vamp ? [] : [scale(tonic.tonic, OF_KEY[tonic.mode])];
    const two = openTwo(reading);
    return two === null ? ofKey : [...ofKey, scale(two.root, 'minor pentatonic')];
  }
  const names = isDominant(home) ? OVER_DOMINANT : isMinor(home) ? OVER_MINOR : OVER_MAJOR;
  return names.map((name) => scale(home.root, name));
}

/** The ii of a phrase that is nothing but ii and V, again and again; null of any other. */
function openTwo({ context, phrase }: Reading): Chord | null {
  const chords = phrase.spans.flatMap(({ chord }) => chord ?? []);
  const [two] = chords;
  const isOpen =
    two !== undefined &&
    isMinor(two) &&
    new Set(chords.map(({ root }) => chroma(root))).size === 2 &&
    chords.every((chord) => chroma(chord.root) === chroma(two.root) || (isDominant(chord) && fallsFifth(two, chord)));
  return isOpen && context.blues === null ? two : null;
}

/** The tones of the pentatonic scale that a whole line stays in; null where it stays in none. */
export function pentatonicOf(reading: Reading): readonly NoteName[] | null {
  const whole = wholeScale(reading);
  return whole === null || !isPentatonic(whole) ? null : whole.tones.map(({ name }) => name);
}

/** Whether there is one chord that the scale of a line is the scale of: figures then count in it. */
export function isOnHome(reading: Reading): boolean {
  return homeOf(reading) !== null;
}

/** The chord of a vamp, or the first chord on the tonic of a blues. */
const homeOf = ofReading((reading): Chord | null => {
  const { phrase, context } = reading;
  const chords = phrase.spans.flatMap(({ chord }) => chord ?? []);
  const isBlues = progressionsOf(reading).some(({ id }) => BLUES_FORMS.has(id));
  if (context.vamp && new Set(chords.map(({ root }) => chroma(root))).size === 1) return chords[0]!;
  return isBlues ? (chords.find(({ root }) => context.tonic !== null && chroma(root) === chroma(context.tonic.tonic)) ?? null) : null;
});
