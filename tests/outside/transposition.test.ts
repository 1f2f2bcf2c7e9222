/**
 * Written pitches of transposing parts against the published meaning of `transpose` (W3C MusicXML 4.0, elements `transpose`, `diatonic`,
 * `chromatic` and `octave-change`): `diatonic` and `chromatic` are "the number of pitch steps" and of half steps "needed to go from written
 * to sounding pitch", to which whole octaves of `octave-change` are added; that element "should not be present for intervals of less than
 * an octave". The document is read by a general XML parser (saxes), the way from what it writes to what the model sounds is measured by
 * tonal; none of our own transposing takes part.
 */
import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { Interval, Note } from 'tonal';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { writeMusicXml } from '../../server/src/exports/musicxml';
import { openSnapshot } from '../../server/src/model/snapshot';
import { PARTS } from '../../server/src/theory/part';
import { formatPitch } from '../../server/src/theory/pitch';
import type { PartName } from '../../server/src/theory/types';
import { always, lessonPhraseArbitrary, phraseArbitrary, RUN } from '../property/arbitrary';

interface Transpose {
  readonly diatonic: number;
  readonly chromatic: number;
  /** Null where the document has no such element. */
  readonly octaves: number | null;
}

/** A note that begins (not one that is tied to the one before), and the `transpose` that holds for it. */
interface WrittenNote {
  readonly written: string;
  readonly transpose: Transpose;
}

/** The notes of a document in its order. */
function notesIn(xml: string): WrittenNote[] {
  const notes: WrittenNote[] = [];
  const parser = new SaxesParser();
  let transpose: Transpose = { diatonic: 0, chromatic: 0, octaves: null };
  let texts: Record<string, string> = {};
  let isTied = false;
  let text = '';
  parser.on('opentag', ({ name, attributes }) => {
    text = '';
    if (name === 'note' || name === 'transpose') [texts, isTied] = [{}, false];
    if (name === 'tie' && (attributes as Record<string, string>)['type'] === 'stop') isTied = true;
  });
  parser.on('text', (more) => {
    text += more;
  });
  parser.on('closetag', ({ name }) => {
    texts[name] = text.trim();
    text = '';
    if (name === 'transpose')
      transpose = {
        diatonic: Number(texts['diatonic']),
        chromatic: Number(texts['chromatic']),
        octaves: texts['octave-change'] === undefined ? null : Number(texts['octave-change']),
      };
    const { step, alter = '0', octave } = texts;
    if (name === 'note' && step !== undefined && !isTied)
      notes.push({ written: `${step}${Number(alter) < 0 ? 'b'.repeat(-Number(alter)) : '#'.repeat(Number(alter))}${octave}`, transpose });
  });
  parser.write(xml).close();
  return notes;
}

/** From one note to another: letters and half steps, up or down. */
function between(from: string, to: string): { readonly letters: number; readonly halfSteps: number } {
  const { num, semitones } = Interval.get(Note.distance(from, to));
  return { letters: num! > 0 ? num! - 1 : num! + 1, halfSteps: semitones! };
}

function readingsOf(text: string): Reading[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
}

/** That the document, note by note, sounds as the model does, by its own `transpose`. */
function expectSound(text: string, isSpelled: (sounding: string) => boolean): number {
  const readings = readingsOf(text);
  const read = notesIn(writeMusicXml(readings, 'Lesson', { pitch: 'written', degrees: true, words: 'sheet' }));
  const sounding = readings.flatMap(({ phrase }) => phrase.notes.map(({ pitch }) => formatPitch(pitch)));
  expect(read.length, text).toBe(sounding.length);
  for (const [
    i,
    {
      written,
      transpose: { diatonic, chromatic, octaves },
    },
  ] of read.entries()) {
    const { letters, halfSteps } = between(written, sounding[i]!);
    expect(halfSteps, `${text}\n${written} sounds ${sounding[i]}`).toBe(chromatic + 12 * (octaves ?? 0));
    if (isSpelled(sounding[i]!)) expect(letters, `${text}\n${written} sounds ${sounding[i]}`).toBe(diatonic + 7 * (octaves ?? 0));
    // An octave is said as such, and nothing less is.
    expect(Math.abs(chromatic) < 12 && octaves !== 0, `${chromatic} and ${octaves}`).toBe(true);
  }
  return read.length;
}

const KEYS = ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb'].flatMap((tonic) => [
  `${tonic} major`,
  `${tonic === 'Db' ? 'C#' : tonic === 'Gb' ? 'F#' : tonic} minor`,
]);
const linesFor = (key: string, part: string): string =>
  `phrase "${key} ${part}"\n  key ${key}\n  part ${part}\n  over | ${key.endsWith('minor') ? 'iim7b5 V7b9 | i6' : 'ii7 V7 | Imaj7'} |\n  line | 1-3 5-7 b9-1 3-5 | 1-~ 3 5 ~ |\n`;

describe('written pitch and transpose make the sounding pitch', () => {
  test.each(PARTS.map(({ name }) => name))('%s, in every key', (part) => {
    for (const key of KEYS) expect(expectSound(linesFor(key, part), () => true)).toBeGreaterThan(8);
  });

  test('of each phrase of a lesson in which the parts change', () => {
    const parts = PARTS.map(({ name }) => name);
    expectSound([...parts, ...parts.toReversed()].map((part, i) => linesFor(KEYS[i % KEYS.length]!, part)).join('\n'), () => true);
  });

  test('random phrases for every part', () => {
    const music = fc.oneof(phraseArbitrary, lessonPhraseArbitrary).map(({ text }) => text);
    always(
      fc.property(music, fc.constantFrom(...PARTS), (text, { name }) => {
        const forPart = text.replace('  over ', `  part    ${name}\n  over `);
        // Octaves beyond 9 and below 0 cannot be said in MusicXML.
        fc.pre(readingsOf(forPart).every(({ phrase }) => phrase.notes.every(({ midi }) => midi >= 36 && midi < 96)));
        // A note that would need three accidentals on the page is written by another letter.
        expectSound(forPart, (sounding) => Note.get(sounding).acc.length < 1);
      }),
      { ...RUN, numRuns: 300 },
    );
  });
});

/** How written C5 sounds for each part: orchestration handbooks, from memory. */
const SOUNDS: Readonly<Record<PartName, string>> = {
  concert: 'C5',
  piano: 'C5',
  flute: 'C5',
  voice: 'C5',
  trombone: 'C5',
  clarinet: 'Bb4',
  'soprano-sax': 'Bb4',
  trumpet: 'Bb4',
  'alto-sax': 'Eb4',
  'tenor-sax': 'Bb3',
  'baritone-sax': 'Eb3',
  guitar: 'C4',
  bass: 'C4',
};

test.each(Object.entries(SOUNDS))('C5 as %s reads it sounds %s', (part, sounding) => {
  const [note] = notesIn(
    writeMusicXml(readingsOf(`phrase "A"\n  part ${part}\n  line | ${sounding} ~ ~ ~ |\n`), 'A', {
      pitch: 'written',
      degrees: false,
      words: 'sheet',
    }),
  );
  expect(note!.written).toBe('C5');
});
