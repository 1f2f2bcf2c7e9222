/** What the walk-through says of long lines: bars that come again, however far apart, the form, and the highest note. */
import { describe, expect, test } from 'vitest';
import { barParagraphs, walkthrough } from '../../server/src/explain/walkthrough';
import { readingOf } from './called-help';

const A = ['C4-E G-E C .', 'D4-F A ~ F', 'B4-G D . F', 'E4 ~ G .'];
const A_CLOSED = [...A.slice(0, 3), 'C4 ~ ~ .'];
const BRIDGE = ['A4-C5 E-C A .', 'F5-E D-C A ~', 'B4-D G5-D B .', 'F5-D B-G F4 D'];
const OTHER = ['G4 ~-A B .', 'C5-B A G4 ~', 'F4-A D5 ~ C', 'B4 ~ ~ .'];
const OF_A = ['Cmaj7', 'Dm7', 'G7', 'Cmaj7'];

function bars(...parts: readonly (readonly string[])[]): string {
  return `| ${parts.flat().join(' | ')} |`;
}

function told(over: string, line: string): { readonly setting: string; readonly bars: readonly string[] } {
  const { setting, telling } = walkthrough(readingOf(`key C major\n  over ${over}`, line));
  return { setting, bars: barParagraphs(telling) };
}

describe('bars that come again as they were', () => {
  test('are told once, all that go on together, with the bars that they are', () => {
    const { bars: said } = told(bars(OF_A, OF_A), bars(A, A_CLOSED));
    expect(said).toContain('Bars 5–7: Bars 1–3 come again.');
    expect(said.filter((one) => /^Bars? [5-8]/.test(one))).toEqual([
      'Bars 5–7: Bars 1–3 come again.',
      expect.stringMatching(/^Bar 8: Lands on C/),
    ]);
  });

  test.each([9, 12, 16])('however far apart: %i bars', (apart) => {
    const other = Array.from({ length: apart - 2 }, (_, i) => `${'CDEFGAB'[i % 7]!}4-${'EFGABCD'[i % 7]!} ${'GABCDEF'[(i * 3) % 7]!} . ~`);
    const first = ['C4-E G-E C .', 'D4-F A-F E D'];
    const over = bars(
      ['Cmaj7', 'Dm7'],
      other.map(() => 'Cmaj7'),
      ['Cmaj7', 'Dm7'],
    );
    const { bars: said } = told(over, bars(first, other, first));
    expect(said[said.length - 1]).toBe(`Bars ${apart + 1}–${apart + 2}: Bars 1–2 come again.`);
  });

  test('before what is moved: a riff that comes back over its chord is no bar moved down', () => {
    const { bars: said } = told(
      '| F7 | Bb7 | F7 | % | Bb7 | % | F7 |',
      '| F4 ~-Ab A . | D-C Bb . G | F4 ~-Ab A . | . Eb5-C A . | Bb4 ~-Db D . | D5 . C Bb | F4 ~-Ab A . |',
    );
    expect(said).toContain('Bar 5: The same a fourth higher than bar 3 over Bb7.');
    expect(said).toContain('Bar 7: The same as bar 1.');
  });

  test('not over other chords: there they are other degrees, and told as that', () => {
    const { bars: said } = told(bars(OF_A, ['Am7', 'Bm7b5', 'E7', 'Am7']), bars(A, A));
    expect(said.join(' ')).not.toContain('Bars 1–3 come again.');
    expect(said.join(' ')).not.toContain('Bars 1–4 come again.');
  });

  test('not bars that are all one bar: a riff struck again and again', () => {
    const riff = Array.from({ length: 6 }, () => 'C4-E G-E C .');
    const { bars: said } = told(bars(riff.map(() => 'C7')), bars(riff));
    expect(said.filter((one) => one.includes('come again'))).toEqual([]);
  });

  test('go on with a note changed, as the bars that followed them', () => {
    const { bars: said } = told(
      '| Ebmaj7 | Cm7 | Fm7 | Bb7 | Ebmaj7 | Eb7 |',
      '| G4 ~-Bb D5 | Eb-D C-Bb G ~ | Ab4-C5 Eb-C Ab F | D4-F Ab-C5 Bb ~ | G4 ~-Bb D5 | Eb-Db C-Bb G ~ |',
    );
    expect(said.slice(-2)).toEqual(['Bar 5: The same as bar 1.', 'Bar 6: The same as bar 2 over Eb7, with Db, the seventh, for D.']);
  });

  test('a third statement is told though its second bar is another', () => {
    const { bars: said } = told(
      '| Cmaj7 | % | Dm7 | % | Em7 | % |',
      '| E4-G B-D5 C-B . | A4 ~ G . | F4-A C5-E D-C . | B4 ~ A . | G4-B D5-F# E-D . | C5 A4 F D |',
    );
    expect(said.find((one) => one.startsWith('Bar 5'))).toMatch(/^Bar 5: The same a (?:diatonic )?step higher than bar 3/);
  });

  test('four bars that are moved are told at once', () => {
    const { bars: said } = told(
      '| Am7 | D7 | Gmaj7 | % | Cm7 | F7 | Bbmaj7 | % |',
      '| A4-C5 E-G F#-E D-C | D5-C A-F# D ~ | B4 ~ D5 . | B4-A G . ~ | C5-Eb G-Bb A-G F-Eb | F5-Eb C-A F ~ | D5 ~ F . | D5-C Bb . ~ |',
    );
    expect(said.slice(-1)).toEqual(['Bars 5–8: Bars 1–4 come again a third higher over Cm7, F7 and Bbmaj7.']);
  });

  test('a motif that is moved with a bar between', () => {
    const { bars: said } = told('| Dm7 | % | % | % |', '| D4-G A ~ . | . C5 A G | E4-A B ~ . | . F4 D ~ |');
    expect(said.find((one) => one.startsWith('Bar 3'))).toMatch(/^Bar 3: The same a step higher than bar 1: E-A-B/);
  });

  test('a motif that stands elsewhere in its bar, from the bar before', () => {
    const { bars: said } = told('| Fm6 | % | % |', '| C5-Db C-Ab . . | . C-Db C-Ab . | . . C-Db C-Ab |');
    expect(said.slice(1)).toEqual(['Bar 2: The same as bar 1, a beat later.', 'Bar 3: The same as bar 2, a beat later.']);
  });

  test('a figure that goes on in fourths is told from its last statement', () => {
    const { bars: said } = told(
      '| C#7 | % | F#7 | % | B7 | % | E7 | % |',
      '| E#4-G# B-C#-B G# . | B-A# G#-E# C# . | A#4-C# E-F#-E C# . | E-D# C#-A# F# . | D#-F# A-B-A F# . | A-G# F#-D# B . | G#4-B D-E-D B . | D-C B-G# F ~ |',
    );
    expect(said.find((one) => one.startsWith('Bar 7'))).toBe('Bar 7: The same a fourth higher than bar 5 over E7.');
  });
});

