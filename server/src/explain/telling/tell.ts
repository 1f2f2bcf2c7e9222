/** A phrase told from left to right: sentences bar by bar, each with the notes it is about. */
import { devicesOf } from '../../analysis/devices/read';
import { barsByNumber } from '../../analysis/places';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import type { Bar } from '../../model/types';
import { problemsAbout } from '../../rules/findings';
import { ruleById } from '../../rules/registry';
import { capital } from '../../rules/words';
import { noteName } from '../note-words';
import { landed, silent, withoutSilence, type Draft, type Sentence } from './drafts';
import { emptyMemory, rememberTarget } from './memory';
import { openingOf } from './openings';
import { partsOf, type Telling } from './parts';
import { inContext, inSentences, joined, type Part, type PartInContext } from './sentences';
import { isToldByFinding, notesIn, type Stretch } from './stretch';
import { stretchesOf } from './stretches';

/** A sentence or two a bar, in order. (The phrase in a line is `oneLine`.) */
export function tell(reading: Reading): readonly Sentence[] {
  const stretches = stretchesOf(reading);
  const own = new Set(stretches.map(({ device }) => device));
  const others = devicesOf(reading).filter((device) => !own.has(device));
  const telling: Telling = { reading, beginning: groupedBy(others, ({ from }) => [from]), memory: emptyMemory() };
  const barOf = barsByNumber(reading.phrase);
  // A repeat that breathes is told where it begins, all of it.
  const bars = groupedBy(stretches, ({ repeat, from }) => [reading.phrase.notes[repeat?.from ?? from]!.bar]);
  const drafts = [...bars].flatMap(([number, within]) => barSentences(telling, { number, bar: barOf.get(number), stretches: within }));
  const told = landed(reading, withoutSilence(reading, drafts));
  const findings = findingSentences(reading).map((sentence) => ({ ...sentence, first: sentence.notes[0]! }));
  return [...told, ...findings]
    .sort((a, b) => a.bar - b.bar || a.first - b.first)
    .map(({ bar, text, notes, kind, through }) => ({ bar, text, notes, kind, through }));
}

/** Clauses a bar, and where it is full of notes, notes for each, up to so many clauses. */
const MOST = 5;
const MOST_OF_FULL = 10;
const NOTES_A_CLAUSE = 2;
/** The weight of what is told beyond the usual number. */
const WEIGHTY = 6;
/** Notes of a bar that need not be told. */
const FEW_NOTES = 3;

interface ToldBar {
  /** 0 in the pickup. */
  readonly number: number;
  readonly bar: Bar | undefined;
  readonly stretches: readonly Stretch[];
}

function barSentences(telling: Telling, told: ToldBar): Draft[] {
  const { reading, memory } = telling;
  const { number, stretches } = told;
  // Only a bar before has told the beat, too, on which the line lands.
  const ledBefore = new Set(stretches.map(({ to }) => to).filter((to) => memory.leads.has(to)));
  const all = stretches.flatMap((stretch, i) => partsOf(telling, stretch, i, stretches[i - 1] ?? null));
  const areLandingsTold = all.length > 1 && all.every((part) => part.verb === 'lands ' && ledBefore.has(stretches[part.stretch]!.to));
  if (areLandingsTold || isSaidEnough(reading, told, all)) return [silent(number, stretches)];
  // Where the line lands was said with what leads there, if more is to be said here.
  const unsaid = all.filter((part) => !(part.verb === 'lands ' && ledBefore.has(stretches[part.stretch]!.to)));
  const parts = unsaid.some(({ weight }) => weight > 1) ? unsaid : all;
  for (const { target } of all) if (target !== null) rememberTarget(memory, target);
  const groups = inSentences(inContext(mostTelling(parts, stretches.flatMap(notesIn).length)), middleOf(reading, told));
  const owners = groups.map((group) => group[0]!.stretch);
  return groups.map((group, i) => {
    const opening = i === 0 ? openingOf(reading, told.bar, number, stretches, group[0]!) : '';
    const notes = stretches.flatMap((stretch, index) => (ownerOf(index, owners) === i ? notesIn(stretch) : []));
    return draftOf(reading, told, group, { opening, notes });
  });
}

