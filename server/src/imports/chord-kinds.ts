/** Chord kinds and degrees of MusicXML as tones, and tones as a symbol that the language reads. */
import { readChord } from '../theory/chord';
import { QUALITIES } from '../theory/chord-lexicon';
import type { Chord } from '../theory/types';

/** A tone by its figure, counted from the major scale: `b3`. */
export type Tones = ReadonlySet<string>;

export interface KindDegree {
  readonly type: 'add' | 'alter' | 'subtract';
  readonly number: number;
  readonly alter: number;
}

/**
 * The tones of each kind, from the recipes of the data type kind-value (W3C MusicXML 4.0), counted from the major scale. The natural 11 of
 * a 13th over a major third is left out, as the trade leaves it out.
 */
const KINDS: Readonly<Record<string, string>> = {
  major: '1 3 5',
  minor: '1 b3 5',
  augmented: '1 3 #5',
  diminished: '1 b3 b5',
  dominant: '1 3 5 b7',
  'major-seventh': '1 3 5 7',
  'minor-seventh': '1 b3 5 b7',
  'diminished-seventh': '1 b3 b5 bb7',
  'augmented-seventh': '1 3 #5 b7',
  'half-diminished': '1 b3 b5 b7',
  'major-minor': '1 b3 5 7',
  'major-sixth': '1 3 5 6',
  'minor-sixth': '1 b3 5 6',
  'dominant-ninth': '1 3 5 b7 9',
  'major-ninth': '1 3 5 7 9',
  'minor-ninth': '1 b3 5 b7 9',
  'dominant-11th': '1 3 5 b7 9 11',
  'major-11th': '1 3 5 7 9 11',
  'minor-11th': '1 b3 5 b7 9 11',
  'dominant-13th': '1 3 5 b7 9 13',
  'major-13th': '1 3 5 7 9 13',
  'minor-13th': '1 b3 5 b7 9 11 13',
  'suspended-second': '1 2 5',
  'suspended-fourth': '1 4 5',
  power: '1 5',
};

/** A degree of a chord is altered by two half steps at most, as the seventh of a diminished chord. */
const MOST_ALTERED = 2;

/** The tones of a kind with its degrees; null where the kind has none of its own (`other`, `Neapolitan`, …) or a degree makes no sense. */
export function tonesOf(kind: string, degrees: readonly KindDegree[]): Tones | null {
  if (!Object.hasOwn(KINDS, kind)) return null;
  const tones = new Set(KINDS[kind]!.split(' '));
  // First what goes, so that what is added in its place stays.
  for (const { number } of degrees.filter(({ type }) => type === 'subtract')) {
    for (const one of [...tones]) if (numberOf(one) === number) tones.delete(one);
  }
  const own = new Set(tones);
  for (const { type, number, alter } of degrees.filter(({ type: one }) => one !== 'subtract')) {
    const figure = plainNumber(number);
    if (figure === null || Math.abs(alter) > MOST_ALTERED) return null;
    const altered = type === 'alter' ? [...own].find((one) => numberOf(one) === number) : undefined;
    if (altered !== undefined) {
      // A tone may be altered both ways: the second does not find the first in its place.
      tones.delete(altered);
      tones.add(figureText(number, alterOf(altered) + alter));
    } else if (figure === 5 && alter !== 0) {
      // An altered fifth that is added takes the place of the natural one in every symbol.
      tones.delete('5');
      tones.add(figureText(5, alter));
    } else {
      tones.add(figureText(figure, number === 7 ? alter - 1 : alter));
    }
  }
  return new Set([...tones].map((one) => (one === '6' && hasSeventh(tones) ? '13' : one)));
}

function hasSeventh(tones: Tones): boolean {
  return ['7', 'b7'].some((one) => tones.has(one));
}

/** Added seconds and fourths are the 9 and the 11. */
function plainNumber(number: number): number | null {
  const octave: Readonly<Record<number, number>> = { 2: 9, 4: 11, 8: 1, 10: 3, 12: 5, 14: 7 };
  const plain = octave[number] ?? number;
  return [1, 3, 5, 6, 7, 9, 11, 13].includes(plain) ? plain : null;
}

function figureText(number: number, alter: number): string {
  return (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)) + String(number);
}

function numberOf(tone: string): number {
  return Number(tone.replace(/^[b#]*/, ''));
}

function alterOf(tone: string): number {
  return tone.startsWith('b') ? -tone.lastIndexOf('b') - 1 : tone.lastIndexOf('#') + 1;
}

/** The tones a symbol names as it is read; null where it cannot be. */
export function tonesRead(symbol: string): Tones | null {
  const chord = readChord(symbol);
  return 'tones' in chord ? tonesOfChord(chord) : null;
}

function tonesOfChord({ tones }: Chord): Tones {
  return new Set(tones.map(({ figure }) => figureText(figure.number, figure.alter)));
}

export function sameTones(a: Tones, b: Tones): boolean {
  return a.size === b.size && [...a].every((tone) => b.has(tone));
}

// ── From tones to a symbol ─────────────────────────────────────────────────────────────────────────────────────────────────

/** Of several spellings of one quality the first is written. */
const BASES: readonly { readonly text: string; readonly tones: Tones }[] = [
  '',
  '7',
  'maj7',
  'm(maj7)',
  'm(maj9)',
  'maj7sus4',
  '7sus2',
  ...QUALITIES,
].flatMap((text) => {
  const tones = tonesRead(`C${text}`);
  return tones === null ? [] : [{ text, tones }];
});

const memory = new Map<string, string | null>();
const MOST_SUFFIXES = 4;

/** The quality that is read as just these tones, with as few signs after its base as may be; null where none is. */
export function qualityOf(tones: Tones): string | null {
  const key = [...tones].sort().join(' ');
  const known = memory.get(key);
  if (known !== undefined) return known;
  const found = BASES.flatMap((base) => suffixed(base, tones)).sort((a, b) => a.weight - b.weight)[0]?.text ?? null;
  memory.set(key, found);
  return found;
}

function suffixed({ text, tones: own }: (typeof BASES)[number], tones: Tones): { text: string; weight: number }[] {
  const more = [...tones].filter((tone) => !own.has(tone)).sort((a, b) => numberOf(a) - numberOf(b) || alterOf(a) - alterOf(b));
  const less = [...own].filter((tone) => !tones.has(tone));
  if (more.length + less.length > MOST_SUFFIXES) return [];
  const isTriad = !hasSeventh(own) && !own.has('bb7');
  const added = more.map((tone) => (isTriad || alterOf(tone) === 0 ? `add${tone}` : tone));
  const altered = more.map((tone) => (alterOf(tone) === 0 ? `add${tone}` : tone));
  const omitted = less.map((tone) => `no${numberOf(tone)}`);
  const omittedOnly = less.filter((tone) => !more.some((one) => numberOf(one) === numberOf(tone))).map((tone) => `no${numberOf(tone)}`);
  const ways = [
    [...added, ...omitted],
    [...altered, ...omittedOnly],
  ];
  return ways.flatMap((suffixes) => {
    const quality =
      suffixes.length > 0 && /^(?:add|no)/.test(suffixes[0]!) && suffixes.length > 1
        ? `${text}(${suffixes.join(',')})`
        : text + suffixes.join('');
    const read = tonesRead(`C${quality}`);
    return read !== null && sameTones(read, tones) ? [{ text: quality, weight: suffixes.length }] : [];
  });
}
