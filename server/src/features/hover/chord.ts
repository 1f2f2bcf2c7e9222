/** The hover of a chord: its tones, its scale, what is available over it, and what it does in the key. */
import { roleOf, type ChordInPlace } from '../../analysis/role';
import { placeOfHarmony } from '../../analysis/read';
import type { Reading, TheoryOptions } from '../../analysis/types';
import { guarded } from '../../model/faults';
import type { ChordSpan } from '../../model/types';
import { calledFigure } from '../../theory/called';
import { copyable } from '../../theory/figure';
import { formatKey, functionInKey } from '../../theory/key';
import { formatNoteName } from '../../theory/pitch';
import type { Scale } from '../../theory/types';
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
    ...part('where a chord falls', () => (place().falls ? ['It falls, so a line may borrow b9, 9, #9, #11, b13 and 13.'] : [])),
    ...part('a chord in its key', () => (tonic === null ? [] : [`In ${formatKey(tonic)}${reading.phrase.key === null ? ' (inferred)' : ''}: ${functionInKey(chord, tonic)}.`])),
  ].join('\n\n');
}

function scaleLines(span: ChordSpan, scale: Scale, place: ChordInPlace, options: TheoryOptions): string[] {
  const placements = scale.tones.map((tone) => ({ name: formatNoteName(tone.name), called: calledFigure(place.chord, tone.name, { numbers: options.numbers, blue: false }), role: roleOf(tone.name, place, options).role }));
  const list = (role: string): string => placements.filter((one) => one.role === role).map((one) => `${one.name} ${copyable(span.chord!, one.called)}`).join(', ');
  return [
    `Chord-scale: ${scaleWords(scale)}${span.statedScale === null ? '' : ' (as stated)'}: ${scale.tones.map((tone) => formatNoteName(tone.name)).join(' ')}.`,
    `Tensions: ${list('tension') || 'none'}. Avoid notes: ${list('avoid') || 'none'}.`,
  ];
}
