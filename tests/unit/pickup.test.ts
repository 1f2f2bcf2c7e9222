/** A pickup before bar 1, and one that sounds over the chords of an earlier system. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { offersAt } from '../../server/src/assists/registry';
import { explainPhrase } from '../../server/src/explain/document';
import { writeMusicXml } from '../../server/src/exports/musicxml';
import { hoverAt } from '../../server/src/features/hover/index';
import { documentSymbols } from '../../server/src/features/symbols';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';

const LATE = 'key C major; over | Dm7 | G7 |; over | Cmaj7 | C6 |; line F4-D | E G C ~ | A G E . |; degrees b7-5 | 3 5 1 * | 6 5 3 |';

function opened(rows: string): Snapshot {
  return openSnapshot(
    'file:///a.phrase',
    1,
    `phrase "A"\n${rows
      .split(';')
      .map((row) => `  ${row.trim()}\n`)
      .join('')}`,
  );
}

function reading(rows: string): Reading {
  return readPhrase(opened(rows).phrases[0]!.phrase, DEFAULT_THEORY);
}

/** Bars as `number onset length`. */
const bars = (rows: string): string[] =>
  reading(rows).phrase.bars.map(({ number, onset, length }) => `${number} ${onset.toFraction()} ${length.toFraction()}`);
const notes = (rows: string): string[] => reading(rows).phrase.notes.map(({ bar, beat, onset }) => `${bar}.${beat} ${onset.toFraction()}`);
const rules = (rows: string): string[] => findingsOf(opened(rows), DEFAULT_THEORY).map(({ rule }) => rule);

test('before bar 1 is bar 0', () => {
  expect(bars('line F4-D | E G C ~ |')).toEqual(['0 -1 1', '1 0 4']);
  expect(notes('line F4-D | E G C ~ |').slice(0, 3)).toEqual(['0.4 -1', '0.4+1/2 -1/2', '1.1 0']);
  // An `over` row whose name cannot be read has no bars.
  expect(bars('over nothing; over | C |; line F4-D | E G C ~ |')).toEqual(['0 -1 1', '1 0 4']);
});

