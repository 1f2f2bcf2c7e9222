/** The command line as other tools see it: output, data and exit codes. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { bundledCli } from './bundles';
import { runIn, type Ran } from './command-line';

let folder: string;
let cli: string;
const run = (...args: string[]): Promise<Ran> => runIn(folder, args);
const runProcess = (args: readonly string[], input = ''): Ran => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], { cwd: folder, encoding: 'utf8', input });
  return { status, out: stdout, err: stderr };
};

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-cli-'));
  cli = await bundledCli();
  writeFileSync(
    join(folder, 'clean.phrase'),
    'phrase "Clean"\n  key     C major\n  over    | Dm7 G7  | Cmaj7     |\n  line    | D4 F A G | E-G C B3 ~ |\n',
  );
  writeFileSync(
    join(folder, 'clash.phrase'),
    'phrase "Clash"\n  key     C major\n  over    | Cmaj7         |\n  line    | F4-A C5-E G ~ |\n',
  );
  writeFileSync(join(folder, 'latin1.phrase'), Buffer.from([0x70, 0x68, 0x72, 0x61, 0x73, 0x65, 0x20, 0x22, 0xe9, 0x22, 0x0a]));
  writeFileSync(join(folder, 'empty.phrase'), '');
  writeFileSync(join(folder, 'long.phrase'), 'phrase "A"\n  line | C4 D E F |\n'.repeat(400_000).slice(0, 10_000_000));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('check is silent and answers 0 where nothing is found', async () => {
  expect(runProcess(['check', 'clean.phrase'])).toEqual({ status: 0, out: '', err: '' });
  expect((await run('check', 'empty.phrase')).status).toBe(0);
});

test('check prints a line a finding and answers 1', async () => {
  const { status, out } = runProcess(['check', 'clash.phrase']);
  expect(status).toBe(1);
  expect(out).toBe(
    'clash.phrase:4:13 warning clash F lands on beat 1 over Cmaj7: it is the 11, a half step above the third. Let it fall to E, or move it off the beat.\n',
  );
});

test('check --format json is data: lines and columns from 1, ends exclusive', async () => {
  const { status, out } = await run('check', '--format', 'json', 'clean.phrase', 'clash.phrase');
  expect(status).toBe(1);
  const report = JSON.parse(out) as { version: string; files: { file: string; findings: object[] }[] };
  expect(report.files.map(({ file }) => file)).toEqual(['clean.phrase', 'clash.phrase']);
  expect(report.files[1]!.findings).toMatchObject([{ rule: 'clash', severity: 'warning', line: 4, column: 13, endLine: 4, endColumn: 15 }]);
});

test('explain --format json numbers every note in exact time', async () => {
  const { status, out } = await run('explain', '--format', 'json', 'clash.phrase');
  expect(status).toBe(0);
  const [phrase] = (JSON.parse(out) as { phrases: { name: string; bars: number; notes: object[] }[] }).phrases;
  expect(phrase).toMatchObject({ name: 'Clash', key: 'C major', bars: 1 });
  expect(phrase!.notes[0]).toEqual({
    bar: 1,
    beat: '1',
    onset: '0',
    duration: '1/2',
    pitch: 'F4',
    midi: 65,
    chord: 'Cmaj7',
    scale: 'C ionian',
    degree: '11',
    role: 'avoid',
    strong: true,
    devices: [],
    marks: [],
  });
  expect(phrase!.notes[1]).toMatchObject({ beat: '1+1/2', onset: '1/2', degree: '13', role: 'tension', strong: false });
});

test('explain of files without a phrase says so', async () => {
  writeFileSync(join(folder, 'empty.phrase'), 'lesson "None yet"\n');
  for (const length of ['bars', 'line']) {
    expect(await run('explain', '--length', length, 'empty.phrase')).toEqual({
      status: 2,
      out: '',
      err: 'phrasewright: there is no phrase to explain. Write one that begins with the word phrase and a name in quotes.\n',
    });
  }
  expect((await run('explain', 'empty.phrase', 'clash.phrase')).status).toBe(0);
  expect((await run('explain', '--format', 'json', 'empty.phrase')).status).toBe(0);
});

test('the harmonic profile follows the published table', async () => {
  writeFileSync(join(folder, 'dorian.phrase'), 'phrase "A"\n  key C major\n  over | Dm7 | G7 |\n  line | B4 D F A | G ~ ~ ~ |\n');
  expect((await run('check', 'dorian.phrase')).status).toBe(0);
  expect((await run('check', '--profile', 'harmonic', 'dorian.phrase')).status).toBe(1);
});

test('format prints, writes or only checks', async () => {
  const messy = 'phrase "A"\nline |C4 D|\nover |C|\n';
  writeFileSync(join(folder, 'messy.phrase'), messy);
  const formatted = 'phrase "A"\n  line    | C4 D |\n  over    | C |\n';
  expect((await run('format', 'messy.phrase')).out).toBe(formatted);
  expect(await run('format', '--check', 'messy.phrase')).toMatchObject({ status: 1, out: 'messy.phrase would be formatted\n' });
  expect(readFileSync(join(folder, 'messy.phrase'), 'utf8')).toBe(messy);
  expect((await run('format', '--write', 'messy.phrase')).status).toBe(0);
  expect(readFileSync(join(folder, 'messy.phrase'), 'utf8')).toBe(formatted);
  expect((await run('format', '--check', 'messy.phrase')).status).toBe(0);
});

test('fix applies the safe fixes, says what is left, and a second time changes nothing', async () => {
  const broken = 'phrase "A"\n  over    | Gm7 |\n  line    | Bb4 A /G5 ~ |\n  degrees | b3 11 6 * |\n  claim   lands 5 at 1.1\n';
  writeFileSync(join(folder, 'broken.phrase'), broken);
  const { status, out } = await run('fix', 'broken.phrase');
  expect(status).toBe(1);
  expect(out).toContain('broken.phrase: fixed octave-and-direction (Take the / away)');
  expect(out).toContain('claim-refuted');
  const mended = readFileSync(join(folder, 'broken.phrase'), 'utf8');
  expect(mended).toContain('| Bb4 A G5 ~ |');
  expect(mended).toContain('degrees | b3 9 1 * |');
  await run('fix', 'broken.phrase');
  expect(readFileSync(join(folder, 'broken.phrase'), 'utf8')).toBe(mended);
});

test.each([
  [['check', 'nowhere.phrase'], 'nowhere.phrase: there is no such file'],
  [['check', 'latin1.phrase'], 'not UTF-8 (first at byte 9)'],
  [['check'], 'check needs at least one file'],
  [['chek', 'clean.phrase'], '“chek” is no command'],
  [[], 'no command'],
  [['check', '--format', 'xml', 'clean.phrase'], '--format is text or json'],
  [['check', '--nonsense', 'clean.phrase'], "Unknown option '--nonsense'"],
  [['check', '--write', 'clean.phrase'], '--write belongs to format, not to check'],
  [['format', '--write', '--check', 'clean.phrase'], 'Choose one'],
  [['format', '--format', 'json', 'clean.phrase'], '--format belongs to check or explain'],
  [['explain', 'long.phrase'], 'long.phrase: This file has 10000000 characters; at most 2000000 are analysed'],
  [['format', 'long.phrase'], 'long.phrase: This file has 10000000 characters; at most 2000000 are analysed'],
])('%j could not run: 2, and why', async (args, why) => {
  const { status, out, err } = await run(...args);
  expect({ status, out }).toEqual({ status: 2, out: '' });
  expect(err).toContain(why);
});

test.each([
  [['check', 'nowhere.phrase'], 'phrasewright: nowhere.phrase: there is no such file.\n'],
  [['serve'], 'phrasewright: serve needs to be told how to talk. Write serve --stdio.\n'],
])('%j ends its process with 2', (args, err) => {
  expect(runProcess(args)).toEqual({ status: 2, out: '', err });
});

test('a file that is too long is a finding of check', async () => {
  const { status, out } = await run('check', 'long.phrase');
  expect({ status, out }).toEqual({
    status: 1,
    out: 'long.phrase:1:1 error file-too-long This file has 10000000 characters; at most 2000000 are analysed. Split it into several lessons.\n',
  });
});

test('columns count from 1 after tabs, CRLF and emoji; a byte order mark is no text', async () => {
  writeFileSync(join(folder, 'odd.phrase'), '\uFEFFphrase "A 🎷"\r\n\tover\t|\tCmaj7\t|\r\n\tline\t|\tF4-A C-E G ~\t|\r\n');
  expect((await run('check', 'odd.phrase')).out).toMatch(/^odd\.phrase:3:9 warning clash F lands on beat 1/);
  expect((await run('format', 'odd.phrase')).out).toBe(
    '\uFEFFphrase "A 🎷"\r\n  over    | Cmaj7        |\r\n  line    | F4-A C-E G ~ |\r\n',
  );
});

test('a line of twenty thousand notes is answered, an endless one refused, and neither hangs', async () => {
  const music = 'C4 D E F | ';
  writeFileSync(join(folder, 'long-line.phrase'), `phrase "A"\n  line | ${music.repeat(5_000)}`);
  expect((await run('check', 'long-line.phrase')).status).toBe(0);
  expect((await run('format', '--check', 'long-line.phrase')).status).toBe(1);
  expect(runProcess(['explain', 'long-line.phrase']).status).toBe(0);
  writeFileSync(join(folder, 'endless.phrase'), `phrase "A"\n  line | ${music.repeat(150_000)}`);
  expect(await run('check', 'endless.phrase')).toMatchObject({
    status: 1,
    out: expect.stringMatching(/^endless\.phrase:1:1 error file-too-long What starts here has 1650020 characters/),
  });
  expect((await run('format', 'endless.phrase')).status).toBe(2);
});

test('a reader that stops early is no failure', () => {
  const { status, stderr } = spawnSync('sh', ['-c', `"${process.execPath}" "${cli}" explain long-line.phrase | head -1`], {
    cwd: folder,
    encoding: 'utf8',
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
});

test('export writes MusicXML, one document a file, and says what it needs', async () => {
  const { status, out } = await run('export', '--to', 'musicxml', '--degrees', 'clash.phrase');
  expect(status).toBe(0);
  expect(out).toContain('<score-partwise version="4.0">');
  expect(out).toContain('<kind text="maj7">major-seventh</kind>');
  expect(out).toContain('<text>11</text>');
  expect((await run('export', '--to', 'musicxml', '--out', 'scores', 'clean.phrase', 'clash.phrase')).status).toBe(0);
  expect(readFileSync(join(folder, 'scores', 'clean.musicxml'), 'utf8')).toContain('<work-title>clean</work-title>');
  expect(await run('export', 'clean.phrase')).toMatchObject({
    status: 2,
    err: 'phrasewright: export needs to be told the format. Write export --to musicxml, --to mxl, --to midi, --to html or --to pdf.\n',
  });
  expect(await run('export', '--to', 'musicxml', 'clean.phrase', 'clash.phrase')).toMatchObject({
    status: 2,
    err: 'phrasewright: several files need a folder to be written to. Add --out DIR.\n',
  });
  expect((await run('check', '--to', 'musicxml', 'clean.phrase')).status).toBe(2);
});

test('export --with says devices and findings in the score; --to mxl compresses it', async () => {
  const words = async (...args: string[]): Promise<string[]> =>
    [...(await run('export', ...args, 'clash.phrase')).out.matchAll(/<words[^>]*>([^<]*)/g)].map(([, text]) => text!);
  const plain = await words('--to', 'musicxml');
  expect((await words('--to', 'musicxml', '--with', 'devices')).filter((text) => !plain.includes(text))).toContain('arpeggio');
  expect((await words('--to', 'musicxml', '--with', 'findings')).filter((text) => !plain.includes(text))).toEqual([
    expect.stringContaining('F lands on beat 1 over Cmaj7'),
  ]);
  expect(await run('export', '--to', 'musicxml', '--with', 'clashes', 'clash.phrase')).toMatchObject({
    status: 2,
    err: 'phrasewright: --with is devices or findings, not “clashes”.\n',
  });
  expect(await run('export', '--to', 'mxl', '--out', 'scores', 'clash.phrase')).toMatchObject({
    status: 0,
    out: `wrote ${join('scores', 'clash.mxl')}\n`,
  });
  expect((await run('import', join('scores', 'clash.mxl'))).out).toMatch(/line\s+\| F4-A C-E G ~ \|/);
});

test('export --to midi writes a Standard MIDI File; options of the other format are refused', async () => {
  const { status, err } = await run('export', '--to', 'midi', '--straight', '--keys', 'all', '--out', 'sound', 'clean.phrase');
  expect([status, err]).toEqual([0, '']);
  // SMF 1.0: a header chunk of six bytes, type 1.
  expect([...readFileSync(join(folder, 'sound', 'clean.mid')).subarray(0, 10)]).toEqual([...Buffer.from('MThd'), 0, 0, 0, 6, 0, 1]);
  expect(await run('export', '--to', 'midi', '--degrees', 'clean.phrase')).toMatchObject({
    status: 2,
    err: expect.stringContaining('--degrees belongs to export --to musicxml'),
  });
  expect(await run('check', '--straight', 'clean.phrase')).toMatchObject({
    status: 2,
    err: expect.stringContaining('--straight belongs to export'),
  });
});

test('folders stand for every .phrase below them; exports keep their places there, and nothing is overwritten unasked', async () => {
  mkdirSync(join(folder, 'book', 'second'), { recursive: true });
  const phrase = (name: string): string => `phrase "${name}"\n  key     C major\n  over    | Cmaj7    |\n  line    | E4 G C ~ |\n`;
  for (const [file, name] of [
    ['b.phrase', 'B'],
    ['a.phrase', 'A'],
    [join('second', 'a.phrase'), 'A again'],
    ['notes.txt', 'no lesson'],
  ] as const)
    writeFileSync(join(folder, 'book', file), phrase(name));
  expect((await run('explain', '--format', 'json', 'book')).out.match(/"name": "[^"]*"/g)).toEqual([
    '"name": "A"',
    '"name": "B"',
    '"name": "A again"',
  ]);
  const written = ['a.musicxml', 'b.musicxml', join('second', 'a.musicxml')].map((file) => join('xml', file));
  expect(await run('export', '--to', 'musicxml', '--out', 'xml', 'book')).toEqual({
    status: 0,
    out: written.map((file) => `wrote ${file}\n`).join(''),
    err: '',
  });
  writeFileSync(join(folder, written[0]!), 'mine');
  rmSync(join(folder, written[1]!));
  expect(await run('export', '--to', 'musicxml', '--out', 'xml', 'book')).toMatchObject({
    status: 2,
    out: '',
    err: expect.stringContaining('nothing was written. Add --force to overwrite'),
  });
  expect(readFileSync(join(folder, written[0]!), 'utf8')).toBe('mine');
  expect(existsSync(join(folder, written[1]!))).toBe(false);
  expect((await run('export', '--to', 'musicxml', '--out', 'xml', '--force', 'book')).status).toBe(0);
  expect(readFileSync(join(folder, written[0]!), 'utf8')).toContain('score-partwise');
  mkdirSync(join(folder, 'nothing'), { recursive: true });
  expect(await run('check', 'nothing')).toMatchObject({
    status: 2,
    err: 'phrasewright: nothing: there is no file below this folder that ends in .phrase.\n',
  });
});

test('lessons of the same name are exported to different files', async () => {
  expect((await run('export', '--to', 'midi', '--out', 'midi', join('book', 'a.phrase'), join('book', 'second', 'a.phrase'))).out).toBe(
    `wrote ${join('midi', 'a.mid')}\nwrote ${join('midi', 'a-2.mid')}\n`,
  );
});

test('an export that cannot be written whole writes nothing', async () => {
  mkdirSync(join(folder, 'half', 'b.mid'), { recursive: true });
  const { status, err } = await run('export', '--to', 'midi', '--force', '--out', 'half', 'book');
  expect({ status, err }).toEqual({ status: 2, err: `phrasewright: ${join('half', 'b.mid')}: this is a folder. Choose another name.\n` });
  expect(readdirSync(join(folder, 'half')).filter((name) => name !== 'second')).toEqual(['b.mid']);
  expect(readdirSync(join(folder, 'half', 'second'))).toEqual([]);
});

test('- is standard input', () => {
  const piped = (input: string, ...args: string[]): Ran => runProcess(args, input);
  const clash = readFileSync(join(folder, 'clash.phrase'), 'utf8');
  expect(piped(clash, 'check', '-').out).toMatch(/^-:4:13 warning clash /);
  expect(piped('phrase "A"\n  over | C |\n  line |E4 G C ~|\n', 'format', '-').out).toContain('line    | E4 G C ~ |');
  const fixed = piped('phrase "A"\n  over    | Gm7 |\n  line    | Bb4 A /G5 ~ |\n', 'fix', '-');
  expect(fixed.out).toContain('| Bb4 A G5 ~ |');
  expect(fixed.err).toContain('-: fixed octave-and-direction');
  expect(piped(clash, 'export', '--to', 'musicxml', '-').out).toContain('score-partwise');
  expect(piped(clash, 'format', '--write', '-')).toMatchObject({
    status: 2,
    err: expect.stringContaining('standard input cannot be written to'),
  });
  expect(piped(clash, 'check', '-', '-')).toMatchObject({ status: 2, err: expect.stringContaining('standard input can be read once') });
});

test('options of a handout are checked before anything is made', async () => {
  const refused = async (...args: string[]): Promise<string> => (await run('export', ...args, 'clean.phrase')).err;
  expect(await refused('--to', 'pdf', '--sheet', 'parent')).toContain(
    '--sheet is teacher or student or answers or exercises or exercise-answers, not “parent”.',
  );
  expect(await refused('--to', 'pdf', '--keys', 'C,H')).toContain('--keys is written, all or tonics such as C,F,Bb; “H” is none.');
  expect(await refused('--to', 'pdf', '--parts', 'tenor-sacks')).toContain(
    '--parts: there is no part “tenor-sacks”. Did you mean tenor-sax',
  );
  expect(await refused('--to', 'html', '--sheet', 'student', '--without', 'devices')).toContain(
    '--without devices does nothing: the student sheet shows no devices.',
  );
  expect(await refused('--to', 'pdf', '--seed', '2')).toContain('--seed belongs to --sheet exercises and --sheet exercise-answers.');
  for (const seed of ['x', '4294967296', '1.5', ''])
    expect(await refused('--to', 'pdf', '--sheet', 'exercises', '--seed', seed)).toContain(
      `--seed is a whole number from 0 to 4294967295, not “${seed}”.`,
    );
  expect(await refused('--to', 'midi', '--sheet', 'student')).toContain('--sheet belongs to export --to html or pdf.');
  expect(await refused('--to', 'musicxml', '--keys', 'all')).toContain('--keys belongs to export --to midi or html or pdf.');
});

test('import makes a lesson of a score, and tells what was not kept on standard error', async () => {
  const measure = (content: string): string =>
    `<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${content}</measure>`;
  const score = (content: string): string =>
    `<?xml version="1.0"?><score-partwise><work><work-title>North // quay \\</work-title></work><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">${measure(content)}</part></score-partwise>`;
  const note = '<note><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration></note>';
  writeFileSync(join(folder, 'north.musicxml'), score(note));
  writeFileSync(join(folder, 'graced.xml'), score(`<note><grace/><pitch><step>D</step><octave>4</octave></pitch></note>${note}`));
  const lesson = 'lesson "North // quay \\\\"\n\nphrase "North // quay \\\\"\n  line    | E4 |\n';
  expect(await run('import', 'north.musicxml')).toEqual({ status: 0, out: lesson, err: '' });
  expect((await run('import', '--chords', '| Cmaj7 |', 'north.musicxml')).out).toContain('over    | Cmaj7 |');
  expect(await run('import', 'graced.xml')).toEqual({ status: 1, out: lesson, err: 'graced.xml: measure 1: left out: grace notes\n' });
  expect(runProcess(['import', '-'], score(note))).toMatchObject({ status: 0, out: lesson });
  expect(await run('import', '--out', 'brought', 'north.musicxml', 'graced.xml')).toMatchObject({
    status: 1,
    out: `wrote ${join('brought', 'north.phrase')}\nwrote ${join('brought', 'graced.phrase')}\n`,
  });
  expect(await run('check', 'brought')).toMatchObject({ status: 0, err: '' });
  expect((await run('format', '--check', 'brought')).status).toBe(0);
  expect(await run('import', '--out', 'brought', 'north.musicxml')).toMatchObject({
    status: 2,
    err: expect.stringContaining('nothing was written. Add --force to overwrite'),
  });
});

test.each([
  [['import', 'clean.phrase'], 'clean.phrase: this is no XML, and so no MusicXML.'],
  [['import', 'nowhere.mxl'], 'nowhere.mxl: there is no such file'],
  [['import', '--bars', '0', 'north.musicxml'], '--bars is how many bars a phrase has, 1 to 64, not “0”'],
  [['import', '--part', 'P7', 'north.musicxml'], 'north.musicxml: there is no part “P7”. The parts are P1.'],
  [['import', '--chords', '| Dq7 |', 'north.musicxml'], 'phrasewright: --chords: “Dq7”'],
  [['import', 'north.musicxml', 'graced.xml'], 'several files need a folder to be written to. Add --out DIR.'],
  [['import', '--to', 'midi', 'north.musicxml'], '--to belongs to export, not to import'],
  [['export', '--bars', '4', '--to', 'midi', 'clean.phrase'], '--bars belongs to import, not to export'],
])('%j cannot bring anything in: 2, and why', async (args, why) => {
  const { status, out, err } = await run(...args);
  expect({ status, out }).toEqual({ status: 2, out: '' });
  expect(err).toContain(why);
});
