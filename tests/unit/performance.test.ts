/**
 * What sounds when. Seconds are calculated by hand, here beside each value; voicings and the ratio's bounds are common practice or from
 * memory where that is said.
 */
import { Fraction } from '../../server/src/model/fraction';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { LAY_BACK } from '../../server/src/performance/line';
import { clockOf, quartersOf, ratioAt } from '../../server/src/performance/swing';
import { takeOf } from '../../server/src/performance/take';
import type { Sound, Take, TakeOptions, Voice } from '../../server/src/performance/types';
import { voicedTones } from '../../server/src/performance/voicings';
import { readChord } from '../../server/src/theory/chord';
import { formatFigure } from '../../server/src/theory/figure';

const PLAIN: TakeOptions = { stretch: null, tempo: null, ratio: null, countIn: 0, practice: { kind: 'plain' } };

function reading(rows: string) {
  return readPhrase(
    openSnapshot(
      'file:///a.phrase',
      1,
      `phrase "A"\n${rows
        .split(';')
        .map((row) => `  ${row.trim()}\n`)
        .join('')}`,
    ).phrases[0]!.phrase,
    DEFAULT_THEORY,
  );
}

function take(rows: string, options: Partial<TakeOptions> = {}): Take {
  return takeOf(reading(rows), { ...PLAIN, ...options });
}

function voice({ sounds }: Take, name: Voice): Sound[] {
  return sounds.filter((sound) => sound.voice === name);
}

function starts(made: Take, name: Voice = 'line'): number[] {
  return voice(made, name).map(({ at }) => at);
}

/** The notes of a voice in each of the twelve keys. */
function inTwelveKeys(key: string, changes: string, name: Voice): (readonly number[])[][] {
  const made = take(`key ${key}; over | ${changes} |`, { practice: { kind: 'keys', order: 'half-steps' } });
  expect(made.passes).toHaveLength(12);
  return made.passes.map(({ at, until }) =>
    voice(made, name)
      .filter((sound) => sound.at > at - 1e-9 && sound.at < until - 1e-9)
      .map(({ midi }) => midi),
  );
}

function near(found: readonly number[], expected: readonly number[]): void {
  expect(found.length).toBe(expected.length);
  found.forEach((value, i) => expect(value).toBeCloseTo(expected[i]!, 9));
}

/** Seconds of the written times, without laying back. */
function clockTimes(rows: string, times: readonly (readonly [number, number])[], ratio: number, tempo = 120): number[] {
  const clock = clockOf(quartersOf(reading(rows).phrase), tempo, ratio);
  return times.map(([n, d]) => clock(new Fraction(n, d)));
}

describe('the ratio by tempo', () => {
  // Calculated: ms a quarter / 100 - 1, held between 1 and 2.
  test.each([
    [200, 1],
    [250, 1.5],
    [300, 2],
    [100, 1],
    [1000, 2],
  ])('at %d ms a quarter is %d', (milliseconds, ratio) => {
    expect(ratioAt(milliseconds)).toBeCloseTo(ratio, 12);
  });

  // Calculated: 240 beats a minute are 250 ms a beat; a half note of 250 ms has quarters of 125 ms.
  test.each([
    ['tempo 240', 1.5],
    ['tempo 120', 2],
    ['tempo 300', 1],
    ['tempo 120 straight', 1],
    ['tempo 120 swing 3:2', 1.5],
    ['meter 2/2; tempo 240', 1],
    ['meter 2/2; tempo 120', 1.5],
  ])('of %s', (head, ratio) => {
    expect(take(`${head}; line | C4-D E |`).passes[0]!.ratio).toBeCloseTo(ratio, 12);
  });

  test('is what the listener asks for, within 1 and 4', () => {
    expect([0, 3, 9].map((ratio) => take('tempo 120 straight; line | C4-D E F G |', { ratio }).passes[0]!.ratio)).toEqual([1, 3, 4]);
  });
});

