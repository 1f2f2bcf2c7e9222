/** Sound files from the editor: the questions, the file, what is told. What is heard in files of every kind is measured by `sound-render.test.ts`. */
import { existsSync, readFileSync } from 'node:fs';
import type { Frame } from 'playwright-core';
import { afterEach, expect, test } from 'vitest';
import { acceptPlace, workbenchOfSuite } from './harness';
import { ABOVE_BASS, decibels, expectEach, expectOnsets, levelOfMusic, onsetsIn, PEAK, peakOf, readWav, type Wav } from './heard';
import { rendererOfFile } from './renderer';
import { FOOTBRIDGE, modelled } from './takes';

const bench = workbenchOfSuite();
const renderer = rendererOfFile();

const row = (words: string | RegExp) => bench.page.locator('.quick-input-list .monaco-list-row', { hasText: words }).first();
const box = () => bench.page.locator('.quick-input-box input');
const titleIs = (words: string | RegExp): Promise<void> => bench.page.locator('.quick-input-title', { hasText: words }).waitFor();

// What a test leaves open would lie over the next one.
afterEach(async () => {
  for (let times = 0; times < 3; times += 1) await bench.page.keyboard.press('Escape');
});

/** Opens the questions. */
async function ask(): Promise<void> {
  await bench.askingCommand('Phrasewright: Write a Sound File…');
  await titleIs(/^Sound File of /);
}

/** Takes a row of the questions, and a row of what it asks. */
async function choose(question: string, answer: string | RegExp): Promise<void> {
  await row(question).click();
  await titleIs(/^(?!Sound File of )/);
  await row(answer).click();
  await titleIs(/^Sound File of /);
}

const chooseVoices = (...voices: string[]): Promise<void> =>
  chooseMany('Voices', /^What Is Heard/, ['Line', 'Chords', 'Bass', 'Click'], voices);
const choosePiano = (...voices: string[]): Promise<void> =>
  chooseMany('Played by the piano', /^What the Piano Plays/, ['Line', 'Chords'], voices);

async function chooseMany(question: string, title: RegExp, all: readonly string[], voices: readonly string[]): Promise<void> {
  await row(question).click();
  await titleIs(title);
  for (const voice of all) {
    const check = bench.page.locator(`.quick-input-list .monaco-list-row[aria-label="${voice}"]`);
    if (((await check.getAttribute('aria-checked')) === 'true') !== voices.includes(voice)) await check.click();
  }
  await bench.page.keyboard.press('Enter');
  await titleIs(/^Sound File of /);
}

/** Lets the file be written where the editor proposes, under a name of ours before the ending; answers its path. */
async function write(name: string): Promise<string> {
  await row('Write the WAV').click();
  await expect.poll(() => box().inputValue()).toMatch(/\.wav$/);
  const path = (await box().inputValue()).replace(/\.wav$/, `${name}.wav`);
  await acceptPlace(box(), path, () => isWhole(path));
  return path;
}

/** A file is there before all of it is: its own count of its length says when. */
function isWhole(path: string): boolean {
  const bytes = existsSync(path) ? readFileSync(path) : Buffer.alloc(0);
  return bytes.length > 44 && bytes.readUInt32LE(4) === bytes.length - 8;
}

/** `piano`: which of the voices it plays. */
async function heard(name: string, voices: readonly string[], piano: readonly string[] = []): Promise<Wav & { readonly path: string }> {
  await bench.toText();
  await ask();
  await chooseVoices(...voices);
  await choosePiano(...piano);
  const path = await write(name);
  return { path, ...readWav(readFileSync(path)) };
}

async function setLevels(score: Frame, level: number): Promise<void> {
  await score.evaluate(
    `for (const one of document.querySelectorAll('details')) one.open = one.textContent.startsWith('Sound and practice')`,
  );
  for (const voice of ['line', 'chords', 'bass', 'click'])
    await score.locator(`input[aria-label="Level of the ${voice}"]`).fill(String(level));
}

test('where the piano cannot be loaded the synthesized sound takes its place, which is said; it is tried again', async () => {
  await bench.openText('sound.phrase', FOOTBRIDGE);
  await bench.goTo(5, 13);
  await bench.command('Phrasewright: Show the Score');
  const score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  await score.evaluate(
    `window.loading = []; window.realFetch = window.fetch; window.fetch = (address) => { window.loading.push(address); return Promise.reject(new Error('no way')); }`,
  );
  const [take] = modelled(FOOTBRIDGE);
  await heard('-lacking', ['Chords'], ['Chords']);
  const warnings = bench.page.locator('.notification-toast', { hasText: 'The piano could not be loaded' });
  await expect.poll(() => warnings.count()).toBe(2);
  const lacking = await heard('-lacking-again', ['Chords'], ['Chords']);
  // The page says it once; what is written says it of every file.
  expect(
    await bench.page.locator('.notification-toast', { hasText: /^(?!.*Wrote).*The piano could not be loaded/ }).count(),
  ).toBeLessThanOrEqual(1);
  const tried = await score.evaluate<string[]>('window.loading');
  expect(tried.every((address) => /\/dist\/piano\/\d+\.mp3$/.test(address))).toBe(true);
  expect(tried.length).toBeGreaterThan(14);
  await score.evaluate('window.fetch = window.realFetch');
  const synthesized = await heard('-synthesized', ['Chords']);
  expect(Math.abs(levelOfMusic(lacking, take!) - levelOfMusic(synthesized, take!))).toBeLessThan(0.5);
});

