/** Random phrases, files and junk for the property tests. Everything is drawn from fast-check, so that a failure can be replayed. */
import fc from 'fast-check';
import { QUALITIES, ROOTS } from './chord-parts';

/** Fixed, so that every run says the same; a seed in PROPERTY_SEED looks elsewhere. */
export const SEEDS = process.env['PROPERTY_SEED'] === undefined ? [20_260, 7, 90_210] : [Number(process.env['PROPERTY_SEED'])];

/** For what draws by one seed. */
export const RUN = { seed: SEEDS[0]!, endOnFailure: true } as const;

/** The fixed seeds draw the same each time, and so less of what a property asks for; another seed draws all of it. */
const DRAWN = process.env['PROPERTY_SEED'] === undefined ? 0.6 : 1;

/** A property that always holds: its runs are drawn by the seeds in equal shares. */
export function always<Ts>(property: fc.IProperty<Ts>, params: fc.Parameters<Ts>): void;
export function always<Ts>(property: fc.IAsyncProperty<Ts>, params: fc.Parameters<Ts>): Promise<void>;
export function always<Ts>(property: fc.IRawProperty<Ts>, params: fc.Parameters<Ts>): void | Promise<void> {
  const share = { ...params, numRuns: Math.ceil(((params.numRuns ?? 100) * DRAWN) / SEEDS.length) };
  const tries = SEEDS.map((seed) => () => fc.assert(property as fc.IAsyncProperty<Ts>, { ...share, seed }));
  return property.isAsync() ? tries.reduce((before, next) => before.then(next), Promise.resolve()) : tries.forEach((next) => void next());
}

/** Any code point that is no half of one: all there are, less the surrogates. */
const codePoint = fc.nat(0x10_ffff - 0x800).map((nth) => String.fromCodePoint(nth < 0xd800 ? nth : nth + 0x800));

/** Any text, as the library's unit `binary` has it, which takes a second of processor time for a table of all code points. */
export function anyCharacters(constraints: fc.StringConstraints = {}): fc.Arbitrary<string> {
  return fc.string({ ...constraints, unit: codePoint });
}

export const chordSymbol = fc.tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...QUALITIES)).map(([root, quality]) => root + quality);
const key = fc
  .tuple(fc.constantFrom('C', 'F', 'Bb', 'Eb', 'Ab', 'G', 'D', 'A', 'E', 'Db'), fc.constantFrom('major', 'minor'))
  .map((parts) => parts.join(' '));
const PITCHES = ['C', 'C#', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
const FIGURES = ['1', '3', '5', '9', '13', '11', 'b9', '#9', '#11', 'b13', 'b7'] as const;

export const METERS = { '4/4': 4, '3/4': 3, '6/8': 2, '5/4': 5, '12/8': 4, '2/2': 2 } as const;
export type MeterText = keyof typeof METERS;

const pitch = fc.tuple(fc.constantFrom('', '', '', '/', '\\'), fc.constantFrom(...PITCHES)).map((parts) => parts.join(''));
const degree = fc.tuple(fc.constantFrom('', '', '', '/', '\\'), fc.constantFrom(...FIGURES)).map((parts) => parts.join(''));
const mark = fc.constantFrom('', '', '', '', '', '>', '^');

const slot = (degrees: boolean): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 8, arbitrary: fc.tuple(degrees ? degree : pitch, mark).map((parts) => parts.join('')) },
    { weight: 1, arbitrary: fc.constant('.') },
  );

const group = (degrees: boolean): fc.Arbitrary<string> =>
  fc.array(slot(degrees), { minLength: 1, maxLength: 4 }).map((slots) => slots.join('-'));

function bar(beats: number, degrees: boolean): fc.Arbitrary<string> {
  const full = fc.array(group(degrees), { minLength: beats, maxLength: beats }).map((groups) => groups.join(' '));
  const halves = group(degrees).map((only) => only);
  const weighted = fc.tuple(group(degrees), group(degrees)).map(([a, b]) => (beats > 1 ? `${beats - 1}:${a} ${b}` : a));
  return fc.oneof({ weight: 6, arbitrary: full }, { weight: 1, arbitrary: halves }, { weight: 1, arbitrary: weighted });
}

