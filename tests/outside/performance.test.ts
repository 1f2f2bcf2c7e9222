/**
 * What sounds when, against another reader of the music: the engraving library verovio plays our MusicXML in straight time by the
 * tempo written there, and its account of starts, ends and MIDI numbers is compared with the take. It knows nothing of the model.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { writeMusicXml } from '../../server/src/exports/musicxml';
import { openSnapshot } from '../../server/src/model/snapshot';
import { takeOf } from '../../server/src/performance/take';
import { always, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from '../property/arbitrary';

const SAMPLES_FOLDER = resolve(import.meta.dirname, '..', '..', 'samples');
const SAMPLES = readdirSync(SAMPLES_FOLDER)
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => readFileSync(join(SAMPLES_FOLDER, file), 'utf8'));
/** Seconds: the library counts whole milliseconds, and two of them are compared. */
const ROUNDING = 0.002;

function readingsOf(text: string): Reading[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
}

/** Octaves beyond 9 cannot be said in MusicXML, nor played; random lines may climb there. */
const isPlayable = (text: string): boolean =>
  readingsOf(text).every(({ phrase }) => phrase.notes.every(({ midi }) => midi >= 24 && midi < 108));

/** A row that stands before the chords. */
const withRow = (text: string, row: string): string => text.replace(/^ {2}over /m, `  ${row}\n  over `);
const anyPhrase = fc
  .tuple(
    fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary),
    fc.option(fc.integer({ min: 20, max: 400 })),
    fc.constantFrom('', '', 'part alto-sax', 'part guitar', 'part bass'),
  )
  .map(([{ text }, tempo, part]) => [tempo === null ? '' : `tempo ${tempo}`, part].filter((row) => row !== '').reduce(withRow, text))
  .filter(isPlayable);

interface Moment {
  readonly tstamp: number;
  readonly on?: readonly string[];
  readonly off?: readonly string[];
}

interface Heard {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

describe('what verovio hears', () => {
  let toolkit: VerovioToolkit;
  beforeAll(async () => {
    toolkit = new VerovioToolkit(await createVerovioModule());
    toolkit.setOptions({ breaks: 'none', header: 'none', footer: 'none' });
  });

  /** The notes in order of the ids we gave, tied parts joined; seconds from the first bar, written pitches. */
  function heardOf(reading: Reading): Map<number, Heard> {
    expect(Boolean(toolkit.loadData(writeMusicXml([reading], '', { pitch: 'written', degrees: false, words: 'sheet' })))).toBe(true);
    const heard = new Map<number, Heard>();
    for (const { tstamp, on, off } of toolkit.renderToTimemap({ includeMeasures: false, includeRests: false }) as Moment[]) {
      for (const id of off ?? []) {
        const own = heard.get(noteOf(id));
        if (own !== undefined) heard.set(noteOf(id), { ...own, end: tstamp / 1000 });
      }
      for (const id of on ?? []) {
        const { pitch } = toolkit.getMIDIValuesForElement(id) as { pitch: number };
        if (!heard.has(noteOf(id))) heard.set(noteOf(id), { start: tstamp / 1000, end: tstamp / 1000, midi: pitch });
      }
    }
    return heard;
  }

  function noteOf(id: string): number {
    return Number(id.split('-')[2]);
  }

  function compare(reading: Reading): void {
    const { phrase } = reading;
    const heard = heardOf(reading);
    const line = takeOf(reading, { stretch: null, tempo: null, ratio: 1, countIn: 0, practice: { kind: 'plain' } }).sounds.filter(
      ({ voice }) => voice === 'line',
    );
    expect(heard.size, phrase.text).toBe(line.length);
    const { chromatic, octaves } = phrase.part.transpose;
    const [first, from] = [heard.get(0), line[0]];
    line.forEach(({ at, length, midi }, i) => {
      const note = phrase.notes[i]!;
      const { start, end, midi: written } = heard.get(i)!;
      // A short accent sounds for half of its written length, which is ours to say: the library plays marks as written.
      const sounding = note.marks.includes('short-accent') ? (end - start) / 2 : end - start;
      const place = `${phrase.text}\n${note.bar}.${note.beat}`;
      expect(
        Math.abs(at - from!.at - (start - first!.start)),
        `${place}: ours ${at - from!.at}, theirs ${start - first!.start}`,
      ).toBeLessThan(ROUNDING);
      expect(Math.abs(length - sounding), `${place}: ours ${length}, theirs ${sounding}`).toBeLessThan(ROUNDING);
      // The part's transposition takes the written pitch to the sounding one.
      expect(midi, place).toEqual([written + chromatic + 12 * octaves]);
    });
  }

  test('every phrase of the samples starts, ends and sounds alike', () => {
    for (const text of SAMPLES) for (const reading of readingsOf(text)) compare(reading);
  });

  test('random phrases start, end and sound alike', () => {
    always(
      fc.property(anyPhrase, (text) => readingsOf(text).forEach(compare)),
      { ...RUN, numRuns: 200 },
    );
  }, 120_000);

  test.each([
    ['half notes', 'meter 2/2; tempo 90; line | C4-D E-F | G ~ |'],
    ['dotted quarters', 'meter 6/8; tempo 90; line C4-D | E-F-G A | B ~-~-C |'],
    ['dotted eighths', 'meter 9/16; tempo 70; line | C4-D-E F G |'],
    ['eighths', 'meter 7/8; tempo 200; line D4 | C E F G-A B C D |'],
    ['a change to compound time', 'tempo 100; line | C4-D E F G |; meter 6/8; line | A-B-C D |; meter 4/4; line | E F G A |'],
    ['a change to half notes', 'tempo 100; line | C4-D E F G |; meter 2/2; line | A-B C |; meter 3/4; line | E F G |'],
    ['ghost notes and accents', 'tempo 100; line | (C4) D^ E> (F)^ | G-(A) B ~ . |'],
    ['a pickup before a later system', 'tempo 100; over | C6 |; over | F6 |; line G4-A | A F E D |'],
  ])('%s', (_, rows) => {
    for (const reading of readingsOf(
      `phrase "A"\n${rows
        .split(';')
        .map((row) => `  ${row.trim()}\n`)
        .join('')}`,
    ))
      compare(reading);
  });
});
