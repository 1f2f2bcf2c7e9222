/** What the first sentence of a walk-through says of single chords and of the whole line. The facts are common practice. */
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../server/src/analysis/types';
import { oneLine } from '../../server/src/explain/one-line';
import { walkthrough } from '../../server/src/explain/walkthrough';
import { readingOf } from './called-help';

function setting(key: string, over: string, line: string): string {
  return walkthrough(readingOf(`key ${key}\n  over ${over}`, line)).setting;
}

test.each([
  [
    'suspended chords on several roots',
    'C major',
    '| D7sus4 | G7sus4 | Cmaj7 |',
    '| A4-C D-G E ~ | D-C A-F D ~ | E ~ ~ . |',
    '; in the suspended chords the fourth takes the place of the third.',
  ],
  [
    'the minor iv of a major key',
    'F major',
    '| Fmaj7 | Bbm6 | Fmaj7 |',
    '| A4-C E-C A-G F-A | Db-Bb G-F Db ~ | C ~ ~ . |',
    '; Bbm6, the minor iv, is borrowed from F minor.',
  ],
  [
    'the third of IV that is the flat third of iv',
    'C major',
    '| Cmaj7 | Fmaj7 Fm6 | Cmaj7 |',
    '| G4-E G-B A-G E-G | A-C5 E-C Ab-C D-C | B4 ~ G . |',
    '; Fm6, the minor iv, is borrowed from C minor: A, the third, becomes Ab.',
  ],
  [
    'what a backdoor cadence is borrowed from',
    'G major',
    '| Cm7 | F7 | Gmaj7 |',
    '| G4-Eb C-Eb G-Bb A-G | F-G A-C Eb-D C-A | B ~ ~ . |',
    'over a backdoor cadence (iv–bVII7–I); Cm7 and F7 are borrowed from G minor.',
  ],
  [
    'a substitute in a turnaround',
    'Bb major',
    '| Dm7 Db7 | Cm7 B7 | Bb6 |',
    '| D4-F A-C Cb-Ab F-Db | C-Eb G-Bb A-F# D#-B | Bb ~ ~ . |',
    '; Db7 stands for G7 and B7 for F7: the third of each is the seventh of the chord that it stands for.',
  ],
  [
    'a substitute that comes twice',
    'F major',
    '| Gm7 Gb7 | Fmaj7 | Gm7 Gb7 | Fmaj7 |',
    '| D5-Bb G-F Fb-Db Bb-Ab | A ~ C . | D5-Bb G-F Fb-Db Bb-Ab | A ~ F . |',
    '; Gb7 stands for C7: the third of each is the seventh of the other.',
  ],
  [
    'a dominant on the flat sixth degree that goes to V',
    'D minor',
    '| Dm6 | Bb7 | A7b9 | Dm6 |',
    '| D4-F A-B A-F E-D | Bb4-D5 F-E D-Bb Ab-F | E-G Bb-C# Bb-G E-C# | D4 ~ . . |',
    '; Bb7 (bVI7) falls a half step to A7b9, the dominant.',
  ],
  [
    'a minor sixth chord as the home of a ii–V, though the same root is the next ii',
    'F major',
    '| Am7b5 D7b9 | Gm6 | Gm7 C7 | Fmaj7 |',
    '| G5-Eb C-A F#4-A C-Eb | D ~ E . | F-D Bb-G E-G Bb-C | A ~ . . |',
    'over a short ii–V–i in G minor (bars 1–2) and a short ii–V–I in F major (bars 3–4).',
  ],
  [
    'a substitute, by the dominant that it stands for',
    'F major',
    '| Gm7 Gb7 | Fmaj7 |',
    '| D5-Bb G-F Fb-Db Bb-Ab | A ~ C . |',
    '; Gb7 stands for C7: the third of each is the seventh of the other.',
  ],
  [
    'a dominant of another degree',
    'Eb major',
    '| Ebmaj7 C7alt | Fm7 Bb7 | Ebmaj7 |',
    '| G4-Bb D5-E Eb-Db Bb4-Ab | Ab-C5 Eb-D C-Bb Ab-F | G ~ . . |',
    '; C7alt is the dominant of Fm7.',
  ],
  [
    'a suspended chord',
    'Bb major',
    '| F7sus4 | F7 | Bbmaj7 |',
    '| F4-G Bb-C5 Eb-C Bb-G | A-C Eb-C A-F Eb-C | D ~ . . |',
    '; in F7sus4 the fourth, Bb, takes the place of the third, A, which comes with F7.',
  ],
  [
    'a suspended chord alone',
    'C major',
    '| G7sus4 | % |',
    '| G4-A C5-D F-D C-A | G ~ . . |',
    '; in G7sus4 the fourth, C, takes the place of the third, which the line leaves out.',
  ],
  [
    'the colour of two chords of one mode',
    'G minor',
    '| Gm7 C7 | Gm7 C7 |',
    '| G4-Bb D-F E-C Bb-G | A-Bb D-C E ~ |',
    'G dorian vamp (i–IV) (E, the sixth, is its colour)',
  ],
  [
    'a suspended chord with its third in the line',
    'C major',
    '| G7sus4 | Cmaj7 |',
    '| G4-A B-C5 D-C B-A | G ~ . . |',
    '; in G7sus4 the fourth, C, takes the place of the third.',
  ],
  [
    'a line hidden in the line',
    'G minor',
    '| Gm Gm(maj7) | Gm7 Gm6 |',
    '| G5-D Bb-D F#-D Bb-D | F-D Bb-D E ~ |',
    '; the top notes fall by half steps, G-F#-F-E.',
  ],
  [
    'a line hidden in what stands on beat 1',
    'A minor',
    '| Am | Am(maj7) | Am7 | Am6 |',
    '| A5 ~ E-C E-C | G#5 ~ E-C E-C | G5 ~ E-C E-C | F#5 ~ E ~ |',
    '; the top notes fall by half steps, A-G#-G-F#.',
  ],
  [
    'the guide tones of dominants that fall by fifths, though a bar comes back to its own',
    'F major',
    '| A7 | D7 | G7 | C7 | Fmaj7 |',
    '| C#5-E G-Bb A-G E-C# | C-D F#-A C-A F#-D | B4-D F-Ab G-F D-B | Bb-C E-G Bb-G E-C | A ~ ~ . |',
    '; the lowest notes fall by half steps, C#-C-B-Bb-A.',
  ],
  [
    'harmonic minor of a whole line',
    'G minor',
    '| Am7b5 D7b9 | Gm6 |',
    '| A4-C Eb-G F#-Eb D-C | Bb4-A G D ~ |',
    'over a short ii–V–i in minor, all in G harmonic minor.',
  ],
  [
    'melodic minor of a whole line',
    'D minor',
    '| Dm(maj7) | % |',
    '| D4-F A-C#5 E-D B-A | G4-B C#-E F-E A4 |',
    'over a minor vamp, all in D melodic minor.',
  ],
  [
    'melodic minor of a line that comes home',
    'E minor',
    '| B7 | Em6 |',
    '| B4-D# F#-A F#-D# C#-B | G4-B C#-E D#-E G5 |',
    'over a V–i in minor, all in E melodic minor.',
  ],
  [
    'a line of guide tones in two voices',
    'Bb major',
    '| Cm7 | F7 | Bbmaj7 |',
    '| Eb5 Bb4 | Eb5 A4 | D5 A4 |',
    'over a long ii–V–I in major; all notes of the line are guide tones, in two voices.',
  ],
  [
    'a line of guide tones in one voice',
    'C major',
    '| Em7 | A7 | Dm7 | G7 | Cmaj7 |',
    '| G4 ~ ~ ~ | G ~ ~ ~ | F ~ ~ ~ | F ~ ~ ~ | E ~ ~ . |',
    '; A7 is the dominant of Dm7; all notes of the line are guide tones.',
  ],
  [
    'guide tones on the strong beats of a line',
    'Bb major',
    '| Cm7 | F7 | Bbmaj7 |',
    '| Eb5-D C-D Bb4-C D-C | Eb-D C-Bb A-G F-G | D5-C Bb-C A ~ |',
    '; on its strong beats the line has guide tones.',
  ],
  [
    'a bebop scale of a whole line, with what its added note is for',
    'F major',
    '| C7 | % |',
    '| C5-B Bb-A G-F E-D | C-D E-G Bb ~ |',
    ', all in the C bebop dominant scale, where B, between C and Bb, keeps the chord tones on the beats.',
  ],
  [
    'a pentatonic of the key over changes',
    'G major',
    '| Gmaj7 | Cmaj7 |',
    '| D5-B A-G A-B D-E | B4-A G-E D ~ |',
    ', all in G major pentatonic.',
  ],
  [
    'a progression that comes twice',
    'F minor',
    '| Gm7b5 C7b9 | Fm6 | Gm7b5 C7b9 | Fm6 |',
    '| F5-Db Bb-G E-G Bb-Db | C ~ ~ . | F-Db Bb-G E-G Db-Bb | Ab ~ ~ . |',
    'over a short ii–V–i in minor (bars 1–2 and 3–4), all in F harmonic minor.',
  ],
  [
    'a ii–V whose dominant is borrowed',
    'E major',
    '| E7 | Bm7 E7b9 | A7 |',
    '| G4-G# B-C# D-C# B-G# | F#-A D-C# B-G# F-D | C# ~ E ~ |',
    'short ii–V in A major (bar 2)',
  ],
  [
    'many progressions by their kinds',
    'C major',
    '| Cmaj7 Eb7 | Abmaj7 B7 | Emaj7 G7 | Cmaj7 Eb7 | Abmaj7 B7 | Emaj7 |',
    '| C4-E G-E Bb4-G Eb-Db | C-Eb G-Eb D#-F# A-B | B-G# E-G# G-B D5-F | E5-C G4-E G-Bb Db5-Eb | C5-Ab Eb4-C D#-F# A-B | G# ~ ~ . |',
    'over V–I in Ab major (bars 1–2 and 4–5), E major (bars 2–3 and 5–6) and C major (bars 3–4).',
  ],
  [
    'those of minor keys apart from those of major ones',
    'D minor',
    '| Em7b5 A7b9 | Dm6 | Em7b5 A7b9 | Dm6 | Gm7 C7 | Fmaj7 | Gm7 C7 | Fmaj7 | Em7b5 A7b9 | Dm6 |',
    '| G4-Bb D-Bb A-G E-C# | D ~ ~ . | G4-Bb D-Bb A-G E-C# | F ~ ~ . | Bb4-D F-D E-C Bb-G | A ~ ~ . | D5-Bb G-F E-G Bb-G | F ~ ~ . | G4-Bb D-Bb A-G E-C# | D ~ ~ . |',
    'over ii–V–i in D minor (bars 1–2, 3–4 and 9–10) and ii–V–I in F major (bars 5–6 and 7–8).',
  ],
  [
    'a turnaround with the tonic that it leads to',
    'F major',
    '| Fmaj7 D7 | Gm7 C7 | Fmaj7 |',
    '| A4-C F-E D-C A-F# | G-Bb D-F E-C Bb-G | A ~ ~ . |',
    'over a turnaround (I–VI–ii–V–I);',
  ],
  [
    'two bars of I7 and two of IV7, which are no form',
    'C major',
    '| C7 | % | F7 | % |',
    '| E4-G Bb . A-G | C5 ~ . . | A-C Eb . D-C | A ~ . . |',
    '4 bars in C major, over I7 and IV7, as in a blues.',
  ],
  [
    'four bars that come back to I7',
    'G major',
    '| G7 | C7 | G7 | D7 |',
    '| B4-D F-D E-D B-G | E5-C Bb-G E ~ | D-F A-B D5 ~ | A ~ . . |',
    'over I7, IV7 and V7, as in a blues.',
  ],
  [
    'four bars of a blues with a ii–V',
    'F major',
    '| F7 | Bb7 | Gm7 C7 | F7 |',
    '| A4-C Eb-F Eb-C A-F | Ab-Bb D-F Ab-F D-Bb | Bb-D F-D E-C Bb-G | A4 ~ . . |',
    'over chords of a blues (bars 1–4) and a short ii–V–I in major (bars 3–4).',
  ],
  [
    'a blues of eight bars',
    'G major',
    '| G7 | % | C7 | % | G7 | D7 | G7 | % |',
    '| B4-D F-D E-D B-G | D ~ . . | E5-C Bb-G E ~ | E ~ . . | D-F A-B D5 ~ | A-C F#-A D ~ | B ~ . . | . . . . |',
    '8 bars in G major, over a blues.',
  ],
  [
    'diminished chords that pass, as many',
    'F major',
    '| Fmaj7 F#dim7 | Gm7 G#dim7 | Am7 |',
    '| A4-C5 F-E Eb-C A-F# | G4-A Bb-D5 F-D B-G# | A4 ~ ~ . |',
    'over passing diminished chords (bars 1–2 and 2–3).',
  ],
  [
    'no mode where its colour is one of half steps into chord tones',
    'C major',
    '| Cmaj7 | % |',
    '| B3-C D#-E F#-G A#-B | C ~ . . |',
    'over a major vamp.',
  ],
  ['a bar of I and IV', 'A major', '| A7 D7 | A7 |', '| A4-C5 C#-E F#-E D-C | C# A . . |', 'over a blues vamp (I–IV–I).'],
])('%s', (_, key, over, line, words) => expect(setting(key, over, line)).toContain(words));

