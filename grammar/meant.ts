/** What is meant by a word of a line as it is written elsewhere, or with a slip: each has one obvious remedy. */
import { accidentalAfter } from './names';

/** `says`: how it is written here, a sentence; `offers`: what may be written instead, the likeliest first. */
export interface Meant {
  readonly says: string;
  readonly offers: readonly string[];
}

const PITCH = '[A-G](?:bb|##|[b#n♭♯♮])?\\d?';
const FIGURE = '(?:bb|##|[b#n♭♯♮])?(?:1[13]|[1-79])';
const NOTE = `[/\\\\]?\\(?[/\\\\]?(?:${PITCH}|${FIGURE})[!>^]*\\)?[!>^]*`;
const SLOT = new RegExp(`^(?:${NOTE}|~|\\.)$`);
const DRESSED = new RegExp(`^${NOTE}$`);
const BARE = new RegExp(`^(?:${PITCH}|${FIGURE})$`);
const PITCHES = new RegExp(PITCH, 'g');
const isSlot = (text: string): boolean => SLOT.test(text);

/** A longer word is no slip of a note or two. */
const LONGEST = 200;

const HYPHENS = 'Notes of one beat are joined by hyphens.';
const SYLLABLES: Readonly<Record<string, readonly [string, string]>> = {
  do: ['C', '1'],
  re: ['D', '2'],
  mi: ['E', '3'],
  fa: ['F', '4'],
  sol: ['G', '5'],
  so: ['G', '5'],
  la: ['A', '6'],
  si: ['B', '7'],
  ti: ['B', '7'],
};

/** The note of a name of seven syllables, and its degree of a major scale; null for any other word. */
export function syllable(text: string): Meant | null {
  const [, name, octave] = /^([A-Za-z]+)(\d?)$/.exec(text) ?? [];
  const word = name?.toLowerCase() ?? '';
  if (!Object.hasOwn(SYLLABLES, word)) return null;
  const [pitch, figure] = SYLLABLES[word]!;
  return { says: 'Notes are called C to B here, and degrees 1 to 7.', offers: [pitch + octave!, figure] };
}

/** What a whole word means whose parts say too little: a triplet sign, parentheses round several notes; null where it is none. */
export function meantByWord(text: string): Meant | null {
  if (text.length > LONGEST) return null;
  const [, count, inner] = /^\((\d?)([^()]*-[^()]*)\)$/.exec(text) ?? [];
  const slots = inner?.split('-') ?? [];
  if (slots.length < 2 || !slots.every(isSlot)) return null;
  if (count !== '') return { says: `${slots.length} notes joined by hyphens share a beat without a sign.`, offers: [slots.join('-')] };
  return {
    says: 'Parentheses stand round one note.',
    offers: [slots.map((slot) => (/[A-G\d]/.test(slot) ? `(${slot})` : slot)).join('-')],
  };
}

/** Whether a slot is one of two in its beat, the first: `G.-A` is a dotted eighth and a sixteenth. */
export interface SlotPlace {
  readonly firstOfTwo: boolean;
}

/** What a slot means; null where there is no telling. */
export function meantBy(text: string, { firstOfTwo }: SlotPlace): Meant | null {
  if (text.length > LONGEST) return null;
  for (const read of READERS) {
    const meant = read(text, firstOfTwo);
    if (meant !== null) return meant;
  }
  return null;
}

const READERS: readonly ((text: string, firstOfTwo: boolean) => Meant | null)[] = [
  (text) => (text === 'R' ? { says: 'A rest is written with a dot.', offers: ['.'] } : null),
  (text) => (/^[^—―]+(?:[—―][^—―]+)+$/.test(text) ? { says: HYPHENS, offers: [text.replace(/[—―]/g, '-')] } : null),
  turned,
  syllable,
  otherName,
  glued,
  parted,
  heldInside,
  octaves,
  dotted,
  ghost,
  chord,
];

