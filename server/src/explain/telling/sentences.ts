/** Clauses joined to sentences: the chord named once, two sentences where one is long. */
import type { Reading } from '../../analysis/types';
import { chroma } from '../../theory/pitch';
import { asWhich, endsOn, plain, sparing, type Words } from '../say';

/** A clause with the stretch that it belongs to. */
export interface Part {
  readonly words: Words;
  /** As in a clause. */
  readonly verb?: string | undefined;
  readonly weight: number;
  readonly stretch: number;
  readonly isPoint: boolean;
  /** As in a point. */
  readonly states: boolean;
  /** The first note that it tells of, and the last. */
  readonly from: number;
  readonly to: number;
  readonly target: number | null;
}

/** A part after another. */
export interface PartInContext extends Part {
  /** Whether it goes on from the note on which the clause before ends: “which …”. */
  readonly isRelative: boolean;
}

/** Parts one after another: a note that a clause ends on goes on as “which”, and a chord is named once where it goes on. */
export function inContext(parts: readonly Part[]): readonly PartInContext[] {
  const relative = parts.map((part, i) => {
    const before = parts[i - 1];
    const end = before === undefined || before.isPoint || before.stretch !== part.stretch ? null : endsOn(before.words);
    return end === null ? null : asWhich(part.words, end);
  });
  const words = sparing(parts.map((part, i) => relative[i] ?? part.words));
  return parts.map((part, i) => ({ ...part, words: words[i]!, isRelative: relative[i] !== null }));
}

/** Characters and clauses of a sentence. */
const LONG = 110;
const MOST_CLAUSES = 3;

/** Sentences of a few clauses each. `middle` is the note with which the second half of a bar of many notes begins; null in other bars. */
export function inSentences(parts: readonly PartInContext[], middle: number | null = null): PartInContext[][] {
  if (lengthOf(parts) <= LONG && clausesOf(parts) <= MOST_CLAUSES) return [[...parts]];
  const cut = cutOf(parts, middle);
  if (cut === null) return [[...parts]];
  return [parts.slice(0, cut), parts.slice(cut)].flatMap((half) => (clausesOf(half) > MOST_CLAUSES ? inSentences(half) : [[...half]]));
}

function lengthOf(parts: readonly Part[]): number {
  return parts.reduce((sum, part) => sum + textOf(part).length, 0);
}

/** A part may have told two things. */
function clausesOf(parts: readonly Part[]): number {
  return parts.reduce((sum, part) => sum + textOf(part).split('; ').length, 0);
}

/** Where parts are cut in two, at the middle of their bar or of themselves; null where they cannot be. */
function cutOf(parts: readonly PartInContext[], middle: number | null): number | null {
  const total = lengthOf(parts);
  // What only goes on begins no sentence.
  const cuts = parts
    .map((_, i) => i)
    .slice(1)
    .filter((cut) => !parts[cut]!.isRelative)
    .map((cut) => ({ cut, cost: Math.abs(total / 2 - lengthOf(parts.slice(0, cut))) + (parts[cut]!.isPoint ? 40 : 0) }));
  if (cuts.length === 0) return null;
  const atMiddle = cuts.find(({ cut }) => middle !== null && !parts[cut]!.isPoint && parts[cut]!.from >= middle);
  return (atMiddle ?? cuts.reduce((one, other) => (other.cost < one.cost ? other : one))).cut;
}

/** The parts of one sentence, without its capital and full stop. `last` is the last note that their bar tells. */
export function joined(reading: Reading, parts: readonly PartInContext[], last: number): string {
  return parts
    .map((part, i) => {
      const before = parts[i - 1];
      if (before === undefined) return textOf(part);
      if (part.isRelative) return `, ${plain(part.words)}`;
      const place = part.verb === 'lands ' && before.target === part.from ? /, on (?:beat|the “and”) .*$/.exec(textOf(part)) : null;
      if (place !== null) return place[0];
      const apposition = ofSameChord(textOf(before), textOf(part)) ?? ofSameNote(reading, before.words, part.words);
      if (apposition !== null) return apposition;
      const isSameVerb = part.verb !== undefined && part.verb === before.verb;
      const goesOn = !part.isPoint && !before.states && (i === 1 || isSameVerb);
      const link = !goesOn ? '; ' : follows(reading, part, before) ? ', then ' : afterGap(reading, part, last);
      return `${link}${isSameVerb ? plain(part.words) : textOf(part)}`;
    })
    .join('');
}

/** ` (bVII7), the backdoor dominant`: what a chord is, right behind its name; null of other words. */
function ofSameChord(before: string, words: string): string | null {
  const [, chord, numeral, what] = /^(\S+) (\([^)]+\)) is (.+)$/.exec(words) ?? [];
  return chord !== undefined && before.endsWith(` of ${chord}`) ? ` ${numeral}, ${what}` : null;
}

/** `, which comes early`, `, which falls a half step to D`: of the note on which the words before end, or the same struck again; null of other words. */
function ofSameNote({ phrase: { notes } }: Reading, before: Words, words: Words): string | null {
  const [end, first] = [endsOn(before), words[0]];
  if (end === null || typeof first !== 'object' || !('note' in first) || notes[first.note]!.midi !== notes[end]!.midi) return null;
  const which = asWhich(words, first.note);
  return which === null ? null : `, ${plain(which)}`;
}

/** Notes in a row that may go without words before “then”. */
const FEW_LEFT_OUT = 1;

/** Whether a clause is heard to go on from the one before: hardly a note between goes without words, and none there has the name of its first. Where a line lands is told with its beat. */
function follows({ phrase }: Reading, { from, verb }: Part, before: Part): boolean {
  const end = Math.max(before.to, before.target ?? 0);
  if (verb !== undefined || from <= end + 1) return true;
  const sound = (note: number): number => chroma(phrase.notes[note]!.pitch);
  const between = Array.from({ length: from - end }, (_, i) => end + i);
  return from - end - 1 <= FEW_LEFT_OUT && !between.some((note) => sound(note) === sound(from));
}

/** Notes of a clause so short that its place is wanted. */
const SHORT = 3;

/** After notes that go without words. */
function afterGap({ phrase }: Reading, { from, to }: Part, last: number): string {
  return to === last && to - from < SHORT && phrase.notes[from]!.bar > 0 ? '; at the end of the bar, ' : '; ';
}

function textOf({ verb = '', words }: Part): string {
  return `${verb}${plain(words)}`;
}
