/**
 * The order in which measures are played: repeats with their endings, D.C., D.S., coda and Fine written out. After D.C. or D.S. no repeat is taken
 * again and of endings the last is played (common practice), unless a repeat says `after-jump`.
 */
import type { Report } from './report';
import type { SourceMeasure } from './types';
import { Unreadable } from './unreadable';

/** One playing of a measure. */
export interface Played {
  /** Its index among the measures of the file. */
  readonly measure: number;
  /** It is reached by going back. */
  readonly isJumpedTo: boolean;
}

const MOST_PLAYED = 4000;

/** A bracket over some measures, and the passes that go through it. */
interface Bracket {
  readonly first: number;
  last: number;
  readonly numbers: readonly number[];
  /** The brackets that follow each other without a gap share the passes. */
  group: { last: number };
}

export function playingOrder(measures: readonly SourceMeasure[], report: Report): Played[] {
  const brackets = bracketsOf(measures);
  const played: Played[] = [];
  let at = 0;
  let start = 0;
  let pass = 1;
  let hasJumped = false;
  let isJumpedTo = false;
  while (at < measures.length) {
    const measure = measures[at]!;
    const { signs } = measure;
    if (signs.forward && at !== start) [start, pass] = [at, 1];
    const bracket = brackets.find(({ first, last }) => first <= at && at <= last);
    if (bracket !== undefined && bracket.first === at && !isPlayed(bracket, pass, hasJumped)) {
      at = bracket.last + 1;
      continue;
    }
    played.push({ measure: at, isJumpedTo });
    if (played.length > MOST_PLAYED)
      throw new Unreadable(`with its repeats written out the tune has more than ${MOST_PLAYED} measures. Take repeats out and try again.`);
    isJumpedTo = false;
    if (signs.backward !== null && (!hasJumped || signs.backward.afterJump) && pass < passesOf(measure, bracket)) {
      pass += 1;
      at = start;
      isJumpedTo = true;
      continue;
    }
    const isGroupOver =
      bracket !== undefined && bracket.last === at && !brackets.some(({ first, group }) => first === at + 1 && group === bracket.group);
    if ((signs.backward !== null && bracket === undefined) || isGroupOver) [start, pass] = [at + 1, 1];
    if (hasJumped && signs.fine) break;
    const target =
      !hasJumped && signs.jump !== null
        ? jumpTarget(measures, at, report)
        : hasJumped && signs.toCoda
          ? codaAfter(measures, at, report)
          : null;
    if (target === null) {
      at += 1;
      continue;
    }
    hasJumped = true;
    [at, start, pass, isJumpedTo] = [target, target, 1, true];
  }
  tellUnused(measures, hasJumped, report);
  return played;
}

function bracketsOf(measures: readonly SourceMeasure[]): Bracket[] {
  const brackets: Bracket[] = [];
  let open: Bracket | null = null;
  measures.forEach(({ signs }, i) => {
    if (signs.endingStart !== null) {
      const before = brackets[brackets.length - 1];
      const numbers: readonly number[] = signs.endingStart.numbers;
      const follows: boolean = before !== undefined && before.last === i - 1 && Math.min(...numbers) > Math.min(...before.numbers);
      open = { first: i, last: i, numbers, group: follows ? before!.group : { last: 0 } };
      open.group.last = Math.max(open.group.last, ...numbers);
      brackets.push(open);
    }
    if (open !== null) open.last = i;
    if (signs.endingStop || signs.backward !== null) open = null;
  });
  return brackets;
}

function isPlayed({ numbers, group }: Bracket, pass: number, hasJumped: boolean): boolean {
  if (numbers.length === 0) return true;
  // A first ending alone stands for the first pass; whoever jumped is past it.
  return hasJumped ? numbers.includes(Math.max(group.last, 2)) : numbers.includes(pass);
}

function passesOf({ signs }: SourceMeasure, bracket: Bracket | undefined): number {
  if (bracket === undefined) return signs.backward!.times ?? 2;
  return Math.max(2, bracket.group.last);
}

function jumpTarget(measures: readonly SourceMeasure[], at: number, report: Report): number {
  if (measures[at]!.signs.jump === 'da-capo') return 0;
  const before = measures.slice(0, at + 1).findLastIndex(({ signs }) => signs.segno);
  if (before >= 0) return before;
  report.leftOut('a D.S. without a segno before it: it is taken for a D.C.', measures[at]!.number);
  return 0;
}

/** The coda stands after the sign that sends there; null where there is none. */
function codaAfter(measures: readonly SourceMeasure[], at: number, report: Report): number | null {
  const codas = measures.flatMap(({ signs }, i) => (signs.coda && i > at ? [i] : []));
  const target = codas[codas.length - 1] ?? null;
  if (target === null) report.leftOut('a “To Coda” without a coda after it', measures[at]!.number);
  return target;
}

function tellUnused(measures: readonly SourceMeasure[], hasJumped: boolean, report: Report): void {
  if (hasJumped) return;
  const idle = measures.find(({ signs }) => signs.toCoda);
  if (idle !== undefined) report.leftOut('a “To Coda” that no D.C. or D.S. leads back to', idle.number);
}

/** Where the sign over the way out is a coda sign like that of the coda itself, and nothing else says “To Coda”, the first of the two sends to the second. */
export function withCodaSigns(measures: readonly SourceMeasure[]): readonly SourceMeasure[] {
  const codas = measures.flatMap(({ signs }, i) => (signs.coda ? [i] : []));
  const isSaid = measures.some(({ signs }) => signs.toCoda);
  const isJumping = measures.some(({ signs }) => signs.jump !== null);
  if (isSaid || !isJumping || codas.length !== 2) return measures;
  return measures.map((measure, i) => (i === codas[0] ? { ...measure, signs: { ...measure.signs, toCoda: true, coda: false } } : measure));
}
