/** The words of a `key` row, and which key is meant by others. */
import { distance } from 'fastest-levenshtein';
import { accidentalAfter } from './names';
import { writing, type Problems } from './problems';
import type { KeyRow, Letter, Range, Word } from './tree';

type Mode = 'major' | 'minor';

/** Reads them; what is no key is reported with the keys that may be meant, and read as none. */
export function readKey(words: readonly Word[], range: Range, problems: Problems): Pick<KeyRow, 'tonic' | 'mode'> {
  const [tonicWord, modeWord] = words;
  const plain = /^([A-G])([b#♭♯]?)$/.exec(tonicWord?.text ?? '');
  const place = words.length === 0 ? range : { start: words[0]!.range.start, end: words[words.length - 1]!.range.end };
  const mode = modeWord?.text;
  if (plain !== null && words.length <= 2) {
    const tonic = { letter: plain[1] as Letter, alter: plain[2] === '' ? 0 : /[b♭]/.test(plain[2]!) ? -1 : 1, range: tonicWord!.range };
    if (mode === 'major' || mode === 'minor') return { tonic, mode };
    if (mode === undefined) {
      problems.report('key-without-mode', place, {
        severity: 'hint',
        facts: { tonic: plain[0] },
        fixes: [writing(place, `${plain[0]} major`, true), writing(place, `${plain[0]} minor`)],
      });
      return { tonic, mode: 'major' };
    }
  }
  const meant = meantBy(words.map(({ text }) => text));
  const offered = meant === null ? [] : meant.modes.map((one) => `${meant.tonic} ${one}`);
  problems.report('bad-key', place, {
    facts: {
      found: words
        .map(({ text }) => text)
        .join(' ')
        .slice(0, 40),
      offered: offered.join(' or '),
      chord: meant?.chord ?? '',
    },
    fixes: offered.map((one) => writing(place, one)),
  });
  return { tonic: null, mode: null };
}

interface MeantKey {
  readonly tonic: string;
  readonly modes: readonly Mode[];
  /** A chord that states the mode which was written for one; empty where none was. */
  readonly chord: string;
}

/** The key of each mode by its third, and the quality of a chord that takes it. */
const MODES: Readonly<Record<string, readonly [Mode, string]>> = {
  ionian: ['major', 'maj7'],
  dorian: ['minor', 'm7'],
  phrygian: ['minor', 'm7'],
  lydian: ['major', 'maj7'],
  mixolydian: ['major', '7'],
  aeolian: ['minor', 'm7'],
  locrian: ['minor', 'm7b5'],
};

/** `B flat major`, `Bbm`, `H moll`, `G dorian`; null where no tonic is told. */
function meantBy(words: readonly string[]): MeantKey | null {
  const [, letter, sign, glued] = /^([A-Ha-h])(is(?![a-z])|es(?![a-z])|[b#♭♯])?(.*)$/.exec(accidentalAfter(words[0] ?? '')) ?? [];
  if (letter === undefined || (glued !== '' && saidMode(glued!) === null)) return null;
  const [next, ...others] = glued === '' ? words.slice(1) : [glued!, ...words.slice(1)];
  const isSign = sign === undefined && /^(?:flat|sharp|b|#)$/i.test(next ?? '');
  const said = isSign ? others[0] : next;
  const accidental = isSign ? (/^(?:flat|b)$/i.test(next!) ? 'b' : '#') : sign === 'is' ? '#' : sign === 'es' ? 'b' : (sign ?? '');
  const tonic = (/h/i.test(letter) ? 'B' : letter.toUpperCase()) + accidental;
  const mode = MODES[said?.toLowerCase() ?? ''];
  if (mode !== undefined) return { tonic, modes: [mode[0]], chord: `${tonic}${mode[1]}:${said!.toLowerCase()}` };
  const one = said === undefined ? null : saidMode(said);
  return { tonic, modes: one === null ? ['major', 'minor'] : [one], chord: '' };
}

/** `m`, `min`, `moll`, `maj`, `Major`, `mjor`; null for what is neither. */
function saidMode(text: string): Mode | null {
  const word = text.toLowerCase();
  if (text === 'M' || ['ma', 'maj', 'dur'].includes(word)) return 'major';
  if (['m', '-', 'mi', 'min', 'moll'].includes(word)) return 'minor';
  const off = { major: distance(word.slice(0, 12), 'major'), minor: distance(word.slice(0, 12), 'minor') };
  if (Math.min(off.major, off.minor) > 2 || off.major === off.minor) return null;
  return off.major < off.minor ? 'major' : 'minor';
}