export interface RandomPhrase {
  readonly text: string;
  readonly meter: MeterText;
  readonly degrees: boolean;
}

/** A well-formed phrase: every bar adds up, every chord can be read. The first note has an octave. */
export const phraseArbitrary: fc.Arbitrary<RandomPhrase> = fc
  .record({
    meter: fc.constantFrom<MeterText>('4/4', '4/4', '4/4', '3/4', '6/8', '5/4', '12/8', '2/2'),
    degrees: fc.boolean(),
    key,
    hasKey: fc.boolean(),
    count: fc.integer({ min: 1, max: 4 }),
    pickup: fc.boolean(),
  })
  .chain(({ meter, degrees, key: tonic, hasKey, count, pickup }) =>
    fc
      .record({
        chords: fc.array(chordSymbol, { minLength: count, maxLength: count }),
        bars: fc.array(bar(METERS[meter], degrees), { minLength: count, maxLength: count }),
        before: group(degrees),
      })
      .map(({ chords, bars, before }) => {
        const head = `phrase "Random"\n${hasKey ? `  key     ${tonic}\n` : ''}  meter   ${meter}\n`;
        const lead = pickup && METERS[meter] > 1 ? `${before} ` : '';
        return { meter, degrees, text: `${head}  over    | ${chords.join(' | ')} |\n  line    ${lead}| ${bars.join(' | ')} |\n` };
      }),
  );

const plainSlot = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(fc.constantFrom('', '/', '\\'), fc.constantFrom('1', '3', '5')).map((parts) => parts.join('')) },
  { weight: 3, arbitrary: fc.constantFrom('~', '.') },
);
const plainBar = fc
  .array(plainSlot, { minLength: 3, maxLength: 3 })
  .map((slots) => ['1', ...slots.map((slot, i) => (slot === '~' && i > 0 ? '.' : slot))].join(' '));

const plainChord = fc
  .tuple(fc.constantFrom('C', 'F', 'Bb', 'Eb', 'G', 'D', 'A'), fc.constantFrom('maj7', 'm7', '7', '6', 'm6'))
  .map((parts) => parts.join(''));
const plainNumeral = fc.constantFrom('ii7', 'V7', 'Imaj7', 'vi7', 'IVmaj7', 'bVII7', 'iim7b5', 'iv6', 'V7/ii', 'V7b9');

/** Chord tones, holds and rests, a beat each, over chords that all have a third and a fifth: what a writer would embellish. */
export const plainPhraseArbitrary: fc.Arbitrary<RandomPhrase> = fc
  .tuple(
    fc.array(plainChord, { minLength: 3, maxLength: 3 }),
    fc.array(plainNumeral, { minLength: 3, maxLength: 3 }),
    fc.array(plainBar, { minLength: 2, maxLength: 3 }),
    fc.integer({ min: 0, max: 3 }),
  )
  .map(([symbols, numerals, bars, pick]) => {
    const chords = pick === 0 ? numerals : symbols;
    const count = Math.min(chords.length, bars.length);
    const text = `phrase "Plain"\n${pick === 0 ? '  key     Bb major\n' : ''}  over    | ${chords.slice(0, count).join(' | ')} |\n  line    | ${bars.slice(0, count).join(' | ')} |\n`;
    return { meter: '4/4', degrees: true, text };
  });