/** An accidental before its note, or after its octave, or a flat in capitals. */
function turned(text: string): Meant | null {
  const [, direction, note, marks] = /^([/\\]?)(.*?)([!>^]*)$/.exec(text)!;
  const after = accidentalAfter(note!)
    .replace(/^([A-G])(\d)([b#])$/, '$1$3$2')
    .replace(/^([a-g])B(\d?)$/, (_, letter: string, octave: string) => `${letter.toUpperCase()}b${octave}`);
  return after !== note && /^[A-G][b#]\d?$/.test(after)
    ? { says: 'A note is a capital letter with its accidental and octave after it.', offers: [direction + after + marks!] }
    : null;
}

/** The note B as H, and the names with -is and -es. */
function otherName(text: string): Meant | null {
  const [, letter, sign, octave] = /^([A-H])(is|es|s|[b#])?(\d?)$/.exec(text) ?? [];
  if (
    letter === undefined ||
    (letter !== 'H' && (sign === undefined || sign.length === 1) && sign !== 's') ||
    (sign === 's' && !/[AE]/.test(letter))
  )
    return null;
  const name = (letter === 'H' ? 'B' : letter) + (sign === undefined ? '' : sign === 'is' || sign === '#' ? '#' : 'b');
  return {
    says: letter === 'H' ? 'The note is written B here, and its flat Bb.' : 'Sharps are written # and flats b.',
    offers: [name + octave!],
  };
}

/** `GF`, `Bb4DFA`. */
function glued(text: string): Meant | null {
  const pitches = text.match(PITCHES) ?? [];
  return pitches.length > 1 && pitches.join('') === text ? { says: HYPHENS, offers: [pitches.join('-')] } : null;
}

/** `G,F`, `G_F`, `G4,`. */
function parted(text: string): Meant | null {
  if (!/[,;_+']/.test(text)) return null;
  const pieces = text.split(/[,;_+']+/).filter((piece) => piece !== '');
  if (pieces.length === 0 || !pieces.every(isSlot)) return null;
  return pieces.length === 1
    ? { says: 'Nothing but marks stands beside a note.', offers: pieces }
    : { says: HYPHENS, offers: [pieces.join('-')] };
}

/** `F~A`. */
function heldInside(text: string): Meant | null {
  const pieces = text.split(/(~)/).filter((piece) => piece !== '');
  return pieces.length > 1 && pieces.includes('~') && pieces.every(isSlot)
    ? { says: 'A hold is a slot of its own.', offers: [pieces.join('-')] }
    : null;
}

/** `Bb44`, `4Bb`. */
function octaves(text: string): Meant | null {
  const [, name, octave] = /^([A-G](?:bb|##|[b#n♭♯♮])?)(\d)\d$/.exec(text) ?? [];
  if (name !== undefined) return { says: 'An octave is one figure.', offers: [name + octave!] };
  const [, before, pitch] = /^(\d)([A-G](?:bb|##|[b#n♭♯♮])?)$/.exec(text) ?? [];
  return pitch === undefined
    ? null
    : { says: 'The octave stands after the note.', offers: [pitch + before!, ...(before === '0' ? [] : [`${before!}:${pitch}`])] };
}

/** `D.`: in a beat of two the first note takes three quarters of it; anywhere else what is meant depends on what follows. */
function dotted(text: string, firstOfTwo: boolean): Meant | null {
  const note = text.slice(0, -1);
  if (!text.endsWith('.') || !DRESSED.test(note)) return null;
  if (firstOfTwo) return { says: 'A note is lengthened by holds.', offers: [`${note}-~-~`] };
  return { says: `A note is lengthened by holds: ${note} ~-E is a dotted quarter and an eighth.`, offers: [note] };
}

/** `(G`, `G)`. */
function ghost(text: string): Meant | null {
  const [, open, note, close] = /^(\(?)([^()]+)(\)?)$/.exec(text) ?? [];
  const isOne = note !== undefined && (open === '') !== (close === '') && BARE.test(note);
  return isOne ? { says: 'A ghost note stands in two parentheses.', offers: [`(${note})`] } : null;
}

/** `Gm7`. */
function chord(text: string): Meant | null {
  return /^[A-G][b#♭♯]?(?:m|M|dim|aug|sus|alt|add|°|ø|Δ|\/[A-G])[\w#+()/-]*$/.test(text)
    ? { says: 'A line holds notes; chords stand in an over row.', offers: [] }
    : null;
}
