/** `arpeggio [of CHORD]`, `enclosure [of DEGREE|PITCH] [at BAR.BEAT]`, `DEVICE [at BAR.BEAT]`: any valid match proves it. */
import { nearest } from '../../theory/scale';
import { chroma, formatPitch, parseNoteName, parsePitch, midi } from '../../theory/pitch';
import { readChord } from '../../theory/chord';
import { sameFigureSound } from '../../theory/figure';
import type { Match } from '../devices/device';
import { matchesForProof } from '../devices/read';
import { DEVICE_KINDS, type DeviceKind } from '../devices/table';
import type { Reading } from '../types';
import { chordUnder } from '../vocabulary';
import { holds, impossible, refuted, type Answer, type ClaimKind } from './claim';
import { barAndBeat, readPlace } from './place';

export const device: ClaimKind = (words, reading) => {
  const named = readKind(words);
  if (named === null) return null;
  const { kind, rest } = named;
  const at = rest.indexOf('at');
  const place = at < 0 ? null : readPlace(rest[at + 1], reading);
  if (typeof place === 'string') return impossible(place);
  if (at >= 0 && rest.length > at + 2) return impossible(`“${rest.slice(at + 2).join(' ')}” says nothing after the place`);
  const of = readOf(kind, at < 0 ? rest : rest.slice(0, at));
  if (typeof of === 'string') return impossible(of);
  const matches = matchesForProof(reading, kind).filter((match) => of === null || of(match, reading));
  const placed =
    place === null ? matches : matches.filter((match) => reading.phrase.notes[match.target ?? match.notes[0]!]!.onset.equals(place.time));
  const [proof] = placed;
  if (proof !== undefined) return holds(foundWords(proof, placed.length, reading), proof.target ?? proof.notes[0]!);
  return missing(kind, words, matches, at < 0 ? null : rest[at + 1]!, reading);
};

/** `there is one, F4-D#4 into E4 in bar 2, beat 1`; `there are 3, the first one D4-F4-A4-C5 from bar 1, beat 1 on`. */
function foundWords({ notes, target }: Match, count: number, { phrase }: Reading): string {
  const names = notes.map((note) => formatPitch(phrase.notes[note]!.pitch)).join('-');
  const where =
    target === null
      ? `${notes.length === 1 ? 'in' : 'from'} ${barAndBeat(phrase.notes[notes[0]!]!)}${notes.length === 1 ? '' : ' on'}`
      : `into ${formatPitch(phrase.notes[target]!.pitch)} in ${barAndBeat(phrase.notes[target]!)}`;
  return `${count === 1 ? 'there is one,' : `there are ${count}, the first one`} ${names} ${where}`;
}

function missing(kind: DeviceKind, words: readonly string[], matches: readonly Match[], place: string | null, reading: Reading): Answer {
  if (place === null) return refuted(`no ${deviceWords(kind)} is found`, null);
  const elsewhere = matches
    .map((match) => reading.phrase.notes[match.target ?? match.notes[0]!]!)
    .map((note) => `${note.bar}.${note.beat}`);
  const stem = words.slice(0, words.indexOf('at')).join(' ');
  const there = reading.phrase.notes.find((note) => `${note.bar}.${note.beat}` === place);
  const found = elsewhere.length === 0 ? '' : `; there is one at ${elsewhere.join(', ')}`;
  return refuted(
    `no ${deviceWords(kind)} is found at ${place}${found}`,
    there?.index ?? null,
    elsewhere.map((one) => `${stem} at ${one}`),
  );
}

function deviceWords(kind: DeviceKind): string {
  return kind.replaceAll('-', ' ');
}

function readKind(words: readonly string[]): { kind: DeviceKind; rest: readonly string[] } | null {
  for (const size of [3, 2, 1]) {
    const text = words.slice(0, size).join('-');
    const kind = DEVICE_KINDS.find((one) => one === text);
    if (kind !== undefined && words.length >= size) return { kind, rest: words.slice(size) };
  }
  return null;
}

type Of = (match: Match, reading: Reading) => boolean;

/** What stands after `of`: a chord for an arpeggio, a degree or pitch for an enclosure. A text says why it cannot be. */
function readOf(kind: DeviceKind, words: readonly string[]): Of | string | null {
  if (words.length === 0) return null;
  const [of, text] = words;
  if (of !== 'of' || text === undefined || words.length !== 2) return `“${words.join(' ')}” cannot be read after ${kind}`;
  if (kind === 'arpeggio') return ofChord(text);
  return kind === 'enclosure' ? ofTarget(text) : `only an arpeggio or an enclosure is of something`;
}

function ofChord(text: string): Of | string {
  const chord = readChord(text);
  if (!('tones' in chord)) return `“${text}” is no chord`;
  const sounds = new Set(chord.tones.map((tone) => chroma(tone.name)));
  return (match, { phrase }) => match.notes.every((note) => sounds.has(chroma(phrase.notes[note]!.pitch)));
}

function ofTarget(text: string): Of | string {
  const figure = /^(bb?|##?|n)?(1[13]|[1-79])$/.exec(text);
  const pitch = parsePitch(text);
  const name = parseNoteName(text);
  if (figure !== null) {
    return ({ target }, reading) => {
      const chord = target === null ? null : chordUnder(reading, target);
      return (
        chord !== null &&
        sameFigureSound(chord, { number: Number(figure[2]), accidental: figure[1] ?? '' }, reading.phrase.notes[target!]!.pitch)
      );
    };
  }
  if (pitch !== null) return ({ target }, { phrase }) => target !== null && phrase.notes[target]!.midi === midi(pitch);
  if (name !== null) return ({ target }, { phrase }) => target !== null && chroma(phrase.notes[target]!.pitch) === chroma(name);
  return `“${text}” is neither a degree nor a pitch`;
}

/** Device names near a word, for claims that are of no kind. */
export function nearestDevices(text: string): DeviceKind[] {
  return nearest(text.slice(0, 30), DEVICE_KINDS, (kind) => kind);
}
