/** Clauses joined to sentences: the chord named once, two sentences where one is long. */
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
  /** The first note that it tells of. */
  readonly from: number;
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

/** Characters of a sentence. */
const LONG = 110;
/** Clauses that two sentences hold. */
const OF_TWO = 5;

/** Two sentences where one is long, and more where two would hold too many clauses. */
export function inSentences(parts: readonly PartInContext[]): PartInContext[][] {
  const lengthOf = (some: readonly Part[]): number => some.reduce((sum, part) => sum + textOf(part).length, 0);
  const total = lengthOf(parts);
  if (parts.length < 2 || total <= LONG) return [[...parts]];
  // What only goes on begins no sentence.
  const cuts = parts
    .map((_, i) => i)
    .slice(1)
    .filter((cut) => !parts[cut]!.isRelative)
    .map((cut) => {
      return { cut, cost: Math.abs(total / 2 - lengthOf(parts.slice(0, cut))) + (parts[cut]!.isPoint ? 40 : 0) };
    });
  if (cuts.length === 0) return [[...parts]];
  const { cut } = cuts.reduce((one, other) => (other.cost < one.cost ? other : one));
  const halves = [parts.slice(0, cut), parts.slice(cut)];
  return parts.length > OF_TWO ? halves.flatMap(inSentences) : halves;
}

/** The parts of one sentence, without its capital and full stop. */
export function joined(parts: readonly PartInContext[]): string {
  return parts
    .map((part, i) => {
      const before = parts[i - 1];
      if (before === undefined) return textOf(part);
      if (part.isRelative) return `, ${plain(part.words)}`;
      const isSameVerb = part.verb !== undefined && part.verb === before.verb;
      const link = part.isPoint || before.states || (i > 1 && !isSameVerb) ? '; ' : ', then ';
      return `${link}${isSameVerb ? plain(part.words) : textOf(part)}`;
    })
    .join('');
}

function textOf({ verb = '', words }: Part): string {
  return `${verb}${plain(words)}`;
}
