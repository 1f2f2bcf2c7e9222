/**
 * Keys of transposing parts. The rule "the fewest accidentals, with flats on a tie" is common practice; the table is worked out from
 * it here, by counting fifths. What a page must sound like is checked by the meaning that MusicXML 4.0 gives to `transpose` (W3C, elements
 * `diatonic` and `chromatic`): steps and half steps to be added to what is written, "for correct spelling of enharmonic transpositions".
 */
import { describe, expect, test } from 'vitest';
import { homeKey } from '../../server/src/analysis/keys';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { writeMusicXml, type MusicXmlOptions } from '../../server/src/exports/musicxml';
import { scoreAt } from '../../server/src/features/score';
import { picturesInKeys } from '../../server/src/features/score/in-keys';
import { openSnapshot } from '../../server/src/model/snapshot';
import { takeOf } from '../../server/src/performance/take';
import { PARTS } from '../../server/src/theory/part';

/** The fifteen key signatures, from seven flats to seven sharps. */
const MAJOR = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
const MINOR = ['Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#', 'G#', 'D#', 'A#'];
const LETTERS = 'CDEFGAB';
const SOUNDS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const WRITTEN: MusicXmlOptions = { pitch: 'written', degrees: false, words: 'sheet' };

/** By how many fifths a part's page lies above the sound: from the half steps alone, between -5 and 6. */
function fifthsUp(halfStepsUp: number): number {
  const fifths = (((7 * halfStepsUp) % 12) + 12) % 12;
  return fifths > 6 ? fifths - 12 : fifths;
}

/** The fewest accidentals of the same sound, flats on a tie. */
function fewest(fifths: number): number {
  const inReach = [fifths - 24, fifths - 12, fifths, fifths + 12, fifths + 24];
  return inReach.sort((a, b) => Math.abs(a) - Math.abs(b) || a - b)[0]!;
}

function readingOf(text: string): Reading {
  return readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY);
}

function number(xml: string, name: string): number {
  return Number(new RegExp(`<${name}>(-?\\d+)</${name}>`).exec(xml)?.[1] ?? 0);
}

interface Spelled {
  readonly step: number;
  readonly sound: number;
}

/** The notes of a document: letters and half steps, each counted from C0. */
function notesOf(xml: string): Spelled[] {
  return [...xml.matchAll(/<pitch>\s*<step>(\w)<\/step>(?:\s*<alter>(-?\d)<\/alter>)?\s*<octave>(\d)<\/octave>/g)].map(
    ([, step, alter, octave]) => ({
      step: LETTERS.indexOf(step!) + 7 * Number(octave),
      sound: SOUNDS[step!]! + Number(alter ?? 0) + 12 * Number(octave),
    }),
  );
}

/** What a document sounds like, spelled, by its own `transpose`. */
function sounding(xml: string): Spelled[] {
  const [diatonic, chromatic, octaves] = [number(xml, 'diatonic'), number(xml, 'chromatic'), number(xml, 'octave-change')];
  return notesOf(xml).map(({ step, sound }) => ({ step: step + diatonic + 7 * octaves, sound: sound + chromatic + 12 * octaves }));
}

const CASES = PARTS.flatMap(({ name, transpose }) =>
  (['major', 'minor'] as const).flatMap((mode) =>
    (mode === 'major' ? MAJOR : MINOR).map((tonic, i) => {
      const up = fifthsUp(-transpose.chromatic);
      // A part that no letter moves reads the key that the writer chose.
      return { name, key: `${tonic} ${mode}`, fifths: up === 0 ? i - 7 : fewest(i - 7 + up) };
    }),
  ),
);

test.each(CASES)('$key for $name', ({ name, key, fifths }) => {
  const numerals = key.endsWith('minor') ? 'iim7b5 V7b9 | i6' : 'ii7 V7 | Imaj7';
  const reading = readingOf(`phrase "A"\n  key ${key}\n  part ${name}\n  over | ${numerals} |\n  line | 1-3 5-7 1-3 5-7 | 1 3 5 1 |\n`);
  const xml = writeMusicXml([reading], 'A', WRITTEN);
  expect(number(xml, 'fifths')).toBe(fifths);
  const concert = notesOf(writeMusicXml([reading], 'A', { ...WRITTEN, pitch: 'concert' }));
  expect(sounding(xml)).toEqual(concert);
});

describe('what teachers expect to read [common practice]', () => {
  test.each([
    ['tenor-sax', 'B major', 'Db major'],
    ['tenor-sax', 'F# major', 'Ab major'],
    ['trumpet', 'E major', 'Gb major'],
    ['alto-sax', 'B major', 'Ab major'],
    ['alto-sax', 'E major', 'Db major'],
    ['clarinet', 'C# minor', 'Eb minor'],
    ['tenor-sax', 'Ab major', 'Bb major'],
    ['alto-sax', 'Db major', 'Bb major'],
  ])('%s, concert %s: %s in the heading', (part, key, read) => {
    const { phrases } = scoreAt(openSnapshot('', 1, `phrase "A"\n  key ${key}\n  part ${part}\n  line | C5 ~ ~ ~ |\n`), 5, DEFAULT_THEORY, {
      scope: 'phrase',
      pitch: 'written',
    });
    expect(phrases[0]!.heading).toContain(`${key} (written in ${read})`);
  });

  test('a phrase without a key is spelled by the one its chords tell: chords and notes', () => {
    const reading = readingOf('phrase "A"\n  part tenor-sax\n  over | C#m7 F#7 | Bmaj7 |\n  line | C#4 E G# B | D# ~ ~ ~ |\n');
    expect(homeKey(reading)?.tonic).toEqual({ letter: 'B', alter: 0 });
    const xml = writeMusicXml([reading], 'A', WRITTEN);
    const roots = [...xml.matchAll(/<root-step>(\w)<\/root-step>\s*<root-alter>(-?\d)/g)].map(([, step, alter]) => `${step}${alter}`);
    expect(roots).toEqual(['E-1', 'A-1', 'D-1']);
    expect(sounding(xml)).toEqual(notesOf(writeMusicXml([reading], 'A', { ...WRITTEN, pitch: 'concert' })));
  });

  test('practised through the keys, each pass is read in its fewest accidentals', () => {
    const reading = readingOf('phrase "A"\n  key C major\n  part alto-sax\n  over | Dm7 G7 | Cmaj7 |\n  line | D4 F A B | E ~ ~ ~ |\n');
    const take = takeOf(reading, { stretch: null, tempo: null, ratio: null, countIn: 0, practice: { kind: 'keys', order: 'cycle' } });
    const fifths = picturesInKeys(reading, take, 'written').map(({ musicXml }) => number(musicXml, 'fifths'));
    // Concert C F Bb Eb Ab Db Gb B E A D G.
    expect(fifths).toEqual([3, 2, 1, 0, -1, -2, -3, -4, -5, -6, 5, 4]);
  });
});