describe('swing', () => {
  // Calculated: a quarter is 0.5 s; 2:1 puts the half at 1/3 s. On-beat notes are late by LAY_BACK, offbeat ones are not.
  test('puts the second of two eighths at two thirds', () => {
    near(starts(take('line | C4-D E-F G A |')), [LAY_BACK, 1 / 3, 0.5 + LAY_BACK, 0.5 + 1 / 3, 1 + LAY_BACK, 1.5 + LAY_BACK]);
  });

  test('as written, 3:2', () => {
    near(starts(take('tempo 120 swing 3:2; line | C4-D E F G |')), [LAY_BACK, 0.3, 0.5 + LAY_BACK, 1 + LAY_BACK, 1.5 + LAY_BACK]);
  });

  test('leaves triplets, sixteenths and quarters over two beats alone', () => {
    near(
      clockTimes(
        'line | C4-D-E F-G-A-B C D |',
        [
          [1, 3],
          [2, 3],
          [5, 4],
          [3, 2],
          [7, 4],
        ],
        2,
      ),
      [1 / 6, 1 / 3, 5 / 8, 3 / 4, 7 / 8],
    );
    near(
      clockTimes(
        'line | C4-D-E F-G-A |',
        [
          [2, 3],
          [4, 3],
          [7, 2],
        ],
        2,
      ),
      [1 / 3, 2 / 3, 7 / 4],
    );
  });

  test('leaves compound meters alone, and does not lay back there', () => {
    // Calculated: a dotted quarter of 0.5 s has eighths of 1/6 s.
    near(
      starts(take('meter 6/8; line | C4-D-E F-G-A |')),
      [0, 1, 2, 3, 4, 5].map((eighth) => eighth / 6),
    );
  });

  test('swings eighths written over more than a beat, and straightens what is left of 7/8', () => {
    near(
      clockTimes(
        'line | 3:C4-D 1:E |',
        [
          [3, 2],
          [2, 1],
        ],
        2,
      ),
      [0.5 + 1 / 3, 1],
    );
    // Calculated: an eighth is the beat of 7/8, 0.5 s; the last stands alone.
    near(
      clockTimes(
        'meter 7/8; line | C4 D E F G A B |',
        [
          [1, 2],
          [1, 1],
          [5, 2],
          [3, 1],
          [13, 4],
        ],
        2,
      ),
      [2 / 3, 1, 2 + 2 / 3, 3, 3.25],
    );
  });

  test('counts a pickup back from bar 1', () => {
    // Calculated: an eighth before bar 1 is the short one and not on the beat: 1/6 s of a quarter of 0.5 s, 1/3 s of one of 1 s (7/8).
    near(starts(take('line .-D4 | C E F G |')).slice(0, 2), [1 / 3, 0.5 + LAY_BACK]);
    near(starts(take('meter 7/8; line D4 | C E F G A B C |', { ratio: 2 })).slice(0, 3), [0, 1 / 3 + LAY_BACK, 1]);
    near(starts(take('line C4-D | E F G A |')).slice(0, 3), [LAY_BACK, 1 / 3, 0.5 + LAY_BACK]);
  });

  test('carries the chords and the bass with it', () => {
    const made = take('over | Dm7 G7 |; line | D4-F A-C B-D F-G |');
    near(starts(made, 'chords'), [0, 1]);
    near(starts(made, 'bass'), [0, 1]);
  });
});

describe('a note', () => {
  test('sounds for its length, a short accent for half of it', () => {
    const line = voice(take('tempo 120 straight; line | C4 D^ E> (F) | G ~ ~ . |'), 'line');
    near(
      line.map(({ length }) => length),
      [0.5, 0.25, 0.5, 0.5, 1.5],
    );
    expect(line.map(({ velocity }) => velocity)).toEqual([0.7, 0.9, 0.9, 0.4, 0.7]);
    expect(line.map(({ midi }) => midi)).toEqual([[60], [62], [64], [65], [67]]);
  });

  test('never comes later than half of itself', () => {
    // Calculated: sixteenths of a sixteenth beat at 400 last 60/400/8 = 0.01875 s; half is less than the lay-back.
    const [first] = voice(take('tempo 400; meter 4/4; line | C4-D-E-F-G-A-B-C . . . |', { ratio: 2 }), 'line');
    expect(first!.at).toBeCloseTo(0.009375, 9);
    expect(first!.at + first!.length).toBeCloseTo(0.01875, 9);
  });

  test('moves the cursor, also where it is short', () => {
    const { cursor } = take('tempo 120 straight; line | C4^ D . E |');
    expect(cursor.map(({ note, pass }) => [note, pass])).toEqual([
      [0, 0],
      [1, 0],
      [2, 0],
    ]);
    near(
      cursor.flatMap(({ at, until }) => [at, until]),
      [0, 0.5, 0.5, 1, 1.5, 2],
    );
  });
});

