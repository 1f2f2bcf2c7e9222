import { applyEdits } from '../../../grammar/printer';
import { soundingRange } from '../theory/part';
import type { Shift } from '../theory/interval';
import { formatNoteName, midi, parseNoteName } from '../theory/pitch';
import { shiftBetween } from '../theory/interval';
import type { Key } from '../theory/types';
import type { Phrase } from '../model/types';
import type { Assist } from './assist';
import { isAtTitle } from './phrase-title';
import { transpositionEdits } from './transposing';

/** The keys, each a fifth below the one before, spelled with as few accidentals as may be. */
const CYCLE: Readonly<Record<Key['mode'], readonly string[]>> = {
  major: ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'],
  minor: ['C', 'F', 'Bb', 'Eb', 'G#', 'C#', 'F#', 'B', 'E', 'A', 'D', 'G'],
};

export const twelveKeys: Assist = {
  id: 'twelve-keys',
  kind: 'refactor.rewrite.phrase',
  what: 'Copies a phrase to the other eleven keys, round the cycle of fifths, in octaves that suit its part.',
  offers(context) {
    const { phrase, context: harmony } = context.reading;
    const key = phrase.key ?? harmony.tonic;
    if (!isAtTitle(context) || key === null || phrase.notes.length === 0) return [];
    const cycle = CYCLE[key.mode];
    const here = cycle.findIndex((name) => midi({ ...parseNoteName(name)!, octave: 4 }) % 12 === midi({ ...key.tonic, octave: 4 }) % 12);
    const names = cycle.map((_, i) => cycle[(here + i + 1) % 12]!).slice(0, 11);
    const copies = names.map((name) => copyIn(phrase, key, name));
    if (copies.some((copy) => copy === null)) return [];
    const end = phrase.text.trimEnd().length;
    return [{ title: `Copy the phrase to the other eleven keys: ${names.join(', ')}`, edits: [{ range: { start: end, end }, text: copies.map((copy) => `\n\n${copy}`).join('') }], repairs: null, preferred: false }];
  },
};

/** The phrase's text in another key; null where something in it cannot be moved. */
function copyIn(phrase: Phrase, key: Key, name: string): string | null {
  const up = shiftBetween(key.tonic, parseNoteName(name)!);
  const down: Shift = { diatonic: up.diatonic - 7, chromatic: up.chromatic - 12 };
  const shift = [up, down].sort((a, b) => strain(phrase, a) - strain(phrase, b))[0]!;
  const { title, keyword } = phrase.item;
  const edits = transpositionEdits(phrase.text, phrase.item, shift);
  if (edits === null) return null;
  const mode = key.mode === 'minor' ? ' minor' : '';
  const said = `"${(title === null ? '' : phrase.text.slice(title.range.start + 1, title.range.end - (title.closed ? 1 : 0)))} (${formatNoteName(parseNoteName(name)!)}${mode})"`;
  const titled = title === null ? { range: { start: keyword.range.end, end: keyword.range.end }, text: ` ${said}` } : { range: title.range, text: said };
  const moved = applyEdits(phrase.text, [titled, ...edits].sort((a, b) => a.range.start - b.range.start));
  return moved.slice(keyword.range.start).trimEnd();
}

/** How far a shift takes the phrase out of its part's range, then how far it moves it at all (half steps). */
function strain(phrase: Phrase, { chromatic }: Shift): number {
  const { low, high } = soundingRange(phrase.part);
  const outside = phrase.notes.filter((note) => note.midi + chromatic < midi(low) || note.midi + chromatic > midi(high)).length;
  return outside * 1000 + Math.abs(chromatic);
}
