/** The hover of a chord: its tones, its scale, what is available over it, and what it does in the key. */
import { roleOf } from '../../analysis/role';
import { placeOfHarmony } from '../../analysis/read';
import type { Reading, TheoryOptions } from '../../analysis/types';
import { calledFigure } from '../../theory/called';
import { copyable } from '../../theory/figure';
import { formatKey, functionInKey } from '../../theory/key';
import { formatNoteName } from '../../theory/pitch';
import { chordTones, codeWord, scaleWords } from './words';

export function chordHover(reading: Reading, index: number, options: TheoryOptions): string {
  const span = reading.phrase.spans[index]!;
  if (span.symbol === 'N.C.') return '**N.C.**: no chord; notes here have no degree.';
  if (span.chord === null) return `${codeWord(span.written)} could not be read as a chord.`;
  const harmony = reading.context.ofSpan[index]!;
  const scale = reading.scales[index] ?? null;
  const place = placeOfHarmony(reading.context.harmonies[harmony]!, scale, reading.context)!;
  const lines = [`**${span.symbol}**${span.roman ? ` (\`${span.written}\`)` : ''}: ${chordTones(span.chord)}.`];
  if (span.chord.bass !== null) lines.push(`Bass: ${formatNoteName(span.chord.bass)}.`);
  if (scale !== null) {
    const placements = scale.tones.map((tone) => ({ name: formatNoteName(tone.name), called: calledFigure(place.chord, tone.name, { numbers: options.numbers, blue: false }), role: roleOf(tone.name, place, options).role }));
    const { chord } = span;
    const list = (role: string): string => placements.filter((one) => one.role === role).map((one) => `${one.name} ${copyable(chord, one.called)}`).join(', ');
    lines.push(`Chord-scale: ${scaleWords(scale)}${span.statedScale === null ? '' : ' (as stated)'}: ${scale.tones.map((tone) => formatNoteName(tone.name)).join(' ')}.`);
    lines.push(`Tensions: ${list('tension') || 'none'}. Avoid notes: ${list('avoid') || 'none'}.`);
  }
  if (place.falls) lines.push('It falls, so a line may borrow b9, 9, #9, #11, b13 and 13.');
  const { tonic } = reading.context;
  if (tonic !== null) lines.push(`In ${formatKey(tonic)}${reading.phrase.key === null ? ' (inferred)' : ''}: ${functionInKey(span.chord, tonic)}.`);
  return lines.join('\n\n');
}
