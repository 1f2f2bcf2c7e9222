/** Scores as different programs write them: each note and each chord of the lesson, one by one, is what was written down beforehand. */
import Fraction from 'fraction.js';
import { describe, expect, test } from 'vitest';
import { importMusicXml } from '../../../server/src/imports/import';
import { openSnapshot } from '../../../server/src/model/snapshot';
import { readChord } from '../../../server/src/theory/chord';
import { formatPitch } from '../../../server/src/theory/pitch';
import { rows } from './scores';
import { SCORES, type WrittenScore } from './written-scores';

/** `0 C4 1`: onset, pitch, length. */
function written(notes: string): string[] {
  let at = new Fraction(0);
  return notes.split(/[ |]+/).flatMap((word) => {
    const [pitch, length = '1'] = word.split(':');
    const sound = pitch === 'r' ? [] : [`${at.toFraction()} ${pitch} ${new Fraction(length).toFraction()}`];
    at = at.add(length);
    return sound;
  });
}

interface Heard {
  readonly notes: readonly string[];
  readonly chords: readonly string[];
}

/** The phrases of a lesson one after another, each from its pickup on. */
function heard(text: string): Heard {
  let at = new Fraction(0);
  const notes: string[] = [];
  const chords: string[] = [];
  let standing = '';
  for (const { phrase } of openSnapshot('', 1, text).phrases) {
    const start = at.sub(new Fraction(phrase.bars[0]!.onset.toFraction()));
    for (const { onset, duration, pitch } of phrase.notes)
      notes.push(`${start.add(new Fraction(onset.toFraction())).toFraction()} ${formatPitch(pitch)} ${duration.toFraction()}`);
    for (const { onset, symbol } of phrase.spans) {
      const chord = `${start.add(new Fraction(onset.toFraction())).toFraction()} ${meant(symbol)}`;
      if (meant(symbol) !== standing) chords.push(chord);
      standing = meant(symbol);
    }
    at = phrase.bars.reduce((sum, { length }) => sum.add(length), at);
  }
  return { notes, chords };
}

/** A symbol by its tones, for one chord may be written in several ways. */
function meant(symbol: string): string {
  const [, name, bass = ''] = /^(.*?)(\/[A-G][b#]?)?$/.exec(symbol)!;
  const chord = readChord(name!);
  if (!('tones' in chord)) return symbol;
  const root = /^[A-G][b#]?/.exec(symbol)![0];
  return `${root} ${chord.tones
    .map(({ figure: { number, alter } }) => `${alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)}${number}`)
    .sort()
    .join(' ')}${bass}`;
}

describe('scores as different programs write them', () => {
  test('there are thirty and more', () => expect(SCORES.length).toBeGreaterThanOrEqual(30));

  test.each(SCORES.map((score): [string, WrittenScore] => [score.what, score]))(
    '%s',
    (_, { bytes, options, notes, chords = '', keys, meters, parts, told = [] }) => {
      const { text, report } = importMusicXml(bytes, 'reeds', options ?? {});
      const found = heard(text);
      expect(found.notes, text).toEqual(written(notes));
      let standing = '';
      const expected = chords
        .split(', ')
        .filter((one) => one !== '')
        .flatMap((one) => {
          const [at, symbol] = one.split(' ');
          const [before, chord] = [standing, meant(symbol!)];
          standing = chord;
          return chord === before ? [] : [`${at} ${chord}`];
        });
      expect(found.chords, text).toEqual(expected);
      for (const [word, expectedRows] of [
        ['key', keys],
        ['meter', meters],
        ['part', parts],
      ] as const) {
        if (expectedRows !== undefined)
          expect(
            rows(text, word).filter((row, i, all) => row !== all[i - 1]),
            text,
          ).toEqual(expectedRows);
      }
      expect(report.map((line) => line.text)).toEqual(told);
    },
  );
});
