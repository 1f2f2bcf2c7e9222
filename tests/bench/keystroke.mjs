/**
 * How long a keystroke takes to reach its diagnostics, how long a file takes to open, and how much memory it holds, beside a JSON language
 * server in the same run, at 1,000, 10,000 and 50,000 lines; and what findings add. Everything is a ratio; fails where one is above what is allowed.
 * Run after `npm run build`. `PROFILE=folder` writes a processor profile of our server at each size there.
 */
import { besideFindings, jsonOf, lessonOf } from './lessons.mjs';
import { keystrokes, median, memoryOf, openDocument, quietKeystrokes, startServer, stopServer } from './servers.mjs';

/** Of the JSON server's time or memory. Null: no limit is set. */
const SIZES = [
  { lines: 1000, rounds: 100, keystroke: 0.5, findings: 0.75, opening: 8, memory: null },
  { lines: 10000, rounds: 40, keystroke: 0.2, findings: 0.3, opening: 8, memory: null },
  { lines: 50000, rounds: 14, keystroke: 0.1, findings: 0.15, opening: 8, memory: 1.5 },
];
/** In a thousand lines. */
const FINDINGS = 27;
/** Of our time in a file of as many lines without findings, where no new report is to be sent. */
const QUIET_ALLOWED = 1.5;
/** Our time in the largest file, of that in the smallest. */
const GROWTH_ALLOWED = 5;
const WARM_UP = 10;
/** Of each server at each size: a process opens a file for the first time once. */
const OPENINGS = 5;

let failed = false;
function tell(what, ratio, allowed) {
  const over = allowed !== null && ratio > allowed;
  failed ||= over;
  console.log(`${what}: ${ratio.toFixed(2)}${allowed === null ? '' : ` (allowed ${allowed})`}${over ? '  ← above' : ''}`);
}

/** The median time from `didOpen` to the first diagnostics, each time in a server that has just started; they take turns. */
async function openings(contenders) {
  const times = Object.fromEntries(contenders.map(([name]) => [name, []]));
  for (let round = 0; round < OPENINGS; round += 1) {
    for (const [name, document] of contenders) {
      const server = await startServer(document.languageId);
      times[name].push(await openDocument(server, document));
      await stopServer(server);
    }
  }
  return Object.fromEntries(Object.entries(times).map(([name, taken]) => [name, median(taken)]));
}

async function measure(lines, rounds) {
  const contenders = [
    ['ours', lessonOf(lines)],
    ['findings', lessonOf(lines, FINDINGS)],
    ['json', jsonOf(lines)],
  ];
  const servers = {};
  const opening = await openings(contenders.filter(([name]) => name !== 'findings'));
  const profile =
    process.env.PROFILE === undefined
      ? []
      : ['--cpu-prof', `--cpu-prof-dir=${process.env.PROFILE}`, `--cpu-prof-name=keystroke-${lines}.cpuprofile`];
  for (const [name, document] of contenders) {
    servers[name] = await startServer(document.languageId, { node: name === 'ours' ? profile : [] });
    await openDocument(servers[name], document);
  }
  const times = { ours: [], findings: [], json: [], quiet: [] };
  for (let round = 0; round < rounds + WARM_UP; round += 1) {
    // They take turns, so that whatever else the machine does troubles all alike.
    for (const [name, document] of contenders) {
      const taken = await keystrokes(servers[name], document);
      if (round >= WARM_UP) times[name].push(taken / 2);
    }
  }
  const beside = besideFindings(contenders[1][1]);
  for (let round = 0; round < rounds + WARM_UP; round += 1) {
    const taken = await quietKeystrokes(servers.findings, beside);
    if (round >= WARM_UP) times.quiet.push(taken / 2);
  }
  const memory = { ours: memoryOf(servers.ours), json: memoryOf(servers.json) };
  for (const server of Object.values(servers)) await stopServer(server);
  return {
    opening,
    memory,
    ours: median(times.ours),
    findings: median(times.findings),
    quiet: median(times.quiet),
    json: median(times.json),
  };
}

const ours = [];
const counted = (process.env.LINES ?? '')
  .split(',')
  .filter((one) => one !== '')
  .map(Number);
for (const { lines, rounds, ...allowed } of SIZES.filter((size) => counted.length === 0 || counted.includes(size.lines))) {
  const found = await measure(lines, rounds);
  ours.push(found.ours);
  const size = `${lines.toLocaleString('en')} lines`;
  tell(`keystroke to diagnostics, ${size}, of the JSON server’s time`, found.ours / found.json, allowed.keystroke);
  tell(`the same with ${FINDINGS} findings a thousand lines`, found.findings / found.json, allowed.findings);
  tell('the same, of the time without findings', found.findings / found.ours, null);
  tell('the same where the keystroke changes no finding', found.quiet / found.ours, QUIET_ALLOWED);
  tell(`opening, ${size}, of the JSON server’s time`, found.opening.ours / found.opening.json, allowed.opening);
  if (found.memory.ours !== null && found.memory.json !== null)
    tell(`memory, ${size}, of the JSON server’s`, found.memory.ours / found.memory.json, allowed.memory);
  if (process.env.TIMES !== undefined) console.log('   ', JSON.stringify(found));
}
if (ours.length === SIZES.length)
  tell('keystroke to diagnostics, 50,000 lines, of our time at 1,000', ours[ours.length - 1] / ours[0], GROWTH_ALLOWED);
process.exitCode = failed ? 1 : 0;
