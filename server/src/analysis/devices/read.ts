/** The devices of a phrase: ornaments first, in the order of the table, then figures; the same answer every time. */
import type { Reading } from '../types';
import { anticipation } from './anticipation';
import { appoggiatura } from './appoggiatura';
import { approach } from './approach';
import { arpeggio } from './arpeggio';
import { bebopLine } from './bebop-line';
import { bluesLine } from './blues-line';
import { cell } from './cell';
import { chromaticRun } from './chromatic-run';
import { DEVICE_KINDS, type Device, type Finder, type Match } from './device';
import { doubleChromatic } from './double-chromatic';
import { enclosure } from './enclosure';
import { escapeTone } from './escape-tone';
import { guideToneResolution } from './guide-tone-resolution';
import { mordent } from './mordent';
import { neighbourTone } from './neighbour-tone';
import { passingTone } from './passing-tone';
import { pentatonicLine } from './pentatonic-line';
import { retardation } from './retardation';
import { scaleRun } from './scale-run';
import { sequence } from './sequence';
import { studyOf } from './study';
import { suspension } from './suspension';
import { tripletArpeggio } from './triplet-arpeggio';
import { turn } from './turn';

/** Every finder there is, in the order of THEORY's table. To add a device, write its file and name it here. */
export const FINDERS: readonly Finder[] = [
  enclosure, doubleChromatic, suspension, retardation, anticipation, appoggiatura, approach, neighbourTone, passingTone, escapeTone,
  chromaticRun, arpeggio, scaleRun, turn, mordent, tripletArpeggio, bluesLine, bebopLine, pentatonicLine, guideToneResolution, cell, sequence,
];

const chosen = new WeakMap<Reading, readonly Device[]>();
const all = new WeakMap<Reading, readonly Match[]>();

/** Every valid match, chosen or not: what a claim may rest on. */
export function matchesOf(reading: Reading): readonly Match[] {
  const known = all.get(reading);
  if (known !== undefined) return known;
  const study = studyOf(reading);
  const found = FINDERS.flatMap((finder) => finder.find(study));
  all.set(reading, found);
  return found;
}

/** The devices that the phrase is told by, in order of their first notes. */
export function devicesOf(reading: Reading): readonly Device[] {
  const known = chosen.get(reading);
  if (known !== undefined) return known;
  const devices = named(choose(matchesOf(reading)));
  chosen.set(reading, devices);
  return devices;
}

const ORNAMENTS = new Set(FINDERS.filter(({ layer }) => layer === 'ornament').flatMap(({ kinds }) => kinds));

function choose(matches: readonly Match[]): Match[] {
  const order = (match: Match): number => DEVICE_KINDS.indexOf(match.kind);
  const ornaments = matches.filter(({ kind }) => ORNAMENTS.has(kind)).sort((a, b) => order(a) - order(b) || a.notes[0]! - b.notes[0]! || b.notes.length - a.notes.length);
  const taken = new Set<number>();
  const kept = ornaments.filter((match) => {
    if (match.notes.some((note) => taken.has(note))) return false;
    match.notes.forEach((note) => taken.add(note));
    return true;
  });
  return [...kept, ...simplest(matches.filter(({ kind }) => !ORNAMENTS.has(kind)))];
}

/** A figure all of whose notes stand in a longer one of an earlier kind adds nothing; guide tones, cells and sequences always do. */
function simplest(figures: readonly Match[]): Match[] {
  const always = new Set(['guide-tone-resolution', 'cell', 'sequence', 'turn', 'mordent', 'triplet-arpeggio']);
  return figures.filter((figure) => {
    if (always.has(figure.kind)) return true;
    const own = new Set(figure.notes);
    return !figures.some((other) => other !== figure && other.notes.length > own.size && !always.has(other.kind) && figure.notes.every((note) => other.notes.includes(note)));
  });
}

function named(matches: readonly Match[]): Device[] {
  const counts = new Map<string, number>();
  return [...matches]
    .sort((a, b) => a.notes[0]! - b.notes[0]! || DEVICE_KINDS.indexOf(a.kind) - DEVICE_KINDS.indexOf(b.kind))
    .map((match) => {
      const count = (counts.get(match.kind) ?? 0) + 1;
      counts.set(match.kind, count);
      return { ...match, id: `${match.kind}-${count}`, from: match.notes[0]!, to: match.notes[match.notes.length - 1]! };
    });
}
