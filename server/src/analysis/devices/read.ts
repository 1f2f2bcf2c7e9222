/** The devices of a phrase: ornaments first, in the order of the table, then figures; the same answer every time. */
import { faultOf, tellFault, type Fault } from '../../model/faults';
import { groupedBy } from '../../model/grouped';
import { finished, type Pieces } from '../../model/pieces';
import { ofReading } from '../of-reading';
import type { Reading } from '../types';
import type { Device, DeviceKind, Found, Match } from './device';
import { studyOf, type Study } from './study';
import { DEVICES, finderOf, layerOf, precedenceOf } from './table';

const all = new WeakMap<Reading, readonly Match[]>();

/** Every valid match, chosen or not: what a claim may rest on. */
export function matchesOf(reading: Reading): readonly Match[] {
  return finished(matchesInPieces(reading));
}

/** The same, which may be put off between one device and the next: each looks at the whole phrase. */
export function* matchesInPieces(reading: Reading): Pieces<readonly Match[]> {
  const known = all.get(reading);
  if (known !== undefined) return known;
  const found: Match[] = [];
  const study = studyOf(reading);
  for (const { id } of DEVICES) {
    for (const one of foundOf(study, id)) found.push(matchOf(id, one));
    yield;
  }
  all.set(reading, found);
  return found;
}

/** Every valid match of one device, chosen or not; the others are not looked for. */
export function matchesOfKind(reading: Reading, kind: DeviceKind): readonly Match[] {
  const known = all.get(reading);
  if (known !== undefined) return known.filter((match) => match.kind === kind);
  return foundOf(studyOf(reading), kind).map((one) => matchOf(kind, one));
}

/** Field by field, here and in `named`: what is copied is of several shapes, and each phrase has many. */
function matchOf(kind: DeviceKind, { notes, target, detail, scale }: Found): Match {
  return { kind, notes, target, detail, scale };
}

/** Every valid match of one device, to say that there is none. Throws the fault where it cannot be looked for. */
export function matchesForProof(reading: Reading, kind: DeviceKind): readonly Match[] {
  const matches = matchesOf(reading).filter((match) => match.kind === kind);
  const fault = broken.get(reading)?.get(kind);
  if (fault !== undefined) throw fault;
  return matches;
}

/** Finders that broke off, by the phrase. */
const broken = new WeakMap<Reading, Map<DeviceKind, Fault>>();

/** What a finder finds; one that breaks off finds nothing, and takes no other device away. Notes that slip on purpose take part in nothing else. */
function foundOf(study: Study, kind: DeviceKind): readonly Found[] {
  const { slips } = study.reading;
  try {
    const found = finderOf(kind)(study);
    if (slips.size === 0 || kind === 'side-slip') return found;
    return found.filter(({ notes, target }) => !notes.some((note) => slips.has(note)) && (target === null || !slips.has(target)));
  } catch (error) {
    const fault = faultOf(`the device “${kind.replaceAll('-', ' ')}”`, error);
    broken.set(study.reading, (broken.get(study.reading) ?? new Map<DeviceKind, Fault>()).set(kind, fault));
    tellFault(fault);
    return [];
  }
}

/** The devices that the phrase is told by, in order of their first notes. */
export const devicesOf = ofReading((reading): readonly Device[] => named(choose(matchesOf(reading))));

/** The devices of a phrase, and the passing tones within its runs: what may be taken out of a line. */
export function devicesAndPassingTones(reading: Reading): readonly Device[] {
  return named(layers(matchesOf(reading), []));
}

const byNote = ofReading(
  (reading): ReadonlyMap<number, readonly Device[]> =>
    groupedBy(devicesOf(reading), ({ notes, target }) => new Set([...notes, ...(target === null ? [] : [target])])),
);

/** The devices that a note takes part in, or is the target of, in order of their first notes: what a hover, the score and the JSON name at it. */
export function devicesAt(reading: Reading, note: number): readonly Device[] {
  return byNote(reading).get(note) ?? [];
}

/** The device by which a note goes to another, by precedence; null where none of the phrase's devices tells it. */
export function deviceInto(reading: Reading, note: number, target: number): Device | null {
  const leading = devicesAt(reading, note).filter((device) => device.target === target && device.notes.includes(note));
  return [...leading].sort((a, b) => precedenceOf(a.kind) - precedenceOf(b.kind))[0] ?? null;
}

function choose(matches: readonly Match[]): Match[] {
  return layers(matches, longestRuns(matches));
}

/** `telling` are the runs beside which a passing tone goes without saying. */
function layers(matches: readonly Match[], telling: readonly Match[]): Match[] {
  const isOfRun = inRuns(telling);
  const ornaments = matches.filter((match) => layerOf(match.kind) === 'ornament' && !isOfRun(match)).sort(byPrecedence);
  const taken = new Set<number>();
  const kept = ornaments.filter((match) => {
    if (match.notes.some((note) => taken.has(note))) return false;
    match.notes.forEach((note) => taken.add(note));
    return true;
  });
  return [...kept, ...longestRuns(matches), ...matches.filter(({ kind }) => layerOf(kind) === 'figure' || layerOf(kind) === 'event')];
}

/** Runs that pass by step through all their notes. */
const STEPWISE: ReadonlySet<DeviceKind> = new Set(['chromatic-run', 'scale-run', 'bebop-line']);

/** Whether a match is a passing tone within a run that is told: no more than its notes. */
function inRuns(runs: readonly Match[]): (match: Match) => boolean {
  const noteSets = runs
    .filter(({ kind }) => STEPWISE.has(kind))
    .map(({ notes, target }) => new Set(target === null ? notes : [...notes, target]));
  const through = groupedBy(noteSets, (notes) => notes);
  return ({ kind, notes, target }) =>
    kind === 'passing-tone' &&
    (through.get(notes[0]!) ?? []).some((run) => [...notes, ...(target === null ? [] : [target])].every((note) => run.has(note)));
}

/** The place in the table, then the earliest start, then the most notes. */
function byPrecedence(a: Match, b: Match): number {
  return precedenceOf(a.kind) - precedenceOf(b.kind) || a.notes[0]! - b.notes[0]! || b.notes.length - a.notes.length;
}

/** A run all of whose notes stand in a longer one adds nothing; of a blues line, its pentatonic scale goes without saying. */
function longestRuns(matches: readonly Match[]): Match[] {
  const runs = matches.filter(({ kind }) => layerOf(kind) === 'run').map((match) => ({ match, notes: new Set(match.notes) }));
  type Run = (typeof runs)[number];
  const through = groupedBy(runs, ({ notes }) => notes);
  const isWithin = (run: Run, other: Run): boolean => run.match.notes.every((note) => other.notes.has(note));
  const isLonger = (run: Run, other: Run): boolean =>
    other.match.notes.length > run.notes.size || (run.match.kind === 'pentatonic-line' && other.match.kind === 'blues-line');
  return runs
    .filter((run) => !through.get(run.match.notes[0]!)!.some((other) => isLonger(run, other) && isWithin(run, other)))
    .map(({ match }) => match);
}

function named(matches: readonly Match[]): Device[] {
  const counts = new Map<string, number>();
  return [...matches]
    .sort((a, b) => a.notes[0]! - b.notes[0]! || precedenceOf(a.kind) - precedenceOf(b.kind))
    .map(({ kind, notes, target, detail, scale }) => {
      const count = (counts.get(kind) ?? 0) + 1;
      counts.set(kind, count);
      return { kind, notes, target, detail, scale, id: `${kind}-${count}`, from: notes[0]!, to: notes[notes.length - 1]! };
    });
}
