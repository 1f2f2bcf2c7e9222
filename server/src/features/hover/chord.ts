/** The hover of a chord: its tones, its scale, what is available over it, and what it does in the key. */
import { roleOf, type ChordInPlace } from '../../analysis/role';
import { distanceUp, targetOf } from '../../analysis/harmonies';
import { placeOfHarmony } from '../../analysis/read';
import { isDominant } from '../../analysis/vocabulary';
import type { Reading, TheoryOptions } from '../../analysis/types';
import { guarded } from '../../model/faults';
import type { ChordSpan } from '../../model/types';
import { listed } from '../../explain/note-words';
import { calledFigure } from '../../theory/called';
import { copyable, figureName, formatFigure } from '../../theory/figure';
import { formatKey, functionInKey } from '../../theory/key';
import { formatNoteName } from '../../theory/pitch';
import type { Chord, Figure, Key, Scale } from '../../theory/types';
import { chordTones, codeWord, scaleWords } from './words';

/** A line that breaks off is missing, and no other. */
export function chordHover(reading: Reading, index: number, options: TheoryOptions): string {
  const span = reading.phrase.spans[index]!;
  if (span.symbol === 'N.C.') return '**N.C.**: no chord; notes here have no degree.';
  const { chord } = span;
  if (chord === null) return `${codeWord(span.written)} could not be read as a chord.`;
  const scale = reading.scales[index] ?? null;
  const place = (): ChordInPlace => placeOfHarmony(reading.context.harmonies[reading.context.ofSpan[index]!]!, scale, reading.context)!;
  const { tonic } = reading.context;
  const part = (of: string, lines: () => readonly string[]): readonly string[] => guarded(`what a hover says of ${of}`, [], lines);
  return [
    ...part('the tones of a chord', () => [`**${span.symbol}**${span.roman ? ` (\`${span.written}\`)` : ''}: ${chordTones(chord)}.`]),
    ...part('the bass of a chord', () => (chord.bass === null ? [] : [`Bass: ${formatNoteName(chord.bass)}.`])),
    ...part('the chord-scale', () => (scale === null ? [] : scaleLines(span, scale, place(), options))),
    ...part('where a chord falls', () => borrowedLines(reading, index, place(), options)),
    ...part('a chord in its key', () =>
      tonic === null ? [] : [`In ${formatKey(tonic)}${reading.phrase.key === null ? ' (inferred)' : ''}: ${numeral(chord, tonic)}.`],
    ),
  ].join('\n\n');
}

/** I, IV and V alone for a triad or a major seventh, I7 and V7 for dominants. */
function numeral(chord: Chord, tonic: Key): string {
  return `${functionInKey(chord, tonic)}${isDominant(chord) ? '7' : ''}`;
}

const BORROWED = [
  [9, -1],
  [9, 0],
  [9, 1],
  [11, 1],
  [13, -1],
  [13, 0],
  [7, -1],
] as const;

/** What a line may borrow over a chord that falls, beside the chord's own tones and tensions. */
function borrowedLines({ context, phrase }: Reading, index: number, place: ChordInPlace, options: TheoryOptions): string[] {
  if (!place.falls && !place.triadFalls) return [];
  const borrowed = BORROWED.map(([number, alter]): Figure => ({ number, alter })).filter(
    (figure) => roleOf(figureName(place.chord.root, figure), place, options).borrowed,
  );
  if (borrowed.length === 0) return [];
  const { symbol } = phrase.spans[index]!;
  const target = targetOf(context, context.harmonies[context.ofSpan[index]!]!);
  const up = target === null ? null : distanceUp(place.chord, target);
  const leads =
    up === 5
      ? `leads down a fifth to ${target!.symbol}`
      : up === 11
        ? `leads down a half step to ${target!.symbol}`
        : target === null
          ? 'leads on from the end of the phrase'
          : 'is the V7 of the key';
  return [`${symbol} ${leads}, so a line may borrow ${listed(borrowed.map(formatFigure))} too.`];
}

function scaleLines(span: ChordSpan, scale: Scale, place: ChordInPlace, options: TheoryOptions): string[] {
  const placements = scale.tones.map((tone) => ({
    name: formatNoteName(tone.name),
    called: calledFigure(place.chord, tone.name, { numbers: options.numbers, blue: false }),
    role: roleOf(tone.name, place, options).role,
  }));
  const list = (role: string): string =>
    placements
      .filter((one) => one.role === role)
      .map((one) => `${one.name} ${copyable(span.chord!, one.called)}`)
      .join(', ');
  return [
    `Chord-scale: ${scaleWords(scale)}${span.statedScale === null ? '' : ' (as stated)'}: ${scale.tones.map((tone) => formatNoteName(tone.name)).join(' ')}.`,
    `Tensions: ${list('tension') || 'none'}. Avoid notes: ${list('avoid') || 'none'}.`,
  ];
}
