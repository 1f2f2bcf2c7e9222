/** Random phrases of many bars, of what makes one note look at others: steps, half steps, the same note again, blues scales, holds, rests. */
import fc from 'fast-check';

const CHANGES: readonly (readonly string[])[] = [
  ['Gm7', 'C7', 'Fmaj7', 'D7b9', 'Gm7 C7', 'Am7b5 D7b9'],
  ['F7', 'Bb7', 'F7', 'C7', 'Bb7'],
  ['Dm7'],
  ['C7'],
  ['Cm7', 'F7', 'Bbmaj7', 'Ebmaj7', 'Am7b5', 'D7alt', 'Gm6'],
  ['Fmaj7', 'F6', 'C7sus', 'N.C.', 'C7'],
  ['Cmaj7', 'A7', 'Dm7', 'G7', 'C5', 'Cmaj7#11'],
];
const HEADS = [
  '',
  '  key     F major\n',
  '  key     F major\n',
  '  key     C minor\n',
  '  part    trumpet\n',
  '  key     C major\n  meter   3/4\n',
] as const;
const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
const BLUES = [0, 3, 5, 6, 7, 10] as const;

/** Moves of a line, in half steps; 99 rests, 98 holds. */
const MANNERS = {
  mixed: [1, -1, 2, -2, 3, -3, 4, -4, 0, 5, -7, 99, 98],
  steps: [1, -1, 2, -2, 2, -2, 1, -1],
  halfSteps: [1, 1, 1, 1, 1, -1],
  down: [-1, -1, -1, -1, 1],
  again: [0, 0, 0, 0, 1, -2, 98],
  sparse: [98, 98, 99, 99, 2, -1, 4, -3, 98],
  leaps: [5, -4, 7, -5, 3, -6, 8, -8],
} as const;
type Manner = keyof typeof MANNERS | 'blues';

interface Stretch {
  readonly manner: Manner;
  readonly picks: readonly number[];
}

const manner = fc.constantFrom<Manner>(
  'mixed',
  'mixed',
  'mixed',
  'steps',
  'halfSteps',
  'down',
  'again',
  'sparse',
  'leaps',
  'blues',
  'blues',
);

/** The pitches of a stretch, a slot each. */
function slotsOf({ manner: how, picks }: Stretch, from: number): { slots: string[]; last: number } {
  let last = from;
  const slots = picks.map((pick) => {
    const blues = BLUES[pick % BLUES.length]!;
    const choice = how === 'blues' ? null : MANNERS[how][pick % MANNERS[how].length]!;
    if (choice === 99) return '.';
    if (choice === 98) return '~';
    const next = choice === null ? 60 + 12 * (pick % 2) + 5 + blues : last + choice;
    last = next < 55 ? next + 12 : next > 86 ? next - 12 : next;
    return `${NAMES[last % 12]}${Math.floor(last / 12) - 1}${pick % 29 === 0 ? '>' : pick % 31 === 0 ? '!' : ''}`;
  });
  return { slots, last };
}

export const longPhraseArbitrary: fc.Arbitrary<{ readonly text: string }> = fc
  .record({
    head: fc.constantFrom(...HEADS),
    changes: fc.constantFrom(...CHANGES),
    bars: fc.integer({ min: 5, max: 14 }),
    manners: fc.array(fc.record({ manner, picks: fc.array(fc.nat(), { minLength: 4, maxLength: 40 }) }), { minLength: 6, maxLength: 20 }),
    widths: fc.array(fc.constantFrom(2, 2, 2, 2, 1, 3, 4), { minLength: 64, maxLength: 64 }),
    extra: fc.constantFrom('', '', '', 'claims', 'degrees', 'pickup'),
    perRow: fc.constantFrom(2, 4, 16),
  })
  .map(({ head, changes, bars, manners, widths, extra, perRow }) => {
    const beats = head.includes('3/4') ? 3 : 4;
    let last = 65;
    const pool = manners.flatMap((stretch) => {
      const { slots, last: reached } = slotsOf(stretch, last);
      last = reached;
      return slots;
    });
    let at = 0;
    const take = (count: number): string[] => Array.from({ length: count }, () => pool[(at += 1) % pool.length]!);
    const bar = (i: number): string =>
      Array.from({ length: beats }, (_, k) => take(widths[(i * beats + k) % widths.length]!))
        .map((slots, k) => (i === 0 && k === 0 ? ['F4', ...slots.slice(1)] : slots).join('-'))
        .join(' ');
    const all = Array.from({ length: bars }, (_, i) => bar(i));
    const chord = (i: number): string => (beats === 3 ? changes[i % changes.length]!.split(' ')[0]! : changes[i % changes.length]!);
    const rows = Array.from({ length: Math.ceil(bars / perRow) }, (_, r) => {
      const [from, to] = [r * perRow, Math.min(bars, (r + 1) * perRow)];
      const numbers = Array.from({ length: to - from }, (_x, i) => from + i);
      const figures =
        extra === 'degrees'
          ? `  degrees | ${numbers
              .map((i) =>
                all[i]!.split(' ')
                  .map((group) =>
                    group
                      .split('-')
                      .map(() => '*')
                      .join('-'),
                  )
                  .join(' '),
              )
              .join(' | ')} |\n`
          : '';
      return `  over    | ${numbers.map(chord).join(' | ')} |\n  line    ${r === 0 && extra === 'pickup' ? 'C4-E ' : ''}| ${numbers.map((i) => all[i]!).join(' | ')} |\n${figures}`;
    });
    const claims =
      extra === 'claims' ? '  claim   no clash\n  claim   chord-tones at least 50%\n  claim   range F3 to D6\n  claim   enclosure\n' : '';
    return { text: `phrase "Long"\n${head}${rows.join('')}${claims}` };
  });