describe('chords', () => {
  // Common practice: 3 and 7, and one colour; in a ii–V–I the 7 falls by step to the 3.
  test('lead the guide tones by step', () => {
    const [two, five, one] = voice(take('over | Dm7 | G7 | Cmaj7 |'), 'chords').map(({ midi }) => [...midi]);
    // Calculated from {F A C} nearest D4; each next one is the placement with the least motion.
    expect([two, five, one]).toEqual([
      [57, 60, 65],
      [59, 62, 65],
      [59, 64, 67],
    ]);
    expect(five).toContain(two!.find((note) => note % 12 === 0)! - 1);
    expect(one).toContain(five!.find((note) => note % 12 === 5)! - 1);
  });

  // Common practice, by the rule stated in voicings.ts.
  test.each([
    ['Dm7', 'b3 b7 5'],
    ['G7', '3 b7 5'],
    ['G7b9', '3 b7 b9'],
    ['G13', '3 b7 13'],
    ['G7#5', '3 b7 #5'],
    ['Cmaj7#11', '3 7 #11'],
    ['C6', '3 6 5'],
    ['C', '3 5 1'],
    ['Caug', '3 #5 1'],
    ['Bm7b5', 'b3 b5 b7'],
    ['Bdim7', 'b3 b5 bb7'],
    ['G7sus', '4 b7 5'],
    ['G9sus', '4 b7 9'],
    ['C5', '5 1'],
    ['C6/9', '3 6 9'],
    ['G7alt', '3 b7 b9'],
  ])('%s takes %s', (symbol, figures) => {
    const chord = readChord(symbol);
    expect(
      'tones' in chord
        ? voicedTones(chord)
            .map(({ figure }) => formatFigure(figure))
            .join(' ')
        : null,
    ).toBe(figures);
  });

  // Common practice: what two chords have in common stays where it is, and the rest moves by step.
  test.each([
    ['C major', 'Dm7 | G7 | Cmaj7'],
    ['C major', 'Dm7 G7 | Cmaj7'],
    ['C major', 'Dm7 | G7 | C6'],
    ['C minor', 'Dm7b5 | G7b9 | Cm6'],
    ['C minor', 'Dm7b5 G7b9 | Cm6'],
  ])('in %s hold the common tones of %s in all twelve keys', (key, changes) => {
    for (const chords of inTwelveKeys(key, changes, 'chords')) {
      chords.slice(1).forEach((notes, i) => {
        const classes = notes.map((note) => note % 12);
        expect(
          chords[i]!.filter((note) => classes.includes(note % 12) && !notes.includes(note)),
          `${key}: ${JSON.stringify(chords)}`,
        ).toEqual([]);
        notes.forEach((note, voiceOf) =>
          expect(Math.abs(note - chords[i]![voiceOf]!), `${key}: ${JSON.stringify(chords)}`).toBeLessThanOrEqual(4),
        );
      });
    }
  });

  // Common practice: a half step on top smudges the highest note. Most of these have two tones a half step apart; each comes from nothing and after another chord.
  test('have no half step between their two top notes, in all twelve keys', () => {
    const symbols = [
      'm7',
      'm9',
      'm11',
      'm13',
      'm(maj9)',
      'm6/9',
      'm7b5',
      'dim7',
      '7',
      '7#9',
      '7+9',
      '13#9',
      '7b9',
      '7alt',
      '13',
      '13sus',
      '7sus',
      'maj7',
      'maj9',
      'maj7#11',
      '6/9',
      'madd9',
      'add11',
      '',
    ];
    const close = symbols
      .flatMap((quality) => inTwelveKeys('C major', `C${quality} | Dm9 | G7#9 | C${quality}`, 'chords').flat())
      .filter((notes) => notes[notes.length - 1]! - notes[notes.length - 2]! === 1);
    expect(close).toEqual([]);
  });

  test('are struck again at bar lines, and are silent over N.C.', () => {
    const made = take('tempo 120 straight; over | C6 | / | N.C. | F6 |');
    near(starts(made, 'chords'), [0, 2, 6]);
    near(
      voice(made, 'chords').map(({ length }) => length),
      [2, 2, 2],
    );
  });
});

