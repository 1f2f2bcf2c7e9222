/** The sound in step with score and text: every note in order, at the time the model says, and no sooner or later than it is heard. */
import type { Frame } from 'playwright-core';
import { afterEach, expect, test } from 'vitest';
import { openSnapshot } from '../../server/src/model/snapshot';
import type { Take, TakeOptions } from '../../server/src/performance/types';
import { stopWatching, workbenchOfSuite } from './harness';
import { FOOTBRIDGE, modelled } from './takes';
import { judged } from './together';

const bench = workbenchOfSuite();
let score: Frame;

/** The take of a text's first phrase, as written. */
function modelledOf(text: string, options: Partial<TakeOptions> = {}): Take {
  return modelled(text, 1, options)[0]!;
}

/** A note as it was shown: when (milliseconds of one clock), and when it was due to be heard by the audio clock. */
interface Shown {
  readonly note: number;
  readonly at: number;
}

/**
 * Writes down, in the page itself, when a note of the score is marked as sounding, when a place of the text is, what is said and which
 * chord stands first at the time, and whether it plays: a test that only looks now and then would miss what is short.
 */
async function watch(): Promise<void> {
  await score.evaluate(`{
    window.shown = [];
    window.told = [];
    window.hasPlayed = false;
    window.paints = [];
    window.tidings = [];
    window.trips = [];
    performance.clearMarks();
    if (window.isWatched !== true) {
      window.isWatched = true;
      new MutationObserver((changes) => {
        for (const { target } of changes) if (target.classList.contains('sounding') && target.getAttribute('role') === 'option' && target.wasSounding !== true) {
          target.wasSounding = true;
          window.shown.push({ note: Number(target.dataset.note), at: performance.timeOrigin + performance.now() });
        }
        for (const { target } of changes) if (!target.classList.contains('sounding')) target.wasSounding = false;
      }).observe(document.querySelector('main'), { subtree: true, attributes: true, attributeFilter: ['class'] });
      new PerformanceObserver((list) => {
        for (const { name, startTime, detail } of list.getEntries()) {
          if (name === 'phrasewright:told') window.tidings.push({ note: detail.note, due: detail.due, sent: startTime });
          if (name === 'phrasewright:trip') window.trips.push(detail);
        }
      }).observe({ type: 'mark' });
    }
    const mine = (window.watching = {});
    const look = () => {
      if (window.watching !== mine) return;
      window.paints.push(performance.now());
      const [words, chord] = ['.said [role="status"]', '.harm'].map((place) => document.querySelector(place)?.textContent.trim() ?? '');
      if (!window.told.includes(words + ' | ' + chord)) window.told.push(words + ' | ' + chord);
      if (document.querySelector('button.play').textContent.includes('Stop')) window.hasPlayed = true;
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }`);
  await bench.page.evaluate(`{
    window.marked = [];
    window.paints = [];
    const mine = (window.watching = {});
    let last = '';
    const look = () => {
      if (window.watching !== mine) return;
      window.paints.push(performance.now());
      const mark = [...document.querySelectorAll('.view-overlays .cdr')].find((one) => /232, 163, 61/.test(getComputedStyle(one).backgroundColor));
      const place = mark === undefined ? '' : Math.round(mark.getBoundingClientRect().left);
      if (place !== last && place !== '') window.marked.push({ left: place, at: performance.timeOrigin + performance.now() });
      last = place;
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }`);
}

afterEach(() => stopWatching(bench.page));

const shown = (): Promise<Shown[]> => score.evaluate('window.shown');
const marked = (): Promise<{ left: number; at: number }[]> => bench.page.evaluate('window.marked');
/** When each note was due to be heard, by the audio clock. */
const due = (): Promise<{ note: number; pass: number; at: number }[]> =>
  score.evaluate(
    `performance.getEntriesByName('phrasewright:sounding').map(({ detail }) => ({ note: detail.note, pass: detail.pass, at: performance.timeOrigin + detail.due }))`,
  );

/** When a page drew, in milliseconds of the one clock. */
const drawn = (page: { evaluate(code: string): Promise<unknown> }): Promise<number[]> =>
  page.evaluate('window.paints.map((at) => performance.timeOrigin + at)') as Promise<number[]>;
/**
 * What the score told the text, in order: milliseconds from the message to the time when its note is due to be heard, and those that this very
 * message took to the extension and back; null: it is not back.
 */
const tidings = (): Promise<{ note: number; ahead: number; way: number | null }[]> =>
  score.evaluate(
    'window.tidings.map(({ note, due, sent }) => ({ note, ahead: due - sent, way: window.trips.find((one) => one.sent === sent)?.took ?? null }))',
  );

