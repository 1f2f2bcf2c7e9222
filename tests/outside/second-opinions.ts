/** Chord symbols and what the general music libraries `tonal` and `chord-symbol` make of them. */
import { chordParserFactory } from 'chord-symbol/lib/chord-symbol-esm.js';
import { Chord as TonalChord, Note } from 'tonal';
import { readChord } from '../../server/src/theory/chord';

/** The qualities compared: each is written after every root below. */
export const QUALITIES: readonly string[] = [
  '',
  'M',
  'maj',
  'm',
  'mi',
  'min',
  '-',
  'dim',
  'o',
  '°',
  '+',
  'aug',
  '5',
  '6',
  '6/9',
  '69',
  '6(9)',
  'm6',
  '-6',
  'm69',
  'm6/9',
  'maj7',
  'Maj7',
  'M7',
  'ma7',
  'Δ',
  'Δ7',
  '^',
  '^7',
  '7',
  'dom7',
  'm7',
  '-7',
  'mi7',
  'min7',
  'm7b5',
  'm7(b5)',
  '-7b5',
  'ø',
  'ø7',
  'h7',
  'dim7',
  'o7',
  '°7',
  'm(maj7)',
  'mMaj7',
  'mM7',
  '-Δ7',
  'm^7',
  '+7',
  'aug7',
  '7#5',
  '7+5',
  '7(#5)',
  '7b5',
  '7-5',
  'maj7#5',
  '+maj7',
  '+M7',
  'M7#5',
  'maj7b5',
  'sus',
  'sus4',
  'sus2',
  '7sus',
  '7sus4',
  '9sus',
  '9sus4',
  '13sus',
  '13sus4',
  '7susb9',
  '7b9sus4',
  'maj7sus4',
  '7alt',
  'alt',
  '9',
  '11',
  '13',
  'maj9',
  'M9',
  'Δ9',
  'm9',
  '-9',
  'm11',
  'maj13',
  'm13',
  'm(maj9)',
  'm9b5',
  'maj7#11',
  'M7#11',
  'maj9#11',
  '7b9',
  '7(b9)',
  '7-9',
  '7#9',
  '7+9',
  '7#11',
  '7b13',
  '7#9#5',
  '7#5#9',
  '7b9b5',
  '7b9#5',
  '7b9#11',
  '7b9b13',
  '7(b9,b13)',
  '7#9b13',
  '9b5',
  '9#5',
  '+9',
  '9#11',
  '13b9',
  '13(b9)',
  '13#9',
  '13#11',
  'add9',
  'add2',
  '2',
  'add11',
  'add4',
  'madd9',
  'm(add9)',
  '(no3)',
  '7no5',
  '7(no3)',
  '7omit5',
];
export const ROOTS: readonly string[] = ['C', 'F#', 'Bb', 'E'];

/** Pitch classes, sorted and joined; `null` where the reader cannot read the symbol. */
export type Answer = string | null;

function joined(pitchClasses: readonly number[]): string {
  return [...new Set(pitchClasses.map((pitch) => ((pitch % 12) + 12) % 12))].sort((a, b) => a - b).join(' ');
}

export function ours(symbol: string): Answer {
  const chord = readChord(symbol);
  return 'tones' in chord ? joined(chord.tones.map((tone) => tone.interval)) : null;
}

export function tonals(symbol: string, root: string): Answer {
  const chord = TonalChord.get(symbol);
  if (chord.empty || chord.tonic === null) return null;
  const base = Note.chroma(root)!;
  return joined(chord.notes.map((note) => Note.chroma(note)! - base));
}

const parse = chordParserFactory();

export function chordSymbols(symbol: string): Answer {
  const read = parse(symbol) as { normalized?: { intervals: string[] } };
  if (read.normalized === undefined) return null;
  const major = [0, 2, 4, 5, 7, 9, 11];
  return joined(
    read.normalized.intervals.map((text) => {
      const [, accidental, number] = /^([b#]*)(\d+)$/.exec(text)!;
      const alter = accidental!.startsWith('b') ? -accidental!.length : accidental!.length;
      return major[(Number(number) - 1) % 7]! + alter;
    }),
  );
}
