/** Inputs of the worst kind, each twice as long as the one before: what they cost grows with them, and no faster. */
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { LONGEST_ITEM, openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { processorTime } from './area';

const head = 'phrase "Curve"\n  key C major\n';

/** Texts of about so many parts. */
export const WORST: Readonly<Record<string, (count: number) => string>> = {
  'one endless bar': (count) => `${head}  over | Cmaj7 |\n  line | C4 ${'D E F G '.repeat(count / 4)}|\n`,
  'one endless group': (count) => `${head}  over | Cmaj7 |\n  line | C4${'-D-E-F-G'.repeat(count / 4)} |\n`,
  'many bars': (count) => `${head}  over ${'| Dm7 G7 '.repeat(count / 8)}|\n  line ${'| D4-F A-C B-G F-D '.repeat(count / 8)}|\n`,
  'many chords in a bar': (count) => `${head}  over | ${'C7 '.repeat(count)}|\n  line | C4 D E F |\n`,
  'many cells': (count) =>
    `${Array.from({ length: count }, (_, i) => `cell c${i} = 1 2 3 5`).join('\n')}\n\n${head}  over | C7 |\n  line ${Array.from({ length: count / 4 }, (_, i) => `| c${i} `).join('')}|\n`,
  'names of one another': (count) =>
    `${Array.from({ length: count }, (_, i) => `changes c${i} = | c${i + 1} |`).join('\n')}\n\n${head}  over c0\n  line | C4 |\n`,
  'cells of one another': (count) =>
    `${Array.from({ length: count }, (_, i) => `cell c${i} = c${i + 1} c${i + 1}`).join('\n')}\n\n${head}  over | C7 |\n  line | c0 |\n`,
  'names that nothing defines': (count) => `${head}  over | C7 |\n  line ${'| nothing '.repeat(count / 8)}|\n`,
  'weights of 64': (count) => `${head}  meter 64/4\n  over | C7 |\n  line ${'| 64:C4-D-E-F-G '.repeat(count / 8)}|\n`,
  'chord upon chord': (count) => `${head}  over | V7${'/V7'.repeat(count / 4)} |\n  line | C4 |\n`,
  claims: (count) => `${head}  over | C7 | F7 |\n  line | C4 E G B | A F D C |\n${'  claim lands 3 at 2.1\n'.repeat(count / 8)}`,
  prose: (count) => `${head}  line | C4 |\n${'  say "on and on and on"\n'.repeat(count / 8)}`,
  'brackets, marks and signs': (count) => `${head}  line | ${'((/(>!^C'.repeat(count / 8)} |\n`,
  quotes: (count) => `${head}${'"“'.repeat(count / 2)}\n`,
  comments: (count) => `${'// and\n'.repeat(count)}${head}`,
  'rows of one phrase': (count) => `${head}${'  over | C7 |\n  line | C4 |\n'.repeat(count / 8)}`,
  'short phrases': (count) => 'phrase "A"\n  line | C4 |\n'.repeat(count / 4),
  'definitions that rows follow': (count) => `phrase "A"\n${'cell a = 1\n'.repeat(count)}  line | C4 |\n`,
};

const SIZES = [500, 1000, 2000, 4000, 8000, 16_000];
/** Twice as much may take twice as long, and some. */
const MOST = 2.6;
/** Milliseconds: what is below is lost in the noise. */
const NOISE = 30;

/** Prints the curves; answers whether all are straight. */
export function printCurves(): boolean {
  console.log(`\nworst cases: processor milliseconds for ${SIZES.join(', ')} parts`);
  return Object.entries(WORST)
    .map(([name, make]) => {
      const sizes = SIZES.filter((size) => make(size).length < LONGEST_ITEM || /many cells|one another|short|definitions/.test(name));
      const times = sizes.map((size) => timed(make(size)));
      const growth = times.slice(1).flatMap((time, i) => (times[i]! < NOISE ? [] : [time / times[i]!]));
      const worst = Math.max(0, ...growth);
      console.log(
        `${worst > MOST ? 'STEEP ' : ''}${name}: ${times.map((time) => time.toFixed(0)).join(', ')}${growth.length === 0 ? '' : `; doubling takes ${worst.toFixed(1)} times as long`}`,
      );
      return worst <= MOST;
    })
    .every(Boolean);
}

/** The best of three: what else the process does, such as collecting garbage, only adds. */
function timed(text: string): number {
  return Math.min(
    ...[1, 2, 3].map((version) => {
      const start = processorTime();
      // A text of its own each time, or what was read before would be taken over.
      findingsOf(openSnapshot('', version, `${text}// ${version} ${Math.random()}\n`), DEFAULT_THEORY);
      return processorTime() - start;
    }),
  );
}
