/**
 * Loaded into a server before it starts (`--require`): notes for how long its event loop was held at a stretch, and how much of that was
 * the collection of garbage. Writes both as JSON into the file that LOOP_LOG names when the server ends. Times are milliseconds since 1970.
 * Held means that the thread ran: where the system tells that, what other processes took from it is not counted.
 */
const { openSync, readSync, writeFileSync } = require('node:fs');
const { performance, PerformanceObserver } = require('node:perf_hooks');

/** Shorter stretches are not noted. */
const NOTED = 1;

const file = openRun();
const digits = Buffer.alloc(64);

const held = [];
const collected = [];
let last = performance.now();
let lastRun = ran();
// An immediate in every round of the loop, which therefore never waits: between two of them nothing else could come in.
const round = () => {
  const now = performance.now();
  const run = ran();
  if (now - last >= NOTED) held.push([performance.timeOrigin + last, now - last, Math.min(now - last, run - lastRun)]);
  last = now;
  lastRun = run;
  setImmediate(round);
};
setImmediate(round);
const note = (entries) => entries.forEach(({ startTime, duration }) => collected.push([performance.timeOrigin + startTime, duration]));
const observer = new PerformanceObserver((list) => note(list.getEntries()));
observer.observe({ entryTypes: ['gc'] });
process.on('exit', () => {
  note(observer.takeRecords());
  writeFileSync(process.env.LOOP_LOG, JSON.stringify({ held, collected }));
});

/** The file that says for how long this thread has run; null where the system has none. */
function openRun() {
  try {
    return openSync('/proc/thread-self/schedstat', 'r');
  } catch {
    return null;
  }
}

/** Milliseconds that the thread has run. */
function ran() {
  if (file === null) return performance.now();
  return Number.parseInt(digits.toString('latin1', 0, readSync(file, digits, 0, digits.length, 0)), 10) / 1e6;
}