/** Where columns (from 0) of a row of the text stand in the view, in pixels. */
function leftOf(row: string, columns: readonly number[]): Promise<number[]> {
  return bench.page.evaluate(`{
    const line = [...document.querySelectorAll('.view-line')].find(({ textContent }) => textContent.replaceAll('\u00a0', ' ').startsWith(${JSON.stringify(row)}));
    const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    const lefts = [];
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      for (let i = 0; i < node.length; i += 1) {
        const range = document.createRange();
        range.setStart(node, i);
        range.setEnd(node, i + 1);
        lefts.push(Math.round(range.getBoundingClientRect().left));
      }
    }
    ${JSON.stringify(columns)}.map((column) => lefts[column]);
  }`) as Promise<number[]>;
}

const PATIENT = { timeout: 30_000 };
async function play(command: string): Promise<void> {
  await bench.toText();
  await watch();
  await bench.command(`Phrasewright: ${command}`);
  await started();
}
const started = (): Promise<void> => expect.poll(() => score.evaluate('window.hasPlayed'), PATIENT).toBe(true);
const sounded = (): Promise<void> => expect.poll(async () => (await shown()).length, PATIENT).toBeGreaterThan(0);
const ended = (): Promise<void> => score.locator('button.play', { hasText: 'Play' }).waitFor();
/** That words were said, and a chord stood first at the time. */
const said = (words: string, chord = ''): Promise<void> =>
  expect
    .poll(async () => (await score.evaluate<string[]>('window.told')).some((told) => told.startsWith(`${words} | ${chord}`)), {
      ...PATIENT,
      message: `said: ${words}`,
    })
    .toBe(true);

test('the sound asks for the score, which opens and plays; to stop it opens nothing', async () => {
  await bench.command('View: Close All Editors');
  await bench.openText('first.phrase', FOOTBRIDGE.replace('132', '300'));
  await bench.goTo(5, 13);
  await bench.command('Phrasewright: Stop the Sound');
  await bench.page.waitForTimeout(500);
  expect(await bench.page.locator('.tabs-container .tab', { hasText: 'Score' }).count()).toBe(0);
  await bench.command('Phrasewright: Play the Phrase');
  score = await bench.score();
  // What was marked stays on record, so that it is no matter how soon the page was found.
  await expect.poll(async () => (await due()).at(-1)?.note, PATIENT).toBe(modelledOf(FOOTBRIDGE).cursor.at(-1)!.note);
  await ended();
});

test('every note is marked in order, when it is heard, in the score and in the text', async () => {
  await bench.openText('sound.phrase', FOOTBRIDGE);
  await bench.goTo(5, 13);
  await score.locator('.heading', { hasText: '132 swing' }).waitFor();
  await play('Play the Phrase');
  await ended();

  const take = modelledOf(FOOTBRIDGE);
  const [inScore, heard, inText] = [await shown(), await due(), await marked()];
  expect(heard.map(({ note }) => note)).toEqual(take.cursor.map(({ note }) => note));
  // The audio clock says the times of the model, to a few milliseconds.
  take.cursor.forEach(({ at }, i) => expect(Math.abs((heard[i]!.at - heard[0]!.at) / 1000 - (at - take.cursor[0]!.at))).toBeLessThan(0.01));
  // In order, none twice: in one row of text the marks go to the right.
  inScore.slice(1).forEach(({ note }, i) => expect(note).toBeGreaterThan(inScore[i]!.note));
  inText.slice(1).forEach(({ left }, i) => expect(left).toBeGreaterThan(inText[i]!.left));

  const row = FOOTBRIDGE.split('\n')[4]!;
  const { notes } = openSnapshot('', 1, FOOTBRIDGE).phrases[0]!.phrase;
  const lefts = await leftOf(
    row,
    heard.map(({ note }) => notes[note]!.range.start - FOOTBRIDGE.indexOf(row)),
  );
  const places = inText.map(({ left, at }) => ({ note: heard[lefts.findIndex((one) => Math.abs(one - left) <= 2)]?.note ?? -1, at }));
  expect(places.filter(({ note }) => note < 0)).toEqual([]);
  await expect
    .poll(async () => (await tidings()).map(({ note, way }) => (way === null ? null : note)))
    .toEqual(heard.map(({ note }) => note));
  const told = (await tidings()).map(({ ahead, way }) => ({ ahead, way: way! }));
  const usual = told.map(({ way }) => way).sort((a, b) => a - b)[Math.floor(told.length / 4)]!;
  // Nobody can tell a message off so much earlier as it will be held up.
  const late = (i: number): number => Math.max(0, told[i]!.way - usual);
  const judgements = { score: judged(heard, inScore, await drawn(score)), text: judged(heard, places, await drawn(bench.page), late) };
  const messages = told.map(({ ahead, way }, i) => `${i}: ${Math.round(ahead)} ms ahead, ${Math.round(way)} ms there and back`).join('; ');
  for (const [where, { inTime, unseen, wrong }] of Object.entries(judgements)) {
    console.info(
      `${where}: ${inTime.length} marks in time, ${unseen.length} between two frames, ${wrong.length} late (${wrong.join(' ')})`,
    );
    expect(wrong.length, `late in the ${where}: ${wrong.join(' ')}; the text was told ${messages}`).toBeLessThanOrEqual(heard.length / 6);
    expect(inTime.length, `a machine that draws too few frames to tell anything of the ${where}`).toBeGreaterThanOrEqual(heard.length / 2);
  }
  expect(await score.locator('.place.sounding').count()).toBe(0);
});