test('modes that are written at all chords are named', () => {
  const line = '| D4-E F-A B ~ | A G F E | Eb-F Gb-Bb C5 ~ | Bb4 ~ ~ . |';
  expect(setting('D minor', '| Dm7:dorian | % | Ebm7:dorian | % |', line)).toContain('over D dorian–Eb dorian');
});

test('no key is heard in a phrase that only ends there', () => {
  const of = (over: string, line: string): string => walkthrough(readingOf(`over ${over}`, line)).setting;
  expect(
    of('| Ebm7:dorian | % | Bmaj7 | % | Dm7 G7 | Cmaj7 |', '| Gb4 Bb Db ~ | Eb ~ . . | D# F# A# ~ | B ~ . . | A4 F D-F B | C5 ~ . . |'),
  ).toBe('6 bars over a short ii–V–I in C major (bars 5–6).');
  expect(of('| Dm7 G7 | Cmaj7 | Cmaj7 A7b9 | Dm7 G7 | C6 |', '| A4 F D-F B | C5 ~ . . | E G Bb-G C# | D F B4 D5 | C ~ . . |')).toMatch(
    /^5 bars heard in C, over/,
  );
});

test('chords that are no progression are named where they are few, and else not spoken of', () => {
  const plain = (over: string, line: string): string => walkthrough(readingOf(`over ${over}`, line)).setting;
  expect(plain('| Dm7 | Ebm7 | Dm7 |', '| D4-F A-C5 D ~ | Bb-Gb Eb-Gb Bb ~ | A ~ . . |')).toBe('3 bars over Dm7–Ebm7–Dm7.');
  expect(plain('| Dm7 Ebm7 | Dm7 Bmaj7 | Abm7 |', '| D4-F A-C5 Bb Gb | A F D#-F# B | B ~ . . |')).toBe('3 bars.');
  expect(setting('C major', '| Am7 | Dm7 |', '| A4 C E G | F ~ ~ . |')).toContain('over vi–ii');
});