const II_V_I = {
  'long major': ['ii7 | V7 | Imaj7 | Imaj7', 'ii9 | V13 | I6 | I6'],
  'short major': ['ii7 V7 | Imaj7'],
  'long minor': ['iim7b5 | V7b9 | i6 | i6'],
  'short minor': ['iim7b5 V7b9 | i6'],
} as const;
const SYMBOLS: Readonly<Record<string, readonly [string, string]>> = {
  ii7: ['D', 'm7'],
  ii9: ['D', 'm9'],
  V7: ['G', '7'],
  V13: ['G', '13'],
  Imaj7: ['C', 'maj7'],
  I6: ['C', '6'],
  iim7b5: ['D', 'm7b5'],
  V7b9: ['G', '7b9'],
  i6: ['C', 'm6'],
};
const lessonSlot = fc.oneof(
  { weight: 7, arbitrary: fc.constantFrom('1', '3', '5', '7', '3', '1', '5') },
  { weight: 3, arbitrary: fc.constantFrom('9', '11', '13', 'b9') },
);
const lessonGroup = fc.oneof(
  { weight: 5, arbitrary: fc.tuple(lessonSlot, lessonSlot).map((pair) => pair.join('-')) },
  { weight: 2, arbitrary: lessonSlot },
  { weight: 2, arbitrary: fc.constantFrom('~', 'climb', '3-1', '1-3-5') },
);

/** What lessons are made of: a ii–V–I with numerals or symbols, named changes or systems, chords before the line, cells, a pickup; its text in pitches by `inPitches`. */
export const lessonPhraseArbitrary: fc.Arbitrary<RandomPhrase> = fc
  .record({
    form: fc.constantFrom('long major', 'short major', 'long minor', 'short minor'),
    variant: fc.nat(1),
    symbols: fc.boolean(),
    way: fc.constantFrom('row', 'row', 'changes', 'systems', 'systems', 'chords first'),
    groups: fc.array(lessonGroup, { minLength: 16, maxLength: 16 }),
    pickup: fc.boolean(),
  })
  .map(({ form, variant, symbols, way, groups, pickup }) => {
    const choices = II_V_I[form as keyof typeof II_V_I];
    const chords = choices[variant % choices.length]!;
    const shown = symbols
      ? chords
          .split(' ')
          .map((word) => SYMBOLS[word]?.join('') ?? word)
          .join(' ')
      : chords;
    const bars = shown.split(' | ');
    const line = bars.map((_, i) => {
      const own = groups.slice(4 * i, 4 * i + 4);
      // A cell takes two beats; a hold needs a note before it.
      const isSixth = bars[i]!.endsWith('6');
      const beats = own.map((group, k) => (k === 0 && group === '~' ? '1' : isSixth ? group.replaceAll('7', '5') : group));
      return beats[0] === 'climb' || beats[2] === 'climb'
        ? `${beats[0] === 'climb' ? 'climb' : `${plainOnly(beats[0]!)} ${plainOnly(beats[1]!)}`} ${beats[2] === 'climb' ? 'climb' : `${plainOnly(beats[2]!)} ${plainOnly(beats[3]!)}`}`
        : beats.map(plainOnly).join(' ');
    });
    const lead = pickup ? '3-5 ' : '';
    const key = `  key     C ${form.endsWith('minor') ? 'minor' : 'major'}\n`;
    const definitions = `cell    climb = 1-3 5-9\n${way === 'changes' ? `changes home = | ${shown} |\n` : ''}`;
    const half = Math.ceil(bars.length / 2);
    const intro = way === 'chords first' ? `  over    | ${bars.join(' | ')} |\n` : '';
    const body =
      way === 'systems' && bars.length > 1
        ? `  over    | ${bars.slice(0, half).join(' | ')} |\n  line    ${lead}| ${line.slice(0, half).join(' | ')} |\n  over    | ${bars.slice(half).join(' | ')} |\n  line    | ${line.slice(half).join(' | ')} |\n`
        : `  over    ${way === 'changes' ? 'home' : `| ${shown} |`}\n  line    ${lead}| ${line.join(' | ')} |\n`;
    return { meter: '4/4', degrees: true, text: `${definitions}\nphrase "Lesson"\n${key}${intro}${body}` };
  });

function plainOnly(group: string): string {
  return group === 'climb' ? '1-3' : group;
}

const leadingBar = fc
  .tuple(
    fc.constantFrom('3', '3', '3', '1', '5'),
    fc.constantFrom('~', '9', '13', 'b9', 'b13'),
    fc.constantFrom('5', '3', '1'),
    fc.constantFrom('7', '7', '7', '~', '.', '1'),
  )
  .map((beats) => beats.join(' '));

