/** The words in which notes are judged: each where it just holds, and where it just does not. */
import { describe, expect, test } from 'vitest';
import { anticipationOf } from '../../server/src/analysis/anticipation';
import { harmonicContext } from '../../server/src/analysis/harmonies';
import { placesOf } from '../../server/src/analysis/places';
import {
  connected,
  isBasicTone,
  isChordTone,
  isDominant,
  isHalfStep,
  isJoined,
  isLeap,
  isStep,
  nextOther,
  previousOther,
} from '../../server/src/analysis/vocabulary';
import { openSnapshot } from '../../server/src/model/snapshot';
import { readChord } from '../../server/src/theory/chord';
import { parseNoteName } from '../../server/src/theory/pitch';
import type { Chord } from '../../server/src/theory/types';

function lineOf(over: string, line: string, meter = '4/4') {
  const { phrase } = openSnapshot('file:///a.phrase', 1, `phrase "A"\n  meter ${meter}\n  over | ${over} |\n  line ${line}\n`).phrases[0]!;
  const context = harmonicContext(phrase);
  return { phrase, context, places: placesOf(phrase, context) };
}

const chord = (text: string): Chord => readChord(text) as Chord;
const name = (text: string) => parseNoteName(text)!;

describe('motion', () => {
  const at = (midi: number) => ({ midi });

  test('a step is one or two half steps, a leap is more, staying is neither', () => {
    expect([0, 1, 2, 3].map((size) => isStep(at(60), at(60 - size)))).toEqual([false, true, true, false]);
    expect([0, 1, 2, 3].map((size) => isLeap(at(60), at(60 + size)))).toEqual([false, false, false, true]);
    expect([0, 1, 2].map((size) => isHalfStep(at(60), at(60 + size)))).toEqual([false, true, false]);
  });
});

describe('connection', () => {
  test.each([
    ['4/4', '| C4-. D E F |', true],
    ['4/4', '| C4 . D E |', false],
    ['6/8', '| C4-.-. D-E-F |', true],
    ['6/8', '| C4 . | D E |', false],
  ])('in %s, %s: %s', (meter, line, is) => {
    const { phrase, places } = lineOf('Cmaj7 | Cmaj7', line, meter);
    expect(connected(phrase.notes[0]!, phrase.notes[1]!, places)).toBe(is);
  });

  test('the shortest rest keeps two notes from being joined, and a hold does not', () => {
    const {
      phrase: {
        notes: [c, d, e, f],
      },
    } = lineOf('Cmaj7', '| C4-. D ~-E F |');
    expect([isJoined(c!, d!), isJoined(d!, e!), isJoined(e!, f!), isJoined(d!, f!)]).toEqual([false, true, true, false]);
  });

  test('repeated notes count as one, and a rest of a beat parts', () => {
    const line = lineOf('Cmaj7 | Cmaj7', '| C4 D-D D E | . F F G |');
    const [c, d, , last, e, f, , g] = line.phrase.notes;
    expect(nextOther(d!, line)).toBe(e);
    expect(previousOther(last!, line)).toBe(c);
    expect(previousOther(c!, line)).toBeNull();
    expect(nextOther(e!, line)).toBeNull();
    expect(previousOther(f!, line)).toBeNull();
    expect(nextOther(f!, line)).toBe(g);
    expect(nextOther(g!, line)).toBeNull();
  });
});

describe('chords', () => {
  test('a tension written in the symbol is a chord tone and no basic tone; the bass is both', () => {
    expect(['C', 'Eb', 'G', 'Bb', 'D', 'A'].map((one) => isBasicTone(chord('Cm9'), name(one)))).toEqual([
      true,
      true,
      true,
      true,
      false,
      false,
    ]);
    expect(['D', 'A'].map((one) => isChordTone(chord('Cm9'), name(one)))).toEqual([true, false]);
    expect([isBasicTone(chord('C/D'), name('D')), isChordTone(chord('C/D'), name('D'))]).toEqual([true, true]);
    expect(isBasicTone(chord('C7sus'), name('F'))).toBe(true);
  });

  test('a dominant has a major third and a minor seventh', () => {
    expect(['C7', 'C13', 'C7alt', 'C+7', 'C7b5', 'Cmaj7', 'Cm7', 'C7sus', 'Cm7b5', 'C'].map((one) => isDominant(chord(one)))).toEqual([
      true,
      true,
      true,
      true,
      true,
      false,
      false,
      false,
      false,
      false,
    ]);
  });
});

describe('places', () => {
  test('strength falls from beat 1 over the middle and the other beats to what lies between', () => {
    const { phrase, places } = lineOf('Cmaj7', '| C4-D E F G |');
    expect(phrase.notes.map(({ onset }) => places.strengthAt(onset))).toEqual([3, 0, 1, 2, 1]);
    const change = lineOf('Cmaj7 / / F7', '| C4-D-E-F G A B |');
    expect(change.phrase.notes.map(({ onset }) => change.places.strengthAt(onset))).toEqual([3, -1, 0, -1, 1, 2, 2]);
  });

  test('the bar line of a pickup is that of a whole bar', () => {
    const { phrase, places } = lineOf('Cmaj7', 'G4 A-B | C5 ~ ~ ~ |');
    expect(phrase.notes.map(({ beat }) => beat)).toEqual(['3', '4', '4+1/2', '1']);
    expect(phrase.notes.map(({ onset }) => places.strengthAt(onset))).toEqual([2, 1, 0, 3]);
  });
});

describe('anticipation', () => {
  const how = (over: string, line: string): (string | null)[] => {
    const read = lineOf(over, line);
    return read.phrase.notes.map((note) => anticipationOf(note, read)?.how ?? null);
  };

  test('is held into the change, left in silence, or struck again; and nothing else', () => {
    expect(how('Dm7 | G7', '| D4 F A F-B | ~ D G . |')[4]).toBe('held');
    expect(how('Dm7 | G7', '| D4 F A F-B | . D G . |')[4]).toBe('left');
    expect(how('Dm7 | G7', '| D4 F A F-B | B D G . |')[4]).toBe('struck-again');
    expect(how('Dm7 | G7', '| D4 F A F-B | D F G . |')[4]).toBeNull();
    // F is a tone of both; C is none of the second; a strong place is no push.
    expect(how('Dm7 | G7', '| D4 F A A-F | ~ D G . |')[4]).toBeNull();
    expect(how('Dm7 | G7', '| D4 F A A-C | ~ D G . |')[4]).toBeNull();
    expect(how('Dm7 | G7', '| D4 F 2:B | 4:~ |').at(-1)).toBeNull();
  });
});
