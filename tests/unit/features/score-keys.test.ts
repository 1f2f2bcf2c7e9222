/** The pictures of a phrase practised through the keys: the keys of the cycle of fifths, and the notes that sound. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../../server/src/analysis/read';
import type { Reading } from '../../../server/src/analysis/types';
import { picturesInKeys } from '../../../server/src/features/score/in-keys';
import { openSnapshot } from '../../../server/src/model/snapshot';
import { takeOf } from '../../../server/src/performance/take';
import type { Practice } from '../../../server/src/performance/types';

function readingOf(text: string): Reading {
  return readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY);
}

function takeIn(reading: Reading, practice: Practice) {
  return takeOf(reading, { stretch: null, tempo: null, ratio: null, countIn: 0, practice });
}

const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** The MIDI numbers of a document's notes; tied parts count once. */
function midiOf(xml: string): number[] {
  return [...xml.matchAll(/<note id="n-0-\d+">.*?<step>(\w)<\/step>(?:\s*<alter>(-?\d)<\/alter>)?\s*<octave>(\d)<\/octave>/gs)].map(
    ([, step, alter, octave]) => SEMITONES[step!]! + Number(alter ?? 0) + 12 * (Number(octave) + 1),
  );
}

const LINE = '  over | Gm7 C7 | Fmaj7 |\n  line | Bb4-A G-D E-C Bb-G | A ~ C5 . |\n';

test.each([
  ['cycle', '-1 -2 -3 -4 -5 -6 5 4 3 2 1 0'],
  ['half-steps', '-1 -6 1 -4 3 -2 5 0 -5 2 -3 4'],
] as const)('twelve keys by %s: key signatures [calculated], and every note as it sounds', (order, fifths) => {
  const reading = readingOf(`phrase "A"\n  key F major\n${LINE}`);
  const take = takeIn(reading, { kind: 'keys', order });
  const pictures = picturesInKeys(reading, take, 'written');
  expect(pictures.map(({ musicXml }) => /<fifths>(-?\d+)</.exec(musicXml)![1]).join(' ')).toBe(fifths);
  const written = reading.phrase.notes.map(({ midi }) => midi);
  pictures.forEach(({ musicXml }, i) => expect(midiOf(musicXml)).toEqual(written.map((midi) => midi + take.passes[i]!.shift)));
});

test('a minor key, a transposing part, and a phrase of no key sound as they are shown', () => {
  const minor = readingOf('phrase "A"\n  key A minor\n  over | Bm7b5 E7b9 | Am6 |\n  line | D5-B F-A G#-B D-F | E ~ C . |\n');
  const tenor = readingOf(`phrase "A"\n  key F major\n  part tenor-sax\n${LINE}`);
  const none = readingOf('phrase "A"\n  line | C4 E G# Bb |\n');
  for (const [reading, sounding] of [
    [minor, 0],
    [tenor, -14],
    [none, 0],
  ] as const) {
    const take = takeIn(reading, { kind: 'keys', order: 'cycle' });
    const written = reading.phrase.notes.map(({ midi }) => midi - sounding);
    picturesInKeys(reading, take, 'written').forEach(({ musicXml }, i) =>
      expect(midiOf(musicXml)).toEqual(written.map((midi) => midi + take.passes[i]!.shift)),
    );
  }
});

test('where all passes are in one key there is nothing else to show', () => {
  const reading = readingOf(`phrase "A"\n  key F major\n${LINE}`);
  expect(picturesInKeys(reading, takeIn(reading, { kind: 'faster', step: 5, top: 140 }), 'written')).toEqual([]);
});

test('the names of the notes follow the key that sounds, and say nothing of the key as written', () => {
  const reading = readingOf('phrase "A"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C5 B-G F-D | F ~ E . |\n');
  const [written, fourth] = picturesInKeys(reading, takeIn(reading, { kind: 'keys', order: 'cycle' }), 'written').map(
    ({ labels }) => labels,
  );
  expect(written![1]).toMatch(/^F 4, eighth, bar 1, the “and” of 1, minor third of Dm7, chord tone/);
  expect(fourth![1]).toMatch(/^B flat 4, eighth, bar 1, the “and” of 1, minor third of Gm7, chord tone/);
  expect(fourth![8]).toMatch(/^B flat 4, half, bar 2, beat 1, perfect eleventh of Fmaj7, avoid note/);
  for (const label of fourth!) expect(label).not.toMatch(/Cmaj7|Dm7/);
});
