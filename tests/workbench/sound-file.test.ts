/** Sound files from the editor: when what begins, how loud, and by which voice, measured in the file that was written. */
import { existsSync, readFileSync } from 'node:fs';
import type { Frame } from 'playwright-core';
import { afterEach, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { takeOf } from '../../server/src/performance/take';
import { DEFAULT_TAKE, type Take, type TakeOptions } from '../../server/src/performance/types';
import { workbenchOfFile } from './harness';
import { decibels, heardFrom, levelOf, onsetsIn, peakOf, readWav, type Wav } from './heard';

const bench = workbenchOfFile();

const PHRASE = `phrase "Footbridge"
  key     F major
  tempo   132 swing
  over    | Gm7       C7           | Fmaj7     |
  line    | Bb4-A G-D E-C-G Bb-A   | A-~ C5 . A |
`;

const row = (words: string | RegExp) => bench.page.locator('.quick-input-list .monaco-list-row', { hasText: words }).first();
const box = () => bench.page.locator('.quick-input-box input');
const titleIs = (words: string | RegExp): Promise<void> => bench.page.locator('.quick-input-title', { hasText: words }).waitFor();

// What a test leaves open would lie over the next one.
afterEach(async () => {
  for (let times = 0; times < 3; times += 1) await bench.page.keyboard.press('Escape');
});

/** The takes of a text, at a share of the written tempo. */
function modelled(text: string, share = 1, options: Partial<TakeOptions> = {}): Take[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => takeOf(readPhrase(phrase, DEFAULT_THEORY), { ...DEFAULT_TAKE, countIn: 1, tempo: share * phrase.tempo.bpm, ...options }));
}

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

const chooseVoices = (...voices: string[]): Promise<void> => chooseMany('Voices', /^What Is Heard/, ['Line', 'Chords', 'Bass', 'Click'], voices);
const choosePiano = (...voices: string[]): Promise<void> => chooseMany('Played by the piano', /^What the Piano Plays/, ['Line', 'Chords'], voices);

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
  await expect.poll(() => box().inputValue(), { timeout: 15_000 }).toMatch(/\.wav$/);
  const path = (await box().inputValue()).replace(/\.wav$/, `${name}.wav`);
  await box().fill(path);
  // A key that comes before the dialog has read the folder does nothing.
  await expect.poll(async () => {
    if (await box().isVisible()) await box().press('Enter', { timeout: 2000 }).catch(() => undefined);
    return isWhole(path);
  }, { timeout: 60_000, interval: 1000 }).toBe(true);
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
  await score.evaluate(`for (const one of document.querySelectorAll('details')) one.open = one.textContent.startsWith('Sound and practice')`);
  for (const voice of ['line', 'chords', 'bass', 'click']) await score.locator(`input[aria-label="Level of the ${voice}"]`).fill(String(level));
}

/** Hertz: the click is heard up there, of the bass little more than the pluck. */
const ABOVE_BASS = 1000;

/** Seconds. */
const CLOSE = 0.01;

/** That in a file begins what should, when it should, and nothing else. */
function expectOnsets(found: readonly number[], expected: readonly number[]): void {
  expectEach(expected, found);
  expectEach(found, expected);
}

function expectEach(times: readonly number[], among: readonly number[]): void {
  expect(times.filter((at) => !among.some((one) => Math.abs(one - at) <= CLOSE)), `within ${CLOSE} s of ${among.map((at) => at.toFixed(3)).join(' ')}`).toEqual([]);
}

/** Seconds: far enough to be missed, and not as far as the next thing that begins. */
const MOVED = 0.03;

const PEAK = -1;

/** Chords of many notes, accents, high and low, fast. */
const LOUD = `phrase "Weir"
  key     C minor
  tempo   220 straight
  over    | Cm9 F13b9 | Bbmaj9 Eb13#11 | Cm6 |
  line    | C5>-Eb>-G>-C6> A5>-F#>-Eb>-C> D>-F>-A>-C6> G5>-Eb>-C>-A4> | F>-Ab>-C5>-Eb> B4>-D#5>-G>-Bb> F>-Ab>-C6>-Eb> B5>-G>-D>-Bb4> | C5> ~ ~ ~ |
`;