test.each([
  [
    'the dominant of the key',
    'C major',
    '| Dm7 | G7 | Cmaj7 |',
    '| D4-F A-C5 B-G F-D | G4-B D-F E-D B-G | E ~ . . |',
    /is the dominant of/,
  ],
  [
    'I7 that goes to IV7 in a blues',
    'F major',
    '| F7 | Bb7 | F7 | % |',
    '| A4-C5 Eb-C A-F Eb-C | D4 F Ab ~ | A C5 ~ . | F4 ~ . . |',
    /is the dominant of/,
  ],
  [
    'a dominant after which its own root is minor',
    'Bb major',
    '| Bb6 | Eb7 | Ebm7 Ab7 | Bb6 |',
    '| D5-F D-Bb F4 ~ | G-Bb Db5-Bb G4 ~ | Bb4-Gb Eb-Db C-Eb Gb-Ab | F ~ D . |',
    /is the dominant of/,
  ],
  [
    'a dominant of a home that is named',
    'C major',
    '| Gm7 C7 | Fmaj7 | Dm7 G7 | Cmaj7 |',
    '| Bb4-D5 F-D E-C Bb-G | A ~ C ~ | D4-F A-C5 B-G F-D | E ~ . . |',
    /is the dominant of/,
  ],
  [
    'bVI7 within a turnaround',
    'C minor',
    '| Cm7 | Ab7 | Dm7b5 G7 | Cm6 |',
    '| C5-Eb G-Eb C ~ | C-Ab Gb-Eb C ~ | F4-Ab C-Ab B-G F-D | Eb ~ . . |',
    /bVI7\)/,
  ],
  [
    'the third of IV that falls to that of iv at once',
    'C major',
    '| Cmaj7 | Fmaj7 Fm6 | Cmaj7 |',
    '| G4-E G-B A-G E-G | C5-E C-A Ab-C D-C | B4 ~ G . |',
    /becomes/,
  ],
  [
    'harmonic minor where the natural seventh comes, too',
    'G minor',
    '| Am7b5 D7b9 | Gm7 |',
    '| A4-C Eb-G F#-Eb D-C | Bb4-A G-F D ~ |',
    /harmonic minor/,
  ],
  [
    'harmonic minor where the sixth is not heard',
    'G minor',
    '| Am7b5 D7b9 | Gm6 |',
    '| A4-C G-Bb A-F# D-C | Bb4-A G D ~ |',
    /harmonic minor/,
  ],
  ['melodic minor where the seventh is not heard', 'C minor', '| Cm6 | % |', '| C4-Eb G-A G-F Eb-D | C-Eb A-G C ~ |', /melodic minor/],
  [
    'melodic minor over a chord that has the flat seventh',
    'C minor',
    '| Cm7 | Cm6 |',
    '| C5-B C-D Eb-D C-A | G-F Eb-D C ~ |',
    /all in C melodic minor/,
  ],
  [
    'guide tones where another note stands on a strong beat',
    'Bb major',
    '| Cm7 | F7 | Bbmaj7 |',
    '| Eb5-D C-D C-Bb D-C | Eb-D C-Bb A-G F-G | D5-C Bb-C A ~ |',
    /guide tones/,
  ],
  [
    'guide tones that leap over the changes',
    'C major',
    '| Dm7 G7 | Cmaj7 A7 | Dm7 |',
    '| C5-D F4-B C5 G-B | E4-G B C#5-E C# | F4 ~ ~ . |',
    /strong/,
  ],
  [
    'what a backdoor cadence is borrowed from, where its iv has another seventh',
    'G major',
    '| Cm(maj7) | F7 | Gmaj7 |',
    '| G4-Eb C-Eb G-B A-G | F-G A-C Eb-D C-A | B ~ ~ . |',
    /borrowed/,
  ],
  ['an arpeggio as a hidden line', 'C major', '| Cmaj7 | % |', '| C5-E4 B-E A-E G-E | C ~ . . |', /top notes/],
])('nothing of %s', (_, key, over, line, words) => expect(setting(key, over, line)).not.toMatch(words));

