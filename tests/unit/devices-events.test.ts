/** What happens to a note in the harmony: what is told of it, and what is not. */
import { describe, expect, test } from 'vitest';
import { devicesOf } from '../../server/src/analysis/devices/read';
import type { DeviceKind } from '../../server/src/analysis/devices/table';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { deviceWords } from '../../server/src/explain/device-words';
import { tell } from '../../server/src/explain/telling/tell';
import { openSnapshot } from '../../server/src/model/snapshot';

interface Line {
  readonly over: string;
  readonly line: string;
  readonly rows?: string;
}

const C = '  key C major\n';

function readingOf({ over, line, rows = '' }: Line) {
  return readPhrase(openSnapshot('', 1, `phrase "A"\n${rows}  over ${over}\n  line ${line}\n`).phrases[0]!.phrase, DEFAULT_THEORY);
}

function words(kind: DeviceKind, line: Line): string[] {
  const reading = readingOf(line);
  return devicesOf(reading)
    .filter((device) => device.kind === kind)
    .map((device) => deviceWords(device, reading));
}

const said = (line: Line): string =>
  tell(readingOf(line))
    .map(({ text }) => text)
    .join(' ');

describe('a tension resolves', () => {
  test.each([
    [
      'the flat nine to the fifth of the next chord',
      '| G7 | Cmaj7 |',
      '| G4 B D5 Ab | G E C . |',
      'Ab, the flat nine of G7, falls to G, the fifth of Cmaj7',
    ],
    [
      'the flat thirteen to the ninth',
      '| G7 | Cmaj7 |',
      '| G4 B F Eb | D C E . |',
      'Eb, the flat thirteen of G7, falls to D, the ninth of Cmaj7',
    ],
    [
      'the flat thirteen spelled as a sharp',
      '| Bb7 | Ebmaj7 |',
      '| Bb4 D Ab F# | G Eb Bb . |',
      'F# leads by half step into G, the third of Ebmaj7',
    ],
    [
      'the sharp nine to the sixth',
      '| G7alt | Cm6 |',
      '| G4 B F Bb | A C Eb . |',
      'Bb, the sharp nine of G7alt, falls to A, the sixth of Cm6',
    ],
    [
      'after one note',
      '| G7 | Cmaj7 |',
      '| G4 B D5 Ab-F | G E C . |',
      'Ab, the flat nine of G7, falls by way of F to G, the fifth of Cmaj7',
    ],
    ['within its own chord', '| G7b9 | Cmaj7 |', '| D5 B Ab G | E ~ C . |', 'Ab, the flat nine of G7b9, falls to the root'],
  ])('%s', (_, over, line, wanted) => expect(words('tension-resolution', { over, line, rows: '' }).join('; ')).toContain(wanted));

  test.each([
    ['a natural nine', '| G7 | Cmaj7 |', '| G4 B D5 A | G E C . |'],
    ['by whole step', '| G7 | Cmaj7 |', '| G4 B F Eb | C G E . |'],
    ['into a chord that the dominant does not fall to', '| G7alt | Ebmaj7 |', '| G4 B F Ab | G Eb Bb . |'],
    ['over a minor chord', '| Cm7 | Fm7 |', '| C4 Eb G Ab | G F C . |'],
    ['the blue third over I7', '| C7 | F7 | C7 |', '| C4 G Eb-E G | F A C . | C ~ . . |'],
  ])('is not %s', (_, over, line) => expect(words('tension-resolution', { over, line })).toEqual([]));

  test('is said once, and is what a teacher points at', () => {
    const line = { over: '| G7 | Cmaj7 |', line: '| B3-D4 F4-Ab4 ~ ~ | G4 ~ E . |', rows: C };
    expect(said(line)).toContain('the flat nine falls to G, the fifth of Cmaj7');
    expect(said(line).match(/flat nine/g)).toHaveLength(1);
  });
});

