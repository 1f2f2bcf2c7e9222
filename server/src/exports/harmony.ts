/** Chord symbols as MusicXML `harmony`: kind with the writer's spelling, and what the kind does not say as degrees. */
import type { ChordSpan } from '../model/types';
import type { Chord, Figure, NoteName } from '../theory/types';
import { element, type XmlElement } from './xml';

const TRIADS: Readonly<Record<string, string>> = { major: '1 3 5', minor: '1 b3 5', augmented: '1 3 #5', diminished: '1 b3 b5' };

/** The tones of each kind, from the recipes of the data type kind-value (W3C MusicXML 4.0), counted from the major scale. */
const KINDS: Readonly<Record<string, string>> = {
  ...TRIADS,
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
  'dominant-13th': '1 3 5 b7 9 11 13',
  'major-13th': '1 3 5 7 9 11 13',
  'minor-13th': '1 b3 5 b7 9 11 13',
  'suspended-second': '1 2 5',
  'suspended-fourth': '1 4 5',
  power: '1 5',
};

export interface Degree {
  readonly type: 'add' | 'alter' | 'subtract';
  readonly number: number;
  /** Half steps against the dominant's scale, or, for `alter`, against the kind's own tone. */
  readonly alter: number;
}

function kindTones(kind: string): Figure[] {
  return (KINDS[kind] ?? '1').split(' ').map((word) => {
    const sign = /^(b*|#*)(\d+)$/.exec(word)!;
    return { number: Number(sign[2]) as Figure['number'], alter: sign[1]!.startsWith('b') ? -sign[1]!.length : sign[1]!.length };
  });
}

/** What makes a kind into a chord: a number that the kind holds is altered, any other added; what the chord leaves out is subtracted. */
export function degreesOf({ kind, tones }: Pick<Chord, 'kind' | 'tones'>): Degree[] {
  const own = kindTones(kind);
  const degrees: Degree[] = [];
  const used = new Set<Figure>();
  for (const { figure } of tones) {
    const exact = own.find((tone) => tone.number === figure.number && tone.alter === figure.alter);
    if (exact !== undefined) used.add(exact);
  }
  for (const { figure } of tones) {
    if (own.some((tone) => tone.number === figure.number && tone.alter === figure.alter)) continue;
    const altered = own.find(
      (tone) =>
        tone.number === figure.number &&
        !used.has(tone) &&
        !tones.some((one) => one.figure.number === tone.number && one.figure.alter === tone.alter),
    );
    if (altered !== undefined) {
      used.add(altered);
      degrees.push({ type: 'alter', number: figure.number, alter: figure.alter - altered.alter });
    } else {
      // An added degree counts from the dominant's scale, whose seventh is flat.
      degrees.push({ type: 'add', number: figure.number, alter: figure.number === 7 ? figure.alter + 1 : figure.alter });
    }
  }
  for (const tone of own) if (!used.has(tone)) degrees.push({ type: 'subtract', number: tone.number, alter: 0 });
  return degrees;
}

/** How harmonies are written on a page. */
export interface HarmonyPage {
  readonly moved: { readonly name: (name: NoteName) => NoteName };
  /** For `notes` the symbol says all: degrees that are not to be printed are printed by some readers. */
  readonly options: { readonly words: 'sheet' | 'notes' };
}

/** A `harmony` element; `offset` in divisions from where it stands. */
export function harmonyElement(span: ChordSpan, id: string, offset: number, { moved, options }: HarmonyPage): XmlElement {
  const late = offset === 0 ? null : element('offset', {}, offset);
  const { chord } = span;
  if (chord === null) {
    // No chord has no root. The schema asks for one, readers for nothing but its letters: where a picture is all that is made of it, these are the symbol.
    if (options.words === 'notes')
      return element(
        'harmony',
        { id },
        element('root', {}, element('root-step', {}, span.symbol)),
        element('kind', { text: '' }, 'none'),
        late,
      );
    return element(
      'harmony',
      { id },
      element('root', {}, element('root-step', { text: '' }, 'C')),
      element('kind', { text: span.symbol }, 'none'),
      late,
    );
  }
  const root = moved.name(chord.root);
  const bass = chord.bass === null ? null : moved.name(chord.bass);
  const quality = chord.symbol.replace(/^[A-G](?:[b#]|♭|♯)?/, '').replace(/\/[A-G](?:[b#]|♭|♯)?$/, '');
  return element(
    'harmony',
    { id },
    element('root', {}, element('root-step', {}, root.letter), root.alter === 0 ? null : element('root-alter', {}, root.alter)),
    element('kind', { text: quality }, chord.kind),
    bass === null
      ? null
      : element('bass', {}, element('bass-step', {}, bass.letter), bass.alter === 0 ? null : element('bass-alter', {}, bass.alter)),
    options.words === 'notes'
      ? null
      : degreesOf(chord).map(({ type, number, alter }) =>
          element(
            'degree',
            { 'print-object': 'no' },
            element('degree-value', {}, number),
            element('degree-alter', {}, alter),
            element('degree-type', {}, type),
          ),
        ),
    late,
  );
}
