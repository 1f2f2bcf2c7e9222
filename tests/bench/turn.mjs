/**
 * An editor's turn: after each keystroke, at a typing rhythm, all that an editor asks for at once. How long until the last answer, as a ratio to the
 * JSON language server's diagnostics alone in a file of 1,000 lines in the same run; then, in a run of its own, how long the server holds its event
 * loop at a stretch, garbage collection told apart. Fails where something is above what is allowed. Run after `npm run build`.
 * `PROFILE=folder` writes processor profiles there; `ONLY=text` takes the lessons with that text in their names.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { growingPhrase, jsonOf, lessonOf, longPhrase, sampleLesson } from './lessons.mjs';
import { keystrokes, median, openDocument, share, startServer, stopServer, type } from './servers.mjs';

/** `turn`: of the JSON server's time; `held`: milliseconds, 99th percentile of the longest stretch of each turn. */
const LESSONS = [
  { name: 'the sample lesson', document: sampleLesson(), rounds: 60, turn: 6, held: 16 },
  { name: 'a phrase of 32 bars of eighths', document: longPhrase(), rounds: 60, turn: 18, held: 16 },
  { name: 'the end of such a phrase, which is being written', document: growingPhrase(), rounds: 60, turn: 18, held: 16 },
  { name: 'a lesson of 1,000 lines', document: lessonOf(1000), rounds: 60, turn: 9, held: 16 },
  { name: 'a lesson of 10,000 lines', document: lessonOf(10000), rounds: 40, turn: 18, held: 50 },
].filter(({ name }) => name.includes(process.env.ONLY ?? ''));
const WARM_UP = 12;
/** Milliseconds between keys: a quick typist. */
const RHYTHM = 120;
/** Lines that a window shows. */
const WINDOW = 50;

/** What an editor asks for after a keystroke, at once. */
function askAll({ connection, uri }, { line, character }) {
  const textDocument = { uri };
  const position = { line, character };
  const visible = { start: { line: Math.max(0, line - WINDOW / 2), character: 0 }, end: { line: line + WINDOW / 2, character: 0 } };
  const questions = {
    'textDocument/codeAction': { textDocument, range: { start: position, end: position }, context: { diagnostics: [], triggerKind: 2 } },
    'textDocument/inlayHint': { textDocument, range: visible },
    'textDocument/codeLens': { textDocument },
    'textDocument/documentSymbol': { textDocument },
    'textDocument/foldingRange': { textDocument },
    'phrasewright/score': { textDocument, position, options: { scope: 'phrase', pitch: 'written' } },
    'textDocument/diagnostic': { textDocument },
  };
  const begin = performance.now();
  return Promise.all(
    Object.entries(questions).map(async ([what, params]) => {
      const answer = await connection.sendRequest(what, params);
      if (answer === null || answer === undefined) throw new Error(`no answer: ${what}`);
      if (what === 'textDocument/codeLens') await saidByLenses(connection, answer, visible);
      return [what, performance.now() - begin];
    }),
  );
}

/** An editor asks what lenses say where it shows them. */
function saidByLenses(connection, lenses, { start, end }) {
  const shown = lenses.filter(
    ({ range, command }) => command === undefined && range.start.line >= start.line && range.start.line < end.line,
  );
  return Promise.all(shown.map((lens) => connection.sendRequest('codeLens/resolve', lens)));
}

async function turn(server, document, back) {
  const begin = performance.now();
  await type(server, document, back);
  const each = Object.fromEntries(await askAll(server, document));
  return { begin: performance.timeOrigin + begin, taken: performance.now() - begin, each };
}

const rest = (since) => new Promise((resolve) => setTimeout(resolve, Math.max(0, RHYTHM - (performance.now() - since))));

