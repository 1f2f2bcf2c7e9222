/** Notes that the phrase's part cannot play: one finding a phrase, with the octave that fits the whole of it, or the one figure that carries them off. */
import { dressed } from '../../../grammar/printer';
import type { Fix, TextEdit } from '../../../grammar/tree';
import type { Note, Phrase } from '../model/types';
import { soundingRange } from '../theory/part';
import { formatPitch, midi, pitchInText } from '../theory/pitch';
import type { AnalysisRule } from './rule';
import { figureFixes, slipOutOfRange } from './slip';

export const outOfRange: AnalysisRule = {
  id: 'out-of-range',
  severity: 'warning',
  what: 'Notes of a phrase lie outside the range of its part.',
  why: 'A student on that instrument cannot play it as written.',
  example: 'phrase "High"\n  part trumpet\n  over | Cmaj7 |\n  line | C7 ~ ~ ~ |\n',
  instead: 'phrase "High"\n  part trumpet\n  over | Cmaj7 |\n  line | C5 ~ ~ ~ |\n',
  fix: 'Move the phrase by octaves, write the octave figure that is meant, or choose another part.',
  message: (facts) => {
    const range = `the ${facts['part']}’s range, which sounds from ${facts['low']} to ${facts['high']}`;
    const found =
      facts['count'] === 1
        ? `${facts['note']} is ${facts['side']} ${range}.`
        : `${facts['count']} notes lie outside ${range}; the first is ${facts['note']}.`;
    if (facts['meant'] !== '')
      return `${found} Is ${facts['meant']} meant${facts['slip'] === facts['note'] ? '' : ` in place of ${facts['slip']}`}?`;
    return `${found} ${facts['move'] === '' ? 'The phrase fits in no octave: change it, or choose another part.' : `Move the phrase ${facts['move']}.`}`;
  },
  check: ({ phrase }) => {
    const { part, notes } = phrase;
    const range = soundingRange(part);
    const [low, high] = [midi(range.low), midi(range.high)];
    const side = (note: Note): 'below' | 'above' | null => (note.midi < low ? 'below' : note.midi > high ? 'above' : null);
    const outside = notes.filter((note) => side(note) !== null);
    const [first] = outside;
    if (first === undefined) return [];
    // Moved as a whole, the notes before a wrong octave figure would leave the place where they are right.
    const slip = slipOutOfRange(phrase);
    const octaves = slip === null ? fittingOctaves(notes, low, high) : null;
    const move = octaves === null ? '' : moveWords(octaves);
    return [
      {
        rule: 'out-of-range',
        severity: 'warning' as const,
        range: first.range,
        facts: {
          note: formatPitch(first.pitch),
          count: outside.length,
          part: part.label,
          low: formatPitch(range.low),
          high: formatPitch(range.high),
          side: side(first)!,
          move,
          meant: slip === null ? '' : formatPitch(slip.meant),
          slip: slip === null ? '' : formatPitch(slip.note.pitch),
        },
        fixes: slip !== null ? figureFixes(slip) : octaves === null ? [] : moving(phrase, octaves, `Move the phrase ${move}`),
        related: outside
          .slice(1, MOST_RELATED)
          .map((note) => ({ range: note.range, text: `${formatPitch(note.pitch)} is ${side(note)} it too` })),
        about: { note: first.index, sounding: null },
      },
    ];
  },
};

const MOST_RELATED = 10;

/** The smallest move by octaves after which all notes lie in a range (of MIDI numbers); null where there is none. */
function fittingOctaves(notes: readonly Note[], low: number, high: number): number | null {
  const lowest = Math.min(...notes.map((note) => note.midi));
  const highest = Math.max(...notes.map((note) => note.midi));
  const up = Math.ceil((low - lowest) / 12);
  const down = Math.ceil((highest - high) / 12);
  const octaves = up > 0 ? up : -down;
  return lowest + 12 * octaves >= low && highest + 12 * octaves <= high ? octaves : null;
}

function moveWords(octaves: number): string {
  const count = Math.abs(octaves);
  return `${octaves > 0 ? 'up' : 'down'} ${count === 1 ? 'an octave' : `${['', '', 'two', 'three', 'four'][count] ?? count} octaves`}`;
}

/**
 * The fix that moves a phrase: its octave figures change, and its first note gets one; what is placed by the note before follows. None
 * where a cell, which other phrases may use, holds the octave, or where something could not be read.
 */
function moving(phrase: Phrase, octaves: number, title: string): Fix[] {
  const isRead =
    phrase.groups.every(({ slots }) => slots.every(({ kind }) => kind !== 'bad')) &&
    phrase.bars.every(({ node }) => node === null || !node.broken);
  const placed = phrase.notes.filter(({ node: { head } }, i) => i === 0 || (head.kind === 'pitch' && head.octave !== null));
  const edits = placed.map((note) => movedNote(phrase, note, octaves));
  if (!isRead || edits.includes(null)) return [];
  // A claim that names octaves would have to move too, which is the writer's to say.
  const isSafe = phrase.claims.every(({ words }) => words.every(({ text }) => !/^[A-G].*\d$/.test(text) || words[0]!.text === 'arpeggio'));
  return [{ title, safe: isSafe, preferred: true, edits: edits.filter((edit) => edit !== null) }];
}

function movedNote({ text }: Phrase, { node, cell, pitch }: Note, octaves: number): TextEdit | null {
  const moved = pitchInText({ ...pitch, octave: pitch.octave + octaves });
  if (cell !== null || moved === null) return null;
  const { head } = node;
  const written =
    head.kind === 'degree' ? moved : text.slice(head.range.start, head.range.end).replace(/\d$/, '') + (pitch.octave + octaves);
  return { range: node.range, text: dressed({ ...node, direction: null }, written) };
}
