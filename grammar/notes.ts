/** The words of a `line` and of a `cell`: beat groups, slots and notes. */
import type { IToken } from 'chevrotain';
import { meantBy, meantByWord, type Meant, type SlotPlace } from './meant';
import { isLowerPitch, isName } from './names';
import { rangeOf, wordOf, writing, type Problems } from './problems';
import { Close, Down, Figure, Hold, Hyphen, Mark, NameWord, Open, PitchWord, Rest, Up, Weight as WeightToken } from './tokens';
import type { Accidental, BadSlot, DegreeHead, Direction, Group, Letter, NoteNode, PitchHead, Range, Slot, Weight, Word } from './tree';

/** A group, and whether something in it could not be read. */
export interface ReadGroup {
  readonly group: Group;
  readonly broken: boolean;
}

/** Reads one word of a line. Always answers a group: what cannot be read keeps its place as bad slots. */
export function readGroup(tokens: readonly IToken[], problems: Problems): ReadGroup {
  const range = rangeOf(tokens[0]!, tokens[tokens.length - 1]);
  const weight = readWeight(tokens[0]!, problems);
  const rest = weight === null ? tokens : tokens.slice(1);
  if (rest.length === 0) {
    problems.report('missing-weight', range, { facts: { weight: weight?.beats ?? 0 } });
    return { group: { kind: 'slots', range, weight, slots: [bad(range)] }, broken: true };
  }
  const cell = readCellUse(rest, weight, range, problems);
  if (cell !== null) return cell;
  const word = rest[0]!.tokenType === Open ? meantByWord(wordOf(rest).text) : null;
  if (word !== null) {
    reportUnreadable(wordOf(rest), word, problems);
    return { group: { kind: 'slots', range, weight, slots: [bad(range)] }, broken: true };
  }
  const pieces = splitAt(rest, Hyphen);
  const read = pieces.map(({ tokens: piece, separator }, i): Slot | null => {
    if (piece.length > 0) return readSlot(piece, { firstOfTwo: pieces.length === 2 && i === 0 }, problems);
    // A hyphen that stands alone has nothing on both sides, and is told once.
    if (pieces[i - 1]?.tokens.length === 0 && pieces[i - 1]!.separator === separator) return null;
    const at = rangeOf(separator!);
    problems.report('loose-hyphen', at, { fixes: [{ title: 'Take the hyphen away', safe: false, edits: [{ range: at, text: '' }] }] });
    return null;
  });
  const broken = read.some((slot) => slot === null || slot.kind === 'bad');
  const slots = broken ? read.filter((slot) => slot !== null) : (read as Slot[]);
  return { group: { kind: 'slots', range, weight, slots: slots.length === 0 ? [bad(range)] : slots }, broken };
}

function bad(range: Range): BadSlot {
  return { kind: 'bad', range };
}

function readWeight(token: IToken, problems: Problems): Weight | null {
  if (token.tokenType !== WeightToken) return null;
  const range = rangeOf(token);
  const beats = Number(token.image.slice(0, -1));
  if (beats >= 1 && beats <= 64) return { beats, range };
  problems.report('missing-weight', range, { facts: { weight: token.image } });
  return { beats: 1, range };
}

/** The pieces between separators, each with one that parts it from others; an empty piece stands where a separator has nothing beside it. */
function splitAt(
  tokens: readonly IToken[],
  type: typeof Hyphen,
): { readonly tokens: readonly IToken[]; readonly separator: IToken | null }[] {
  const found: number[] = [];
  for (let i = 0; i < tokens.length; i += 1) if (tokens[i]!.tokenType === type) found.push(i);
  if (found.length === 0) return [{ tokens, separator: null }];
  return [...found, tokens.length].map((end, i) => ({
    tokens: tokens.slice(i === 0 ? 0 : found[i - 1]! + 1, end),
    separator: tokens[found[Math.max(0, i - 1)]!]!,
  }));
}

// ── Cells ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function readCellUse(tokens: readonly IToken[], weight: Weight | null, range: Range, problems: Problems): ReadGroup | null {
  const direction = directionOf(tokens[0]!);
  const body = direction === null ? tokens : tokens.slice(1);
  const name = body[0];
  if (name === undefined || name.tokenType !== NameWord || !isName(name.image)) return null;
  const group: Group = { kind: 'cell', range, weight, direction, name: { text: name.image, range: rangeOf(name) } };
  if (body.length === 1) return { group, broken: false };
  problems.report('mark-on-cell', range, { facts: { name: name.image, extra: wordOf(body.slice(1)).text } });
  return { group, broken: true };
}

function directionOf(token: IToken): Direction | null {
  if (token.tokenType === Up) return 'up';
  return token.tokenType === Down ? 'down' : null;
}

// ── Slots and notes ────────────────────────────────────────────────────────────────────────────────────────────────────────

function readSlot(tokens: readonly IToken[], place: SlotPlace, problems: Problems): Slot {
  const range = rangeOf(tokens[0]!, tokens[tokens.length - 1]);
  const only = tokens.length === 1 ? tokens[0]! : null;
  if (only?.tokenType === Hold) return { kind: 'hold', range };
  if (only?.tokenType === Rest) return { kind: 'rest', range };
  return readNote(tokens, range, problems) ?? unreadable(tokens, place, problems);
}

interface Dress {
  direction: Direction | null;
  ghost: boolean;
  marks: string;
  head: IToken | null;
}

