/**
 * `resolves 7 to 3`: a degree goes, at once or after one more note, by step or by staying, to a degree of another chord, or by step to the
 * 1, 3 or 5 of its own.
 */
import { figureInterval, parseFigure, sameFigureSound } from '../../theory/figure';
import { formatPitch } from '../../theory/pitch';
import { ofReading } from '../of-reading';
import type { ChordPlacement, Reading } from '../types';
import { isLeap, isStep } from '../vocabulary';
import { holds, impossible, refuted, type ClaimKind } from './claim';
import { degreeWords, noteWords } from './place';

export const resolves: ClaimKind = (words, reading) => {
  if (words[0] !== 'resolves') return null;
  const [, from, to, target] = words;
  if (!isFigure(from) || to !== 'to' || !isFigure(target) || words.length !== 4)
    return impossible('write resolves, a degree, to, and a degree, such as resolves 7 to 3');
  const starts = reading.notes.flatMap(({ note, placement, soundings }) =>
    [placement, ...soundings.map((sounding) => sounding.placement)]
      .filter((one) => one !== null)
      .filter((over) => hasFigure(note, over, from!, reading))
      .slice(0, 1)
      .map((over): Start => ({ note, over })),
  );
  if (starts.length === 0) return refuted(`no note is the ${from} of its chord`, null);
  const goals = starts.flatMap((start) =>
    nextSounds(start.note, reading)
      .filter((note) => isOver(note, target!, reading))
      .map((note): Goal => ({ start, note, way: wayTo(start, note, reading) })),
  );
  const proof = goals.find(({ way }) => way === 'resolves' || way === 'stays');
  if (proof !== undefined) return holds(goalWords(proof, reading), proof.start.note);
  const [near] = goals;
  return near === undefined
    ? refuted(elsewhereWords(starts[0]!, target!, reading), starts[0]!.note)
    : refuted(goalWords(near, reading), near.start.note);
};

/** A note, and the chord over which it has the first degree. */
interface Start {
  readonly note: number;
  readonly over: ChordPlacement;
}

/** A note of the second degree soon after a start, and how it is reached; `within`: in the chord of both, and no resolution. */
interface Goal {
  readonly start: Start;
  readonly note: number;
  readonly way: 'resolves' | 'stays' | 'leaps' | 'within';
}

function isFigure(text: string | undefined): boolean {
  return /^(?:bb?|##?)?(?:1[13]|[1-79])$/.test(text ?? '');
}

function isOver(note: number, text: string, reading: Reading): boolean {
  const { placement } = reading.notes[note]!;
  return placement !== null && hasFigure(note, placement, text, reading);
}

/** By any name of its sound; a bare number means that degree in any colour, 2, 4 and 6 those of 9, 11 and 13. */
function hasFigure(note: number, { span, figure, called }: ChordPlacement, text: string, { phrase }: Reading): boolean {
  const { number, alter } = parseFigure(text)!;
  if (alter === 0) return [figure, called].some((one) => (one.number - number) % 7 === 0);
  const { chord } = phrase.spans[span]!;
  return (
    (figure.number === number && figure.alter === alter) ||
    (chord !== null && sameFigureSound(chord, { number, accidental: text.replace(/\d+$/, '') }, phrase.notes[note]!.pitch))
  );
}

/** The note that follows and the one after it, then the next two of other sounds. */
function nextSounds(note: number, reading: Reading): number[] {
  const next = nextOfOtherSound(reading);
  const second = next[note]!;
  const third = second < next.length ? next[second]! : second;
  return [...new Set([note + 1, note + 2, second, third])].filter((one) => one < next.length);
}

/** For each note the index of the next one that is another; where none is, how many notes there are. */
const nextOfOtherSound = ofReading(({ phrase: { notes } }): readonly number[] => {
  const next: number[] = notes.map(() => notes.length);
  for (let i = notes.length - 2; i >= 0; i -= 1) next[i] = notes[i + 1]!.midi === notes[i]!.midi ? next[i + 1]! : i + 1;
  return next;
});

function wayTo({ note, over }: Start, end: number, reading: Reading): Goal['way'] {
  const { phrase, notes } = reading;
  const [from, to] = [phrase.notes[note]!, phrase.notes[end]!];
  if (isLeap(from, to)) return 'leaps';
  const there = notes[end]!.placement!;
  if (over.span !== there.span) return from.midi === to.midi ? 'stays' : 'resolves';
  return isStep(from, to) && isHome(there, reading) && !isHome(over, reading) ? 'resolves' : 'within';
}

/** 1, 3 (or what a sus chord has for it) and 5 of a chord: where it is at rest. */
function isHome({ span, called }: ChordPlacement, { phrase }: Reading): boolean {
  const { chord } = phrase.spans[span]!;
  // The fifth is at rest where a symbol alters it or leaves it out, too: F#-G over C7alt.
  if (called.number === 5 && called.alter === 0) return true;
  const tone = chord?.tones.find(({ interval }) => interval === figureInterval(called));
  return tone !== undefined && tone.basic && tone.figure.number < 6;
}

function goalWords({ start, note, way }: Goal, reading: Reading): string {
  const [who, to] = [noteWords(start.note, reading, start.over), reading.notes[note]!.placement!];
  const where = `${formatPitch(reading.phrase.notes[note]!.pitch)}, ${degreeWords(to, reading)}`;
  switch (way) {
    case 'stays':
      return `${who} stays, and becomes ${degreeWords(to, reading)}`;
    case 'resolves':
      return `${who} goes to ${where}`;
    case 'leaps':
      return `${who} leaps to ${where}, and what resolves goes by step or stays`;
    case 'within':
      return `${who} and ${where}, stand in one chord, in which a note resolves by step to its 1, 3 or 5`;
  }
}

/** Where a note goes in place of the degree that is claimed. */
function elsewhereWords({ note, over }: Start, target: string, reading: Reading): string {
  const who = noteWords(note, reading, over);
  const next = nextSounds(note, reading)
    .filter((one, i, all) => i === 0 || reading.phrase.notes[one]!.midi !== reading.phrase.notes[all[i - 1]!]!.midi)
    .slice(0, 2);
  if (next.length === 0) return `${who} is the last note`;
  const names = next.map((one) => {
    const { placement } = reading.notes[one]!;
    return `${formatPitch(reading.phrase.notes[one]!.pitch)}${placement === null ? '' : ` (${degreeWords(placement, reading)})`}`;
  });
  return `${who} goes to ${names.join(' and ')}, and not to the ${target} of a chord`;
}