/** The level of the music in a file of the phrase, in dB, without the clicks of the count-in. */
function levelOfMusic(wav: Wav, take: Take): number {
  return levelOf(wav, take.countIn + 0.02, take.length);
}

test('where the piano cannot be loaded the synthesized sound takes its place, which is said; it is tried again', async () => {
  await bench.openText('sound.phrase', PHRASE);
  await bench.goTo(5, 13);
  await bench.command('Phrasewright: Show the Score');
  const score = await bench.score();
  await score.locator('svg.system').first().waitFor();
  await score.evaluate(`window.loading = []; window.realFetch = window.fetch; window.fetch = (address) => { window.loading.push(address); return Promise.reject(new Error('no way')); }`);
  const [take] = modelled(PHRASE);
  await heard('-lacking', ['Chords'], ['Chords']);
  const warnings = bench.page.locator('.notification-toast', { hasText: 'The piano could not be loaded' });
  await expect.poll(() => warnings.count()).toBe(2);
  const lacking = await heard('-lacking-again', ['Chords'], ['Chords']);
  // The page says it once; what is written says it of every file.
  expect(await bench.page.locator('.notification-toast', { hasText: /^(?!.*Wrote).*The piano could not be loaded/ }).count()).toBeLessThanOrEqual(1);
  const tried = await score.evaluate<string[]>('window.loading');
  expect(tried.every((address) => /\/dist\/piano\/\d+\.mp3$/.test(address))).toBe(true);
  expect(tried.length).toBeGreaterThan(14);
  await score.evaluate('window.fetch = window.realFetch');
  const synthesized = await heard('-synthesized', ['Chords']);
  expect(Math.abs(levelOfMusic(lacking, take!) - levelOfMusic(synthesized, take!))).toBeLessThan(0.5);
});

test('the line begins each note when the take says, and at equal levels chords and bass are under it, with the piano too', async () => {
  await bench.openText('sound.phrase', PHRASE);
  await bench.goTo(5, 13);
  const score = await bench.score();
  await setLevels(score, 80);
  const [take] = modelled(PHRASE);
  const line = await heard('-line', ['Line']);
  const sounds = take!.sounds.filter(({ voice, at }) => voice === 'line' || at < take!.countIn);
  expectOnsets(onsetsIn(line), sounds.map(({ at }) => at));
  // The browser's own reader finds the same file.
  const read = await score.evaluate<{ rate: number; length: number; channels: number }>(`(async () => {
    const bytes = Uint8Array.from(atob('${readFileSync(line.path).toString('base64')}'), (one) => one.charCodeAt(0));
    const { sampleRate, length, numberOfChannels } = await new OfflineAudioContext(1, 1, 44100).decodeAudioData(bytes.buffer);
    return { rate: sampleRate, length, channels: numberOfChannels };
  })()`);
  expect(read).toEqual({ rate: 44_100, length: line.samples.length, channels: 1 });

  const pianoLine = await heard('-piano-line', ['Line'], ['Line']);
  const [chords, pianoChords, bass] = [await heard('-chords', ['Chords']), await heard('-piano-chords', ['Chords'], ['Chords']), await heard('-bass', ['Bass'])];
  const all = await heard('-all', ['Line', 'Chords', 'Bass', 'Click'], ['Line', 'Chords']);
  const level = (wav: Wav): number => levelOfMusic(wav, take!);
  console.info(`levels in dB: ${Object.entries({ line, pianoLine, chords, pianoChords, bass }).map(([name, wav]) => `${name} ${level(wav).toFixed(1)}`).join(', ')}`);
  // Strings of a piano beat, which looks like more onsets than there are.
  expectEach(sounds.map(({ at }) => at), onsetsIn(pianoLine, 0.06));
  for (const above of [line, pianoLine]) {
    for (const under of [chords, pianoChords]) {
      expect(level(above) - level(under)).toBeGreaterThan(6);
      expect(level(above) - level(under)).toBeLessThan(12);
    }
    expect(level(above) - level(bass)).toBeGreaterThan(2);
    expect(level(above) - level(bass)).toBeLessThan(8);
  }
  for (const wav of [line, pianoLine, chords, pianoChords, bass, all]) {
    expect(decibels(peakOf(wav.samples))).toBeLessThan(PEAK);
    expect(wav.samples.length / wav.rate).toBeGreaterThan(take!.length);
  }
});

