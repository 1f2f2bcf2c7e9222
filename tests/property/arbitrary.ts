/** Random phrases, files and junk for the property tests. Everything is drawn from fast-check, so that a failure can be replayed. */
import fc from 'fast-check';

/** One seed for all, so that a run can be repeated; PROPERTY_SEED looks elsewhere. */
export const RUN = { seed: Number(process.env['PROPERTY_SEED'] ?? 20_260), endOnFailure: true } as const;

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
const QUALITIES = ['maj7', '6', 'm7', 'm6', 'm(maj7)', '7', '9', '13', '7b9', '7alt', '7#11', 'm7b5', 'dim7', 'sus', '7sus', 'maj7#5', '+7', '', 'm', '6/9', 'm9', '7#9', 'maj7#11', '13b9'] as const;

export const chordSymbol = fc.tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...QUALITIES)).map(([root, quality]) => root + quality);
const key = fc.tuple(fc.constantFrom('C', 'F', 'Bb', 'Eb', 'Ab', 'G', 'D', 'A', 'E', 'Db'), fc.constantFrom('major', 'minor')).map((parts) => parts.join(' '));
const PITCHES = ['C', 'C#', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
const FIGURES = ['1', '3', '5', '9', '13', '11', 'b9', '#9', '#11', 'b13', 'b7'] as const;

export const METERS = { '4/4': 4, '3/4': 3, '6/8': 2, '5/4': 5, '12/8': 4, '2/2': 2 } as const;
export type MeterText = keyof typeof METERS;

const pitch = fc.tuple(fc.constantFrom('', '', '', '/', '\\'), fc.constantFrom(...PITCHES)).map((parts) => parts.join(''));
const degree = fc.tuple(fc.constantFrom('', '', '', '/', '\\'), fc.constantFrom(...FIGURES)).map((parts) => parts.join(''));
const mark = fc.constantFrom('', '', '', '', '', '>', '^');

const slot = (degrees: boolean): fc.Arbitrary<string> =>
  fc.oneof({ weight: 8, arbitrary: fc.tuple(degrees ? degree : pitch, mark).map((parts) => parts.join('')) }, { weight: 1, arbitrary: fc.constant('.') });

const group = (degrees: boolean): fc.Arbitrary<string> => fc.array(slot(degrees), { minLength: 1, maxLength: 4 }).map((slots) => slots.join('-'));

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
const plainBar = fc.array(plainSlot, { minLength: 3, maxLength: 3 }).map((slots) => ['1', ...slots.map((slot, i) => (slot === '~' && i > 0 ? '.' : slot))].join(' '));

const plainChord = fc.tuple(fc.constantFrom('C', 'F', 'Bb', 'Eb', 'G', 'D', 'A'), fc.constantFrom('maj7', 'm7', '7', '6', 'm6')).map((parts) => parts.join(''));
const plainNumeral = fc.constantFrom('ii7', 'V7', 'Imaj7', 'vi7', 'IVmaj7', 'bVII7', 'iim7b5', 'iv6', 'V7/ii', 'V7b9');

/** Chord tones, holds and rests, a beat each, over chords that all have a third and a fifth: what a writer would embellish. */
export const plainPhraseArbitrary: fc.Arbitrary<RandomPhrase> = fc
  .tuple(fc.array(plainChord, { minLength: 3, maxLength: 3 }), fc.array(plainNumeral, { minLength: 3, maxLength: 3 }), fc.array(plainBar, { minLength: 2, maxLength: 3 }), fc.integer({ min: 0, max: 3 }))
  .map(([symbols, numerals, bars, pick]) => {
    const chords = pick === 0 ? numerals : symbols;
    const count = Math.min(chords.length, bars.length);
    const text = `phrase "Plain"\n${pick === 0 ? '  key     Bb major\n' : ''}  over    | ${chords.slice(0, count).join(' | ')} |\n  line    | ${bars.slice(0, count).join(' | ')} |\n`;
    return { meter: '4/4', degrees: true, text };
  });

/** Text that is nearly the language: its words and signs in any order, and some that are not. */
const shard = fc.constantFrom(
  'phrase', 'lesson', 'line', 'over', 'degrees', 'changes', 'cell', 'key', 'meter', 'tempo', 'claim', 'say', 'level', ' ', ' ', ' ', '\n', '\n', '  ', '|', '||', '|:', '"', '“', '//',
  '/', '\\', '-', '~', '.', '%', 'N.C.', 'C4', 'Bb', 'b3', '#11', '1235', '8', '(', ')', '!', '>', '^', '2:', 'Cmaj7', 'G7b9', 'ii7', 'V7/ii', ':dorian', '=', 'climb', 'F#', '4/4', '🎷', '\r\n', '\t', '\u0000', '♭', '*',
);
const shards = fc.array(fc.oneof({ weight: 14, arbitrary: shard }, { weight: 1, arbitrary: fc.string({ maxLength: 6 }) }), { maxLength: 14 }).map((parts) => parts.join(''));
const firstWord = fc.constantFrom('phrase', 'line', 'line', 'line', 'over', 'over', 'degrees', 'cell', 'changes', 'lesson', 'key', 'meter', 'claim', 'say', '|', '|', '//', '', 'xyz');
const music = fc.constantFrom(' | C4 D E F | G ~ . . |', ' | Cmaj7 G7 | C6 |', ' 5-6-7 | 1 2 3 5', ' | 1 3-5 3 1 || ', ' climb = 1 2 3 5', ' turn = | G7 | C |', ' | 2:C4-D (E)! /G> |', '');
const line = fc.tuple(fc.constantFrom('', '', '  ', '\t'), firstWord, music, fc.constantFrom(' ', ''), shards).map((parts) => parts.join(''));

/** Files whose rows are half right: keywords in place, and anything after them. */
export const junk = fc.oneof(
  { weight: 4, arbitrary: fc.tuple(fc.constantFrom('phrase "A"\n', ''), fc.array(line, { maxLength: 9 })).map(([head, lines]) => head + lines.join('\n')) },
  { weight: 1, arbitrary: shards },
);
