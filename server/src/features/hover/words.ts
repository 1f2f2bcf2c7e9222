/** Words that hovers share. */
import type { Role } from '../../analysis/types';
import type { Chord, Figure, Scale } from '../../theory/types';
import { formatFigure } from '../../theory/figure';
import { formatNoteName } from '../../theory/pitch';
import { numberWord } from '../../rules/words';

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

const PERFECT = new Set([1, 4, 5, 11]);

/** `b7, the minor seventh`: the figure, and what it is called aloud. */
export function figureWords(figure: Figure): string {
  const { number, alter } = figure;
  if (number === 1) return ['lowered root', 'root', 'raised root'][alter + 1] ?? 'root';
  const quality = PERFECT.has(number)
    ? ['diminished', 'perfect', 'augmented'][alter + 1]
    : ['diminished', 'minor', 'major', 'augmented'][alter + 2];
  return quality === undefined ? numberWord(figure) : `${quality} ${numberWord(figure)}`;
}

export function scaleWords(scale: Scale): string {
  return `${formatNoteName(scale.root)} ${scale.name}`;
}

export function chordTones(chord: Chord): string {
  return chord.tones.map((tone) => `${formatNoteName(tone.name)} ${formatFigure(tone.figure)}`).join(', ');
}

/** A word from a file as code; a sign that would end the code is left out. */
export function codeWord(text: string): string {
  return `\`${text.replaceAll('`', '')}\``;
}

/** Text from a file, safe to stand in Markdown: nothing of it becomes markup. */
export function escapeMarkdown(text: string): string {
  return text.replace(/[\\`*_{}[\]()#+\-.!|<>~&]/g, (sign) => (sign === '<' ? '&lt;' : sign === '&' ? '&amp;' : `\\${sign}`));
}
