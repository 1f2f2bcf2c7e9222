import { homeKey } from '../analysis/keys';
import type { OverRow, TextEdit } from '../../../grammar/tree';
import type { Reading } from '../analysis/types';
import { readChord } from '../theory/chord';
import { functionInKey } from '../theory/key';
import { isRoman, readRoman } from '../theory/roman';
import type { Chord, Key } from '../theory/types';
import type { Assist, AssistContext } from './assist';
import { carried, type Step } from './carry';
import { definitionsWrittenOut } from './changes-text';
import { chordsOf } from './chords-in-numerals';
import { isAtTitle } from './phrase-title';
import { rowHere } from './row-keyword';
import { measuresOf, soundsOf, writeMeasures } from './score';
import { barEdits, isWhole, readText, replacing, rewritten, sorted } from './whole-phrase';
import { applyEdits } from '../../../grammar/printer';

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
  const { reading, placed } = context;
  const { phrase } = reading;
  const other: Key = { tonic: key.tonic, mode: key.mode === 'major' ? 'minor' : 'major' };
  const chords = phrase.item.rows.filter((row): row is OverRow => row.kind === 'over').flatMap((row) => chordsOf(row));
  const edits = chords.map((word) => chordEdit(word.symbol.text, word.range, key));
  if (edits.length === 0 || edits.some((edit) => edit === null)) return null;
  const modes = phrase.item.rows.flatMap((row): TextEdit[] => (row.kind === 'key' ? [{ range: { start: row.keyword.range.end, end: row.range.end }, text: `     ${words(other)}` }] : []));
  const overNew = readText(context, applyEdits(phrase.text, sorted([...(edits as TextEdit[]), ...modes])));
  if (overNew === null || overNew.phrase.spans.length !== phrase.spans.length) return null;
  const sounds = carriedOver(reading, overNew);
  if (sounds === null) return null;
  const texts = writeMeasures({ phrase, measures: measuresOf(phrase), spans: overNew.phrase.spans }, sounds);
  if (texts === null) return null;
  const symbols = [...new Set(overNew.phrase.spans.map(({ written }) => written))].join(' ');
  const title = `Turn the phrase into ${other.mode}: ${symbols}`;
  const text = rewritten({ ...context, placed: { ...placed, phrase } }, [...(edits as TextEdit[]), ...modes, ...barEdits(phrase, texts)]);
  return { text, title };
}

function words({ tonic, mode }: Key): string {
  return `${tonic.letter}${tonic.alter < 0 ? 'b'.repeat(-tonic.alter) : '#'.repeat(tonic.alter)} ${mode}`;
}

function carriedOver(from: Reading, to: Reading): ReturnType<typeof soundsOf> | null {
  const steps = from.phrase.notes.map((note): Step | null => {
    const span = from.notes[note.index]!.placement?.span ?? note.span;
    const [a, b] = span === null ? [null, null] : [from.phrase.spans[span]!.chord, to.phrase.spans[span]!.chord];
    if (span === null || a == null || b == null) return null;
    return { pitch: note.pitch, by: 0, from: { chord: a, scale: from.scales[span] ?? null }, to: { chord: b, scale: to.scales[span] ?? null } };
  });
  if (steps.some((step) => step === null)) return null;
  const pitches = carried(steps as Step[]);
  return soundsOf(from.phrase).map((sound, i) => ({ ...sound, pitch: pitches[i]! }));
}

/** What each chord of a ii–V–I is in the other mode; by function, whatever it is called. */
const MODES: Readonly<Record<Key['mode'], Readonly<Record<string, { readonly is: (chord: Chord) => boolean; readonly quality: string; readonly numeral: string }>>>> = {
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
