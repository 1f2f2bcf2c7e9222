/** What the walk-through says of a line, and what it does not. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { tell } from '../../server/src/explain/telling/tell';
import { openSnapshot } from '../../server/src/model/snapshot';
import { readingOf } from './called-help';

function told(key: string, over: string, line: string): string {
  return tell(readingOf(`key ${key}\n  over ${over}`, line))
    .map(({ text: words }) => words)
    .join(' ');
}

describe('is said', () => {
  test.each([
    [
      'an arpeggio with its figures, and the tension that resolves',
      'C minor',
      '| G7b9 | Cm6 |',
      '| B3-D F-Ab G ~ | Eb ~ ~ . |',
      'B-D-F-Ab is 3-5-b7-b9 of G7b9, a diminished seventh arpeggio; the flat nine falls to the root',
    ],
    [
      'a diminished seventh arpeggio by its name once',
      'C minor',
      '| G7b9 | Cm6 | C7b9 | Fm6 |',
      '| B4-D F-Ab G ~ | Eb ~ ~ . | Db5-Bb G-E F ~ | Ab4 ~ ~ . |',
      /3-5-b7-b9 of G7b9, a diminished seventh arpeggio; .*b9-b7-5-3 of C7b9(?!, a)/,
    ],
    [
      'no such name where the chord has it, or the root belongs to the arpeggio',
      'C minor',
      '| Bdim7 | G7b9 | Cm6 |',
      '| B4-D F-Ab B ~ | Ab-F D-B G ~ | Eb ~ ~ . |',
      /of Bdim7\. Ab-F-D-B-G falls b9-b7-5-3-1 of G7b9\./,
    ],
    [
      'sixteenths in two sentences, of the first two beats and of the others',
      'F major',
      '| Gm7 C7 | Fmaj7 |',
      '| G4-Bb-D-F Eb-D-Bb-D E4-G-Bb-Db5 C-Bb-G-Bb | A4 ~ . . |',
      /a third lower\. E-G-Bb-Db is 3-5-b7-b9 of C7/,
    ],
    [
      'no “then” of another note of the same name',
      'Eb major',
      '| Db7 | Ebmaj7 |',
      '| Db4-Eb F-Ab Cb5-Bb Ab-F | G4 ~ ~ . |',
      /1-2-3-5 of Db7; at the end of the bar, Ab and F enclose G/,
    ],
    [
      'a double chromatic enclosure, of which no note is a tension of the chord',
      'D major',
      '| Em7 A7 | Dmaj7 |',
      '| G4-B D5-C# G#4-G E-F | F# ~ . . |',
      /G#-G-E-F is a double chromatic enclosure of F#, the third of Dmaj7, on beat 1 of bar 2\.$/,
    ],
    [
      'the same from below first, and by turns',
      'F major',
      '| Fmaj7 | % |',
      '| G4-G# B-Bb A ~ | D5-Bb C#-B C ~ |',
      /G-G#-B-Bb is a double chromatic enclosure of A, .*D-Bb-C#-B is a double chromatic enclosure of C/,
    ],
    [
      'the chromatic one of two that enclose within a chord',
      'Bb major',
      '| Bbmaj7 | % |',
      '| . Eb5-C# D ~ | . C5-A Bb ~ |',
      /Eb and C#, a half step below, enclose D, .*C and A enclose Bb/,
    ],
    [
      'an enclosed note that comes early, in one clause',
      'F major',
      '| C7 | Fmaj7 |',
      '| C5-Bb G-E F-G Bb-A | ~ ~ ~ . |',
      /G and Bb enclose A, the third of Fmaj7, which comes early, on the “and” of 4; the Bb is the seventh of C7\.$/,
    ],
    [
      'a neighbour by that, over ties',
      'Ab major',
      '| Bbm7 | Abmaj7 |',
      '| F5 ~-Gb ~-F Db | C5 ~ ~ . |',
      'F, the fifth of Bbm7, goes to its chromatic upper neighbour Gb and back, and on to Db, the third',
    ],
    [
      'an enclosure at the end of figures, before the scale of the next chord',
      'D major',
      '| Em7 A7 | Dmaj7 |',
      '| G4-A B-D C#-B A-G | F# ~ ~ . |',
      'B and D enclose C#, the third of A7; the D is the seventh of Em7, resolving to C#. Down the scale from C#',
    ],
    [
      'a neighbour with two notes after it',
      'C major',
      '| Cmaj7 | % |',
      '| E4-D E-C G4 ~ | D4 ~ ~ . |',
      'E, the third of Cmaj7, goes to its lower neighbour D and back, and on to C and G (1-5)',
    ],
    [
      'a chromatic neighbour alone',
      'C major',
      '| Am7 | Dm7 |',
      '| A4 C E C | A4-G# A ~ . |',
      'A, the fifth of Dm7, goes to its chromatic lower neighbour G# and back',
    ],
    ['thirds that go by step', 'Bb major', '| Gm7 | % |', '| G4 ~ Bb ~ | . D5-Bb C-A Bb |', /goes in thirds over Gm7, falling by step/],
    ['an enclosure with its target', 'C major', '| G7 | Cmaj7 |', '| G4-B D5 A F-D | E ~ ~ . |', 'enclose E, the third of Cmaj7'],
    [
      'a guide tone over the change',
      'C major',
      '| Dm7 | G7 |',
      '| D4-F A-C5 D5 C | B ~ ~ . |',
      /C, the seventh(?: of Dm7)?, resolves to B, the third of G7/,
    ],
    [
      'a scale by where it starts and where it leads',
      'C major',
      '| G7 | Cmaj7 |',
      '| D5-C B-A G-F E-D | C ~ ~ . |',
      /[Dd]own the scale from D/,
    ],
    ['a rest on the downbeat', 'C major', '| Cmaj7 |', '| . G4-E C E |', 'After a rest on beat 1'],
    [
      'a bar done again over another chord',
      'C major',
      '| Dm7 | Em7 |',
      '| D4-F A-C5 A F | E4-G B-D5 B G |',
      /The same a step higher over Em7/,
    ],
    ['a note that stays', 'G major', '| Gmaj7 | Am7 |', '| B4 D5 ~ G | ~ ~ E C |', 'the G stays: the root becomes the seventh of Am7'],
    ['a note held into the next chord', 'C major', '| Cmaj7 | Fmaj7 |', '| C4 E ~ G | ~ ~ C A |', 'G is held into Fmaj7 as its ninth'],
    [
      'a sequence within a bar',
      'C major',
      '| Cmaj7 | % |',
      '| C4-E G-D F-A E-G | B ~ . . |',
      'C-E-G, D-F-A and E-G-B are a sequence, each a step higher',
    ],
    [
      'what a guide tone in an enclosure is',
      'Bb major',
      '| Cm7 F7 | Bbmaj7 |',
      '| Eb4-G Bb-G A-C5 Eb5-Gb | F5 ~ D ~ |',
      'enclose A, the third of F7; the Bb is the seventh of Cm7, resolving to A.',
    ],
    [
      'where a scale leads, in one breath',
      'Bb major',
      '| Cm7 | F7 |',
      '| . . Eb5-D C-Bb | A4 ~-C5 Eb-Db C-A |',
      'to Bb, the seventh, which resolves to A, the third of F7',
    ],
    [
      'two landings with one verb',
      'C major',
      '| G7 | Cmaj7 |',
      '| B4 D5 G D | C5 ~ G ~ |',
      'Lands on C, the root of Cmaj7, on beat 1, then on G, the fifth, on beat 3.',
    ],
    [
      'where a line lands, with what leads there',
      'C major',
      '| Dm7 G7 | Cmaj7 |',
      '| D4-F A-C5 B-Ab G-F | E ~ . . |',
      'F, the seventh, resolves to E, the third of Cmaj7, on beat 1 of bar 2.',
    ],
    [
      'a bar that comes again after another',
      'C major',
      '| Dm7 | G7 | Dm7 |',
      '| A4-C5 D F D | B4 G D ~ | A4-C5 D F D |',
      'The same as bar 1.',
    ],
    [
      'half steps between chords',
      'C major',
      '| Dm7 | Db7 | Cmaj7 |',
      '| F4 A C5 D | Db5 Ab F Db | C ~ . . |',
      'Db falls a half step to C, the root of Cmaj7',
    ],
    [
      'a guide tone that resolves late',
      'F major',
      '| Gm7 | C7 |',
      '| G4-Bb D5 F E-F | Gb-E C ~ . |',
      'F, the seventh, resolves by way of Gb to E, the third of C7',
    ],
    [
      'a bar that begins like another',
      'F major',
      '| Fmaj7 | Gm7 | Fmaj7 |',
      '| C5-A F-G A C | D-Bb G ~ . | C5-A F-G Bb4-G E |',
      'Begins like bar 1',
    ],
    [
      'what a line in a scale comes to rest on',
      'D minor',
      '| Dm7 |',
      '| A4-C5 D-C A-G F |',
      'D minor pentatonic, and comes to rest on F, the third of Dm7',
    ],
    [
      'the shapes of a longer line in a scale, counted by it',
      'D minor',
      '| Dm7 | % |',
      '| D4-F G-A C5-A G-F | A4 ~ D ~ |',
      'D-F-G-A climbs 1-b3-4-5 of Dm7',
    ],
    [
      'where the line comes in after a rest',
      'G major',
      '| Am7 D7 | Gmaj7 |',
      '| . A4-C5 E-G F#-C | ~-B ~ . . |',
      'After a rest on beat 1 the line comes in on A, the root of Am7; E and G enclose F#',
    ],
    [
      'a short motif that a rest sets apart, bars later',
      'D minor',
      '| Dm7 | % | % | % | % |',
      '| A4-C5 D . . | . . E-D C-A | B4 ~ A ~ | ~ . . . | A-C D . . |',
      'The same as bar 1.',
    ],
    [
      'a note held into the next chord that has to move on there',
      'G major',
      '| Am7 | D7 | Gmaj7 |',
      '| . E4-G A-C5 G4 | ~ F#-E D C5 | B ~ ~ . |',
      'G is held into D7 as its eleventh and falls to F#, the third (a suspension)',
    ],
    [
      'a third that is flat after the change, in an enclosure',
      'D major',
      '| Gmaj7 | Gm7 |',
      '| D4-G B-A F#-G A-B | Bb-A G-F D ~ |',
      'A and B enclose Bb, the third of Gm7; the B is the third of Gmaj7, falling to Bb.',
    ],
    [
      'a thirteenth that is held, as no suspension',
      'C major',
      '| Fmaj7 | G7 | Cmaj7 |',
      '| . A4-C F-C E | ~ D B4 G | E ~ ~ . |',
      /E is held into G7 as its thirteenth(?! and falls)/,
    ],
    [
      'a motif that comes again over another chord, three bars later',
      'D minor',
      '| Dm7 | Gm7 | Dm7 | Gm7 |',
      '| . A4-C5 D-F E-D | Bb4 ~ . G | A4 ~ F D | . D4-F G-Bb A-G |',
      'The same a fifth lower than bar 1 over Gm7.',
    ],
    [
      'a riff by its rhythm and its ups and downs',
      'G major',
      '| G7 | C7 |',
      '| B4 B-G E-D . | Bb4 Bb-G E-C . |',
      'In the rhythm of bar 1, Bb-G-E-C falls b7-5-3-1 of C7.',
    ],
    [
      'where a pickup lands, once',
      'D major',
      '| Dmaj7 | Em7 |',
      'F#4-A | D5 ~ ~ . | G4 B E5 ~ |',
      /F# and A lead into D, the root of Dmaj7, on beat 1 of bar 1\. (?!Lands)/,
    ],
    [
      'a run from its first note, where another figure ends',
      'D major',
      '| Em7 | A7 | Dmaj7 |',
      '| G4 B D5-C# B-A | G-F# E C#-E | D ~ . . |',
      /down the scale from D, the seventh/,
    ],
    ['half steps as half steps', 'F major', '| Gm7 | C7 |', '| G4 A-Bb B-C5 C# | D ~ C . |', 'climbs by half steps to'],
    [
      'a harmonic minor scale by its name',
      'A major',
      '| E7b9 | Amaj7 |',
      '| F5-E D-C B4 ~ | A ~ C#5 . |',
      /[Dd]own the A harmonic minor scale from F/,
    ],
    ['a bar of two pairs', 'C major', '| Dm7 G7 | Cmaj7 |', '| D4 F A G | E ~ . . |', 'D-F climbs 1-b3 of Dm7'],
    ['the last half step', 'F minor', '| C7b9 | Fm(maj7) |', '| E4-G Bb-Db5 C-Bb Ab-G | Ab4 ~ E F |', 'E rises to F, the root of Fm(maj7)'],
    [
      'an avoid note that is held and goes on',
      'Db major',
      '| Dbmaj7 | % |',
      '| F4 Ab C5 Ab4 | Gb ~ Ab-C Eb |',
      'Gb, the eleventh of Dbmaj7, rubs against the third on beat 1 and goes on to Ab',
    ],
    ['a run that goes on from an enclosed note', 'A minor', '| E7 | Am7 |', '| B4-G# E5 D F-D# | E-C A ~ . |', 'E-C-A falls 5-b3-1 of Am7'],
    ['a tail after the line has arrived', 'F major', '| C7 | Fmaj7 |', '| E4-G Bb-D5 C Bb | A4 ~ . C5 |', 'Ends on C, the fifth'],
    [
      'an altered scale by its name',
      'F major',
      '| C7alt | Fmaj7 |',
      '| Ab4-Gb E-Eb Db-C E-Bb | A ~ . . |',
      /[Dd]own the C altered scale from Ab/,
    ],
    [
      'where in its bar a line in a scale begins',
      'D major',
      '| A7 | Dmaj7 |',
      '| Bb4 A5-G# G-F# E-C# | D ~ . . |',
      'From A on beat 2 to E',
    ],
    [
      'a suspended fourth',
      'C major',
      '| G7sus4 G7 | Cmaj7 |',
      '| G4 C5 B4 G | E ~ . . |',
      'C, the suspended fourth, falls to B, the third of G7 (4–3)',
    ],
    [
      'a seventh chord laid over another',
      'D minor',
      '| Dm7 | % |',
      '| D4 F A-C5 A4 | E4-G B-D5 C A | F ~ . . |',
      'E-G-B-D climbs an Em7 arpeggio over Dm7 (9-11-13-1)',
    ],
    ['a flat five by its letter', 'E major', '| B7alt | Emaj7 |', '| A4-G F D#-F D# | E ~ . . |', 'the flat five'],
    [
      'the numbers that the statements of a sequence share',
      'C major',
      '| Dm7 G7 | Cmaj7 |',
      '| F4-A C5-A B4-D5 F-D | E ~ . . |',
      'are a sequence, the second a diatonic fourth higher, each 3-5-7-5 of its chord',
    ],
    [
      'the note of a sequence that is foreign to the key',
      'G major',
      '| Am7 | D7 | Gmaj7 |',
      '| . C4-E G-B A-G | F#-A C-Eb D-C A-C | B ~ ~ . |',
      'is a sequence of 6 notes, the second time a fourth higher, with Eb for the E of the key',
    ],
    [
      'a bar a fourth higher, as it stands, where a note of it is foreign to the key',
      'D major',
      '| Em7 | A7b9 | Dmaj7 |',
      '| G4-B D-F# ~ . | C#5-E G-Bb ~ . | A ~ F# . |',
      'The same a fourth higher',
    ],
    [
      'a guide tone that is struck again before it resolves',
      'D major',
      '| Em7 | A7 | Dmaj7 |',
      '| B4 ~ ~ G4 | G4 ~ ~ E4 | F#4 ~ ~ . |',
      'G, the seventh of A7, resolves by way of E to F#, the third of Dmaj7, on beat 1 of bar 3',
    ],
    [
      'a lydian dominant scale that the fifth and the sharp eleven tell',
      'D minor',
      '| Bb7 | A7 | Dm6 |',
      '| Ab4-Bb D-F E-D Bb-Ab | G-A C#-E G-E C#-A | D5 ~ ~ . |',
      /E-D-Bb-Ab falls #11-3-1-b7, in Bb lydian dominant/,
    ],
    [
      'an altered scale that notes up and down tell',
      'E minor',
      '| F#m7b5 B7alt | Em6 |',
      '| A4-E5 C5-A4 D#-G D-C | B ~ ~ . |',
      'outlines B7alt (3-b13-#9-b9), in the B altered scale',
    ],
    [
      'a rhythm of long and short notes that comes again with other notes',
      'C major',
      '| Cmaj7 | A7 | Dm7 |',
      '| E4-G C5 B-G E | C#5-A G F-E G | A ~ ~ . |',
      'In the rhythm of bar 1,',
    ],
    [
      'two chord tones that fill a bar, by their figures',
      'F major',
      '| Fmaj7 | Bbm6 |',
      '| C5 ~ ~ A4 | Db5 ~ ~ . |',
      'C-A falls 5-3 of Fmaj7. Lands on Db',
    ],
    [
      'two chord tones of one length that fill a bar, where the line goes on',
      'G minor',
      '| Cm7 | F7 | Bbmaj7 |',
      '| C5 ~ Bb ~ | A ~ C ~ | D ~ Bb ~ |',
      'A-C climbs 3-5 of F7. ',
    ],
    [
      'the first of bars that are the same',
      'F major',
      '| C7 | Fmaj7 | Bbmaj7 | C7 | Fmaj7 | Gm7 | C7 | Fmaj7 |',
      '| E5-D C-Bb A-G E4-G | A ~ ~ . | D5 ~ ~ . | E5-D C-Bb A-G E4-G | C5 ~ ~ . | Bb ~ G ~ | E5-D C-Bb A-G E4-G | F ~ ~ . |',
      /The same as bar 1\. .*The same as bar 1\. /,
    ],
    [
      'the one note by which a figure that is moved is altered',
      'Bb major',
      '| C7 | C7 | F7 | F7 | Bbmaj7 |',
      '| E4-G Bb-D C-Bb A-G | E-F G-A Bb ~ | A-C Eb-Gb F-Eb D-C | A-Bb C-D Eb ~ | D ~ ~ . |',
      'Bars 1–2 come again a fourth higher over F7, with Gb, the flat nine.',
    ],
    [
      'an enclosure and the tension in it',
      'E major',
      '| B7alt | Emaj7 |',
      '| A4-C5 A-G F-D# F-D# | E ~ . . |',
      'F and D# enclose E, the root of Emaj7, on beat 1 of bar 2; the F is the flat five of B7alt',
    ],
    [
      'the colour of a mode in a vamp that names no scale',
      'F major',
      '| Fmaj7 | % |',
      '| C5 B4 ~ A | E5-D B4-A G-E F ~ |',
      'B, the sharp eleven, is the colour of lydian',
    ],
    [
      'a neighbour of a note that is called as the chord is',
      'Eb major',
      '| Eb | Ab |',
      '| G4-Bb Eb5-Db Eb5 ~ | C5 ~ . . |',
      'Db is a lower neighbour of Eb',
    ],
    ['a chromatic neighbour', 'G major', '| Gmaj7 | % |', '| D5-B A-G F#-G A-B | F#5 E D-C# D |', 'C# is a lower neighbour of D'],
    [
      'where figures come to rest',
      'Bb major',
      '| F7 | Bbmaj7 |',
      '| A4-C5 Eb-C A-F Eb4-C | Bb3-D4 F ~ . |',
      'Bb-D-F climbs 1-3-5 of Bbmaj7 and comes to rest on F, the fifth',
    ],
    ['fourths as fourths', 'Eb minor', '| Ebm7 | % |', '| Eb4-Ab Db5-~ ~ . | Gb ~ Eb . |', 'Eb-Ab-Db climbs in fourths, 1-11-b7 of Ebm7'],
    [
      'what the added note of a bebop scale is for',
      'F major',
      '| C7 | Fmaj7 |',
      '| C5-B Bb-A G-F E-G | F ~ . . |',
      'the C bebop dominant scale, where B, between C and Bb, keeps the chord tones on the beats',
    ],
    [
      'the blue third under its new name',
      'Bb major',
      '| Bb7 | Eb7 | Bb7 |',
      '| Db5-D F . F | Db5-Bb G . G | F4 Bb . . |',
      'Db, the blue third over Bb7, is the seventh of Eb7',
    ],
    [
      'the rhythm of a riff',
      'Bb major',
      '| Bb7 | Eb7 | Bb7 |',
      '| Db5-D F . F | Db5-Bb G . G | F4 Bb . . |',
      'In the rhythm of bar 1, Db-Bb-G falls b7-5-3 of Eb7',
    ],
    [
      'a riff that is fitted to another chord',
      'F major',
      '| F7 | Bb7 |',
      '| . C5-A G-F A-C | . C5-Ab G-F Ab-C |',
      'The same again over Bb7, with Ab, the seventh, for A',
    ],
    [
      'a suspended fourth that falls after another note',
      'C major',
      '| G7sus4 G7 | Cmaj7 |',
      '| D4-F A-C5 A-B G4 | E ~ . . |',
      'C and A enclose B, the third of G7; the C is the suspended fourth (4–3)',
    ],
    [
      'a suspended fourth that goes down first',
      'C major',
      '| G7sus4 | G7 | Cmaj7 |',
      '| D4-F G-C5 D5-C A-G | B ~ G F | E ~ . . |',
      'C, the suspended fourth, falls by way of A and G to B, the third of G7 (4–3)',
    ],
    [
      'a seventh that moves along with its chord',
      'F major',
      '| Gm7 Gb7 | Fmaj7 |',
      '| D5-Bb G-F Fb-Db Bb-Ab | A ~ C . |',
      'F, the seventh, falls a half step to Fb, the seventh of Gb7',
    ],
    [
      'a bar that comes again elsewhere, with what its notes are there',
      'Bb minor',
      '| Cm7b5 | F7b9 | Bbm6 |',
      '| C5-Eb Gb-Bb Ab-Gb Eb-C | A-C Eb-Gb F-Eb C-A | Bb-Db F-G F ~ |',
      /The same a third lower: A-C-Eb-Gb is 3-5-b7-b9 of F7b9, a diminished seventh arpeggio; the flat nine falls to the root.*comes to rest on F, the fifth, on beat 3/,
    ],
    [
      'a bar a half step higher',
      'Eb minor',
      '| Ebm7 | Em7 | Ebm7 |',
      '| Eb4-F Gb-Bb Ab-Gb Eb | E-F# G-B A-G E | Eb ~ . . |',
      'The same a half step higher over Em7',
    ],
    [
      'a pickup by half steps',
      'Eb major',
      '| Fm7 | Bb7 |',
      'Eb4-E | F-Ab C-Eb G-F Eb-C | D ~ . . |',
      'Eb and E lead by half steps into F, the root of Fm7',
    ],
    [
      'an altered scale from where its chord begins',
      'Eb minor',
      '| Fm7b5 | Bb7alt | Ebm |',
      '| .-F4 Ab-Cb Eb-Db Cb-Ab | Gb-Fb D-Db Cb-D Fb-Ab | Gb ~ ~ ~ |',
      'Down the Bb altered scale from Gb to Cb, b13-b5-3-#9-b9 of Bb7alt',
    ],
    [
      'all of a run by half steps',
      'D major',
      '| Em7 | A7 | Dmaj7 |',
      '| D5-B G-E F-F# G-B | C#-E D-C# C-B Bb-G | A ~ F# ~ |',
      'E climbs by half steps to G',
    ],
    [
      'a chromatic note as one that passes, and no degree',
      'Ab major',
      '| Bbm7 | Eb7 |',
      '| Bb4-C Db-D Eb-F Ab-F | G ~ . . |',
      'Bb-C-Db-Eb-F climbs 1-2-b3-4-5 of Bbm7; D passes to Eb',
    ],
    [
      'an octave of a scale',
      'D major',
      '| D7 | % |',
      '| D5-C B-A G-F# E-D | F#-A C-B A ~ |',
      /[Dd]own the scale from D, the root of D7, through an octave/,
    ],
    [
      'what the statements of a sequence are, over a chord each',
      'Bb major',
      '| Bbmaj7 G7 | Cm7 F7 |',
      '| D4-F A-C B-D F-Ab | G-Eb C-Bb A ~ |',
      'D-F-A-C (3-5-7-9 of Bbmaj7) and B-D-F-Ab (3-5-b7-b9 of G7) are a sequence',
    ],
    [
      'a seventh that goes to a fifth',
      'C major',
      '| Fm7 Bb7 | Cmaj7 |',
      '| Ab4-C Eb-C D-Bb Ab-F | G ~ E ~ |',
      'Ab and F enclose G, the fifth of Cmaj7; the Ab is the seventh of Bb7',
    ],
    [
      'a finding before what comes after it',
      'F# major',
      '| C#7 | F#maj7 |',
      '| B#4 ~ \\G#-B /E#-C# | A# ~ ~ . |',
      /^B# lands on beat 1.*G#-B-E# climbs/,
    ],
    [
      'groups through a pentatonic scale',
      'Gb major',
      '| Gb6 | % | % |',
      '| Gb4-Ab Bb-Db Ab-Bb Db-Eb | Bb-Db Eb-Gb Eb-Db Bb-Ab | Gb ~ ~ . |',
      'Gb-Ab-Bb-Db, Ab-Bb-Db-Eb and Bb-Db-Eb-Gb are a sequence up the scale',
    ],
    [
      'a bar that comes back after another, by its chord',
      'B major',
      '| B7 | E7 | B7 |',
      '| F#4-A B D-B A | F#-A B D-B G# | F#-A B D-D# B |',
      /The same again over E7, with G#, the third, for A.*Begins like bar 1,/,
    ],
    [
      'than which bar a third one is moved',
      'D major',
      '| A7 | G7 | D7 | A7 |',
      '| C#5-E G-F# E-C# A | B-D F-E D-B G | F#-A C-B A-F# D | A ~ ~ . |',
      'The same a fourth lower than bar 2',
    ],
    [
      'a bebop scale as far as it goes by step',
      'F# major',
      '| C#7 | % | F#6 |',
      '| C#5-B# B-A# G#-F# E#-D# | C#-E# G#-B D#-B G#-B | A# ~ ~ ~ |',
      'From C# to D# the line runs in the C# bebop dominant scale, where B#, between C# and B, keeps the chord tones on the beats. C#-E#-G#-B is 1-3-5-b7 of C#7',
    ],
    [
      'an altered tension at the change that a run goes through',
      'A minor',
      '| Bm7b5 | E7b9 | Am6 |',
      'A4-C | B-D F-A G-F E-D | C-B G#-B D-F E-D | C ~ ~ . |',
      'through C, the flat thirteen of E7b9, to B',
    ],
    [
      'the flat nine in an enclosure',
      'C major',
      '| Dm7 | G7 | Cmaj7 |',
      '| D4-E F-A C-B A-G | F-Ab G-F E-D B-D | E ~ ~ . |',
      'F and Ab enclose G, the root of G7; the Ab is the flat nine',
    ],
    [
      'where a run leads, though another figure begins there',
      'C major',
      '| Dm7 | G7 | Cmaj7 |',
      '| D4-E F-A C-B A-G | F-Ab G-F E-D B-D | E ~ ~ . |',
      'down the scale from C, the seventh, to F, the seventh of G7',
    ],
    [
      'how the last note is reached by a step',
      'C major',
      '| G7 | Cmaj7 |',
      '| B4-D F-D B-G F-D | E ~ ~ . |',
      /on beat 1, from D a step below|F and D enclose E/,
    ],
    [
      'half steps into the root, in figures',
      'Eb major',
      '| Bb7 | Ebmaj7 |',
      '| D4-F Ab-C Cb-Bb Ab-F | G ~ ~ . |',
      'C and Cb lead by half steps into Bb, the root (9-b9-1)',
    ],
    [
      'a rest of two beats and a half',
      'G major',
      '| C7 | G7 |',
      '| . . .-G4 Bb-C | Db-D ~-C Bb-G ~ |',
      'After two and a half beats of rest, G-Bb-C climbs',
    ],
    [
      'what passes on with the next chord',
      'Eb major',
      '| Fm7 | Bb7 |',
      '| F4-Ab C-Eb D-C Bb-A | Ab-F D ~ ~ |',
      'D-C-Bb falls 6-5-4; A passes to Ab',
    ],
    ['a line that stops on a held note', 'F minor', '| C7 | Fm |', '| . Db5-C ~ Bb | Ab ~ G-Ab F |', 'Db-C-Bb falls b9-1-b7 of C7'],
    [
      'a motif before bars that do it again',
      'Db major',
      '| Ebm7 | Ab7 | Dbmaj7 |',
      '| .-Gb4 Bb-Ab ~ ~ | .-F Ab-Gb ~ ~ | .-Eb Gb-F ~ ~ |',
      /Gb-Bb-Ab is b3-5-11 of Ebm7\..*The same a step lower each time, over Ab7, then over Dbmaj7\./,
    ],
    [
      'two notes that are all of their bars',
      'G minor',
      '| Am7b5 | D7 | Gm7 |',
      '| . Eb5-D ~ ~ | . Eb-D ~ ~ | Bb ~ ~ ~ |',
      /Eb-D falls b5-11 of Am7b5\. The same again, now b9-1 of D7\./,
    ],
    [
      'a second by step as the second',
      'F major',
      '| C7sus4 | % | Fmaj7 |',
      '| C4-D F-G F-D C-Bb | C-D F-G ~ . | A ~ ~ . |',
      'C-D-F-G climbs 1-2-4-5 of C7sus4',
    ],
    ['half steps of a pickup', 'Bb major', '| Cm7 | F7 |', 'Bb4-B | C-Eb G-Bb A-F D-B | C ~ ~ . |', 'Bb and B lead by half steps into C'],
    ['a rest in another bar', 'G major', '| Gmaj7 | % |', '| B4-D F#-A F#-D B-G | G ~ ~ . |', /G.*on beat 1 of bar 2/],
    [
      'two bars that come again',
      'C major',
      '| Bm7 E7 | Amaj7 | Am7 D7 | Gmaj7 |',
      '| F#4-D B-A G#-B D-F# | E-C# A-G# A ~ | E4-C A-G F#-A C-E | D-B G-F# G ~ |',
      'Bars 1–2 come again a step lower over Am7, D7 and Gmaj7.',
    ],
    [
      'a note that is the same in both chords',
      'Db major',
      '| Dbmaj7 | Db6 |',
      '| F4-Ab C-Bb Ab ~ | ~ F Db . |',
      'the Ab stays, the fifth of both chords',
    ],
    [
      'the name of a flat nine that no figures tell',
      'G major',
      '| D7 | Gmaj7 |',
      '| F#4-A C-D Eb-D C-A# | B ~ ~ . |',
      'Eb, the flat nine, falls to the root',
    ],
    [
      'a motif over one chord, moved',
      'D minor',
      '| Dm7 | % | % |',
      '| .-A4 C-D ~ ~ | .-G4 A-C ~ ~ | .-F4 G-A ~ ~ |',
      /^(?!.*then over Dm7)/,
    ],
    [
      'a sequence an octave and a step lower',
      'A major',
      '| Bm7 E7 | Amaj7 | Am7 D7 | Gmaj7 |',
      '| F#4-D B-A G#-B D-F# | E-C# A-G# A ~ | E-C A-G F#-A C-E | D-B G-F# G ~ |',
      'a sequence of 13 notes, the second time an octave and a step lower',
    ],
    [
      'the altered scale that figures are in',
      'G major',
      '| Am7 | D7alt | Gmaj7 |',
      '| A4-C E-G F-E C-A | F#5-F Eb-C Bb-Ab C-Bb | B ~ ~ . |',
      'falls 3-#9-b9-b7-b13-b5 of D7alt, in the D altered scale',
    ],
    [
      'the lydian dominant scale that figures are in',
      'Bb major',
      '| Bb6 | Eb7 | Bb6 |',
      '| D4-F G-Bb D-C Bb-G | A-G Db5-Bb F-Db Bb-G | F ~ D ~ |',
      'A-G-Db-Bb weaves through Eb7 (#11-3-b7-5), in Eb lydian dominant',
    ],
    [
      'a third that moves on to a dominant seventh, and does not resolve there',
      'Bb major',
      '| Bb7 | Eb7 |',
      '| Bb4-D F-G Ab-G F-D | Db Bb G ~ |',
      'D, the third, falls a half step to Db, the seventh of Eb7',
    ],
    ['a rest of two beats', 'Db major', '| Db7 | % |', '| . . Ab4-Cb Db | F ~ Db . |', 'After two beats of rest, Ab-Cb-Db climbs'],
    ['where the line lands', 'F major', '| C7 | Fmaj7 |', '| E4 G Bb G | A ~ ~ . |', /(?:A, the third of Fmaj7)/],
    [
      'where a third leads before the line goes on',
      'A minor',
      '| Bm7b5 | E7b9 | Am6 |',
      '| .-D4 F-A B-A F-D | G#-B D-F E-D B-G# | A ~ F# ~ |',
      'G#, the third, leads up to A, the root of Am6',
    ],
    [
      'the blue fifth that passes, up and down, once',
      'D major',
      '| D7 | % | G7 |',
      '| D4-F G-G# A-C A-G# | G-F D-C D ~ | B-D F-E D ~ |',
      /^(?!.*passes.*passes).*G#, the blue fifth, passes between G and A/,
    ],
    [
      'half steps as far as a bebop scale begins with their last',
      'F major',
      '| Gm7 | C7 | Fmaj7 |',
      '| G4-Bb D5-F A-F D-Db | C-B Bb-A G-F E-G | A ~ ~ . |',
      /D falls by half steps to C, the root of C7\. From C to E the line runs in the C bebop dominant scale, where B, between C and Bb, keeps/,
    ],
    [
      'where a bebop scale goes that all the line is in',
      'Bb major',
      '| Bb6 | % |',
      '| Bb5-A G-Gb F-Eb D-C | Bb4 ~ ~ . |',
      'Down the scale from Bb, the root of Bb6, through an octave to Bb, on beat 1 of bar 2.',
    ],
    ['a lowered sixth in that scale', 'Bb major', '| Bb6 | % |', '| Bb4-C D-Eb F-Gb G-A | Bb ~ ~ . |', 'F-Gb-G-A climbs 5-b6-6-7'],
    [
      'the pitches of a riff',
      'Ab major',
      '| Ab7 | Db7 | Ab7 |',
      '| Eb5-C Eb-C Eb-F Eb | Eb-Cb Eb-Cb Eb-F Eb | C ~ ~ . |',
      /stays on C, Eb and F, 3-5-6 of Ab7\. The same again over Db7, with Cb, the seventh, for C\./,
    ],
    [
      'how far a line goes that comes back',
      'C major',
      '| Cmaj7 | % |',
      '| D4-D4 C4-B4 D5-G4 C4-D4 | . . E4 G4 |',
      /moves from D, the ninth of Cmaj7, to (?!D)[^;]*, and back/,
    ],
    [
      'the two pitches of a riff',
      'Ab major',
      '| Ab7 | Db7 | Ab7 |',
      '| Eb5-C Eb-C Eb-C Eb | . F Ab . | C ~ ~ . |',
      'goes between C and Eb, 3-5 of Ab7',
    ],
    [
      'the blue third in a riff that comes again',
      'Eb major',
      '| Eb7 | Ab7 | Eb7 |',
      '| . Bb4-C Eb-Gb Eb | . Bb4-C Eb-Gb Eb | . Bb4-C Gb-G Eb |',
      'The same again over Ab7; Gb, the blue third over Eb7, is the seventh of Ab7',
    ],
    [
      'a chord of which the last two notes wrap the next',
      'D major',
      '| Gm7 C7 | Dmaj7 |',
      '| Bb4-D F-G E-C Bb-G | A ~ ~ . |',
      'E-C-Bb-G falls 3-1-b7-5; Bb and G enclose A, the fifth of Dmaj7; the Bb is the seventh of C7, falling to A.',
    ],
    [
      'a run that a sequence would cut at the bar line',
      'C major',
      '| Dm7 | G7 | Cmaj7 |',
      '| .-A4 C-E D-C A-C | B-A G-F E-D B-D | E ~ ~ . |',
      /A-C-E climbs 5-b7-9 of Dm7.*Down the scale from B, the third of G7, to D/,
    ],
    [
      'the ninth that falls to the flat nine between two arpeggios',
      'D major',
      '| Em7 | A7 | Dmaj7 |',
      '| E4-F# G-B D-B G-E | C#-E G-B Bb-G E-C# | D ~ ~ . |',
      'B, the ninth, falls to the flat nine',
    ],
    [
      'harmonic minor by the figures of a line',
      'E minor',
      '| F#m7b5 | B7b9 | Em6 |',
      '| F#4-A C-E F#-E C-E | D#-C B-A G-F# D#-F# | E ~ C# . |',
      'falls 3-b9-1-b7-b13-5 of B7b9, in E harmonic minor; the flat nine',
    ],
    [
      'where notes of groups in a scale come to rest',
      'A minor',
      '| Am7 | % |',
      '| A5-G E-D G-E D-C | E-D C-A ~ . |',
      'Comes to rest on A, the root of Am7',
    ],
    [
      'a cell that comes again on another chord',
      'B major',
      '| C#m7 | F#7 | Bmaj7 |',
      '| C#4-D# E-G# B-G# E-G# | F#-G# A#-C# E-D# C#-E | D#-B F# ~ . |',
      'F#-G#-A#-C# is again 1-2-3-5 of F#7',
    ],
    [
      'the step from the colour of a mode',
      'D minor',
      '| Dm7:dorian | % | % |',
      '| D4-F G-A C-A G-F | D-E F-A B ~ | A ~ ~ . |',
      'Lands on A, the fifth of Dm7, on beat 1, from B a step above',
    ],
    [
      'the two notes that wrap, after a leap from a chord tone',
      'G major',
      '| Am7 D7 | Gmaj7 |',
      '| D5-B C-E G-E# F#-D | C-A# B ~ . |',
      'then G and E# enclose F#',
    ],
    [
      'one triplet of an arpeggio that goes on as one arpeggio',
      'G minor',
      '| Am7b5 | D7b9 | Gm6 |',
      '| A4-C-Eb G F-Eb C-Eb | D-Eb F#-A C-Bb A-F# | G ~ ~ . |',
      'A-C-Eb-G climbs 1-b3-b5-b7 of Am7b5',
    ],
    [
      'the figures of a run that is altered and diminished, and its two ninths',
      'F minor',
      '| C7#9 | Fm6 |',
      '| E5-Eb Db-C Bb-G E-G | Ab ~ F . |',
      'E-Eb-Db-C falls 3-#9-b9-1 of C7#9; the sharp nine and the flat nine fall to the root',
    ],
    [
      'the figures of an altered scale',
      'G minor',
      '| D7alt | Gm6 |',
      '| F5-Eb D-C Bb-Ab F#-Ab | G ~ ~ . |',
      'Down the D altered scale from F to F#, #9-b9-1-b7-b13-b5-3 of D7alt',
    ],
    [
      'the figures of a diminished scale',
      'C major',
      '| G13b9 | Cmaj7 |',
      '| F5-E D-C# B-Bb Ab-G | E ~ ~ . |',
      'Down the G half-whole diminished scale from F to G, b7-13-5-#11-3-#9-b9-1 of G13b9',
    ],
    [
      'a third statement of a short riff',
      'F major',
      '| F7 | Bb7 | F7 | % |',
      '| . C4-D F ~ | . C-D F ~ | . C-D F-Ab A-C | F ~ ~ . |',
      'Begins like bar 1, then Ab-A-C climbs b3-3-5 of F7',
    ],
    [
      'a third statement within a blues scale that not all the line is in',
      'F major',
      '| F7 | Bb7 | F7 | % |',
      'E4 | C-Eb F ~ ~ | C-Eb F ~ ~ | C-Eb F-Ab B C | F ~ ~ . |',
      'Begins like bar 1, ',
    ],
    [
      'where a bar that begins like another comes to rest',
      'F major',
      '| Fmaj7#11 | % |',
      '| G4-A B-D5 E-D B-A | G-A B-D E ~ |',
      'Begins like bar 1 and comes to rest on E, the seventh',
    ],
    [
      'a triad that is held note by note',
      'D minor',
      '| A7b9 | Dm7 | % |',
      '| C#5-Bb A-G E-G Bb-G | F ~ D ~ | A ~ ~ . |',
      'F-D-A falls b3-1-5 of Dm7 and comes to rest on A, the fifth',
    ],
    [
      'a triad in half notes to its end',
      'E minor',
      '| B7 | Em7 | % |',
      '| D#4-F# A-C B-A F#-A | G ~ B ~ | E5 ~ . . |',
      'G-B-E climbs b3-5-1 of Em7 and comes to rest on E, the root',
    ],
    [
      'an enclosure of the first note of a held chord',
      'C major',
      '| G7 | Cmaj7 | % |',
      '| D5-B G-F D-F B4-D | C5 ~ E ~ | G ~ ~ . |',
      /B and D enclose C, the root of Cmaj7.*C-E-G climbs 1-3-5/,
    ],
    [
      'where the added note of a bebop scale stands, where a beat has another note',
      'F major',
      '| C7 | Fmaj7 |',
      '| C5-B Bb-A G-F D-E | F ~ . . |',
      'the C bebop dominant scale, with B between C and Bb',
    ],
    [
      'what a third in an enclosure does, with no degree twice',
      'Eb major',
      '| Bb7 | Ebmaj7 |',
      '| D4-Eb E-F Ab-G F-D | Eb ~ ~ . |',
      'enclose Eb, the root of Ebmaj7, on beat 1 of bar 2; the D is the third of Bb7, leading up to Eb.',
    ],
    [
      'what a riff is over another chord',
      'G major',
      '| G7 | C7 | G7 |',
      '| D4-E G ~ . | D-E G ~ . | D-E G-B ~ . |',
      'The same again, now 9-3-5 of C7.',
    ],
    [
      'what the beginning of a bar is over another chord',
      'A minor',
      '| Am7 | D7 | Am7 | D7 |',
      '| A4-C D-E G-E D-C | A-C D-E D-C A | E5-G A-G E-D C-A | D5 ~ ~ . |',
      'Begins like bar 1, now 5-b7-1-2 of D7, then D-C-A falls 1-b7-5',
    ],
    [
      'a pentatonic line over the chord of its root, counted by it',
      'Eb major',
      '| Ebmaj7 | Abmaj7 | Ebmaj7 |',
      '| Eb4-F G-Bb C-Bb G-F | Eb-F G-Bb C-Bb G | Bb-C Eb-C Bb ~ |',
      'is 1-2-3-5 of Ebmaj7, then C-Bb-G-F falls 6-5-3-2',
    ],
    [
      'a second that was told in a cell, once more as a second',
      'G minor',
      '| Gm7 | C7 |',
      '| G4-A Bb-D F-D Bb-A | G ~ E . |',
      'is 1-2-b3-5 of Gm7, then F-D-Bb-A falls b7-5-b3-2',
    ],
    [
      'the rootless arpeggio of a half-diminished chord',
      'C minor',
      '| Dm7b5 | G7b9 | Cm6 |',
      '| F4-Ab C-Eb D-C Ab-F | B-D F-Ab G-F D-B | C ~ ~ . |',
      /F-Ab-C-Eb climbs b3-b5-b7-b9 of Dm7b5, then D-C-Ab-F falls.*The same a diatonic fourth higher/,
    ],
    [
      'the colour of a mode that rises over the bar line',
      'F major',
      '| Fmaj7#11 | % |',
      '| C5-B A-G E-G A-B | C ~ A ~ |',
      'B, the sharp eleven, rises a half step to C, the fifth',
    ],
    [
      'the colour of a mode by step',
      'D minor',
      '| Dm7:dorian | % |',
      '| D4-F G-A C-A G-F | A-B C-A G-F D |',
      'B, the sixth of Dm7, rises a half step to C, the seventh',
    ],
    [
      'a sixth after a cell that counted the second',
      'Ab major',
      '| Bbm7 | Eb7 |',
      '| Bb4-C Db-F Ab-G F-Db | G ~ Eb . |',
      'is 1-2-b3-5 of Bbm7, then Ab-G-F-Db falls b7-6-5-b3',
    ],
    ['a flat five by its name', 'B minor', '| C#m7b5 | F#7b9 |', '| B4-C# E-G F#-E D-C# | E-D C#-A# ~ . |', 'from G, the flat five, to C#'],
    [
      'two notes after a peak with the peak',
      'Eb major',
      '| Fm7 | Bb7 | Ebmaj7 |',
      '| Ab4-G F-Ab C-Eb D-C | D-C Bb-Ab F-Ab D-F | G ~ ~ . |',
      'F-Ab-C-Eb is 1-b3-5-b7 of Fm7, then Eb-D-C falls b7-6-5',
    ],
    [
      'a peak with what climbs to it',
      'F major',
      '| C7sus4 | C7b9 | Fmaj7 |',
      '| F4-G Bb-D5 C-Bb A4 | E-G Bb-Db C-Bb G | A ~ ~ . |',
      /climbs 4-5-b7-9 of C7sus4, then C-Bb/,
    ],
    [
      'an octave of a scale to its last note, though an arpeggio begins there',
      'G major',
      '| Gmaj7 | % |',
      '| G5 F#-E D-C B-A | G4-B D-G B ~ |',
      /[Dd]own the scale from G, the root of Gmaj7, through an octave/,
    ],
    ['a climb in chord tones from the beat', 'C major', '| C7 | % |', '| G4-Bb C-E D-C Bb-G | E ~ ~ . |', 'G-Bb-C-E climbs 5-b7-1-3 of C7'],
  ])('%s', (_, key, over, line, words) => {
    const said = told(key, over, line);
    if (typeof words === 'string') expect(said).toContain(words);
    else expect(said).toMatch(words);
  });
});

describe('is not said', () => {
  test('no figure of every note, no statistics, no device twice', () => {
    const said = told('C major', '| Dm7 | G7 | Cmaj7 |', '| D4-F A-C5 B-A G-F | G-B D-F E-D B-G | E ~ ~ . |');
    expect(said).not.toMatch(/starts on|is an arpeggio|is a cell|half steps;|chord tones/);
    expect(said.match(/D-F-A-C/g)).toHaveLength(1);
  });

  test.each([
    [
      'a tension that only anticipates the next chord resolves nowhere',
      'F major',
      '| Fmaj7 D7b9 | Gm7 C7 |',
      '| A4-C5 E5-C A-Eb5 C-Bb | Bb4-A G-F E-G Bb-Db5 |',
      /flat thirteen, falls/,
    ],
    [
      'a rhythm that any line has comes again',
      'C major',
      '| Cmaj7 | A7 | Dm7 |',
      '| E4-G C5-B G-E G ~ | C#5-A G-F E-G A ~ | F4 ~ ~ . |',
      /rhythm of bar/,
    ],
    [
      'a figure of which one note is inflected in its place is no sequence',
      'C minor',
      '| Cm Cm(maj7) | Cm7 Cm6 |',
      '| C5-Eb G-Eb B4-D Eb-G | Bb4-D Eb-G A4-C Eb-G |',
      /sequence/,
    ],
    ['a few notes are in no pentatonic scale', 'C major', '| Fmaj7 | Cmaj7 |', '| A4-C5 E5-C A-G F-A | G ~ ~ . |', /pentatonic/],
    [
      'an altered tension in an arpeggio does not pass',
      'F major',
      '| C7 | Fmaj7 |',
      '| Ab4-Bb Db5-E Db5-Bb Ab-Gb | F4-A C5 ~ A |',
      /passes/,
    ],
    [
      'a rest before notes that are not told',
      'G major',
      '| Am7 D7 | Gmaj7 |',
      '| . A4-C5 E-G F#-C | ~-B ~ . . |',
      /After a rest on beat 1, E and G/,
    ],
    ['what leans on a tension', 'G minor', '| D7alt | Gm6 |', '| F#4-Bb F5-Eb C-Bb4 Ab-F# | G ~ . . |', /leans on Eb/],
    ['a chromatic approach as a step of an arpeggio', 'Bb major', '| Cm7 F7 | Bbmaj7 |', '| G4 Eb A-C5 Eb-E | F ~ . . |', /C-Eb-E/],
    ['an approach as the start of a climb', 'C major', '| Cmaj7 | % |', '| F4-D# E-G A-F# G-C5 | E ~ . . |', /F#-G-C/],
    [
      'a tension that goes elsewhere first as resolved',
      'F major',
      '| C7alt | Fmaj7 |',
      '| Ab4-Gb E-Eb Db-E Gb-Bb | A ~ . . |',
      /Eb, the sharp nine, rises/,
    ],
    ['a triad with a chromatic neighbour as blues', 'Bb major', '| Bbmaj7 | % |', '| F5-D Bb4-C#5 D ~ | ~ . . . |', /blues/],
    ['a blue third as part of an enclosure', 'F major', '| F7 | Bb7 | F7 |', '| F4 C Ab-A C | Bb4 ~ . . | F ~ . . |', /Ab-A-C encloses/],
    ['what is heard beside a landing', 'F major', '| F7 | % |', '| C5-A F-G A ~ | A4 ~ F-Ab F |', /weaves/],
    [
      'a note that a finding tells in a row of degrees',
      'Eb major',
      '| Fm7 | Bb7 |',
      '| A4-C Eb-C Ab-G F-Eb | D-F Ab-C Bb ~ |',
      /A-C-Eb climbs/,
    ],
    [
      'a note that stays as moved',
      'Eb major',
      '| Fm7 | E7 | Ebmaj7 |',
      '| Ab3-C Eb-G F-Eb C-Ab | G#-B D-F# E-D B-G# | G ~ . . |',
      /The same a step lower/,
    ],
    [
      'a third that only comes back',
      'Eb minor',
      '| Fm7b5 | Bb7alt | Ebm6 |',
      '| Ab4-Cb Eb-Gb F-Eb Cb-Ab | Gb-Ab Cb-D Fb-Db Cb-Ab | Bb ~ ~ . |',
      /comes back/,
    ],
    [
      'the blue third in the words of a bar before',
      'Db major',
      '| Db7 | % | Gb7 | Db7 |',
      '| .-Ab4 Bb-Db Fb-F Db | .-Ab Bb-Db Fb-F Db | .-Ab Bb-Db Fb Db | Ab Fb-F Db . |',
      /blue third, Fb, rises.*blue third, Fb, rises/,
    ],
    [
      'a sentence that begins with “which”',
      'G# minor',
      '| A#m7b5 | D#7b9 | G#m6 |',
      '| C#5-E G#-F# E-C# A#-G# | F##-/E D#-C# B-A# G#-F## | G# ~ ~ ~ |',
      /Which|, E-D#-C# and/,
    ],
    [
      'what wraps a note as the model of a sequence',
      'F minor',
      '| Fm6 | % |',
      'G4-E | F-/C Db-B C-Ab Bb-G | Ab-C D-C Ab ~ |',
      /Db-B, C-Ab/,
    ],
    [
      'a wrong note in a figure with a name',
      'Bb major',
      '| Cm7 | F7 | Bbmaj7 |',
      '| G4-Bb C-D E-G Bb-G | A-G F-Eb C-A C-Eb | D ~ ~ . |',
      /C-D-E-G/,
    ],
    [
      'a blues scale cut from two bars',
      'Db major',
      '| Db7 | Gb7 | Db7 | % |',
      '| . . Ab4-Cb Db | Fb-Db ~ Ab-Cb Bb | Fb-F Db Ab-Cb Db | ~ ~ ~ . |',
      /blues scale/,
    ],
    ['chromatic passing notes as degrees', 'F major', '| Gm7 | C7 |', '| G4-F# G-A Bb-B C5-C# | D ~ C . |', /11-#11/],
    ['two notes on their own', 'Bb major', '| F7 | Bbmaj7 |', '| A4 C5 Eb D | ~ ~ Bb4-F ~ |', /Bb-F falls/],
    ['a held avoid note as part of an enclosure', 'Db major', '| Ab7 | Dbmaj7 |', '| C5 Eb C Bb4 | Gb ~ Ab ~ |', /Gb enclose/],
    ['a long note after one that is flagged as a stop', 'C major', '| Cmaj7 | % | % |', '| G4 E C E | F C ~ ~ | E ~ G ~ |', /[Ss]tops/],
    ['a note that a finding tells', 'C major', '| G7 | Cmaj7 |', '| B4 D5 B G | F ~ ~ . |', /Stops on F/],
    ['a long note that a finding tells', 'G major', '| Em7 Am7 | D7 |', '| C5 ~ E-C A-G | F# ~ . . |', /Starts on C/],
    [
      'two threes that begin off the beat as a sequence',
      'C minor',
      '| Dm7b5 G7b9 | Cm6 |',
      '| F4-Ab C5-D B4-G Ab-F | Eb ~ . . |',
      /sequence/,
    ],
    ['figures that nobody can follow', 'C major', '| G7 | Cmaj7 |', '| B4-F5 E-D C#-D G-F | E ~ ~ . |', /\(3-/],
    [
      'a third that has gone up to its root as one that goes down',
      'A minor',
      '| Bm7b5 | E7b9 | Am6 |',
      '| .-D4 F-A B-A F-D | G#-B D-F E-D B-G# | A ~ F# ~ |',
      /by way of/,
    ],
    ['a long note as one on the way', 'D major', '| D7 | % | G7 |', '| D4-F G-G# A-C A-G# | G-F D-C D ~ | B-D F-E D ~ |', /by way of/],
    [
      'a seventh that has come to rest on the root as one that goes on to a third',
      'C major',
      '| Cmaj7 | Fmaj7 |',
      '| G4 E G B-C5 | A4 ~ ~ . |',
      /by way of/,
    ],
    [
      'a bebop scale from after the note that it adds',
      'F major',
      '| Gm7 | C7 | Fmaj7 |',
      '| G4-Bb D5-F A-F D-Db | C-B Bb-A G-F E-G | A ~ ~ . |',
      /From A/,
    ],
    [
      'from a note to the same note',
      'Ab major',
      '| Ab7 | Db7 | Ab7 |',
      '| Eb5-C Eb-C Eb-F Eb | Eb-Cb Eb-Cb Eb-F Eb | C ~ ~ . |',
      /moves from/,
    ],
    ['the changed note of a riff twice', 'C major', '| C7 | F7 |', '| Eb4-E G-A G-E C | Eb4-Eb G-A G-Eb C |', /Eb, the seventh, for E; Eb/],
    [
      'the ninth that falls on by half steps',
      'C major',
      '| G7 | Cmaj7 |',
      '| D5-B G-B A-Ab G-F | E ~ ~ . |',
      /the ninth, falls to the flat nine/,
    ],
    [
      'harmonic minor without its flat thirteen',
      'E minor',
      '| F#m7b5 | B7b9 | Em6 |',
      '| F#4-A C-E F#-E C-A | D#-F# A-C B-A F#-D# | E ~ ~ . |',
      /harmonic minor/,
    ],
    ['what leans where the colour of a mode is told', 'C major', '| Cmaj7:lydian | % |', '| G4-A B-D F#-E D-B | G-E D ~ . |', /leans/],
    [
      'an arpeggio of another chord as one that comes again',
      'C major',
      '| Dm7 | G7 | Cmaj7 |',
      '| F4-A C-E D-C A-C | B-D F-Ab G-F D-F | E ~ ~ . |',
      /again/,
    ],
    [
      'a scale of which only its end shows that another may be meant',
      'Eb major',
      '| Bb7#9 | Ebmaj7 |',
      '| F4-Ab D5-C# Cb-Bb Ab-F | G ~ ~ . |',
      /diminished scale/,
    ],
    ['a landing on each note of a held chord', 'C major', '| G7 | Cmaj7 | % |', '| B4-D F-D B-G F-D | E ~ G ~ | C5 ~ ~ . |', /[Ll]ands/],
    [
      'a blues scale from where the last rest ends',
      'G major',
      '| G7 | C7 | G7 | % |',
      '| D4-E G ~ . | D-E G ~ . | D-E G-Bb B-D | G ~ ~ . |',
      /From D/,
    ],
    ['a remedy that mends nothing', 'B major', '| F#7 | Bmaj7 |', '| A#4-C# E-C# A#-F# G#-F# | E ~ ~ . |', /off the beat/],
    ['a wrong third as one that leans', 'F# major', '| G#m7 | C#7 |', '| B#4-D# F#-D# G#-F# D#-B | E# ~ . . |', /off the beat/],
    [
      'the colour of a mode that is a neighbour as one that rises',
      'Bb major',
      '| Bbmaj7:lydian | % |',
      '| F4-E F-A C-A F-A | D ~ . . |',
      /rises a half step/,
    ],
    ['a diminished fifth as a flat five', 'C major', '| Bdim7 | Cmaj7 |', '| D5-B Ab-F D5 F | E ~ . . |', /flat five/],
    ['what one changed note of a riff is twice', 'F major', '| F7 | Bb7 |', '| . C5-A G-F A-C | . C5-Ab G-F Ab-C |', /now/],
    ['a cell from the middle of a climb', 'F major', '| F7 | % |', '| C4-Eb F-A G-F Eb-C | A3 ~ ~ . |', /is 1-3-2-1/],
  ])('%s', (_, key, over, line, words) => expect(told(key, over, line)).not.toMatch(words));

  test('what a bebop scale is for, where a beat has another note', () => {
    expect(told('F major', '| C7 | Fmaj7 |', '| C5-B Bb-A G-F D-E | F ~ . . |')).not.toMatch(/keeps/);
  });

  test('the end of a line that ends a bar in which more is told', () => {
    expect(told('Eb major', '| Bb7 | Ebmaj7 |', '| Bb4-Ab F-D Ab-F D-F | Eb4-F# G ~ . |')).not.toMatch(
      /comes to rest on G, the third; F# leads/,
    );
  });

  test('a flat tension that only leads up within an enclosure', () => {
    expect(told('E major', '| B7 | Emaj7 |', '| B4-D# F#-D# B-F# A-G | G#4 ~ . . |')).toMatch(
      /A and G enclose G#, the third of Emaj7(?!.*flat thirteen)/,
    );
  });

  test('what begins in a later bar of a sequence, without that bar', () => {
    const words = told('B major', '| C#m7 | F#7 | Bmaj7 |', '| C#5-E D#-C# B-D# C#-B | A#4-C# B-A# G#-B A#-G# | F#4 ~ . . |');
    expect(words).toContain('are a sequence, each a step lower');
    expect(words).not.toMatch(/[;.] G# and B enclose/i);
  });

  test('that bar twice', () => {
    const words = told('A minor', '| Bm7b5 | E7b9 | Am6 |', '| B4-D F-A G-F E-D | F5-E D-C B-G# F-D | C4 ~ ~ . |');
    expect(words).toMatch(/in bar 2, F, the flat nine/i);
    expect(words.match(/in bar 2/gi)).toHaveLength(1);
  });

  test('a neighbour once more, as a sharp nine', () => {
    expect(told('D major', '| A7 | Dmaj7 |', '| C#5-B# C#-E A-G E | F#4 ~ ~ . |')).toMatch(
      /its chromatic lower neighbour B# and back, and on to E(?!.*nine)/,
    );
  });

  test('the end of a triad and the beginning of a scale once more, as an enclosure', () => {
    expect(told('Bb major', '| F13#11 | Bbmaj7 |', '| B4-D G-B A-G F-Eb | D5 ~ . . |')).toMatch(
      /triad over F13#11 .*[Dd]own the F lydian dominant scale from B(?!.*enclose)/,
    );
  });

  test('a bebop scale of which an arpeggio leaves too little', () => {
    expect(told('C major', '| G7 | Cmaj7 |', '| B4-D F-A G-F# F-Eb | E ~ ~ . |')).not.toContain('bebop');
  });

  test('a passing note of the scale is heard without being named', () => {
    expect(told('C major', '| Cmaj7 |', '| C4-D E-F G ~ |')).not.toMatch(/passes/);
  });
});

test('a bar that only goes on with a repeat has no sentence of its own', () => {
  const text = 'phrase "A"\n  key C minor\n  over | Cm7 | % | Fm7 | % |\n  line | C4 Eb G ~ | . Bb G Eb | F4 Ab C5 ~ | . Eb5 C Ab4 |\n';
  const reading = readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY);
  expect(tell(reading).flatMap(({ notes }) => notes)).toHaveLength(reading.phrase.notes.length);
});

const SAMPLES = join(import.meta.dirname, '..', '..', 'samples');

test.each(readdirSync(SAMPLES).filter((file) => file.endsWith('.phrase')))('every note of %s is told of once', (file) => {
  for (const { phrase } of openSnapshot('', 1, readFileSync(join(SAMPLES, file), 'utf8')).phrases) {
    const notes = tell(readPhrase(phrase, DEFAULT_THEORY)).flatMap((sentence) => sentence.notes);
    expect(
      [...notes].sort((a, b) => a - b),
      phrase.name,
    ).toEqual(phrase.notes.map(({ index }) => index));
  }
});