test('a bar plays again and again until it is stopped, with the line muted too', async () => {
  await bench.openText('bar.phrase', FOOTBRIDGE.replace('132', '240'));
  await bench.goTo(5, 43);
  await bench.command('Phrasewright: Mute the Line, or Unmute It');
  await play('Play the Bar Again and Again');
  const bar = modelledOf(FOOTBRIDGE, { stretch: { from: 4, to: 8 } }).cursor.map(({ note }) => note);
  expect(bar).toEqual([9, 10, 11]);
  await expect.poll(async () => (await shown()).length).toBeGreaterThan(2 * bar.length);
  await bench.command('Phrasewright: Stop the Sound');
  await ended();
  const notes = (await shown()).map(({ note }) => note);
  // In turn; one in six may fall between two frames of a busy page.
  const places = notes.map((note) => bar.indexOf(note));
  const left = places.slice(1).reduce((sum, place, i) => sum + ((place - places[i]! - 1 + bar.length) % bar.length), 0);
  expect(places).not.toContain(-1);
  expect(places[0]).toBe(0);
  expect(left * 6, notes.join()).toBeLessThanOrEqual(notes.length);
  expect(await score.locator('label', { hasText: 'Mute the line' }).locator('input').isChecked()).toBe(true);
  await bench.command('Phrasewright: Mute the Line, or Unmute It');
});

test('tempo, loop and text may change while it plays', async () => {
  await bench.toText();
  await bench.openText('change.phrase', FOOTBRIDGE.replace('132', '200'));
  await bench.goTo(5, 13);
  await score.locator('.heading', { hasText: '200 swing' }).waitFor();
  await score.locator('label', { hasText: 'Loop' }).locator('input').check();
  await play('Play the Phrase');
  await sounded();
  await bench.picture('score-playing');
  await score.locator('input[aria-label="Tempo in beats a minute"]').fill('300');
  await score.locator('input[aria-label="Tempo in beats a minute"]').press('Enter');
  await said('300 beats a minute');
  await bench.toText();
  await bench.goTo(5, 13);
  await bench.page.keyboard.press('Delete');
  await bench.page.keyboard.type('C');
  // The edit is heard, and marked, after a moment.
  await score.locator('.place[data-note="0"][aria-label*="C flat 4"]').waitFor({ state: 'attached' });
  await watch();
  await expect.poll(async () => (await shown()).some(({ note }) => note === 0)).toBe(true);
  await score.locator('label', { hasText: 'Loop' }).locator('input').uncheck();
  await ended();
});

test('a selection plays once', async () => {
  await bench.toText();
  await bench.goTo(5, 18);
  for (let i = 0; i < 11; i += 1) await bench.page.keyboard.press('Shift+ArrowRight');
  await play('Play the Selection');
  await ended();
  const heard = await due();
  expect(heard.map(({ note }) => note)).toEqual([2, 3, 4, 5, 6]);
  // Each is marked, in order, but one that was gone before the page drew a frame; the last one is as short as any.
  const marks = await shown();
  const last = heard[heard.length - 1]!;
  const shortest = Math.min(...heard.slice(1).map(({ at }, i) => at - heard[i]!.at));
  const silence = { note: last.note + 1, at: last.at + shortest };
  const { unseen } = judged([...heard, silence], marks, await drawn(score));
  const seen = heard.filter((_, i) => !unseen.includes(i)).map(({ note }) => note);
  expect(marks.map(({ note }) => note)).toEqual(seen);
});

