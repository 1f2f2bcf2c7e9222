/** Words that hovers share. */
import { isWrittenStrangely } from '../../analysis/shown-figure';
import type { ChordPlacement, Reading, Role } from '../../analysis/types';
import type { Chord, Scale } from '../../theory/types';
import { formatFigure } from '../../theory/figure';
import { formatNoteName, spokenName } from '../../theory/pitch';
import { formatScale } from '../../theory/scale';
import { degreeName, numberWord } from '../../rules/words';
import { plainLine } from '../plain-line';
import { degreeAddition } from '../../explain/note-words';

const ROLE_WORDS: Readonly<Record<Role, string>> = {
  'chord-tone': 'chord tone',
  tension: 'tension',
  avoid: 'avoid note',
  outside: 'outside the scale',
  blue: 'blue note',
};

export function roleWords(role: Role): string {
  return ROLE_WORDS[role];
}

const PERFECT = new Set([4, 5, 11]);

/** What a note is over a chord, in full: `minor seventh`, `major third, where Dm7 has F`; with the chord's name `flat nine of A7, written A#`. */
export function figureWords(reading: Reading, note: number, placement: ChordPlacement, chord = ''): string {
  const of = chord === '' ? '' : ` of ${chord}`;
  const strange = isWrittenStrangely(reading, note, placement) ? `written ${formatNoteName(reading.phrase.notes[note]!.pitch)}` : '';
  return [`${qualityWords(placement)}${of}`, degreeAddition(reading, placement), strange].filter((words) => words !== '').join(', ');
}

function qualityWords({ called, blue }: ChordPlacement): string {
  if (blue?.atHome === true && blue.number === 3) return 'blue third';
  if (called.alter !== 0 || called.number === 1) return degreeName(called);
  return `${PERFECT.has(called.number) ? 'perfect' : 'major'} ${numberWord(called)}`;
}

export function scaleWords(scale: Scale): string {
  return formatScale(scale);
}

export function chordTones(chord: Chord): string {
  return chord.tones.map((tone) => `${spokenName(tone.name)} ${formatFigure(tone.figure)}`).join(', ');
}

/** A word from a file as code; a sign that would end the code is left out. */
export function codeWord(text: string): string {
  return `\`${plainLine(text).replaceAll('`', '')}\``;
}

/** Text from a file, safe to stand in Markdown: nothing of it becomes markup, nor a link where bare addresses become some. */
export function escapeMarkdown(text: string): string {
  return plainLine(text).replace(/[\\`*_{}[\]()#+\-.!|<>~&:@]/g, (sign) => (sign === '<' ? '&lt;' : sign === '&' ? '&amp;' : `\\${sign}`));
}