/** Half a phrase of embellishments: notes and holds on beats, sevenths that could be kept over a change; two phrases in the file. */
export const leadingPhraseArbitrary: fc.Arbitrary<RandomPhrase> = fc
  .tuple(
    fc.array(leadingBar, { minLength: 3, maxLength: 3 }),
    fc.constantFrom('Dm7 | G7 | Cmaj7', 'F7 | Bb7 | Ebmaj7', 'Am7 | D7 | Gmaj7'),
    fc.boolean(),
  )
  .map(([bars, chords, named]) => {
    const line = `  line    | ${bars.join(' | ')} |\n`;
    const over = `  over    ${named ? 'home' : `| ${chords} |`}\n`;
    return {
      meter: '4/4',
      degrees: true,
      text: `${named ? `changes home = | ${chords} |\n\n` : ''}phrase "Leading"\n${over}${line}\nphrase "Second"\n${over}${line}`,
    };
  });

/** How a row is written down: with its outer bar lines or without, over several lines of text, with a comment. */
const rowManner = fc.record({
  opening: fc.constantFrom('| ', '|', '|', ''),
  closing: fc.constantFrom(' |', ' ||', ''),
  between: fc.constantFrom(' | ', '|', '   |  ', ' || '),
  breaks: fc.constantFrom('none', 'none', 'bar line above', 'bar line below', 'bar lines both', 'with a comment'),
  breakAt: fc.nat(4),
  comment: fc.constantFrom('', '', '', '  // breathe'),
});
type RowManner = typeof rowManner extends fc.Arbitrary<infer T> ? T : never;

/** A row as someone may write it; `lead` stands before the first bar line. */
function written(keyword: string, lead: string, bars: readonly string[], manner: RowManner): string {
  const { opening, closing, between, breaks, breakAt, comment } = manner;
  const turn = breakAt % bars.length;
  // A row goes on only with a bar line at the start of the next line.
  const turns = {
    none: between,
    'bar line above': ' |\n   | ',
    'bar line below': '\n  | ',
    'bar lines both': ' |\n|',
    'with a comment': '  // here\n  // and here\n\n  | ',
  }[breaks]!;
  const body = bars.reduce((text, bar, i) => text + (i === 0 ? '' : i === turn ? turns : between) + bar, '');
  // Chords before a comment are taken for hidden ones; the notes' rows carry it.
  return `  ${keyword} ${lead === '' ? opening : `${lead} | `}${body}${closing}${keyword === 'over' ? '' : comment}\n`;
}

/** The figures that stand under a bar's groups, as many slots, some left out. */
const figuresUnder = (text: string, pick: number): string =>
  text
    .split(' ')
    .map((group, i) =>
      group
        .replace(/^\d+:/, '')
        .split('-')
        .map((_, k) => ['1', '*', 'b3', '5'][(i + k + pick) % 4])
        .join('-'),
    )
    .join(' ');

/**
 * A phrase whose rows are laid out in any way that reads: systems, several rows of notes and figures in one, rows with and without outer
 * bar lines or broken over lines, pickups and first bars without a bar line, comments, changes by name, a new meter between rows.
 */