test('practice goes through the keys, and faster each time', async () => {
  const short = 'phrase "Plank"\n  key     F major\n  tempo   300 swing\n  over    | Gm7 C7 |\n  line    | Bb4 G E C |\n';
  await bench.openText('keys.phrase', short);
  await bench.goTo(5, 13);
  await score.locator('h2', { hasText: 'Plank' }).waitFor();
  await play('Practise the Phrase through the Twelve Keys');
  // The score shows the key that sounds; the text stays as it is.
  for (const [words, chord] of [
    ['1 of 12: in F', 'Gm7'],
    ['2 of 12: in Bb', 'Cm7'],
    ['3 of 12: in Eb', 'Fm7'],
  ] as const)
    await said(words, chord);
  await bench.picture('score-keys');
  // The names read aloud are of the key that sounds; Bb, G, E and C are in F.
  expect(await score.locator('.place[data-note="0"]').getAttribute('aria-label')).not.toMatch(/^B flat 4/);
  await bench.command('Phrasewright: Stop the Sound');
  await ended();
  await score.locator('.harm', { hasText: 'Gm7' }).waitFor();
  await score.locator('input[aria-label="Tempo in beats a minute"]').fill('360');
  await score.locator('input[aria-label="Tempo in beats a minute"]').press('Enter');
  await play('Practise the Phrase Faster Each Time');
  for (const words of ['1 of 9: 360 beats a minute', '2 of 9: 365 beats a minute', '3 of 9: 370 beats a minute']) await said(words);
  // Escape in the page stops, as the command does.
  await score.locator('.place').first().focus();
  await bench.page.keyboard.press('Escape');
  await ended();
});

test('a lens above a phrase plays it', async () => {
  await bench.toText();
  await bench.openText('lens.phrase', FOOTBRIDGE.replace('132', '300'));
  await watch();
  await bench.page.locator('.codelens-decoration a', { hasText: 'Play' }).click();
  await started();
  await score.locator('h2', { hasText: 'Footbridge' }).waitFor();
  expect(await bench.page.locator('.codelens-decoration').innerText()).toContain('2 bars in F major');
  await ended();
});

test('while another phrase is looked at, the controls speak of what sounds and act on it', async () => {
  await bench.toText();
  const two = `${FOOTBRIDGE.replace('132', '240')}\nphrase "Other"\n  tempo   96 straight\n  over    | Am7 |\n  line    | A4 C5 E G |\n`;
  await bench.openText('looped.phrase', two);
  await bench.goTo(5, 13);
  await score.locator('h2', { hasText: 'Footbridge' }).waitFor();
  const [tempo, loop] = [
    score.locator('input[aria-label="Tempo in beats a minute"]'),
    score.locator('label', { hasText: 'Loop' }).locator('input'),
  ];
  await loop.check();
  await play('Play the Phrase');
  await sounded();
  await bench.goTo(10, 14);
  await score.locator('h2', { hasText: 'Other' }).waitFor();
  await score.locator('.sounds', { hasText: /^“Footbridge”, bar \d$/ }).waitFor();
  expect(await tempo.inputValue()).toBe('240');
  await bench.picture('score-sounds-another');
  await tempo.fill('300');
  await tempo.press('Enter');
  await said('300 beats a minute');
  await loop.uncheck();
  await ended();
  // Then they are about what is looked at, again.
  await expect.poll(() => tempo.inputValue()).toBe('96');
  expect(await score.locator('.sounds').innerText()).toBe('');
});

test('what plays keeps to its phrase while another is looked at, and leaves no mark behind', async () => {
  await bench.toText();
  const two = `${FOOTBRIDGE}\nphrase "Other"\n  over    | Am7 |\n  line    | A4 C5 E G |\n`;
  await bench.openText('two.phrase', two);
  await bench.goTo(5, 13);
  await score.locator('h2', { hasText: 'Footbridge' }).waitFor();
  await play('Play the Phrase');
  await sounded();
  await bench.goTo(9, 14);
  await score.locator('h2', { hasText: 'Other' }).waitFor();
  // No note of the other phrase is marked for one of this.
  expect(await score.locator('.place.sounding').count()).toBe(0);
  await bench.goTo(5, 13);
  await score.locator('h2', { hasText: 'Footbridge' }).waitFor();
  await bench.openText('third.phrase', FOOTBRIDGE.replace('Footbridge', 'Third'));
  await ended();
  await bench.page.waitForTimeout(200);
  expect(
    await bench.page.evaluate(
      `[...document.querySelectorAll('.view-overlays .cdr')].filter((one) => /232, 163, 61/.test(getComputedStyle(one).backgroundColor)).length`,
    ),
  ).toBe(0);
});
