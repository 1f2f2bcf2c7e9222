import type { Problem } from '../../../grammar/tree';
import { strangeSpellings, type StrangeSpelling } from '../analysis/spelling';
import type { Reading } from '../analysis/types';
import { formatNoteName } from '../theory/pitch';
import { respelling, spellWords } from './respelling';
import type { AnalysisRule } from './rule';
import { degreeName } from './words';

export const spellingAgainstChord: AnalysisRule = {
  id: 'spelling-against-chord',
  severity: 'hint',
  what: 'A chord tone is spelled otherwise than its chord spells it, and neither the line nor the key asks for that.',
  why: 'A reader looks for the third of Cm on the letter E. Another letter sounds the same, and hides what the note is.',
  example: 'phrase "Strange"\n  key  C minor\n  over | Cm |\n  line | C4-D# G-D# D-B C |\n',
  instead: 'phrase "Strange"\n  key  C minor\n  over | Cm |\n  line | C4-Eb G-Eb D-B C |\n',
  fix: 'Spell it as the chord does, or mark it as intended with `!`.',
  message: (facts) => `${facts['note']} over ${facts['chord']} is the chord’s ${facts['degree']}, which is spelled ${facts['own']}.`,
  check: (reading) => strangeSpellings(reading).map((spelling) => problemOf(reading, spelling)),
};

function problemOf({ phrase }: Reading, { note: index, span: at, own, figure }: StrangeSpelling): Problem {
  const note = phrase.notes[index]!;
  const span = phrase.spans[at]!;
  const edit = respelling(note, own);
  return {
    rule: 'spelling-against-chord',
    severity: 'hint',
    range: note.range,
    facts: {
      note: formatNoteName(note.pitch),
      chord: span.symbol,
      degree: figure === null ? 'bass' : degreeName(figure),
      own: formatNoteName(own),
    },
    fixes: edit === null ? [] : [{ title: `Spell ${spellWords(note.pitch, own)}`, safe: true, preferred: true, edits: [edit] }],
    related: [{ range: span.range, text: `The chord: ${span.symbol}.` }],
    about: { note: index, sounding: null },
  };
}