export const pageArbitrary: fc.Arbitrary<{ readonly text: string }> = fc
  .constantFrom<MeterText>('4/4', '4/4', '3/4', '6/8', '2/2')
  .chain((meter) =>
    fc.record({
      meter: fc.constant(meter),
      lead: fc.constantFrom('none', 'none', 'pickup', 'pickup', 'bar'),
      before: group(false),
      whole: bar(METERS[meter], false),
      systems: fc.array(
        fc.record({
          over: fc.constantFrom('row', 'row', 'row', 'name', 'none'),
          chords: fc.array(chordSymbol, { minLength: 1, maxLength: 4 }),
          manner: rowManner,
          isTwoChords: fc.boolean(),
          newMeter: fc.boolean(),
          lines: fc.array(
            fc.record({
              bars: fc.array(bar(METERS[meter], false), { minLength: 1, maxLength: 3 }),
              manner: rowManner,
              degrees: fc.constantFrom('none', 'none', 'below', 'short'),
              pick: fc.nat(3),
              figures: rowManner,
            }),
            { maxLength: 3 },
          ),
          comment: fc.constantFrom('', '', '  // listen\n', '\n'),
        }),
        { minLength: 1, maxLength: 3 },
      ),
    }),
  )
  .map(({ meter, lead, before, whole, systems }) => {
    let isFirst = true;
    const body = systems.map(({ over, chords, manner, isTwoChords, lines, comment, newMeter }) => {
      const shares = chords.map((chord, i) => (isTwoChords && i === 0 && METERS[meter] % 2 === 0 ? `${chord} ${chord}` : chord));
      const harmony = over === 'none' ? '' : over === 'name' ? '  over turn\n' : written('over', '', shares, manner);
      const rows = lines.map(({ bars, manner: own, degrees, pick, figures }) => {
        const text = isFirst && lead !== 'none' ? (lead === 'bar' ? whole : before) : '';
        isFirst = false;
        const under = text !== '' && degrees === 'below' ? figuresUnder(text, pick) : '';
        const numbers =
          degrees === 'none'
            ? ''
            : written(
                'degrees',
                under,
                bars.map((one) => figuresUnder(one, pick)),
                figures,
              );
        return written('line', text, bars, own) + numbers;
      });
      return (newMeter ? `  meter ${meter}\n` : '') + harmony + comment + rows.join(comment);
    });
    return { text: `changes turn = | Dm7 | G7 |\n\nphrase "Page"\n  meter ${meter}\n${body.join('')}` };
  });

/** Text that is nearly the language: its words and signs in any order, and some that are not. */
const shard = fc.constantFrom(
  'phrase',
  'lesson',
  'line',
  'over',
  'degrees',
  'changes',
  'cell',
  'key',
  'meter',
  'tempo',
  'claim',
  'say',
  'level',
  ' ',
  ' ',
  ' ',
  '\n',
  '\n',
  '  ',
  '|',
  '||',
  '|:',
  '"',
  '“',
  '//',
  '/',
  '\\',
  '-',
  '~',
  '.',
  '%',
  'N.C.',
  'C4',
  'Bb',
  'b3',
  '#11',
  '1235',
  '8',
  '(',
  ')',
  '!',
  '>',
  '^',
  '2:',
  'Cmaj7',
  'G7b9',
  'ii7',
  'V7/ii',
  ':dorian',
  '=',
  'climb',
  'F#',
  '4/4',
  '🎷',
  '\r\n',
  '\t',
  '\u0000',
  '♭',
  '*',
);
export const shards = fc
  .array(fc.oneof({ weight: 14, arbitrary: shard }, { weight: 1, arbitrary: fc.string({ maxLength: 6 }) }), { maxLength: 14 })
  .map((parts) => parts.join(''));
const firstWord = fc.constantFrom(
  'phrase',
  'line',
  'line',
  'line',
  'over',
  'over',
  'degrees',
  'cell',
  'changes',
  'lesson',
  'key',
  'meter',
  'claim',
  'say',
  '|',
  '|',
  '//',
  '',
  'xyz',
);
const music = fc.constantFrom(
  ' | C4 D E F | G ~ . . |',
  ' | Cmaj7 G7 | C6 |',
  ' 5-6-7 | 1 2 3 5',
  ' | 1 3-5 3 1 || ',
  ' climb = 1 2 3 5',
  ' turn = | G7 | C |',
  ' | 2:C4-D (E)! /G> |',
  '',
);
const line = fc
  .tuple(fc.constantFrom('', '', '  ', '\t'), firstWord, music, fc.constantFrom(' ', ''), shards)
  .map((parts) => parts.join(''));

/** Files whose rows are half right: keywords in place, and anything after them. */
export const junk = fc.oneof(
  {
    weight: 4,
    arbitrary: fc
      .tuple(fc.constantFrom('phrase "A"\n', ''), fc.array(line, { maxLength: 9 }))
      .map(([head, lines]) => head + lines.join('\n')),
  },
  { weight: 1, arbitrary: shards },
);