describe('over the chords of an earlier system', () => {
  test('is the end of the bar before, and bars count on', () => {
    expect(bars(LATE)).toEqual(['1 0 4', '2 4 4', '3 8 4', '4 12 4']);
    expect(notes(LATE).slice(0, 3)).toEqual(['2.4 7', '2.4+1/2 15/2', '3.1 8']);
  });

  test('is heard against the chord that sounds there, and numbered against it', () => {
    const { notes: heard, phrase } = reading(LATE);
    expect(heard.slice(0, 2).map(({ placement, pickup }) => [phrase.spans[placement!.span]!.symbol, pickup])).toEqual([
      ['G7', false],
      ['G7', false],
    ]);
    expect(phrase.figures.map(({ number, note }) => [number, note]).slice(0, 3)).toEqual([
      [7, 0],
      [5, 1],
      [3, 2],
    ]);
    expect(rules(LATE)).not.toContain('wrong-figure');
    // A row of figures that begins at the bar line leaves the pickup out.
    expect(
      reading(LATE.replace('b7-5 |', '|'))
        .phrase.figures.map(({ note }) => note)
        .slice(0, 2),
    ).toEqual([2, 3]);
  });

  test('is what the walk-through, a claim, a hover and the outline say', () => {
    expect(
      explainPhrase(reading(LATE))
        .notes.slice(0, 2)
        .map(({ bar, beat, onset, chord }) => [bar, beat, onset, chord]),
    ).toEqual([
      [2, '4', '7', 'G7'],
      [2, '4+1/2', '15/2', 'G7'],
    ]);
    expect(
      explainPhrase(reading(`${LATE}; claim lands 7 at 2.4; claim lands 3 at 0.4`)).claims.map(({ holds, because }) =>
        holds ? 'holds' : because,
      ),
    ).toEqual(['holds', expect.stringContaining('no bar 0')]);
    const snapshot = opened(LATE);
    expect(hoverAt(snapshot, snapshot.text.indexOf('F4-D'), DEFAULT_THEORY)!.markdown).toContain('Bar 2, beat 4');
    expect(documentSymbols(snapshot)[0]!.children.map(({ detail }) => detail)).toEqual(['', 'bars 3–4']);
  });

  test('follows a rest in its bar of MusicXML', () => {
    const xml = writeMusicXml([reading(LATE)], '', { pitch: 'concert', degrees: false, words: 'notes' });
    const measures = xml.split('<measure ').slice(1);
    expect(measures.map((measure) => /number="(\w+)"/.exec(measure)![1])).toEqual(['1', '2', '3', '4']);
    expect(xml).not.toContain('implicit');
    expect([...measures[1]!.matchAll(/<rest\/>|<step>(.)/g)].map(([, step]) => step ?? 'rest')).toEqual(['rest', 'F', 'D']);
  });

  test.each([
    [
      'in another meter, has the beats of the bar it sounds in',
      'meter 6/8; over | C6 |; meter 4/4; over | F6 |; line C4-D-E | F A C ~ |',
      ['1.2 3/2', '1.2+1/3 2', '1.2+2/3 5/2', '2.1 3'],
    ],
    ['that fills the bar before', 'meter 2/4; over | C6 |; meter 4/4; over | F6 |; line C4 D | F A C ~ |', ['1.1 0', '1.2 1', '2.1 2']],
    ['with nothing after it', 'over | C6 |; over | F6 |; line C4 |', ['1.4 3']],
    ['without an `over` of its own', 'over | C6 |; degrees | * |; meter 3/4; line C4 | F A C |', ['1.4 3', '2.1 4', '2.2 5', '2.3 6']],
  ])('%s', (_, rows, expected) => {
    expect(notes(rows).slice(0, expected.length)).toEqual(expected);
    expect(rules(rows)).not.toContain('bar-length');
  });

  test('longer than the bar before is an error, and cut off at the bar line', () => {
    const rows = 'meter 2/4; over | C6 |; meter 4/4; over | F6 |; line C4 D E | F A C ~ |';
    expect(
      findingsOf(opened(rows), DEFAULT_THEORY)
        .filter(({ rule }) => rule === 'bar-length')
        .map(({ message }) => message),
    ).toEqual([expect.stringMatching(/^Bar 1 holds 2 beats in 2\/4, and 3 are written/)]);
    expect(notes(rows).slice(0, 3)).toEqual(['1.1 0', '1.2 1', '2.1 2']);
  });

  test('as long as a bar is the first bar of its system, and is told which', () => {
    const rows = 'over | C6 |; over | F6 | C6 |; line C4 D E F | F A C ~ |';
    expect(bars(rows)).toEqual(['1 0 4', '2 4 4', '3 8 4']);
    expect(findingsOf(opened(rows), DEFAULT_THEORY).find(({ rule }) => rule === 'pickup-fills-bar')!.message).toContain(
      'so they are bar 2.',
    );
  });

  test('stays a pickup where a line is written anew', () => {
    const snapshot = opened('key C major; over | Dm7 | G7 |; over | Cmaj7 | C6 |; line F4-D | E-D E C ~ | E G E . |');
    const offers = offersAt(snapshot, { start: 2, end: 2, only: null }, DEFAULT_THEORY, (error) => {
      throw error;
    });
    const [edit] = offers.find(({ assist }) => assist === 'skeleton')!.edits();
    const after = openSnapshot('file:///a.phrase', 2, snapshot.text.slice(0, edit!.start) + edit!.text + snapshot.text.slice(edit!.end));
    expect(after.phrases[0]!.phrase.bars.map(({ number }) => number)).toEqual([1, 2, 3, 4]);
    expect(after.phrases[0]!.phrase.notes[0]!.onset.compare(4)).toBeGreaterThanOrEqual(0);
  });

  test('has its figures before the bar line where the degrees are written', () => {
    const snapshot = opened(LATE.replace(/; degrees.*/, ''));
    const offer = offersAt(snapshot, { start: 2, end: 2, only: null }, DEFAULT_THEORY, (error) => {
      throw error;
    }).find(({ assist }) => assist === 'write-degrees');
    expect(
      offer!
        .edits()
        .map(({ text }) => text)
        .join(''),
    ).toMatch(/degrees b7-5 \| 3 +5 1 \* \|/);
  });
});
