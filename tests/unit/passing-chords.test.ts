/** Chords on the way between two others, told where they stand, and once. What they are called is common practice. */
import { describe, expect, test } from 'vitest';
import { barParagraphs, walkthrough } from '../../server/src/explain/walkthrough';
import { readingOf } from './called-help';

function told(key: string, over: string, line: string): string {
  return barParagraphs(walkthrough(readingOf(`key ${key}\n  over ${over}`, line)).telling).join('\n');
}

const PASSING = 'is a passing diminished chord';

describe('a passing diminished chord', () => {
  const OVER = '| Em7 | A7 | Gmaj7 | G#dim7 | Dmaj7 | F#m7 Fdim7 | Em7 A7 | Dmaj7 |';
  const LINE =
    '| G4-B D-B G . | C#5-A G-E C# . | B4-D F#-D B . | B4-D F-D B . | A4-F# D-F# A . | A4-C# E-A Ab-D B-F | E4-G B-G C#-E G-E | D4 ~ ~ . |';

  test('is named where it stands, #iv° between IV and I', () => {
    expect(told('D major', OVER, LINE)).toMatch(new RegExp(`Bar 4: .*G#dim7 \\(#iv°\\) ${PASSING} between Gmaj7 and Dmaj7`));
  });

  test('is named though the first sentence has its numeral', () => {
    expect(told('D major', OVER, LINE)).toMatch(new RegExp(`Bar 6: .*Fdim7 \\(biii°\\) ${PASSING} between F#m7 and Em7`));
  });

  test('takes the third along: it does not resolve there', () => {
    const bar = told('D major', OVER, LINE)
      .split('\n')
      .find((text) => text.startsWith('Bar 6'))!;
    expect(bar).not.toContain('resolves');
    expect(bar).not.toContain('written');
  });

  test('says so of a tone that goes along right before it', () => {
    const over = '| Am7 | D7 | Bm7 | Bbdim7 | Am7 | D7 | Gmaj7 | % |';
    const line = '| A4-C E-C A . | F#4-A C-A F# . | D4-F# . A-F# D | C#4-E G . E-Db | C4-E G-E C . | F#4-A C-A F# . | G4 ~ ~ . | . . . . |';
    const lines = told('G major', over, line);
    expect(lines).toContain('D falls a half step to C#, as the bass does');
    expect(lines).not.toContain('resolves to');
  });

  test('is named once, however often it comes', () => {
    const text = told('D major', `${OVER} ${OVER.slice(2)}`, `${LINE} ${LINE.slice(2)}`);
    expect(text.split(`G#dim7 (#iv°) ${PASSING}`).length - 1).toBe(1);
  });

  test('is left to the first sentence where that names it', () => {
    const reading = readingOf('key F major\n  over | Fmaj7 F#dim7 | Gm7 |', '| A4-C E-C A-F# Eb-C | Bb4 ~ ~ . |');
    expect(walkthrough(reading).setting).toContain('passing diminished chord');
    expect(barParagraphs(walkthrough(reading).telling).join(' ')).not.toContain(PASSING);
  });

  test('is none where the bass leaps', () => {
    expect(
      told(
        'F major',
        '| Fmaj7 Bdim7 | Gm7 C7 | Fmaj7 | % | Gm7 | C7 | Fmaj7 | % |',
        `| A4-C E-C B-F D-B | Bb4 D E G | F4 ~ ~ . | . . . . | G4 Bb D . | E4 G Bb . | A4 ~ ~ . | . . . . |`,
      ),
    ).not.toContain(PASSING);
  });
});

describe('bVII7 after IV', () => {
  test.each([
    ['and before I', 'Abmaj7 Db7 | Ebmaj7', true],
    ['and before iii, which stands for I', 'Abmaj7 Db7 | Gm7', true],
    ['but before another chord', 'Abmaj7 Db7 | Cm7', false],
    ['after another chord', 'Fm7 Db7 | Ebmaj7', false],
  ])('%s', (_, over, isBackdoor) => {
    const text = told('Eb major', `| ${over} |`, '| C5-Eb G-Eb F-Db Cb-Ab | G4 ~ ~ . |');
    expect(/Db7 \(bVII7\)(?: is|,) the backdoor dominant/.test(text)).toBe(isBackdoor);
  });

  test('is no backdoor in a blues', () => {
    expect(told('Eb major', '| Eb7 | Ab7 Db7 | Eb7 | % |', '| G4 Bb Db . | C5-Eb G-Eb F-Db Cb-Ab | G4 ~ ~ . | . . . . |')).not.toContain(
      'backdoor',
    );
  });
});
