/** A phrase told from left to right: sentences bar by bar, each with the notes it is about. */
import type { Device } from '../../analysis/devices/device';
import { devicesOf } from '../../analysis/devices/read';
import { barsByNumber } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import type { Bar } from '../../model/types';
import { problemsAbout } from '../../rules/findings';
import { ruleById } from '../../rules/registry';
import { beatWords, capital } from '../../rules/words';
import { listed, noteName, withRole } from '../note-words';
import { plain, type Words } from '../say';
import { clauseOf, isFromPeak, isOneChange, landingAtEnd } from './clauses';
import { isFlatTension, newMeaning } from './harmony-points';
import { openingOf } from './openings';
import { emptyMemory, isLeadTold, remember, rememberTarget, type Memory } from './memory';
import type { Point } from './point';
import { pointsOf } from './points';
import type { Repeat } from './repeats';
import { inContext, inSentences, joined, type Part } from './sentences';
import { isToldByFinding, notesIn, type Stretch } from './stretch';
import { stretchesOf } from './stretches';

export interface Sentence {
  /** 0 in the pickup. */
  readonly bar: number;
  readonly text: string;
  /** Indexes of the notes it is about. Every note is one of exactly one sentence of the kind `line`. */
  readonly notes: readonly number[];
  readonly kind: 'line' | 'warning' | 'remark';
}

/** A sentence or two a bar, in order. (The phrase in a line is `oneLine`.) */
export function tell(reading: Reading): readonly Sentence[] {
  const stretches = stretchesOf(reading);
  const own = new Set(stretches.map(({ device }) => device));
  const phrase: Told = { reading, beginning: groupedBy(devicesOf(reading).filter((device) => !own.has(device)), ({ from }) => [from]), bars: barsByNumber(reading.phrase), memory: emptyMemory() };
  // A repeat that breathes is told where it begins, all of it.
  const bars = groupedBy(stretches, (stretch) => [reading.phrase.notes[stretch.repeat?.from ?? stretch.from]!.bar]);
  const told = landed(reading, withoutSilence(reading, [...bars].flatMap(([bar, stretches]) => barSentences(phrase, bar, stretches))));
  const findings = findingSentences(reading).map((sentence) => ({ ...sentence, first: sentence.notes[0]! }));
  return [...told, ...findings].sort((a, b) => a.bar - b.bar || a.first - b.first).map(({ bar, text, notes, kind }) => ({ bar, text, notes, kind }));
}

/** What is told, and what is looked up again and again meanwhile. */
interface Told {
  readonly reading: Reading;
  /** The devices by their first notes, but those that are told as stretches. */
  readonly beginning: ReadonlyMap<number, readonly Device[]>;
  readonly bars: ReadonlyMap<number, Bar>;
  readonly memory: Memory;
}

/** A sentence, and what of it the next one need not say again. */
interface Draft extends Sentence {
  /** The first note that it tells of. */
  readonly first: number;
  /** The notes that it leads to. */
  readonly targets: readonly number[];
  /** The note that its last clause leads to, named at its end. */
  readonly end: number | null;
  /** The note that is all it tells of: the line lands there. */
  readonly lands: number | null;
}

/** Where the line lands is said once: with what leads there. */
function landed({ phrase }: Reading, drafts: readonly Draft[]): Draft[] {
  const kept: Draft[] = [];
  for (const draft of drafts) {
    const before = kept[kept.length - 1];
    if (draft.lands === null || before === undefined || !before.targets.includes(draft.lands)) kept.push(draft);
    else kept[kept.length - 1] = { ...before, text: before.end === draft.lands ? `${before.text.slice(0, -1)}, on ${beatWords(phrase.notes[draft.lands]!.beat)}${draft.bar === before.bar ? '' : ` of bar ${draft.bar}`}.` : before.text, notes: [...before.notes, ...draft.notes] };
  }
  return kept;
}

/** Clauses a bar. */
const MOST = 5;
/** Notes of a bar that need not be told. */
const FEW_NOTES = 3;

