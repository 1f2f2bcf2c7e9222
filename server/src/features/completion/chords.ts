/** Chords and their scales: names of changes, qualities on the root that was typed, and after a colon the scales that hold the chord. */
import { guarded } from '../../model/faults';
import type { Snapshot } from '../../model/snapshot';
import { phraseAt } from '../place';
import { readChord } from '../../theory/chord';
import { QUALITIES } from '../../theory/chord-lexicon';
import { formatNoteName } from '../../theory/pitch';
import { isRoman, readRoman } from '../../theory/roman';
import { holds, scale, SCALE_NAMES, scaleText } from '../../theory/scale';
import type { Chord, Key } from '../../theory/types';
import { chordTones } from '../hover/words';
import type { Proposal, RowBefore } from './completion';
import { PROGRESSIONS } from './templates';

/** `over turn` takes a name only as its whole content. */
export function chordWords(row: RowBefore, snapshot: Snapshot, offset: number): readonly Proposal[] {
  const key = phraseAt(snapshot, offset)?.phrase.key ?? null;
  const colon = row.word.lastIndexOf(':');
  const group = (of: string, work: () => readonly Proposal[]): readonly Proposal[] => guarded(`the completion of ${of}`, [], work);
  if (colon >= 0) return group('scales', () => scalesOver(row.word.slice(0, colon), key));
  return [
    ...group('names of changes', () => (row.keyword === 'over' && row.before.trim() === '' ? changesNames(snapshot) : [])),
    ...group('progressions', () => (key === null ? [] : progressionsIn(key, row))),
    ...group('chords', () => qualitiesOn(row.word)),
    ...group('numerals', () => (key === null ? [] : numeralsIn(key, row.word))),
  ];
}

/** A root or a numeral alone: a chord as it stands, but mostly the beginning of one. */
const BARE = /^(?:[A-G][b#♭♯]?|[b#♭♯]?[ivIV]+)$/;

/** A chord with its quality, and with no scale begun after it. Which numeral it is does not matter, so any key will do. */
export function isWholeChord(word: string): boolean {
  if (BARE.test(word) || word.includes(':')) return false;
  return 'tones' in (isRoman(word) ? readRoman(word, ANY_KEY) : readChord(word));
}

const ANY_KEY: Key = { tonic: { letter: 'C', alter: 0 }, mode: 'major' };

/** Whole bars, so only where a bar begins; the bar lines that are there already are not written again. */
function progressionsIn(key: Key, { keyword, before, word, after }: RowBefore): Proposal[] {
  const opened = before.trim().endsWith('|');
  const begins = opened || before.trim() === '';
  const closed = after.trim().startsWith('|');
  if (keyword !== 'over' || !begins || !(closed || after.trim() === '') || !/^(?:[ivIV]+)?$/.test(word)) return [];
  return PROGRESSIONS[key.mode].map(({ label, bars }) => ({
    label,
    kind: 'template',
    detail: bars.join(' | '),
    template: [`${opened ? '' : '| '}${bars.join(' | ')}${closed ? '' : ' |'}`],
  }));
}

function changesNames({ definitions }: Snapshot): Proposal[] {
  return [...definitions.changes.keys()].map((label) => ({ label, kind: 'name', detail: 'changes' }));
}

/** Every usual quality on a root that stands at the start of a word. */
function qualitiesOn(word: string): Proposal[] {
  const root = /^[A-G][b#♭♯]?/.exec(word)?.[0];
  if (root === undefined) return [];
  // The root itself comes first: a Tab that was meant for something else then changes nothing.
  return ['', ...QUALITIES].flatMap((quality) => described(root + quality, readChord(root + quality)));
}

const NUMERALS: Readonly<Record<Key['mode'], readonly string[]>> = {
  major: ['Imaj7', 'ii7', 'iii7', 'IVmaj7', 'V7', 'vi7', 'viim7b5', 'V7/ii', 'V7/V', 'bVII7', 'I6'],
  minor: ['i6', 'iim7b5', 'bIIImaj7', 'iv7', 'V7b9', 'bVImaj7', 'bVII7', 'im(maj7)', 'V7/iv'],
};

/** The chords of the key as numerals, once a numeral has begun. */
function numeralsIn(key: Key, word: string): Proposal[] {
  if (!/^b?[ivIV]/.test(word)) return [];
  return [...(BARE.test(word) ? [word] : []), ...NUMERALS[key.mode]].flatMap((numeral) => described(numeral, readRoman(numeral, key)));
}

function described(label: string, read: ReturnType<typeof readChord>): Proposal[] {
  return 'tones' in read ? [{ label, kind: 'chord', detail: `${label === read.symbol ? '' : `${read.symbol}: `}${chordTones(read)}` }] : [];
}

/** Scales that hold every tone of the chord; all of them where the chord cannot be read. */
function scalesOver(symbol: string, key: Key | null): Proposal[] {
  const chord = chordOf(symbol, key);
  return SCALE_NAMES.filter((name) => chord === null || holds(scale(chord.root, name), chord)).map((name) => ({
    label: scaleText(name),
    kind: 'scale',
    detail:
      chord === null
        ? ''
        : scale(chord.root, name)
            .tones.map((tone) => formatNoteName(tone.name))
            .join(' '),
  }));
}

function chordOf(symbol: string, key: Key | null): Chord | null {
  const read = isRoman(symbol) ? (key === null ? null : readRoman(symbol, key)) : readChord(symbol);
  return read !== null && 'tones' in read ? read : null;
}
