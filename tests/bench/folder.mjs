/**
 * `check` of a folder with 12,500 bars: the time that all cores take as a share of what one takes (0.5 is the best two can do; needs
 * `taskset`), and the memory for twice as many files as a share of that for the folder. Run after `npm run build`, with nothing beside it.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';

const FILES = 125;
const PHRASES = 25;
const ROUNDS = 5;
const MOST_MEMORY = 1.25;

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

const TELLS_MEMORY = ['--import', 'data:text/javascript,import{isMainThread}from"node:worker_threads";if(isMainThread)process.on("exit",()=>process.stderr.write(`maxRSS ${process.resourceUsage().maxRSS}`))'];

/** Milliseconds and kilobytes. */
function check(folder, ...before) {
  const [command, ...args] = [...before, process.execPath, ...TELLS_MEMORY, 'dist/cli.cjs', 'check', folder];
  const begin = performance.now();
  const { stderr, status } = spawnSync(command, args, { encoding: 'utf8' });
  if (status === 2 || status === null) throw new Error(stderr);
  return { time: performance.now() - begin, memory: Number(/maxRSS (\d+)/.exec(stderr)[1]) };
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

const root = mkdtempSync(join(tmpdir(), 'phrasewright-bench-'));
try {
  const [once, twice] = [join(root, 'once'), join(root, 'twice')];
  fill(once, FILES);
  fill(twice, 2 * FILES);
  const runs = { all: [], one: [], twice: [] };
  for (let round = 0; round < ROUNDS; round += 1) {
    runs.all.push(check(once));
    runs.one.push(check(once, 'taskset', '-c', '0'));
    runs.twice.push(check(twice));
  }
  const time = median(runs.all.map((run) => run.time)) / median(runs.one.map((run) => run.time));
  const memory = median(runs.twice.map((run) => run.memory)) / median(runs.all.map((run) => run.memory));
  console.log(`check of ${FILES * PHRASES * 4} bars: ${availableParallelism()} cores take ${time.toFixed(2)} of the time of one; twice as many files take ${memory.toFixed(2)} of the memory`);
  process.exitCode = memory <= MOST_MEMORY && (availableParallelism() < 2 || time < 1) ? 0 : 1;
} finally {
  rmSync(root, { recursive: true });
}