/** The first sentence over the chords alone: one note held all through. */
function overChords(key: string, over: string): string {
  return walkthrough(chordsOf(key, over)).setting;
}

function chordsOf(key: string, over: string): Reading {
  const bars = over.split('|').length;
  return readingOf(`key ${key}\n  over | ${over} |`, `| ${keyNote(key)}4 ~ ~ ~ ${'| ~ ~ ~ ~ '.repeat(bars - 1)}|`);
}

const keyNote = (key: string): string => key.split(' ')[0]!;

const A = 'Gmaj7 E7 | Am7 D7 | Bm7 E7 | Am7 D7 | Dm7 G7 | Cmaj7 F7';
const BRIDGE = 'B7 | % | E7 | % | A7 | % | D7 | %';
const TWELVE = 'D7 | G7 | D7 | % | G7 | % | D7 | % | A7 | G7 | D7 | A7';

describe('the changes of a long form', () => {
  test.each([
    [
      'two choruses of a blues',
      'D major',
      `${TWELVE} | ${TWELVE}`,
      '24 bars in D major, over two choruses of a blues (bars 1–12 and 13–24).',
    ],
    [
      'many choruses by all their bars',
      'D major',
      `${TWELVE} | ${TWELVE} | ${TWELVE} | ${TWELVE} | ${TWELVE}`,
      '60 bars in D major, over 5 choruses of a blues (bars 1–60).',
    ],
    [
      'a blues and a tag',
      'D major',
      `${TWELVE} | Em7 | A7 | D6 | D6`,
      '16 bars in D major, over a blues (bars 1–12) and a tag (ii–V–I, bars 13–16).',
    ],
    ['bars after a blues that are no tag', 'D major', `${TWELVE} | D7 | G7 | D7 | %`, '16 bars in D major, over a blues (bars 1–12).'],
    [
      'an AABA form, each section once',
      'G major',
      `${A} | Bm7 E7 | Am7 D7 | ${A} | Am7 D7 | G6 | ${BRIDGE} | ${A} | Am7 D7 | G6`,
      '32 bars in G major, over an AABA form: the A section has I–VI–ii–V (bars 1–2), iii–VI–ii–V (bars 3–4 and 7–8) and ii–V–I in C major (bars 5–6); the bridge a cycle of dominants (bars 17–24)',
    ],
    [
      'an ABAC form',
      'G major',
      'Gmaj7 | % | Am7 | D7 | Gmaj7 | % | Dm7 | G7 | Cmaj7 | % | Cm7 | F7 | Bm7 | E7 | Am7 | D7 | Gmaj7 | % | Am7 | D7 | Gmaj7 | % | Dm7 | G7 | Cmaj7 | C#dim7 | Gmaj7 | E7 | Am7 | D7 | Gmaj7 | %',
      '32 bars in G major, over an ABAC form: the A section has ii–V–I in G major (bars 3–6) and C major (bars 7–8); the B section the backdoor (iv–bVII7, bars 11–12) and iii–VI–ii–V (bars 13–16)',
    ],
    [
      'eight bars that come again with another close',
      'G major',
      `${A} | Bm7 E7 | Am7 D7 | ${A} | Am7 D7 | G6`,
      '16 bars in G major, over eight bars of chords that come again with another close in bars 9–16: I–VI–ii–V (bars 1–2), iii–VI–ii–V (bars 3–4 and 7–8) and ii–V–I in C major (bars 5–6)',
    ],
    [
      'what turns in the middle by its numerals, what leads back as a turnaround',
      'Ab major',
      'Abmaj7 | Fm7 | Bbm7 | Eb7 | Abmaj7 | Dbmaj7 | Cm7 F7 | Bbm7 Eb7',
      '8 bars in Ab major, over I–vi–ii–V–I (bars 1–5) and a turnaround (iii–VI–ii–V, bars 7–8)',
    ],
    [
      'ii–Vs by where they lead',
      'Bb major',
      'Bbmaj7 | Am7b5 D7 | Gm7 C7 | Fm7 Bb7 | Ebmaj7 | Ebm7 Ab7 | Dm7 | Dbm7 Gb7 | Cm7 | F7 | Bb6 G7 | Cm7 F7',
      '12 bars in Bb major, over a blues with substitutes (bars 1–12), ii–V to Gm7 (bar 2) and Fm7 (bar 3), a short ii–V–I in Eb major (bars 4–5), the backdoor (iv–bVII7, bar 6) and a ii–V a half step above the next (bar 8)',
    ],
    [
      'the same too often to be listed',
      'D minor',
      'Em7b5 A7 | Dm6 | Em7b5 A7 | Dm6 | Em7b5 A7 | Dm6 | Em7b5 A7 | Dm6 | Em7b5 A7 | Dm6',
      '10 bars in D minor, over ii–V–i in D minor (5 times)',
    ],
    [
      'the dominant of a minor iv',
      'B minor',
      'Bm6 | B7alt | Em7 | F#7 | Bm6',
      '5 bars in B minor, over a V–i in minor (bars 4–5); B7alt is the dominant of Em7.',
    ],
  ])('%s', (_, key, over, expected) => expect(overChords(key, over)).toContain(expected));

  test('a form by its chords needs the same chords: other ones are no AABA', () => {
    const other = A.replace('Am7 D7 | Bm7', 'Cmaj7 D7 | Bm7');
    expect(overChords('G major', `${A} | Am7 D7 | G6 | ${other} | Am7 D7 | G6 | ${BRIDGE} | ${A} | Am7 D7 | G6`)).not.toContain('AABA');
  });
});

describe('the line above a long phrase tells what fills most of it', () => {
  test.each([
    ['choruses', 'D major', `${TWELVE} | ${TWELVE}`, 'over two choruses of a blues'],
    ['an AABA form', 'G major', `${A} | Bm7 E7 | Am7 D7 | ${A} | Am7 D7 | G6 | ${BRIDGE} | ${A} | Am7 D7 | G6`, 'over an AABA form'],
    ['a cycle of dominants', 'G major', `${BRIDGE} | Am7 | D7 | Gmaj7 | %`, 'over a cycle of dominants'],
    ['what comes again and again', 'Ab major', 'Abmaj7 | Fm7 | Bbm7 | Eb7 | Abmaj7 | Fm7 | Bbm7 Eb7 | Ab6', 'over I–vi–ii–V'],
  ])('%s', (_, key, over, expected) => expect(oneLine(chordsOf(key, over), [])).toContain(expected));

  test('nothing where no progression fills half of it', () => {
    const over = 'Cmaj7 | Ebmaj7 | Cmaj7 | Ebmaj7 | Cmaj7 | Ebmaj7 | Cmaj7 | Dm7 G7 | Cmaj7';
    expect(oneLine(chordsOf('C major', over), [])).toContain('9 bars in C major:');
  });
});