describe('the form', () => {
  test('AABA with its bridge, though an A ends otherwise', () => {
    const { setting } = told(bars(OF_A, OF_A, ['Am7', 'Dm7', 'G7', '%'], OF_A), bars(A, A_CLOSED, BRIDGE, A_CLOSED));
    expect(setting).toContain(
      ' In AABA form: the A of bars 1–4 comes again with another ending in bars 5–8 and 13–16; bars 9–12 are the bridge.',
    );
  });

  test('AABA in which one A ends otherwise', () => {
    const { setting } = told(bars(OF_A, OF_A, ['Am7', 'Dm7', 'G7', '%'], OF_A), bars(A, A, BRIDGE, A_CLOSED));
    expect(setting).toContain('comes again in bars 5–8 and 13–16 (with another ending); bars 9–12 are the bridge.');
  });

  test('ABAC', () => {
    const { setting } = told(bars(OF_A, ['Em7', 'Am7', 'Dm7', 'G7'], OF_A, ['Am7', 'Dm7', 'G7', '%']), bars(A, OTHER, A, BRIDGE));
    expect(setting).toContain(' In ABAC form: the A of bars 1–4 comes again in bars 9–12.');
  });

  test.each([
    ['where the third part is an A, too', [A, A, A, A]],
    ['where nothing comes again', [A, OTHER, BRIDGE, ['G4 . . .', 'A4 . . .', 'F4 . . .', 'E4 . . .']]],
    ['of other lengths', [A, A, BRIDGE]],
  ])('no form %s', (_, parts) => {
    const { setting } = told(bars(parts.flatMap(() => OF_A)), bars(...(parts as string[][])));
    expect(setting).not.toContain(' form');
  });
});

describe('the highest note', () => {
  test('with its bar, in the bridge', () => {
    const high = [BRIDGE[0]!, BRIDGE[1]!, 'B4-D G5-D B .', 'A5-D B-G F4 D'];
    const { setting } = told(bars(OF_A, OF_A, ['Am7', 'Dm7', 'G7', '%'], OF_A), bars(A, A_CLOSED, high, A_CLOSED));
    expect(setting).toMatch(/ The line is highest in bar 12, in the bridge: D6\.$/);
  });

  test('not in a pickup, which is no bar', () => {
    expect(told(bars(OF_A, OF_A), `A5-G ${bars(A, OTHER)}`).setting).not.toContain('highest');
  });

  test('not where it comes in more bars than one, and not in a few bars', () => {
    expect(told(bars(OF_A, OF_A), bars(A, A_CLOSED)).setting).not.toContain('highest');
    expect(told(bars(OF_A), bars(A)).setting).not.toContain('highest');
  });
});

describe('a rhythm that goes through the line', () => {
  const OVER = '| Cmaj7 | Dm7 | G7 | Cmaj7 |';

  test('with the bars that share it, and no more at each of them', () => {
    const { setting, bars: said } = told(OVER, '| E4 ~-G . B-A | F4 ~-A . C5-A | D4-E F-G A B | G4 ~-E . D-C |');
    expect(setting).toContain(' Bars 1, 2 and 4 share a rhythm.');
    expect(said.join(' ')).not.toContain('In the rhythm of');
  });

  test('bars that come again as they were are none of them', () => {
    const { setting } = told('| Cmaj7 | Dm7 | Cmaj7 | Dm7 |', '| E4 ~-G . B-A | F4 ~-A . C5-A | E4 ~-G . B-A | F4 ~-A . C5-A |');
    expect(setting).not.toContain('share a rhythm');
  });

  test('none that any line has', () => {
    const { setting } = told(OVER, '| C4-D E-F G-A B-C | D5-C B-A G-F E-D | G4-A B-C D-C B-G | E5 C G E |');
    expect(setting).not.toContain('share a rhythm');
  });
});
