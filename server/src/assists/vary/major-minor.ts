import { homeKey } from '../../analysis/keys';
import type { OverRow, Range, Row, TextEdit } from '../../../../grammar/tree';
import { chordScales } from '../../analysis/chord-scales';
import type { NoteReading, Reading } from '../../analysis/types';
import { readChord } from '../../theory/chord';
import { functionInKey } from '../../theory/key';
import { isRoman, readRoman } from '../../theory/roman';
import { midi, nearestOctave } from '../../theory/pitch';
import type { Chord, Key, Pitch } from '../../theory/types';
import type { Assist, AssistContext } from '../assist';
import { chordsOf, definitionsWrittenOut } from '../writing/changes-text';
import { lineEditsOver } from '../writing/kept-bars';
import { isAtTitle } from '../writing/phrase-title';
import { rowHere } from '../writing/row-keyword';
import { soundsOf } from '../writing/score';
import { isWhole, readText, replacing, rewritten, sorted } from '../writing/whole-phrase';
import { carried, type Step } from './carry';
import { applyEdits } from '../../../../grammar/printer';

export const majorMinor: Assist = {
  id: 'major-minor',
  kind: 'refactor.rewrite.mode',
  what: 'Turns a ii–V–I in major into a ii–V–i in minor and back: chord tones to the matching chord tones, scale notes to the matching scale.',
  offers(context) {
    if (!isAtTitle(context) && rowHere(context, 'over') === null && rowHere(context, 'key') === null) return [];
    const key = homeKey(context.reading);
    if (key === null || !isWhole(context.reading.phrase)) return [];
    const written = inPlainChords(context);
    const turned = written === null ? null : otherMode(written, key);
    return turned === null ? [] : replacing(context, turned.text, turned.title);
  },
};

/** The phrase with its definitions written out, so that their chords can be changed here alone. */
function inPlainChords(context: AssistContext): AssistContext | null {
  const edits = definitionsWrittenOut(context.snapshot, context.reading.phrase);
  if (edits === null || edits.length === 0) return edits === null ? null : context;
  const text = applyEdits(context.placed.phrase.text, sorted(edits));
  const reading = readText(context, text);
  return reading === null ? null : { ...context, placed: { start: context.placed.start, phrase: reading.phrase }, reading };
}

function otherMode(context: AssistContext, key: Key): { readonly text: string | null; readonly title: string } | null {
  const { reading } = context;
  const { phrase } = reading;
  const other: Key = { tonic: key.tonic, mode: key.mode === 'major' ? 'minor' : 'major' };
  const chords = phrase.item.rows.filter((row): row is OverRow => row.kind === 'over').flatMap((row) => chordsOf(row));
  const edits = chords.map((word) => chordEdit(word.symbol.text, word.range, key));
  if (edits.length === 0 || edits.some((edit) => edit === null)) return null;
  const modes = phrase.item.rows.flatMap((row): TextEdit[] =>
    row.kind === 'key' ? [{ range: valueOf(phrase.text, row), text: words(other) }] : [],
  );
  const overNew = readText(context, applyEdits(phrase.text, sorted([...(edits as TextEdit[]), ...modes])));
  if (overNew === null || overNew.phrase.spans.length !== phrase.spans.length) return null;
  const steps = stepsOver(reading, overNew);
  if (steps === null) return null;
  const written = (pitches: readonly Pitch[]): string | null => {
    const sounds = soundsOf(phrase).map((sound, i) => ({ ...sound, pitch: pitches[i]! }));
    const line = lineEditsOver(phrase, sounds, overNew.phrase.spans);
    return line === null ? null : rewritten(context, [...(edits as TextEdit[]), ...modes, ...line]);
  };
  const symbols = [...new Set(overNew.phrase.spans.map(({ written: symbol }) => symbol))].join(' ');
  return { text: insideText(context, steps, written), title: `Turn the phrase into ${other.mode}: ${symbols}` };
}

/** How often a line is looked at again, since a note that gives way may change what its neighbours are. */
const MOST_ROUNDS = 4;

/** The text of the line carried over, in which no note is outside or clashes that did not before; null where that cannot be had. */
function insideText(context: AssistContext, steps: readonly Step[], written: (pitches: readonly Pitch[]) => string | null): string | null {
  const settled = new Map<number, Pitch>();
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const pitches = carried(steps, settled);
    const text = written(pitches);
    const after = text === null ? null : readText(context, text);
    if (after === null || after.notes.length !== steps.length) return null;
    const worse = after.notes.filter((read) => isWorse(context.reading.notes[read.note]!, read)).map(({ note }) => note);
    if (worse.length === 0) return text;
    for (const note of worse) {
      const giving = givenWay(steps, pitches, note, after);
      if (giving !== null) settled.set(note, giving);
    }
  }
  return null;
}