/** Direction and marks may stand inside or outside the parentheses, each kind at most once a note. */
function readNote(tokens: readonly IToken[], range: Range, problems: Problems): NoteNode | null {
  const dress: Dress = { direction: null, ghost: false, marks: '', head: null };
  let open = 0;
  for (const token of tokens) {
    if (!take(token, dress)) return null;
    if (token.tokenType === Open) open += 1;
    if (token.tokenType === Close) open -= 1;
    if (open < 0 || open > 1) return null;
  }
  if (open !== 0 || dress.head === null) return null;
  // A note without signs is its head, and shares its place.
  const head = readHead(dress.head, tokens.length === 1 ? range : rangeOf(dress.head), problems);
  if (head === null) return null;
  const marks = dress.marks;
  const note: NoteNode = {
    kind: 'note',
    range,
    head,
    direction: dress.direction,
    ghost: dress.ghost,
    intended: marks.includes('!'),
    accent: marks.includes('>'),
    shortAccent: marks.includes('^'),
  };
  reportDirection(note, tokens, problems);
  return note;
}

function take(token: IToken, dress: Dress): boolean {
  const direction = directionOf(token);
  if (direction !== null) {
    if (dress.direction !== null || dress.head !== null) return false;
    dress.direction = direction;
    return true;
  }
  switch (token.tokenType) {
    case Open:
      if (dress.ghost || dress.head !== null) return false;
      dress.ghost = true;
      return true;
    case Close:
      return dress.ghost && dress.head !== null;
    case Mark:
      if (dress.head === null || dress.marks.includes(token.image)) return false;
      dress.marks += token.image;
      return true;
    case PitchWord:
    case Figure:
      if (dress.head !== null) return false;
      dress.head = token;
      return true;
    default:
      return false;
  }
}

/** An octave figure says where the note is; a direction beside it says nothing more. */
function reportDirection(note: NoteNode, tokens: readonly IToken[], problems: Problems): void {
  if (note.direction === null || note.head.kind !== 'pitch' || note.head.octave === null) return;
  const sign = tokens.find((token) => directionOf(token) !== null)!;
  problems.report('octave-and-direction', note.range, {
    severity: 'warning',
    facts: { sign: sign.image, octave: note.head.octave },
    fixes: [{ title: `Take the ${sign.image} away`, safe: true, edits: [{ range: rangeOf(sign), text: '' }] }],
  });
}

function readHead(token: IToken, range: Range, problems: Problems): PitchHead | DegreeHead | null {
  return token.tokenType === PitchWord ? readPitch(token, range) : readFigure(token, range, problems);
}

/** The token's pattern says how it is made: a letter, an accidental, a figure for its octave. */
function readPitch({ image }: IToken, range: Range): PitchHead {
  const last = image.charCodeAt(image.length - 1);
  const hasOctave = last >= 0x30 && last <= 0x39;
  return {
    kind: 'pitch',
    range,
    letter: image[0] as Letter,
    alter: alterOf(plainAccidental(image.slice(1, hasOctave ? -1 : undefined))),
    octave: hasOctave ? last - 0x30 : null,
  };
}

function plainAccidental(text: string): Accidental {
  if (text === '') return '';
  return text.replaceAll('♭', 'b').replaceAll('♯', '#').replaceAll('♮', 'n') as Accidental;
}

function alterOf(accidental: Accidental): number {
  return accidental.startsWith('b') ? -accidental.length : accidental.startsWith('#') ? accidental.length : 0;
}

const NUMBERS = new Set(['1', '2', '3', '4', '5', '6', '7', '9', '11', '13']);
const COMPOUND: Readonly<Record<string, string>> = { 8: '1', 10: '3', 12: '5' };

/** Reads a figure; null where it is none (then what it may mean has been reported). */
export function readFigure(token: IToken, range: Range, problems: Problems): DegreeHead | null {
  const match = /^(\D*)(\d+)$/.exec(token.image)!;
  const digits = match[2]!;
  if (NUMBERS.has(digits)) {
    return { kind: 'degree', range, number: Number(digits) as DegreeHead['number'], accidental: plainAccidental(match[1]!) };
  }
  const simple = COMPOUND[digits];
  if (simple !== undefined) {
    problems.report('compound-figure', range, { facts: { figure: digits, simple }, fixes: [writing(range, `/${match[1]}${simple}`)] });
  } else if (/^[1-7]+$/.test(digits)) {
    const joined = match[1]! + [...digits].join('-');
    problems.report('joined-figures', range, { facts: { figures: digits, joined }, fixes: [writing(range, joined)] });
  } else problems.report('unreadable-word', range, { facts: { word: token.image.slice(0, 40), offer: '' } });
  return null;
}

function unreadable(tokens: readonly IToken[], place: SlotPlace, problems: Problems): BadSlot {
  const word = wordOf(tokens);
  const { range } = word;
  const alreadySaid = problems.found.some((problem) => problem.range.start >= range.start && problem.range.end <= range.end);
  const small = tokens.find((token) => token.tokenType === NameWord && isLowerPitch(token.image));
  if (small !== undefined) {
    const at = rangeOf(small);
    const capital = small.image[0]!.toUpperCase() + small.image.slice(1);
    problems.report('lower-case-pitch', at, { facts: { word: small.image, capital }, fixes: [writing(at, capital)] });
  } else if (!alreadySaid) reportUnreadable(word, meantBy(word.text, place), problems);
  return bad(range);
}

function reportUnreadable({ text, range }: Word, meant: Meant | null, problems: Problems): void {
  const offers = meant?.offers ?? [];
  problems.report('unreadable-word', range, {
    facts: { word: text.slice(0, 40), says: meant?.says ?? '', offer: offers.join(', or ').slice(0, 60) },
    fixes: offers.map((offer) => writing(range, offer)),
  });
}
