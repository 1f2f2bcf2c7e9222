/**
 * How long the menu of code actions takes at notes of a phrase of 32 bars of eighths, after a keystroke in it, beside a JSON language
 * server's diagnostics of 1,000 lines and the same menu in the first two bars alone, all in one run. Fails above what is allowed.
 * Run after `npm run build`; `ROUNDS=400` measures longer.
 */
import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';

const require = createRequire(import.meta.url);
const ROUNDS = Number(process.env.ROUNDS ?? 120);
const WARM_UP = 30;
/** Of the JSON server's keystroke to diagnostics. */
const ALLOWED = 11.4;

const CHORDS = ['Gm7', 'C7', 'Fmaj7', 'D7b9', 'Gm7', 'C7b9', 'Am7b5 D7b9', 'Gm7 C7'];
const LINE = [
  'G4-Bb D-F A-F D-C',
  'Bb-G E-G Bb-A G-E',
  'C-E G-A C-A G-E',
  'F#4-A C-Eb D-C A-F',
  'G-G Bb-D F-D C-Bb',
  'Bb-Db E-G F-E Db-Bb',
  'A-C Eb-G F#-Eb C-A',
  'Bb4-D C-Bb A-G F-E',
];

/** A phrase of so many bars, four to a row. */
function phraseOf(bars) {
  const numbers = Array.from({ length: bars }, (_, i) => i);
  const rows = numbers
    .filter((i) => i % 4 === 0)
    .flatMap((from) => {
      const row = (keyword, words) =>
        `  ${keyword.padEnd(7)} | ${numbers
          .slice(from, from + 4)
          .map((i) => words[i % words.length])
          .join(' | ')} |`;
      return [row('over', CHORDS), row('line', LINE)];
    });
  return `phrase "Round the mill"\n  key     F major\n  tempo   138 swing\n${rows.join('\n')}\n`;
}

const json = `[\n${Array.from({ length: 998 }, (_, i) => `  { "id": ${i}, "name": "entry ${i}", "tags": ["a", "b"], "size": ${i * 3} }`).join(',\n')}\n]`;
const SERVERS = {
  ours: ['dist/cli.cjs', 'serve', '--stdio'],
  json: [require.resolve('vscode-langservers-extracted/bin/vscode-json-language-server'), '--stdio'],
};

async function start(args) {
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'ignore'] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/configuration', ({ items }) => items.map(() => null));
  connection.listen();
  const capabilities = {
    textDocument: {
      diagnostic: { dynamicRegistration: true },
      codeAction: {
        codeActionLiteralSupport: { codeActionKind: { valueSet: [] } },
        dataSupport: true,
        resolveSupport: { properties: ['edit'] },
      },
    },
  };
  await connection.sendRequest('initialize', { processId: process.pid, rootUri: null, workspaceFolders: null, capabilities });
  await connection.sendNotification('initialized', {});
  return { child, connection };
}

async function open({ connection }, languageId, name, text) {
  const uri = `file:///${name}.${languageId}`;
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId, version: 1, text } });
  return { connection, uri, version: 1 };
}

async function type(document, { line, character }, text, length) {
  document.version += 1;
  const range = { start: { line, character }, end: { line, character: character + length } };
  await document.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: document.uri, version: document.version },
    contentChanges: [{ range, text }],
  });
}

const diagnostics = ({ connection, uri }) => connection.sendRequest('textDocument/diagnostic', { textDocument: { uri } });

async function timed(ask) {
  const begin = performance.now();
  const answer = await ask();
  return { taken: performance.now() - begin, answer };
}

/** Where notes begin a beat, in the order in which they are visited: all over the phrase. */
function beats(text) {
  const places = text
    .split('\n')
    .flatMap((row, line) =>
      row.startsWith('  line') ? [...row.matchAll(/(?<=[\s|])[A-G]\S*/g)].map(({ index }) => ({ line, character: index })) : [],
    );
  return Array.from({ length: ROUNDS + WARM_UP }, (_, i) => places[Math.floor(places.length * ((i * 0.618) % 1))]);
}

/** A space comes and goes in the first row (so that the phrase is read anew), its diagnostics are told, and the menu is asked for. */
async function menu(document, text, place, round) {
  const rows = text.split('\n');
  const line = rows.findIndex((row) => row.startsWith('  line'));
  const at = { line, character: rows[line].lastIndexOf('|') };
  await type(document, at, round % 2 === 0 ? ' ' : '', round % 2 === 0 ? 0 : 1);
  await diagnostics(document);
  const range = { start: place, end: place };
  return timed(() =>
    document.connection.sendRequest('textDocument/codeAction', {
      textDocument: { uri: document.uri },
      range,
      context: { diagnostics: [], triggerKind: 2 },
    }),
  );
}

const sorted = (values) => [...values].sort((a, b) => a - b);
const share = (values, part) => sorted(values)[Math.min(values.length - 1, Math.floor(values.length * part))];

const servers = { ours: await start(SERVERS.ours), json: await start(SERVERS.json) };
try {
  const texts = { long: phraseOf(32), short: phraseOf(2) };
  const long = await open(servers.ours, 'phrase', 'long', texts.long);
  const short = await open(servers.ours, 'phrase', 'short', texts.short);
  const other = await open(servers.json, 'json', 'bench', json);
  const visited = { long: beats(texts.long), short: beats(texts.short) };
  const times = { long: [], short: [], json: [] };
  let offered = 0;
  for (let round = 0; round < ROUNDS + WARM_UP; round += 1) {
    const inLong = await menu(long, texts.long, visited.long[round], round);
    const inShort = await menu(short, texts.short, visited.short[round], round);
    const inJson = await timed(async () => {
      await type(other, { line: 503, character: 12 }, round % 2 === 0 ? 'x' : '', round % 2 === 0 ? 0 : 1);
      return diagnostics(other);
    });
    if (round < WARM_UP) continue;
    offered += inLong.answer.length;
    times.long.push(inLong.taken);
    times.short.push(inShort.taken);
    times.json.push(inJson.taken);
  }
  if (offered < 2 * ROUNDS) throw new Error(`the menus were to hold something: ${offered} entries in ${ROUNDS}`);
  const unit = share(times.json, 0.5);
  const [half, most] = [share(times.long, 0.5) / unit, share(times.long, 0.95) / unit];
  console.log(
    `menu of code actions, 32 bars: ${half.toFixed(1)} of the JSON server’s diagnostics (median of ${ROUNDS}; 95th percentile ${most.toFixed(1)}), ${(share(times.long, 0.5) / share(times.short, 0.5)).toFixed(1)} of the menu in 2 bars`,
  );
  process.exitCode = half <= ALLOWED ? 0 : 1;
} finally {
  for (const { child, connection } of Object.values(servers)) {
    connection.dispose();
    child.kill();
  }
}
