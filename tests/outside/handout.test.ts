/**
 * Handouts as another program reads them: Debian's poppler-utils (pdftotext, pdffonts, pdfinfo, pdftoppm) on the PDF. The worker is the one that is
 * shipped, bundled into a folder.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleHandout } from '../../client/bundle-handout.mjs';
import { createHandoutMaker, handOut, type HandoutMaker, type HandoutRequest, type Made } from '../../server/src/hand-out';
import { DEFAULT_HANDOUT, type HandoutOptions } from '../../server/src/handout/types';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { HAS_POPPLER, poppler, WITHOUT_POPPLER } from './poppler';

let folder: string;
/** Kept for all tests, so that the engraving library starts once; that a fresh one gives the same is a test of its own. */
let maker: HandoutMaker;
/** The teacher's sheet of the lesson. */
let teacher: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-handout-'));
  await bundleHandout(folder, { logLevel: 'error' });
  maker = createHandoutMaker(worker());
  teacher = await pdfOf('teacher');
}, 120_000);
afterAll(() => {
  maker.dispose();
  rmSync(folder, { recursive: true, force: true });
});

const worker = (): string => join(folder, 'handout-worker.cjs');

const SAMPLES = readdirSync('samples').filter((file) => file.endsWith('.phrase'));
const sample = (name: string) => ({ name, text: readFileSync(join('samples', `${name}.phrase`), 'utf8') });
const LESSON = sample('lanterns-on-the-quay');
const WALTZ = sample('waltz-for-tenor');
/** A short lesson of some of its phrases, for what draws each many times; one of them names no key. */
const SOME = ['Mooring rope', 'Stepping stones', 'Slow ferry'] as const;
const SHORT = {
  ...LESSON,
  text: LESSON.text
    .split(/^(?=phrase ")/m)
    .filter((part, i) => i === 0 || SOME.some((name) => part.startsWith(`phrase "${name}"`)))
    .join(''),
};

const request = (
  to: 'html' | 'pdf',
  options: Partial<HandoutOptions> = {},
  lessons: HandoutRequest['lessons'] = [LESSON],
): HandoutRequest => ({ lessons, options: { ...DEFAULT_HANDOUT, ...options }, to, theory: DEFAULT_THEORY });
const made = (...asked: Parameters<typeof request>): Promise<Made> => maker.make(request(...asked));
/** By a worker of its own, which starts once for each file that is asked for. */
const madeAlone = (to: 'html' | 'pdf'): Promise<Made> => (alone[to] ??= handOut(request(to, {}, [WALTZ]), { worker: worker() }));
const alone: { [to in 'html' | 'pdf']?: Promise<Made> } = {};

async function pdfOf(name: string, options: Partial<HandoutOptions> = {}, lessons = [LESSON]): Promise<string> {
  const file = join(folder, `${name}.pdf`);
  writeFileSync(file, (await made('pdf', options, lessons)).bytes);
  return file;
}

/** Pages as text, laid out as printed. */
const pagesOf = (file: string): string[] => poppler('pdftotext', '-layout', file, '-').toString().split('\f').slice(0, -1);

/** The share of a page that is not white, by its picture in grey (PGM, one byte a pixel). */
function inkOf(file: string): number[] {
  const prefix = file.replace(/\.pdf$/, '');
  poppler('pdftoppm', '-r', '30', '-gray', file, prefix);
  const name = prefix.slice(folder.length + 1);
  return readdirSync(folder)
    .filter((one) => one.startsWith(`${name}-`) && one.endsWith('.pgm'))
    .sort()
    .map((one) => {
      const bytes = readFileSync(join(folder, one));
      const [head] = /^P5\s+\d+\s+\d+\s+\d+\s/.exec(bytes.toString('latin1', 0, 60))!;
      const pixels = bytes.subarray(head.length);
      return pixels.filter((grey) => grey < 200).length / pixels.length;
    });
}

/** A page of the README, made anew where the run is told to. */
function renewPicture(name: string, page: number): void {
  if (process.env['RENEW_PICTURES'] === '1')
    poppler(
      'pdftoppm',
      '-r',
      '60',
      '-gray',
      '-png',
      '-singlefile',
      '-f',
      String(page),
      join(folder, `${name}.pdf`),
      `tests/workbench/pictures/handout-${name}`,
    );
}

test.runIf(!HAS_POPPLER)(WITHOUT_POPPLER, () => expect(HAS_POPPLER).toBe(false));

describe.runIf(HAS_POPPLER)('a PDF of a lesson', () => {
  test('has its titles, prose and chord symbols with their signs as text', async () => {
    const text = pagesOf(teacher).join('\n');
    for (const words of [
      'Lanterns on the quay',
      'Mooring rope',
      'Fog horn',
      'Eb major, 4/4, 126 swing, level 3',
      'E♭maj7',
      'Bm7♭5',
      'Walk-through',
      'Claims',
      'Sing the A before you play it.',
      'passing tone',
      'Teacher',
      'Student',
      'Date',
    ]) {
      expect(text).toContain(words);
    }
  }, 60_000);

  test('embeds its fonts, as subsets, with a way back to letters', async () => {
    const [, , ...rows] = poppler('pdffonts', teacher).toString().trim().split('\n');
    expect(rows).toHaveLength(2);
    for (const row of rows) expect(row).toMatch(/^[A-Z]{6}\+DejaVuSansCondensed\S*\s+CID TrueType\s+Identity-H\s+yes yes yes/);
  }, 60_000);

  test('has a title, the paper that was asked for, an outline and a language', async () => {
    const info = poppler('pdfinfo', teacher).toString();
    expect(info).toMatch(/Title:\s+Lanterns on the quay/);
    expect(info).toMatch(/Page size:\s+595\.28 x 841\.89 pts \(A4\)/);
    const raw = readFileSync(teacher, 'latin1');
    expect(raw).toContain('/Lang (en)');
    for (const title of ['Lanterns on the quay', 'Mooring rope', 'Slow ferry', 'Fog horn'])
      expect(raw).toMatch(new RegExp(`/Parent \\d+ 0 R[^>]*/Title \\(${title}\\)|/Title \\(${title}\\)[^>]*/Parent`));
    expect(poppler('pdfinfo', await pdfOf('letter', { paper: 'letter' })).toString()).toMatch(/612 x 792 pts \(letter\)/);
  }, 60_000);

  test('numbers its pages; the contents name the page each phrase is on', async () => {
    const pages = pagesOf(teacher);
    renewPicture('teacher', 2);
    pages.forEach((page, i) => expect(page.trimEnd()).toMatch(new RegExp(`${i + 1} ?/ ?${pages.length}$`)));
    const entries = [...pages[0]!.matchAll(/^ *([A-Z][A-Za-z ]*?) {3,}(\d+)$/gm)];
    expect(entries).toHaveLength(10);
    for (const [, name, page] of entries)
      expect(
        pages[Number(page) - 1]!.split('\n').some((line) => line.trim() === name),
        `${name} on page ${page}`,
      ).toBe(true);
  }, 60_000);

  test('says nothing of degrees, devices or findings on the student sheet; the answers have the degrees', async () => {
    const student = pagesOf(await pdfOf('student', { sheet: 'student' }));
    const answers = pagesOf(await pdfOf('answers', { sheet: 'answers' }));
    expect(student).toHaveLength(answers.length);
    expect(student.join('')).not.toMatch(/passing tone|enclosure|Walk-through|Claims|Findings|♭3|lands 3/);
    expect(answers.join('')).toMatch(/♭3 +9 +1 +5/);
    expect(answers.join('')).not.toMatch(/passing tone|enclosure|Walk-through/);
    for (const name of ['student', 'answers']) renewPicture(name, 1);
    // What tells no degree is there, what does is not, on the sheet as on the answers.
    for (const sheet of [student, answers]) {
      expect(sheet.join('')).toContain('the strong place is beat 1 alone');
      expect(sheet.join('')).not.toMatch(/Sing the A before|flat nine/);
    }
    // The tenth phrase begins on the same page of both.
    const pageOf = (pages: readonly string[]): number => pages.findIndex((page) => /^ *Fog horn$/m.test(page));
    expect(pageOf(student)).toBe(pageOf(answers));
  }, 60_000);

  test('has no page without content, whatever the lesson and sheet', async () => {
    const all = await pdfOf(
      'all',
      {},
      SAMPLES.map((name) => sample(name.replace('.phrase', ''))),
    );
    const student = await pdfOf('all-student', { sheet: 'student', paper: 'letter' });
    for (const [file, least] of [
      [all, 15],
      [student, 3],
    ] as const) {
      const ink = inkOf(file);
      expect(ink.length).toBeGreaterThanOrEqual(least);
      for (const share of ink) expect(share).toBeGreaterThan(0.004);
    }
  }, 120_000);

  test('for a part shows what it reads: chords, key and prose a whole tone up for a trumpet', async () => {
    const text = pagesOf(await pdfOf('trumpet', { parts: ['trumpet'] })).join('\n');
    expect(text).toContain('C major (written in D major), 4/4, 112 swing, trumpet, level 1');
    expect(text).toMatch(/Em7 +A7 +Dmaj7/);
    expect(text).toContain('Bar 1: E-G-B-D is 1-b3-5-b7 of Em7');
    expect(text).toContain('Sing the B before you play it.');
  }, 60_000);

  test('in all keys has each phrase twelve times, and says which could not be moved', async () => {
    const file = join(folder, 'keys.pdf');
    const { bytes, notices } = await made('pdf', { keys: 'all', sheet: 'student', without: ['says'] }, [SHORT]);
    writeFileSync(file, bytes);
    const text = pagesOf(file).join('\n');
    const cycle = ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'];
    // Its own key comes first.
    for (const [name, own] of [
      ['Mooring rope', 'C'],
      ['Slow ferry', 'G'],
    ] as const) {
      const titles = text.match(new RegExp(`^ *${name} – .*$`, 'gm'))!.map((line) => line.trim());
      expect(titles).toEqual([own, ...cycle.filter((tonic) => tonic !== own)].map((tonic) => `${name} – ${tonic} major`));
    }
    expect(notices).toEqual([expect.stringContaining('“Stepping stones” names no key')]);
  }, 120_000);
});

test.runIf(HAS_POPPLER)(
  'exercises say what is to be done and nothing of what is right; the answers say it, exercise by exercise',
  async () => {
    const titles = (pages: readonly string[]): string[] =>
      pages
        .join('\n')
        .match(/^ *\d+\. .*“.*”$/gm)!
        .map((line) => line.trim());
    const sheet = pagesOf(await pdfOf('exercises', { sheet: 'exercises', seed: 4 }));
    const answers = pagesOf(await pdfOf('exercise-answers', { sheet: 'exercise-answers', seed: 4 }));
    for (const name of ['exercises', 'exercise-answers']) renewPicture(name, 1);
    expect(titles(answers)).toEqual(titles(sheet));
    expect(new Set(titles(sheet).map((title) => title.replace(/^\d+\. (.*):.*$/, '$1')))).toEqual(
      new Set([
        'Number the notes',
        'Find the wrong note',
        'Complete the enclosure',
        'Name the device',
        'Write it in another key',
        'Put it over the other ii–V–I',
      ]),
    );
    expect(sheet.join('')).toMatch(/Exercises, set 4[^]*Student/);
    expect(answers.join('')).toMatch(/Answers to exercises, set 4[^]*Student/);
    expect(sheet.join('')).not.toMatch(/The line has|in this line|passing tone|arpeggio|♭3/);
    for (const right of [/in this line/, /1: /, /The line has [A-G][b#]? there/]) expect(answers.join('')).toMatch(right);
    expect(titles(pagesOf(await pdfOf('exercises-5', { sheet: 'exercises', seed: 5 })))).not.toEqual(titles(sheet));
  },
  60_000,
);

test.runIf(HAS_POPPLER)(
  'exercises are in the keys and for the parts that are asked for, the answers as well',
  async () => {
    const options = { keys: ['Ab', 'E'], parts: ['alto-sax', 'trombone'], seed: 2 } as const;
    const [sheet, answers] = [
      pagesOf(await pdfOf('exercise-keys', { sheet: 'exercises', ...options }, [SHORT])),
      pagesOf(await pdfOf('exercise-keys-answers', { sheet: 'exercise-answers', ...options }, [SHORT])),
    ];
    const titles = (pages: readonly string[]): string[] =>
      pages
        .join('\n')
        .match(/^ *\d+\. .*“.*$/gm)!
        .map((line) => line.trim());
    expect(titles(answers)).toEqual(titles(sheet));
    // A phrase that names no key stays as it is.
    expect(
      titles(sheet).filter(
        (title) => !/” – (?:Ab|E|G#) (?:major|minor)(?: \(written .*)?$/.test(title) && !title.endsWith('“Stepping stones”'),
      ),
    ).toEqual([]);
    for (const tonic of ['Ab', 'E']) expect(titles(sheet).some((title) => title.includes(`– ${tonic} `))).toBe(true);
    for (const label of ['Alto saxophone', 'Trombone']) {
      expect(sheet.join('')).toContain(`${label}: exercises, set 2`);
      expect(answers.join('')).toContain(`${label}: answers to exercises, set 2`);
    }
  },
  180_000,
);

test('the same lesson gives the same bytes', async () => {
  for (const to of ['pdf', 'html'] as const) {
    const [one, other] = [await made(to, {}, [WALTZ]), await madeAlone(to)];
    expect(Buffer.compare(Buffer.from(one.bytes), Buffer.from(other.bytes))).toBe(0);
  }
}, 60_000);

test('HTML is one file that asks for nothing, with its lettering, and keeps text as text', async () => {
  const text =
    'lesson "<b>Salt & rope</b>"\nphrase "A <script> & more"\n  key C major\n  over | Cmaj7 |\n  line | E4 G "C" |\n  say "Mind the <em>G</em> & *breathe*."\n';
  const html = Buffer.from((await made('html', {}, [{ name: 'x', text }])).bytes).toString('utf8');
  expect(html).not.toMatch(/(?:src|href)="(?!#)|url\("(?!data:)|@import|<script/i);
  expect(html).toContain('<title>&lt;b&gt;Salt &amp; rope&lt;/b&gt;</title>');
  expect(html).toContain('Mind the &lt;em&gt;G&lt;/em&gt; &amp; <em>breathe</em>.');
  expect(html.match(/font\/woff2;base64/g)).toHaveLength(2);
  const exercises = Buffer.from((await made('html', { sheet: 'exercise-answers' })).bytes).toString('utf8');
  expect(exercises).toContain('<p class="note">Answers to exercises, set 1</p>\n<div class="names">');
}, 60_000);

test('can be called off, and tells how far it is', async () => {
  const stop = new AbortController();
  const told: string[] = [];
  const off = handOut(request('pdf', { keys: 'all' }), {
    worker: worker(),
    signal: stop.signal,
    onProgress(done, total) {
      told.push(`${done} of ${total}`);
      stop.abort(new Error('called off'));
    },
  });
  await expect(off).rejects.toThrow('called off');
  expect(told).toEqual(['1 of 10']);
}, 60_000);

test('a maker that is kept gives what a fresh one gives, also after one was called off; one phrase alone, and the phrase an offset is in', async () => {
  const ask = (options: Partial<HandoutOptions> = {}, lessons: HandoutRequest['lessons'] = [WALTZ]): HandoutRequest =>
    request('html', options, lessons);
  const text = ({ bytes }: Made): string => Buffer.from(bytes).toString('utf8');
  const stop = new AbortController();
  const off = maker.make(ask({ keys: 'all' }, [LESSON]), { signal: stop.signal, onProgress: () => stop.abort(new Error('called off')) });
  await expect(off).rejects.toThrow('called off');
  const [first, again] = [text(await maker.make(ask())), text(await maker.make(ask()))];
  expect(again).toBe(first);
  expect(first).toBe(text(await madeAlone('html')));
  for (const name of ['Fog horn', 'Lamp oil']) {
    const html = text(
      await maker.make(ask({ without: ['walkthrough'] }, [{ ...LESSON, at: LESSON.text.indexOf(`phrase "${name}"`) + 30 }])),
    );
    expect(html.match(/(?<=<h2[^>]*>)[^<]*/g)).toEqual([name]);
    expect(html).not.toContain('Ten short lines');
  }
  await expect(maker.make(ask({}, [{ name: 'x', text: 'lesson "Nothing yet"\n' }]))).rejects.toThrow('There is no phrase to hand out');
}, 120_000);

test('letters that the fonts lack are told by the phrase they stand in, on a PDF', async () => {
  const text =
    'lesson "Lesson"\nphrase "Rain 雨"\n  over | Cmaj7 |\n  line | E4 G C D |\n  say "Sing it: 雨が降る. Ça va, Привет, ♭ and ♯."\nphrase "Sun"\n  over | Cmaj7 |\n  line | E4 G C D |\n';
  const lessons = [{ name: 'x', text }];
  expect((await made('pdf', {}, lessons)).notices).toEqual([
    '“Rain 雨”: the fonts of the PDF lack 雨 が 降 る, so empty boxes are printed for them. HTML is shown in the fonts of whoever reads it.',
  ]);
  expect((await made('html', {}, lessons)).notices).toEqual([]);
}, 60_000);