function isWorse(before: NoteReading, after: NoteReading): boolean {
  const isOutside = ({ placement }: NoteReading): boolean => placement?.role === 'outside';
  const clashes = ({ verdict }: NoteReading): boolean => verdict?.level === 'warning';
  return (isOutside(after) && !isOutside(before)) || (clashes(after) && !clashes(before));
}

/** What a note gives way to: the nearest chord tone where it clashes, else the nearest scale note; no repeated note if that can be helped. */
function givenWay(steps: readonly Step[], pitches: readonly Pitch[], note: number, after: Reading): Pitch | null {
  const { pitch, to } = steps[note]!;
  const clashes = after.notes[note]!.verdict?.level === 'warning';
  const scale = after.scales[after.notes[note]!.placement?.span ?? -1] ?? to.scale;
  const names =
    clashes || scale === null ? to.chord.tones.filter(({ basic }) => basic).map(({ name }) => name) : scale.tones.map(({ name }) => name);
  const neighbours = [pitches[note - 1], pitches[note + 1]].flatMap((one) => (one === undefined ? [] : [midi(one)]));
  const cost = (one: Pitch): number => Math.abs(midi(one) - midi(pitch)) + (neighbours.includes(midi(one)) ? 1.5 : 0);
  return names.map((name) => nearestOctave(name, midi(pitch))).sort((a, b) => cost(a) - cost(b))[0] ?? null;
}

/** What stands behind the keyword, without the space between. */
function valueOf(text: string, { keyword, range }: Row): Range {
  const behind = text.slice(keyword.range.end, range.end);
  return { start: range.end - behind.trimStart().length, end: range.end };
}

function words({ tonic, mode }: Key): string {
  return `${tonic.letter}${tonic.alter < 0 ? 'b'.repeat(-tonic.alter) : '#'.repeat(tonic.alter)} ${mode}`;
}

/** What each note stands over before and after; null where one stands over no chord. */
function stepsOver(from: Reading, to: Reading): Step[] | null {
  // The new scales are those of the new mode: what the old notes would make of them does not count.
  const scales = chordScales({ ...to.phrase, notes: [] }, to.context);
  const steps = from.phrase.notes.map((note): Step | null => {
    const span = from.notes[note.index]!.placement?.span ?? note.span;
    const [a, b] = span === null ? [null, null] : [from.phrase.spans[span]!.chord, to.phrase.spans[span]!.chord];
    if (span === null || a == null || b == null) return null;
    return {
      pitch: note.pitch,
      by: 0,
      from: { chord: a, scale: from.scales[span] ?? null },
      to: { chord: b, scale: scales[to.context.ofSpan[span]!] ?? null },
    };
  });
  return steps.every((step) => step !== null) ? steps : null;
}

/** What each chord of a ii–V–I is in the other mode; by function, whatever it is called. */
const MODES: Readonly<
  Record<
    Key['mode'],
    Readonly<Record<string, { readonly is: (chord: Chord) => boolean; readonly quality: string; readonly numeral: string }>>
  >
> = {
  major: {
    ii: { is: ({ family }) => family === 'minor-seventh', quality: 'm7b5', numeral: 'iim7b5' },
    V: { is: ({ family }) => family === 'dominant', quality: '7b9', numeral: 'V7b9' },
    I: { is: ({ family }) => family.startsWith('major'), quality: 'm6', numeral: 'i6' },
  },
  minor: {
    ii: { is: ({ family }) => family === 'half-diminished', quality: 'm7', numeral: 'ii7' },
    V: { is: ({ family }) => ['dominant', 'altered', 'augmented-seventh'].includes(family), quality: '7', numeral: 'V7' },
    i: { is: ({ family }) => family.startsWith('minor'), quality: 'maj7', numeral: 'Imaj7' },
  },
};

/** The edit that gives a chord its form in the other mode; null where it is none of a ii–V–I. */
function chordEdit(symbol: string, range: TextEdit['range'], key: Key): TextEdit | null {
  const chord = isRoman(symbol) ? readRoman(symbol, key) : readChord(symbol);
  if (!('tones' in chord) || chord.bass !== null) return null;
  const found = MODES[key.mode][functionInKey(chord, key)];
  if (found === undefined || !found.is(chord)) return null;
  const root = /^[A-G](?:[b#]|♭|♯)?/.exec(symbol)?.[0] ?? '';
  return { range, text: isRoman(symbol) ? found.numeral : root + found.quality };
}