/** Four bars in which chords and bass have much to do: none that the detector was set by. */
const BUSY = `phrase "Sluice"
  key     Eb major
  tempo   96 swing
  over    | Ebmaj7 Cm7 | Fm7 Bb7 | G7b9 Cm7 F9 Bb13 | Ebmaj7 / Ab7 / |
  line    | G4-Bb D C . | Ab-F C D . | B-D Eb-G A-C D-Bb | G ~ . Gb |
`;

test('each voice alone begins its notes when the take says, synthesized and on the piano', async () => {
  await bench.openText('busy.phrase', BUSY);
  await bench.goTo(5, 13);
  const score = await bench.score();
  await score.locator('h2', { hasText: 'Sluice' }).waitFor();
  await setLevels(score, 80);
  const [take] = modelled(BUSY);
  // The clicks of the count-in are louder than what they count in; a tenth of a second stays before the first note.
  const cut = take!.countIn - 0.1;
  for (const [voice, ...played] of [['line'], ['line', 'Line'], ['chords'], ['chords', 'Chords'], ['bass']] as const) {
    const wav = await heard(`-${voice}-alone-${played.length}`, [`${voice[0]!.toUpperCase()}${voice.slice(1)}`], played);
    const expected = [...new Set(take!.sounds.filter((sound) => sound.voice === voice).map(({ at }) => at - cut))];
    // Above a kilohertz a stroke is heard more clearly than what beats under it.
    const found = onsetsIn(heardFrom(wav, cut), 0.12, ABOVE_BASS);
    console.info(`${voice}${played.length > 0 ? ' on the piano' : ''}: ${expected.length} onsets, ${found.length} found`);
    expectEach(expected, found);
    // What was found is not so much that any time would do.
    const moved = expected.map((at) => at + MOVED);
    expect(moved.filter((at) => found.some((one) => Math.abs(one - at) <= CLOSE)).length).toBeLessThan(expected.length / 2);
  }
});

test('nothing is clipped with all levels at their highest, and nothing is softer than it has to be', async () => {
  const score = await bench.score();
  await setLevels(score, 100);
  await bench.openText('loud.phrase', LOUD);
  await bench.goTo(5, 14);
  await score.locator('h2', { hasText: 'Weir' }).waitFor();
  for (const piano of [[], ['Line', 'Chords']]) {
    const { samples, raw } = await heard(`${piano.length}`, ['Line', 'Chords', 'Bass', 'Click'], piano);
    console.info(`highest peak ${decibels(peakOf(samples)).toFixed(1)} dB of full scale`);
    expect(decibels(peakOf(samples))).toBeLessThan(PEAK);
    expect(decibels(peakOf(samples))).toBeGreaterThan(-12);
    // Two samples alike at the top would be a flat, cut one.
    const top = raw.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
    expect(raw.some((one, i) => Math.abs(one) === top && raw[i + 1] === one && raw[i + 2] === one)).toBe(false);
  }
});

const LESSON = `lesson "Two crossings"

${PHRASE}
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

test('what takes long tells how far it is and is called off by Cancel; nothing is written then', async () => {
  await bench.open('lanterns-on-the-quay.phrase');
  await ask();
  await choose('Keys', 'All twelve');
  await row('Write the WAV').click();
  await expect.poll(() => box().inputValue(), { timeout: 15_000 }).toMatch(/-play-along-twelve-keys-80\.wav$/);
  const path = await box().inputValue();
  const progress = bench.page.locator('.notification-toast', { hasText: 'Writing lanterns' });
  await expect.poll(async () => {
    if (await box().isVisible()) await box().press('Enter', { timeout: 2000 }).catch(() => undefined);
    return progress.count();
  }, { timeout: 20_000, interval: 500 }).toBe(1);
  await progress.filter({ hasText: /[1-9] of 10 phrases/ }).waitFor({ timeout: 120_000 });
  await bench.picture('sound-file-progress');
  await progress.locator('.monaco-button', { hasText: 'Cancel' }).click();
  await progress.waitFor({ state: 'detached' });
  expect(existsSync(path)).toBe(false);
});