describe('the bass', () => {
  test('has the root, and the fifth in the middle of a whole bar', () => {
    const made = take('tempo 120 straight; over | Dm7 | G7 Cmaj7/E |');
    near(starts(made, 'bass'), [0, 1, 2, 3]);
    // Calculated: D2 38 is nearer 42 than D3 50; A2 45 is 7 away and A1 33 is 5; then G1 would be below the range, so G2 43; E2 40.
    expect(voice(made, 'bass').map(({ midi }) => midi[0])).toEqual([38, 33, 43, 40]);
  });

  // Common practice of a walking register: the nearest root, never a leap wider than an octave.
  test.each([
    'Dm7 | G7 | Cmaj7',
    'Dm7b5 G7b9 | Cm6',
    'C7 | F#7 | B7 | F7',
    'Cmaj7 Eb7 | Abmaj7 B7 | Emaj7 G7 | Cmaj7',
    'C6/E F6/A | G7/B Bb7/D',
  ])('never leaps more than an octave over %s, in all twelve keys', (changes) => {
    for (const notes of inTwelveKeys('C major', changes, 'bass')) {
      const low = notes.map(([note]) => note!);
      expect(
        low.slice(1).filter((note, i) => Math.abs(note - low[i]!) > 12),
        JSON.stringify(low),
      ).toEqual([]);
    }
  });

  test('keeps to the root in three, and where the chord has no fifth', () => {
    near(starts(take('meter 3/4; over | C6 |'), 'bass'), [0]);
    near(starts(take('over | G7alt |'), 'bass'), [0]);
  });
});

describe('the click', () => {
  test('counts whole bars in, and marks beat 1', () => {
    const made = take('meter 3/4; line | C4 D E |', { countIn: 1 });
    near(starts(made, 'click'), [0, 0.5, 1, 1.5, 2, 2.5]);
    expect(voice(made, 'click').map(({ accent }) => accent)).toEqual([true, false, false, true, false, false]);
    expect([made.countIn, made.length, made.passes[0]!.at]).toEqual([1.5, 3, 1.5]);
  });

  test('counts up to bar 1 where there is a pickup, which sounds in it', () => {
    // Calculated: two bars are 4 s; the pickup of a quarter begins at 3.5 s. Eight clicks before bar 1, none twice.
    const made = take('tempo 120 straight; line G4 | C E G E |', { countIn: 2 });
    near(starts(made).slice(0, 2), [3.5, 4]);
    near(starts(made, 'click'), [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5]);
    expect(
      voice(made, 'click')
        .map(({ accent }, i) => (accent ? i : -1))
        .filter((i) => i >= 0),
    ).toEqual([0, 4, 8]);
    expect(made.countIn).toBeCloseTo(3.5, 9);
  });

  test('without a count-in only the pickup comes before bar 1, and again in later passes', () => {
    const made = take('tempo 120 straight; line G4 | C E G E |', { practice: { kind: 'keys', order: 'cycle' } });
    expect(made.countIn).toBe(0);
    near(starts(made).slice(0, 7), [0, 0.5, 1, 1.5, 2, 2.5, 3]);
    near(starts(made, 'click').slice(0, 7), [0, 0.5, 1, 1.5, 2, 2.5, 3]);
  });

  test('counts dotted quarters in 6/8, and takes 0 to 4 bars', () => {
    near(starts(take('meter 6/8; line | C4 D |', { countIn: 1.4 }), 'click'), [0, 0.5, 1, 1.5]);
    expect([-1, 9, Number.NaN].map((countIn) => take('line | C4 D E F |', { countIn }).countIn)).toEqual([0, 8, 0]);
  });

  test('follows a change of meter', () => {
    // Calculated: a tempo counts felt beats: four quarters, then two dotted quarters, all of 0.5 s.
    near(starts(take('line | C4 D E F |; meter 6/8; line | G-A-B C |'), 'click'), [0, 0.5, 1, 1.5, 2, 2.5]);
  });
});

describe('a stretch', () => {
  test('begins with what is held into it and cuts what goes past it', () => {
    const made = take('tempo 120 straight; over | C6 | F6 | C6 |; line | C4 D E F | ~ G A B | ~ C D E |', { stretch: { from: 4, to: 8 } });
    expect(voice(made, 'line').map(({ midi }) => midi[0])).toEqual([65, 67, 69, 71]);
    near(starts(made), [0, 0.5, 1, 1.5]);
    near(
      voice(made, 'line').map(({ length }) => length),
      [0.5, 0.5, 0.5, 0.5],
    );
    expect(made.cursor.map(({ note }) => note)).toEqual([3, 4, 5, 6]);
    expect(made.length).toBeCloseTo(2, 9);
    near(starts(made, 'chords'), [0]);
  });

  test('in the middle of a chord strikes it at its start', () => {
    const made = take('tempo 120 straight; over | C6 | F6 |; line | C4 D E F | A G F E |', { stretch: { from: 3, to: 5 }, countIn: 1 });
    near(starts(made, 'chords'), [2, 2.5]);
    near(starts(made, 'click'), [0, 0.5, 1, 1.5, 2, 2.5]);
  });

  test.each([
    [9, 4],
    [4, 4],
    [Number.NaN, 2],
    [-100, 100],
    [50, 60],
    [-Infinity, Infinity],
  ])('from %d to %d is the whole phrase', (from, to) => {
    const rows = 'over | C6 | F6 |; line G4 | C D E F | A G F E |';
    expect(take(rows, { stretch: { from, to } })).toEqual(take(rows));
  });
});