/** More notes of a bar are told in two halves. */
const MANY_NOTES = 8;

/** The first note from the middle of a bar of many notes on; null in another one. */
function middleOf({ phrase }: Reading, { bar, stretches }: ToldBar): number | null {
  const notes = stretches.flatMap(notesIn);
  if (bar === undefined || notes.length <= MANY_NOTES) return null;
  const middle = bar.onset.add(bar.length.div(2));
  return notes.find((note) => phrase.notes[note]!.onset.compare(middle) >= 0) ?? null;
}

/** Whether the findings tell a bar, or what was said before: of the rest a few plain notes are left, or nothing. */
function isSaidEnough(reading: Reading, { number, stretches }: ToldBar, parts: readonly Part[]): boolean {
  const isMinor = ({ weight, isPoint }: Part): boolean => weight <= 1 && !isPoint;
  const isStub = (part: Part): boolean => isMinor(part) && stretches[part.stretch]!.to - stretches[part.stretch]!.from <= 2;
  const hasFewNotes = number > 0 && stretches.flatMap(notesIn).length <= FEW_NOTES;
  const isFlagged = stretches.some((stretch) => isToldByFinding(reading, stretch));
  return parts.length === 0 || (hasFewNotes && parts.every(isStub)) || (isFlagged && parts.every(isMinor));
}

/** Parts that are told where none weighs: half a bar would be left out. */
const MOST_OF_LIGHT = 3;

/** The weightiest parts of a bar of so many notes, in order; the first ones, where none weighs. */
function mostTelling(parts: readonly Part[], notes: number): readonly Part[] {
  const most = Math.max(MOST, Math.min(MOST_OF_FULL, Math.floor(notes / NOTES_A_CLAUSE)));
  const byWeight = [...parts].sort((a, b) => b.weight - a.weight);
  const kept = new Set(byWeight.slice(0, most).filter(({ weight }, i) => i < MOST || weight >= WEIGHTY));
  const told = parts.filter((part) => kept.has(part) && (part.weight > 1 || kept.size === 1));
  return told.length === 0 ? parts.slice(0, MOST_OF_LIGHT) : told;
}

function draftOf(
  reading: Reading,
  { number, stretches }: ToldBar,
  parts: readonly PartInContext[],
  { opening, notes }: { readonly opening: string; readonly notes: readonly number[] },
): Draft {
  const words = joined(reading, parts, stretches[stretches.length - 1]!.to);
  const last = parts[parts.length - 1]!;
  const { repeat } = stretches[parts[0]!.stretch]!;
  const through = repeat === null ? number : reading.phrase.notes[repeat.to]!.bar;
  return {
    bar: number,
    text: `${capital(`${opening}${words}`.replace(/^goes /, 'the line goes '))}.`,
    notes,
    kind: 'line',
    through: through > number ? through : undefined,
    first: parts[0]!.from,
    targets: parts.flatMap(({ target }) => target ?? []),
    end: last.target !== null && isOpenAfter(words, noteName(reading, last.target)) ? last.target : null,
    lands: parts.length === 1 && last.verb === 'lands ' ? stretches[last.stretch]!.to : null,
  };
}

/** Whether the place of a note may be added to words that name it: they do not end with what it is. */
function isOpenAfter(words: string, name: string): boolean {
  return words.includes(name) && !/(?:, (?:resolving|leading up) to \S+|; the \S+ is the [^;]+)$/.test(words);
}

/** The sentence that owns a stretch: the last one that begins no later. */
function ownerOf(stretch: number, owners: readonly number[]): number {
  return Math.max(
    0,
    owners.findLastIndex((first, i) => first <= stretch && owners.indexOf(first) === i),
  );
}

/** What is to be said against notes, in the words of the findings. */
export function findingSentences(reading: Reading): Sentence[] {
  return reading.notes.flatMap(({ note }) => {
    const { bar } = reading.phrase.notes[note]!;
    const problems = problemsAbout(reading, note).filter(({ severity }) => severity !== 'hint');
    return problems.map(({ rule, facts, severity }): Sentence => {
      return { bar, text: ruleById(rule)!.message(facts), notes: [note], kind: severity === 'information' ? 'remark' : 'warning' };
    });
  });
}