async function measure({ document, rounds, name }, json) {
  const profile =
    process.env.PROFILE === undefined
      ? []
      : ['--cpu-prof', `--cpu-prof-dir=${process.env.PROFILE}`, `--cpu-prof-name=${name.replaceAll(/\W+/g, '-')}.cpuprofile`];
  const server = await startServer('phrase', { node: profile });
  await openDocument(server, document);
  const [turns, theirs] = [[], []];
  for (let round = 0; round < rounds + WARM_UP; round += 1) {
    const since = performance.now();
    const one = await turn(server, document, round % 2 === 1);
    const alone = json === null ? NaN : (await keystrokes(json.server, json.document)) / 2;
    if (round >= WARM_UP) {
      turns.push(one);
      theirs.push(alone);
    }
    await rest(since);
  }
  await stopServer(server);
  return { turns, theirs };
}

/** The longest stretch of each turn: as it was, without the collection of garbage in it, and the collection alone. */
async function measureHolding({ document, rounds }) {
  const folder = mkdtempSync(join(tmpdir(), 'phrasewright-loop-'));
  const log = join(folder, 'log.json');
  const server = await startServer('phrase', { node: ['--require', './tests/bench/watch-loop.cjs'], env: { LOOP_LOG: log } });
  await openDocument(server, document);
  const spans = [];
  for (let round = 0; round < rounds + WARM_UP; round += 1) {
    const since = performance.now();
    const { begin, taken } = await turn(server, document, round % 2 === 1);
    if (round >= WARM_UP) spans.push([begin, begin + taken]);
    await rest(since);
  }
  await stopServer(server);
  const { held, collected } = JSON.parse(readFileSync(log, 'utf8'));
  rmSync(folder, { recursive: true });
  const within = (from, to, [at, length]) => Math.max(0, Math.min(to, at + length) - Math.max(from, at));
  const longest = spans.map(([from, to]) =>
    held
      .filter(([at]) => at >= from && at < to)
      .map(([at, length, run]) => {
        const garbage = collected.reduce((sum, one) => sum + within(at, at + length, one), 0);
        return { own: run - garbage, garbage };
      }),
  );
  const most = (of) => longest.map((one) => Math.max(0, ...one.map(of)));
  return { own: most(({ own }) => own), garbage: most(({ garbage }) => garbage) };
}

let failed = false;
const above = (value, allowed) => {
  failed ||= value > allowed;
  return value > allowed ? '  ← above' : '';
};

const document = jsonOf(1000);
const json = { document, server: await startServer('json') };
await openDocument(json.server, document);
for (let round = 0; round < WARM_UP * 2; round += 1) await keystrokes(json.server, document);
for (const lesson of LESSONS) {
  const { turns, theirs } = await measure(lesson, json);
  const unit = median(theirs);
  const times = turns.map(({ taken }) => taken);
  const ratio = median(times) / unit;
  console.log(
    `a turn in ${lesson.name}: ${ratio.toFixed(1)} of the JSON server’s diagnostics (allowed ${lesson.turn}), 95th percentile ${(share(times, 0.95) / unit).toFixed(1)}${above(ratio, lesson.turn)}`,
  );
  const { own, garbage } = await measureHolding(lesson);
  const longest = share(own, 0.99);
  console.log(
    `  the event loop is held ${(longest / lesson.held).toFixed(2)} of the ${lesson.held} ms allowed (99th percentile), ${(median(own) / lesson.held).toFixed(2)} (median); garbage collection ${(share(garbage, 0.99) / lesson.held).toFixed(2)}${above(longest / lesson.held, 1)}`,
  );
  if (process.env.TIMES === undefined) continue;
  console.log(
    '   ',
    `unit ${unit.toFixed(2)} ms, turn ${median(times).toFixed(1)} ms;`,
    Object.keys(turns[0].each)
      .map((what) => `${what.split('/')[1]} ${median(turns.map(({ each }) => each[what])).toFixed(1)}`)
      .join(', '),
  );
}
await stopServer(json.server);
process.exitCode = failed ? 1 : 0;