function barSentences(phrase: Told, bar: number, stretches: readonly Stretch[]): Draft[] {
  // Only a bar before has told the beat, too, on which the line lands.
  const ledBefore = new Set(stretches.map(({ to }) => to).filter((to) => phrase.memory.leads.has(to)));
  const all = stretches.flatMap((stretch, i) => partsOf(phrase, stretch, i, stretches[i - 1] ?? null));
  const isFlagged = stretches.some((stretch) => isToldByFinding(phrase.reading, stretch));
  const isStub = ({ stretch, weight, isPoint }: Part): boolean => weight <= 1 && !isPoint && stretches[stretch]!.to - stretches[stretch]!.from <= 2;
  if (all.length === 0 || (bar > 0 && stretches.flatMap(notesIn).length <= FEW_NOTES && all.every(isStub)) || (isFlagged && all.every(({ weight, isPoint }) => weight <= 1 && !isPoint))) return [silent(bar, stretches)];
  // Where the line lands was said with what leads there, if more is to be said here.
  const isSaid = (part: Part): boolean => part.verb === 'lands ' && ledBefore.has(stretches[part.stretch]!.to);
  const parts = all.length > 1 && all.some((part) => !isSaid(part) && part.weight > 1) ? all.filter((part) => !isSaid(part)) : all;
  for (const { target } of all) if (target !== null) rememberTarget(phrase.memory, target);
  const kept = [...parts].sort((a, b) => b.weight - a.weight).slice(0, MOST);
  const ordered = parts.filter((part) => kept.includes(part) && (part.weight > 1 || kept.length === 1));
  const told = inContext(ordered.length === 0 ? parts.slice(0, 1) : ordered);
  const groups = inSentences(told);
  const owners = groups.map((group) => group[0]!.stretch);
  return groups.map((group, i) => {
    const notes = stretches.flatMap((stretch, index) => (ownerOf(index, owners) === i ? notesIn(stretch) : []));
    const words = joined(group);
    const last = group[group.length - 1]!;
    const isOpen = last.target !== null && words.includes(noteName(phrase.reading, last.target)) && !/(?:, (?:resolving|leading up) to \S+|; the \S+ is the [^;]+)$/.test(words);
    return {
      bar, text: `${capital(i === 0 ? `${openingOf(phrase.reading, phrase.bars.get(bar), bar, stretches, group[0]!)}${words}` : words)}.`, notes, kind: 'line' as const, first: group[0]!.from,
      targets: group.flatMap(({ target }) => target ?? []), end: isOpen ? last.target : null,
      lands: group.length === 1 && last.verb === 'lands ' ? stretches[last.stretch]!.to : null,
    };
  });
}

/** A bar of which the findings, or what was said before, tell all. */
function silent(bar: number, stretches: readonly Stretch[]): Draft {
  return { bar, text: '', notes: stretches.flatMap(notesIn), kind: 'line', first: stretches[0]!.from, targets: [], end: null, lands: null };
}

/** The notes of a bar without words belong to the sentence before, or to the one after; to one that names them where there is no other. */
function withoutSilence(reading: Reading, drafts: readonly Draft[]): Draft[] {
  const kept: Draft[] = [];
  let before: readonly number[] = [];
  for (const draft of drafts) {
    const last = kept[kept.length - 1];
    if (draft.text !== '') kept.push({ ...draft, notes: [...before, ...draft.notes] });
    else if (last !== undefined) kept[kept.length - 1] = { ...last, notes: [...last.notes, ...draft.notes] };
    before = draft.text === '' && last === undefined ? [...before, ...draft.notes] : [];
  }
  return kept.length > 0 || before.length === 0 ? kept : [{ ...drafts[0]!, text: `${capital(listed(before.map((note) => withRole(reading, note))))}.`, notes: before }];
}

/** The sentence that owns a stretch: the last one that begins no later. */
function ownerOf(stretch: number, owners: readonly number[]): number {
  return Math.max(0, owners.findLastIndex((first, i) => first <= stretch && owners.indexOf(first) === i));
}