describe('a leading tone', () => {
  test('rises to the root across the change', () =>
    expect(words('leading-tone', { over: '| G7 | Cmaj7 |', line: '| G4 D F B | C5 E G . |' })).toEqual([
      'B, the third of G7, leads up to C, the root of Cmaj7',
    ]));
  test.each([
    ['within a chord', '| Cmaj7 |', '| G4 B C E |'],
    ['over a chord that goes elsewhere', '| G7 | Am7 |', '| G4 D F B | C5 E A . |'],
    ['an octave away', '| G7 | Cmaj7 |', '| G4 D F B | C4 E G . |'],
  ])('is not %s', (_, over, line) => expect(words('leading-tone', { over, line })).toEqual([]));
});

describe('a common tone', () => {
  test.each([
    ['struck again', '| Dm7 | G7 |', '| D5 A C F | F D B . |'],
    ['held', '| Dm7 | G7 |', '| D5 A C F | ~ D B . |'],
  ])('%s: the third becomes the seventh', (_, over, line) =>
    expect(words('common-tone', { over, line })).toEqual(['the F stays: the third of Dm7 becomes the seventh of G7']),
  );
  test.each([
    ['a suspension', '| Dm7 | G7 |', '| A4 F D5 C | ~ B ~ . |'],
    ['an anticipation', '| Dm7 | G7 |', '| A4 F D F-B | ~ D ~ . |'],
    ['after a rest', '| Dm7 | G7 |', '| D5 A F . | . F D . |'],
    ['within a chord', '| Dm7 | Dm7 |', '| D5 A C F | F D A . |'],
  ])('is not %s', (_, over, line) => expect(words('common-tone', { over, line })).toEqual([]));
});

describe('a blue third', () => {
  test('rises into the major third over I7', () => {
    expect(words('blue-third', { over: '| C7 | F7 | C7 |', line: '| C4 G Eb-E G | F A C . | C ~ . . |', rows: C })).toEqual([
      'the blue third, Eb, rises to the third, E',
    ]);
  });
  test.each([
    ['over V7', '| G7 | Cmaj7 |', '| D4 G Bb-B D | C5 ~ . . |'],
    ['over I maj7', '| Cmaj7 |', '| C4 G Eb-E G |'],
    ['that falls', '| C7 |', '| G4 E Eb-D C |'],
  ])('is not one %s', (_, over, line) => expect(words('blue-third', { over, line, rows: C })).toEqual([]));
});

describe('a note held over', () => {
  test.each([
    ['into a chord', '| Cmaj7 | Fmaj7 |', '| C4 E E G | ~ C A . |', 'G is held into Fmaj7 as its ninth'],
    ['into a bar', '| Cmaj7 | Cmaj7 |', '| C4 E G C-E | ~-G C E . |', 'E is held over the bar line'],
  ])('%s', (_, over, line, wanted) => expect(words('held-over', { over, line })).toEqual([wanted]));
  test.each([
    ['a suspension', '| Dm7 | G7 |', '| A4 F D5 C | ~ B ~ . |'],
    ['a common tone', '| Dm7 | G7 |', '| D5 A C F | ~ D B . |'],
    ['an anticipation', '| Dm7 | G7 |', '| A4 F D F-B | ~ D ~ . |'],
    ['a note that ends at the bar line', '| Cmaj7 | Cmaj7 |', '| C4 ~ ~ ~ | E ~ . . |'],
  ])('is not %s', (_, over, line) => expect(words('held-over', { over, line })).toEqual([]));
});

describe('an upper structure', () => {
  test.each([
    ['D major over C7', '| C7#11 |', '| C5 D-F# A-~ G |', 'D-F#-A is a D major triad over C7#11 (9-#11-13)'],
    ['Ab major over C7alt', '| C7alt |', '| E4 Eb-Ab C-~ E |', 'is a Ab major triad over C7alt'],
    ['D major over a lydian chord', '| Fmaj7 | Cmaj7 |', '| F4 G-B D-~ C | B ~ . . |', 'G major triad over Fmaj7'],
  ])('%s', (_, over, line, wanted) =>
    expect(words('upper-structure', { over, line, rows: C }).join()).toContain(wanted.replace('is a Ab', 'is an Ab')),
  );
  test.each([
    ['the top of the chord itself', '| C7 |', '| E4 G-Bb D-~ C |'],
    ['with an avoid note', '| C7 |', '| E4 F-A C-~ G |'],
    ['over a minor chord', '| Dm7 |', '| D4 E-G B-~ A |'],
  ])('is not %s', (_, over, line) => expect(words('upper-structure', { over, line })).toEqual([]));
});

