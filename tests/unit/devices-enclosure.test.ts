/** Which notes enclose a target, and which only pass by it. */
import { describe, expect, test } from 'vitest';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { formatNoteName } from '../../server/src/theory/pitch';

/** `C-A B`: the wrapping notes and the target of each enclosure. */
function enclosures(over: string, line: string, meter = '4/4'): string[] {
  const { phrase } = openSnapshot('', 1, `phrase "A"\n  meter ${meter}\n  over ${over}\n  line ${line}\n`).phrases[0]!;
  const name = (note: number): string => formatNoteName(phrase.notes[note]!.pitch);
  return devicesOf(readPhrase(phrase, DEFAULT_THEORY))
    .filter(({ kind }) => kind === 'enclosure')
    .map(({ notes, target }) => `${notes.map(name).join('-')} ${name(target!)}`);
}

describe('enclosed', () => {
  test.each([
    ['tones of the chord before, foreign to the next', '| Dm7 | G7 |', '| D4 F A C-A | B ~ . . |', 'C-A B'],
    ['tones of an altered dominant', '| C7alt | Fm9 |', '| Bb4 E Bb Gb-E | F ~ . . |', 'Gb-E F'],
    ['the root of a maj7 by its leading tone and the note above', '| Cmaj7 |', '| E4 C5 B4-D C |', 'B-D C'],
    ['a target after an arpeggio that turns back', '| C7 | Fmaj7 |', '| E4-G4 Bb4-D5 B4 ~ | C5 ~ . . |', 'D-B C'],
    ['a third that leaps on from its target', '| G7 | Cmaj7 |', '| G4 B D F-D | E-C G ~ . |', 'F-D E'],
    ['three notes', '| Cmaj7 |', '| C4 G F#-F-D E |', 'F#-F-D E'],
    ['the root over the change, by its leading tone and the note above', '| G7 | Cmaj7 |', '| G4 A F B-D5 | C ~ . . |', 'B-D C'],
    ['what comes after a chromatic passing note', '| C7 | Fmaj7 |', '| E4 G C5-B4 Bb-G | A ~ . . |', 'Bb-G A'],
    ['off the beat, by notes foreign to the chord', '| C7 |', '| C5 G-F D#-E C |', 'F-D# E'],
  ])('%s', (_, over, line, wanted) => expect(enclosures(over, line)).toContain(wanted));

  test('in a compound meter, on its beats', () => {
    expect(enclosures('| Cmaj7 |', '| C4-F-D# E-~-~ |', '6/8')).toEqual(['F-D# E']);
  });
});

describe('not enclosed', () => {
  test.each([
    ['the ninth on top of an arpeggio steps down', '| Dm7 | G7 |', '| F4-A4 C5-E5 D5 ~ | B4 ~ . . |'],
    ['the same over the change', '| Dm7 | G7 |', '| . . F4-A4 C5-E5 | D5 ~ . . |'],
    ['the flat nine on top of an arpeggio falls', '| G7 |', '| B3-D4 F4-Ab4 G4 ~ |'],
    ['the eleventh on top of an arpeggio', '| Cm7 |', '| C4 G4-Bb4 D5-F5 Eb5 |'],
    ['the top of a minor arpeggio', '| Ebm7 | Ab7 |', '| . . F4-Ab4 C5-Eb5 | Db5 ~ . . |'],
    ['an arpeggio down to the third', '| Fmaj7 | G7 |', '| F5 . E C-A4 | B4 ~ . . |'],
    ['broken thirds', '| Cmaj7 |', '| E4-D F-E G-F E ~ |'],
    ['broken thirds from the root', '| Cmaj7 |', '| C4-E D-F E-G C ~ |'],
    ['two basic tones of the target’s chord', '| C7/D |', '| G4 Bb C-E D |'],
    ['one side only', '| Cmaj7 |', '| C4 G D-D# E |'],
    ['no basic tone to aim at', '| Cmaj7 |', '| C4 G E-C D |'],
    ['a whole step and more', '| Cmaj7 |', '| C4 E Bb-F# G |'],
    ['a rest of half a beat between the two', '| F7 | Bb7 |', '| F4-A C5-Eb C ~ | .-Ab4 Bb ~ . |'],
    ['a whole step on both sides, one of them foreign to the scale', '| B7 | Bbm7 |', '| F#4-A B-D#5 ~ B-D# | Db5 ~ . . |'],
    ['a tone of the target’s chord off the beat', '| Dm7 |', '| D4 A E-C ~-D |'],
  ])('%s', (_, over, line) => expect(enclosures(over, line)).toEqual([]));
});