function partsOf({ reading, beginning, memory }: Told, stretch: Stretch, index: number, before: Stretch | null): Part[] {
  if (isToldByFinding(reading, stretch)) return [];
  const clause = clauseOf(reading, stretch, before);
  const asPart = (words: Words, target: number | null, { verb, weight }: Pick<Part, 'verb' | 'weight'> = clause): Part => ({ words, verb, weight, stretch: index, isPoint: false, states: false, from: stretch.from, target });
  if (stretch.repeat !== null) {
    const beside = besideRepeat(reading, stretch, stretch.repeat).map(({ words, weight }): Part => ({ ...asPart(words, null, { verb: undefined, weight }), isPoint: true, states: true }));
    return [...(clause.words.length === 0 ? [] : [asPart(clause.words, null)]), ...beside];
  }
  const ownTarget = stretch.device?.target ?? null;
  const points = pointsOf(reading, stretch, beginning).filter((point) => !isTold(stretch, point, ownTarget, reading) && !isLeadTold(memory, point)).map((point) => (memory.words.has(plain(point.words)) ? { ...point, weight: point.again ?? point.weight } : point));
  // A plain note that leads somewhere is told by where it leads.
  const size = stretch.to - stretch.from + 1;
  const replaced = clause.plain && (size <= 2 || (size === 3 && clause.verb !== undefined)) && points.some(({ weight, notes, target }) => weight >= 3 && (notes.includes(stretch.from) || (clause.verb !== undefined && (notes.includes(stretch.to) || target === stretch.to))));
  const goesOn = isFromPeak(reading, stretch);
  const isCovered = clause.plain && size > 1 && (notesIn(stretch).every((note) => memory.notes.has(note)) || (goesOn && (points.length > 0 || memory.leads.has(stretch.from))));
  const chosen = points.slice(0, 2).sort((a, b) => a.notes[0]! - b.notes[0]!);
  const rest = chosen.some(({ target }) => target === stretch.to) ? [] : clause.rest;
  // A point that tells of more than all its notes says what they are.
  const isPart = clause.plain && chosen.some(({ notes }) => notes.length > size && notesIn(stretch).every((note) => notes.includes(note)));
  // Notes that a sequence has told may still come to rest.
  const lands = isCovered && chosen.length === 0 && stretch.to > stretch.from && !memory.leads.has(stretch.to) ? landingAtEnd(reading, stretch.to) : null;
  const own: Part[] = lands !== null ? [asPart(lands.words, null, { verb: lands.verb, weight: 6 })] : replaced || isCovered || isPart ? [] : [asPart([...clause.words, ...rest], clause.target ?? ownTarget)];
  for (const point of chosen) remember(memory, point);
  return [...own, ...chosen.map(({ words, weight, states, notes, target }): Part => ({ words, verb: undefined, weight, stretch: index, isPoint: own.length > 0 || goesOn || states, states, from: notes[0]!, target }))];
}

/** What a blue third becomes where a riff is struck again over another chord, unless it is the note that changes. */
function besideRepeat(reading: Reading, stretch: Stretch, { changed }: Repeat): readonly Point[] {
  return newMeaning(reading, stretch).filter(({ notes }) => !(isOneChange(reading, changed) && changed.some(({ note }) => notes.includes(note))));
}

/** An enclosure has told its target already; what leads there besides is told only where it adds the guide tone, or a tension. */
function isTold(stretch: Stretch, { target, notes }: Point, ownTarget: number | null, reading: Reading): boolean {
  if (target === null || ownTarget !== target || stretch.device === null) return false;
  const own = reading.notes[notes[0]!]!.placement;
  return notes.every((note) => note >= stretch.device!.from) && own?.span === reading.notes[target]!.placement?.span && !(stretch.device.kind === 'enclosure' && own != null && isFlatTension(own.called));
}

/** What is to be said against notes, in the words of the findings. */
export function findingSentences(reading: Reading): Sentence[] {
  return reading.notes.flatMap(({ note }) => {
    const { bar } = reading.phrase.notes[note]!;
    return problemsAbout(reading, note).filter(({ severity }) => severity !== 'hint').map(({ rule, facts, severity }) => ({
      bar, text: ruleById(rule)!.message(facts), notes: [note], kind: severity === 'information' ? ('remark' as const) : ('warning' as const),
    }));
  });
}
