/**
 * `check` of a folder with 12,500 bars: the time that all cores take as a share of what one takes (0.5 is the best two can do; needs
 * `taskset`), and the memory for twice as many files as a share of that for the folder; and the processor time of `explain` as a multiple of
 * that of `check`, each on one core. Run after `npm run build`, with nothing beside it.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';

const FILES = 125;
const PHRASES = 25;
const ROUNDS = 5;
const MOST_MEMORY = 1.25;
/** What `explain` does beside reading and checking: devices, and sentences. */
const MOST_EXPLAINED = 5;

const BARS = [
  ['Dm7 | G7 | Cmaj7 | %', 'D4-F A-C5 B-A G-F | B4-D5 F-Ab G-F D-B4 | C5 E G-E C ~ | ~ . . .'],
  ['Gm7 C7 | Fmaj7 | Gm7 C7 | F6', 'Bb4-A G-F E-G Bb-Db5 | C5 A ~ . | D5-Bb G-F E-C5 Bb-G | A ~ . .'],
  ['Cm7 | F7 | Bbmaj7 | %', 'C4-Eb G-Bb A-C5 Eb-Gb | F5-Eb C-A Gb-F Eb-C | D4 F A C5 | Bb ~ ~ .'],
];

function fill(folder, files) {
  mkdirSync(folder);
  for (let i = 0; i < files; i += 1) {
    const phrases = Array.from({ length: PHRASES }, (_, n) => {
      const [over, line] = BARS[(i + n) % BARS.length];
      return `phrase "${i}, ${n}"\n  over | ${over} |\n  line | ${line} |\n`;
    });
    writeFileSync(join(folder, `${i}.phrase`), phrases.join('\n'));
  }
}

const TELLS_USE = [
  '--import',
  'data:text/javascript,import{isMainThread}from"node:worker_threads";if(isMainThread)process.on("exit",()=>process.stderr.write(`maxRSS ${process.resourceUsage().maxRSS} user ${process.cpuUsage().user}`))',
];

const ON_ONE_CORE = ['taskset', '-c', '0'];
/** Bytes: the walk-through of the folder is long. */
const LONGEST_OUTPUT = 64 * 2 ** 20;

/** Milliseconds, of the clock and of the processor (without what the system does), and kilobytes. */
function run(command, folder, ...before) {
  const [program, ...args] = [...before, process.execPath, ...TELLS_USE, 'dist/cli.cjs', command, folder];
  const begin = performance.now();
  const { stderr, status } = spawnSync(program, args, { encoding: 'utf8', maxBuffer: LONGEST_OUTPUT });
  if (status === 2 || status === null) throw new Error(stderr);
  return {
    time: performance.now() - begin,
    memory: Number(/maxRSS (\d+)/.exec(stderr)[1]),
    processor: Number(/user (\d+)/.exec(stderr)[1]) / 1000,
  };
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

const root = mkdtempSync(join(tmpdir(), 'phrasewright-bench-'));
try {
  const [once, twice] = [join(root, 'once'), join(root, 'twice')];
  fill(once, FILES);
  fill(twice, 2 * FILES);
  const runs = { all: [], one: [], twice: [], explained: [] };
  for (let round = 0; round < ROUNDS; round += 1) {
    runs.all.push(run('check', once));
    runs.one.push(run('check', once, ...ON_ONE_CORE));
    runs.twice.push(run('check', twice));
    runs.explained.push(run('explain', once, ...ON_ONE_CORE));
  }
  const time = median(runs.all.map((one) => one.time)) / median(runs.one.map((one) => one.time));
  const memory = median(runs.twice.map((one) => one.memory)) / median(runs.all.map((one) => one.memory));
  const explained = median(runs.explained.map((one) => one.processor)) / median(runs.one.map((one) => one.processor));
  console.log(
    `check of ${FILES * PHRASES * 4} bars: ${availableParallelism()} cores take ${time.toFixed(2)} of the time of one; twice as many files take ${memory.toFixed(2)} of the memory; explain takes ${explained.toFixed(2)} times the processor time`,
  );
  process.exitCode = memory <= MOST_MEMORY && explained <= MOST_EXPLAINED && (availableParallelism() < 2 || time < 1) ? 0 : 1;
} finally {
  rmSync(root, { recursive: true });
}
