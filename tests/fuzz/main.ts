/** `npm run fuzz`: tries fresh seeds for as long as it is told and prints what was tried, the slowest input of each area, and each failing one with its seed. */
import { parseArgs } from 'node:util';
import { openMeter, type Area, type Meter } from './area';
import { AREAS } from './areas';
import { printCurves } from './curves';
import { properties } from './properties';

/** A failing area is left alone after so many failures: the next ones are likely the same. */
const MOST_FAILURES = 3;

interface Tally {
  readonly area: Area;
  readonly meter: Meter;
  readonly failures: string[];
  inputs: number;
  /** Milliseconds. */
  spent: number;
  note: string;
}

/** Answers whether all held. */
export async function fuzz(args: readonly string[]): Promise<boolean> {
  const { values } = parseArgs({
    args: [...args],
    options: { minutes: { type: 'string', default: '5' }, seed: { type: 'string' }, only: { type: 'string' }, inputs: { type: 'string' } },
  });
  const [minutes, first] = [Number(values.minutes), values.seed === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(values.seed)];
  const all = [...AREAS, properties];
  const names = values.only?.split(',');
  const unknown = names?.filter((name) => name !== 'curves' && !all.some((one) => one.name === name)) ?? [];
  if (!(minutes >= 0) || !Number.isSafeInteger(first) || unknown.length > 0)
    throw new Error(
      `npm run fuzz -- --minutes 20 [--seed N] [--inputs N] [--only NAMES], where NAMES are some of ${all.map(({ name }) => name).join(',')},curves`,
    );
  const tallies = all
    .filter(({ name }) => names === undefined || names.includes(name))
    .map((area): Tally => ({ area, meter: openMeter(), failures: [], inputs: 0, spent: 0, note: '' }));
  console.log(`seeds from ${first}`);
  const until = performance.now() + 60_000 * minutes;
  // Each area has its turn at least once; then the one that had least time.
  for (let seed = first; ; seed += 1) {
    const next = tallies.filter(({ failures }) => failures.length < MOST_FAILURES).sort((a, b) => a.spent - b.spent)[0];
    if (next === undefined || (next.inputs > 0 && performance.now() > until)) break;
    await tryBatch(next, seed, Number(values.inputs ?? next.area.turn));
  }
  for (const { area } of tallies) await area.end?.();
  for (const tally of tallies) console.log(reportOf(tally));
  const isLinear = names === undefined || names.includes('curves') ? printCurves() : true;
  return isLinear && tallies.every(({ failures }) => failures.length === 0);
}

async function tryBatch(tally: Tally, seed: number, inputs: number): Promise<void> {
  const start = performance.now();
  const outcome = await tally.area.batch(seed, inputs, tally.meter);
  tally.spent += performance.now() - start;
  tally.inputs += outcome.inputs;
  tally.note = outcome.note ?? tally.note;
  // Whoever waits sees that it goes on.
  if (process.stderr.isTTY) process.stderr.write(`\r${tally.area.name}, seed ${seed}: ${tally.inputs} inputs\x1b[K`);
  if (outcome.failure === null) return;
  tally.failures.push(outcome.failure);
  console.log(`\n${tally.area.name} FAILED, ${outcome.failure}\n`);
}

function reportOf({ area, meter, failures, inputs, spent, note }: Tally): string {
  const { milliseconds, what, input } = meter.slowest;
  const slowest = meter.answers === 0 ? '' : `; slowest ${Math.round(milliseconds)} ms, ${what}: ${shortened(input)}`;
  return `${area.name}: ${inputs} inputs, ${meter.answers} answers, ${failures.length} failures, ${Math.round(spent / 1000)} s${note === '' ? '' : `; ${note}`}${slowest}`;
}

const LONGEST = 400;

function shortened(input: string): string {
  const text = input.startsWith('{') ? input : JSON.stringify(input);
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST)}… (${text.length} characters)`;
}