describe('passes', () => {
  const ROWS = 'key Bb major; part trumpet; over | Cm7 | F7 | Bbmaj7 |; line | C4-Eb G-Bb C G | A-C Eb-G F ~ | D ~ . . |';

  test('go faster up to the top exactly', () => {
    const tempos = (step: number, top: number): number[] =>
      take(`tempo 100; ${ROWS}`, { practice: { kind: 'faster', step, top } }).passes.map(({ tempo }) => tempo);
    expect(tempos(15, 140)).toEqual([100, 115, 130, 140]);
    expect(tempos(20, 140)).toEqual([100, 120, 140]);
    expect(tempos(20, 90)).toEqual([100]);
    expect(tempos(Number.NaN, Number.NaN)).toEqual([100]);
    const many = tempos(1, 900);
    expect([many.length, many[0], many[59]]).toEqual([60, 100, 400]);
  });

  test('have their own ratio and follow each other without a gap', () => {
    const made = take(ROWS, { tempo: 200, countIn: 1, practice: { kind: 'faster', step: 40, top: 300 } });
    near(
      made.passes.map(({ ratio }) => ratio),
      [2, 1.5, 600 / 280 - 1, 1],
    );
    // Calculated: a bar of count-in, then twelve beats a pass.
    near(
      made.passes.map(({ at }) => at),
      [1.2, 4.8, 7.8, 7.8 + 720 / 280],
    );
    expect(made.passes.slice(1).map(({ at }) => at)).toEqual(made.passes.slice(0, -1).map(({ until }) => until));
    expect(made.length).toBe(made.passes.at(-1)!.until);
  });

  test.each(['cycle', 'half-steps'] as const)('in keys go through all twelve: %s', (order) => {
    const { passes } = take(ROWS, { practice: { kind: 'keys', order } });
    expect(new Set(passes.map(({ tonic }) => tonic)).size).toBe(12);
    expect(passes.map(({ shift }) => (shift + 12) % 12)).toEqual(
      Array.from({ length: 12 }, (_, i) => (i * (order === 'cycle' ? 5 : 1)) % 12),
    );
    // From memory: fifths down from Bb are Eb, Ab, Db; half steps up are B, C, Db.
    expect(passes.slice(0, 4).map(({ tonic }) => tonic)).toEqual(order === 'cycle' ? ['Bb', 'Eb', 'Ab', 'Db'] : ['Bb', 'B', 'C', 'Db']);
    expect(passes.every(({ shift }) => shift > -12 && shift < 12)).toBe(true);
  });

  test('without a key shift all the same', () => {
    const made = take('line | C4 D E F |', { practice: { kind: 'keys', order: 'cycle' } });
    expect(made.passes.map(({ tonic }) => tonic)).toEqual(Array(12).fill(null));
    // Calculated: fourths up, the smaller way: 7 up is 5 down, and half an octave goes up.
    expect(made.passes.map(({ shift }) => shift)).toEqual([0, 5, -2, 3, -4, 1, 6, -1, 4, -3, 2, -5]);
  });

  test('stay in the range of the part', () => {
    // A trumpet sounds from E3 (52, from memory: written F#3) up: a line at the bottom only goes up.
    const { passes } = take('part trumpet; key C major; line | E3 F G E |', { practice: { kind: 'keys', order: 'half-steps' } });
    expect(passes.every(({ shift }) => shift >= 0)).toBe(true);
  });
});

test('a pickup before a later system sounds at the end of the bar of chords before it', () => {
  const made = take('tempo 120 straight; over | C6 |; over | F6 |; line G4 | A F E D |');
  near(starts(made), [1.5, 2, 2.5, 3, 3.5]);
  expect(made.length).toBeCloseTo(4, 9);
});

test('nothing written is nothing played', () => {
  expect(take('key C major')).toEqual({ sounds: [], cursor: [], passes: [], countIn: 0, length: 0 });
});