describe('a superimposed pentatonic', () => {
  test.each([
    ['of the fifth over maj7', '| Cmaj7 |', '| G4-A B-D E-D B-G |', 'the whole line lays G major pentatonic over Cmaj7'],
    ['of the ninth over a minor seventh', '| Dm7 |', '| E4-G A-B D-B A-E |', 'the whole line lays E minor pentatonic over Dm7'],
  ])('%s', (_, over, line, wanted) => expect(words('superimposed-pentatonic', { over, line })).toEqual([wanted]));
  test.each([
    ['of the root', '| Cmaj7 |', '| C4-D E-G A-G E-C |'],
    ['of the relative', '| Dm7 |', '| F4-G A-C D-C A-F |'],
    ['with an avoid note', '| Cmaj7 |', '| F4-G A-C D-C A-F |'],
    ['of four pitches', '| Cmaj7 |', '| G4-A B-D B-A G-~ |'],
  ])('is not that %s', (_, over, line) => expect(words('superimposed-pentatonic', { over, line })).toEqual([]));
});

describe('a modal colour', () => {
  test.each([
    ['the dorian sixth in a vamp', '| Dm7 | Dm7 |', '| D4 A B A | F ~ D . |', 'B, the thirteenth, is the colour of dorian'],
    ['the lydian eleventh under a stated scale', '| Fmaj7:lydian |', '| F4 A B C |', 'B, the sharp eleven, is the colour of lydian'],
    ['the phrygian flat nine', '| Em7:phrygian |', '| E4 G F E |', 'F, the flat nine, is the colour of phrygian'],
  ])('%s', (_, over, line, wanted) => expect(words('modal-colour', { over, line })).toEqual([wanted]));
  test.each([
    ['on its way through changes', '| Dm7 | G7 |', '| D4 A B A | G ~ B . |'],
    ['in passing', '| Dm7 |', '| D4 A-B C A |'],
    ['of another degree', '| Dm7 |', '| D4 A E D |'],
  ])('is none %s', (_, over, line) => expect(words('modal-colour', { over, line })).toEqual([]));
});

describe('a side-slip', () => {
  test.each([
    ['up', '| Dm7 | Dm7 |', '| D4-A Gb-Ab Bb-Eb D ~ | F ~ . . |', 'Gb-Ab-Bb-Eb side-slips a half step up from Dm7 and back to D, the root'],
    [
      'down',
      '| Dm7 | Dm7 |',
      '| D4-A G#-F# E-C# D ~ | F ~ . . |',
      'G#-F#-E-C# side-slips a half step down from Dm7 and back to D, the root',
    ],
    [
      'either way',
      '| Dm7 | Dm7 |',
      '| D4-A C#-D# F#-G# A ~ | F ~ . . |',
      'C#-D#-F#-G# side-slips a half step away from Dm7 and back to A, the fifth',
    ],
    [
      'as far as the last note outside',
      '| Dm7 | Dm7 |',
      '| D4-A Gb-Ab Bb-Eb F ~ | A ~ . . |',
      'Gb-Ab-Bb-Eb side-slips a half step up from Dm7 and back to F, the third',
    ],
  ])('%s', (_, over, line, wanted) => expect(words('side-slip', { over, line }).join()).toContain(wanted));
  test('is told once where both neighbours of the scale hold its notes', () =>
    expect(words('side-slip', { over: '| Am7 | Am7 |', line: '| A4-B C-E F# ~ | Bb4-Eb5 F-Db Eb-C A4 ~ |' })).toHaveLength(1));
  test('excuses nothing where no figure beside it tells that it is meant', () => {
    const reading = readingOf({ over: '| Dm7 | Dm7 |', line: '| D4-A Gb Bb Eb-Ab | D ~ F ~ |' });
    expect(reading.notes.some(({ verdict }) => verdict?.level === 'warning')).toBe(true);
  });
  test.each([
    ['that does not come back', '| Dm7 |', '| D4-A Gb-Ab Bb-Eb ~ . |'],
    ['a run of half steps', '| Dm7 |', '| D4-D# E-F F#-G G#-A |'],
    ['two notes outside', '| Dm7 |', '| D4-A Gb-F Ab-C D ~ |'],
  ])('is none %s', (_, over, line) => expect(words('side-slip', { over, line })).toEqual([]));
});