test('in a file from the editor the line begins each note when the take says, synthesized and on the piano', async () => {
  await bench.openText('sound.phrase', FOOTBRIDGE);
  await bench.goTo(5, 13);
  const score = await bench.score();
  await setLevels(score, 80);
  const [take] = modelled(FOOTBRIDGE);
  const line = await heard('-line', ['Line']);
  const sounds = take!.sounds.filter(({ voice, at }) => voice === 'line' || at < take!.countIn);
  expectOnsets(
    onsetsIn(line),
    sounds.map(({ at }) => at),
  );
  // As loud as the level that was set in the page: the renderer alone says how loud that is.
  const alone = await renderer.render({
    sounds,
    length: take!.length,
    levels: { line: 0.8, chords: 0.8, bass: 0.8, click: 0.8 },
    piano: [],
  });
  expect(Math.abs(levelOfMusic(line, take!) - levelOfMusic(alone, take!))).toBeLessThan(0.2);
  // The browser's own reader finds the same file.
  const read = await score.evaluate<{ rate: number; length: number; channels: number }>(`(async () => {
    const bytes = Uint8Array.from(atob('${readFileSync(line.path).toString('base64')}'), (one) => one.charCodeAt(0));
    const { sampleRate, length, numberOfChannels } = await new OfflineAudioContext(1, 1, 44100).decodeAudioData(bytes.buffer);
    return { rate: sampleRate, length, channels: numberOfChannels };
  })()`);
  expect(read).toEqual({ rate: 44_100, length: line.samples.length, channels: 1 });

  const onPiano = await heard('-piano-line', ['Line'], ['Line']);
  // Strings of a piano beat, which looks like more onsets than there are.
  expectEach(
    sounds.map(({ at }) => at),
    onsetsIn(onPiano, 0.06),
  );
  expect(decibels(peakOf(onPiano.samples))).toBeLessThan(PEAK);
  // It is another sound, not the same once more.
  expect(onPiano.samples.some((sample, i) => Math.abs(sample - line.samples[i]!) > 0.01)).toBe(true);
});

const LESSON = `lesson "Two crossings"

${FOOTBRIDGE}
phrase "Empty"
  over    | Am7 |

phrase "Ferry"
  tempo   160 straight
  over    | Am7 D7 | Gmaj7 |
  line    | A4-C5 E-G F#-A G-E | D ~ ~ . |
`;

test('a lesson to play along with: phrase after phrase, counted in, without the line, at the tempo that was chosen', async () => {
  await bench.openText('crossings.phrase', LESSON);
  await bench.goTo(7, 13);
  await ask();
  expect(await bench.page.locator('.quick-input-title').innerText()).toBe('Sound File of the phrase “Footbridge”');
  await choose('What', 'The lesson');
  await chooseVoices('Bass', 'Click');
  await choose('Tempo', /^80% /);
  await choose('Count-in', '2 bars');
  await bench.picture('sound-file-questions');
  const path = await write('');
  expect(path).toMatch(/crossings-play-along-80\.wav$/);
  await bench.page.locator('.notification-toast', { hasText: 'Wrote crossings-play-along-80.wav.' }).first().waitFor();
  // The editor plays it, in a browser too.
  await bench.page
    .locator('.notification-toast', { hasText: 'Wrote crossings-play-along-80.wav.' })
    .getByRole('button', { name: 'Open' })
    .click();
  const sound = bench.page.locator('.tabs-container .tab.active', { hasText: 'crossings-play-along-80.wav' });
  await sound.waitFor();
  await bench.picture('sound-file-open');
  await sound.click({ button: 'middle' });
  await sound.waitFor({ state: 'detached' });
  await bench.toText();
  const wav = readWav(readFileSync(path));
  // Each phrase rings for half a second, then a second is silent.
  const takes = modelled(LESSON, 0.8, { countIn: 2 });
  let begin = 0;
  const expected: number[] = [];
  for (const take of takes) {
    expected.push(...take.sounds.filter(({ voice }) => voice === 'click').map(({ at }) => begin + at));
    begin += take.length + 1.5;
  }
  // Clicks lie above the bass, whose notes begin nearly with them; what its overtones do afterwards looks like many more.
  expectEach(expected, onsetsIn(wav, 0.12, ABOVE_BASS));
  expect(wav.samples.length / wav.rate).toBeCloseTo(begin - 1, 1);
});

/** Ten phrases, so that the first is done long before the last. */
const TEN = `lesson "Ten crossings"\n\n${Array.from({ length: 10 }, (_, i) => FOOTBRIDGE.replace('Footbridge', `Footbridge ${i + 1}`)).join('\n')}`;

test('what takes long tells how far it is and is called off by Cancel; nothing is written then', async () => {
  // The cursor is in no phrase, so there is no question what is written.
  await bench.openText('ten.phrase', TEN);
  await ask();
  await choose('Keys', 'All twelve');
  await row('Write the WAV').click();
  await expect.poll(() => box().inputValue()).toMatch(/-play-along-twelve-keys-80\.wav$/);
  const path = await box().inputValue();
  const progress = bench.page.locator('.notification-toast', { hasText: 'Writing ten' });
  await acceptPlace(box(), path, async () => (await progress.count()) === 1);
  await progress.filter({ hasText: /[1-9] of 10 phrases/ }).waitFor({ timeout: 60_000 });
  await bench.picture('sound-file-progress');
  await progress.locator('.monaco-button', { hasText: 'Cancel' }).click();
  await progress.waitFor({ state: 'detached' });
  expect(existsSync(path)).toBe(false);
});