describe('guide tones', () => {
  test.each([
    ['seven to three over a fifth', '| Dm7 | G7 |', '| D4-F A-C5 A C | B ~ ~ . |', 1],
    ['three to three over a half step', '| Db7 | Cmaj7 |', '| Db4 Ab Cb F | E ~ G . |', 1],
    ['the seventh stays over a half step', '| Db7 | Cmaj7 |', '| Db4 Ab F Cb5-Db5 | B4 ~ G . |', 1],
    [
      'no seventh to seventh by a whole step, which is the root of the next chord',
      '| Bbmaj7 | Am7b5 |',
      '| D5-Bb D-F A-F D-A | G ~ . . |',
      0,
    ],
    ['no third to seventh over a whole step', '| Am7 | G7 |', '| A4 E G C5 | F ~ G . |', 0],
    ['seven to three over a beat of rest', '| Dm7 | G7 |', '| D4-F A C5 . | B4 ~ ~ . |', 1],
    ['seven to three over two beats of rest', '| Dm7 | G7 |', '| D4-F A C5 . | . B4 ~ . |', 1],
    ['none over a longer rest', '| Dm7 | G7 |', '| D4-F C5 . . | . B4 ~ . |', 0],
    ['none over a rest and another note', '| Dm7 | G7 |', '| D4-F A C5 . | A4 B4 ~ . |', 0],
    ['none of a third over a rest', '| G7 | Cmaj7 |', '| G4-D5 A B . | C5 ~ ~ . |', 0],
  ])('%s', (_, over, line, count) => expect(words('guide-tone-resolution', { over, line })).toHaveLength(count));

  test('an enclosure tells its target once; the guide tone says what it was', () => {
    const told = said({ over: '| Dm7 | G7 |', line: '| D4 F A C-A | B D5 G4 . |', rows: C });
    expect(told).toContain('C and A enclose B, the third of G7; the C is the seventh of Dm7, resolving to B');
  });
});

describe('an escape tone', () => {
  test('is one where nothing resolves it', () =>
    expect(words('escape-tone', { over: '| Cmaj7 |', line: '| G4 C5-D \\G C |' })).toHaveLength(1));
  test('is none where a tension falls after the leap', () =>
    expect(words('escape-tone', { over: '| G7 | Cmaj7 |', line: '| B4 F4 G-Ab D | G E C . |' })).toEqual([]));
});

test('a note has one ornament at most', () => {
  const reading = readingOf({ over: '| G7 | Cmaj7 |', line: '| G4-Ab F#-G A-F# G-Ab | G E C . |' });
  const ornaments: readonly DeviceKind[] = [
    'enclosure',
    'approach',
    'passing-tone',
    'neighbour-tone',
    'escape-tone',
    'appoggiatura',
    'double-chromatic',
  ];
  const notes = devicesOf(reading)
    .filter(({ kind }) => ornaments.includes(kind))
    .flatMap((device) => device.notes);
  expect(new Set(notes).size).toBe(notes.length);
});

// An appoggiatura leans on a chord that sounds (OMT: it is accented against the harmony).
test('two eighths of a pickup are no appoggiatura, the same two in the bar are', () => {
  expect(words('appoggiatura', { over: '| Am7 |', line: 'B4-A | E4 A C5 E |' })).toEqual([]);
  expect(words('appoggiatura', { over: '| Am7 | Am7 |', line: '| E4 . B4-A C5 | E ~ ~ ~ |' })).toHaveLength(1);
});
