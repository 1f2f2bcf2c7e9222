/** An example of each code action: a phrase with the cursor at `¦`, or a selection between two of them. The page shows what comes of it; tests run them. */

/** The rows of a phrase in C major, over the usual cadence unless other chords are named. */
const cadence = (line: string, over = '| Dm7 | G7 | Cmaj7 |'): string =>
  `phrase "Example"\n  key  C major\n  over ${over}\n  line ${line}\n`;

/** A phrase with the cursor at its name, or at the keyword of a row. */
const atName = (phrase: string): string => phrase.replace('phrase "', 'phrase "¦');
const atRow = (row: 'line' | 'over', phrase: string): string => phrase.replace(`  ${row} `, `  ¦${row} `);

const CADENCE = '| D4-F A-C5 B-A G-F | G-B D-F E-D B-G | E ~ ~ . |';

/** By the action's id. */
export const EXAMPLES: Readonly<Record<string, string>> = {
  'chord-tone-below': cadence('| ¦F4-A C5-E G ~ |', '| Cmaj7 |'),
  'chord-tone-above': cadence('| ¦F4-A C5-E G ~ |', '| Cmaj7 |'),
  'raise-eleventh': cadence('| ¦F4-A C5-E G ~ |', '| Cmaj7 |'),
  'off-the-beat': cadence('| G4 E ¦F C |', '| Cmaj7 |'),
  'long-bar': cadence('| D4-F A C5 A ¦F | G ~ ~ . |', '| Dm7 | G7 |'),
  enclosure: cadence('| D4-F A-C5 A ~ | B4-D5 G ~ ~ | ¦E ~ ~ . |'),
  'mark-intended': cadence('| ¦F4-A C5-E G ~ |', '| Cmaj7 |'),
  'passing-tone': cadence('| D4 ¦F A ~ |', '| Dm7 |'),
  approach: cadence('| D4-F A-C5 A F | ¦B ~ ~ . |', '| Dm7 | G7 |'),
  ornament: cadence('| D4 F ¦A F |', '| Dm7 |'),
  'triplet-arpeggio': cadence('| D4 F A ~ | ¦B ~ ~ . |', '| Dm7 | G7 |'),
  'neighbour-tone': cadence('| D4 F ¦A ~ |', '| Dm7 |'),
  anticipation: cadence('| D4-F A-C5 A ~ | ¦B ~ ~ . |', '| Dm7 | G7 |'),
  suspension: cadence('| D4-F A F C5 | ¦B ~ ~ . |', '| Dm7 | G7 |'),
  'repeated-pickup': cadence('| D4-F A-C5 A ~ | ¦B ~ ~ . |', '| Dm7 | G7 |'),
  'swap-tension': cadence('| G4-B D5-F ¦A-G F-D | E ~ ~ . |', '| G7 | Cmaj7 |'),
  'invert-arpeggio': cadence('| ¦D4-F A-C5 A ~ |', '| Dm7 |'),
  simplify: cadence('| D4-E ¦F-A A ~ |', '| Dm7 |'),
  'sequence-through': cadence('| ¦D4-E F-A¦ A ~ | G ~ ~ ~ | E ~ ~ . |'),
  'write-degrees': atName(cadence(CADENCE)),
  'write-claims': atName(cadence(CADENCE)),
  'write-walkthrough': atName(cadence(CADENCE)),
  'twelve-keys': atName(cadence('| G4-B D5-F | E ~ |', '| G7 | Cmaj7 |')),
  'write-steps': atName(cadence(CADENCE)),
  skeleton: atName(cadence(CADENCE)),
  transpose: cadence(CADENCE).replace('key  C', 'key  ¦C'),
  'major-minor': atName(cadence(CADENCE)),
  'harmonic-rhythm': atName(cadence('| D4 F A C5 | B A G F | E ~ ~ ~ |')),
  octave: atName(cadence(CADENCE)),
  displace: atName(cadence('| D4 F A ~ | B ~ ~ . |', '| Dm7 | G7 |')),
  respell: cadence('| G4 ¦Gb G B |', '| G7 |'),
  'line-in-degrees': atRow('line', cadence(CADENCE)),
  'line-in-pitches': atRow('line', cadence('| 1-b3 5-b7 5 ~ | 3 ~ ~ . |', '| Dm7 | G7 |')),
  'chords-in-numerals': atRow('over', cadence(CADENCE)),
  'numerals-in-chords': atRow('over', cadence(CADENCE, '| ii7 | V7 | Imaj7 |')),
  'extract-cell': cadence('| ¦D4-E F-A¦ A ~ |', '| Dm7 |'),
  'inline-cell': `cell climb = 1-2 3-5\n\n${cadence('| ¦climb 5 ~ |', '| Cmaj7 |')}`,
  'extract-changes': atRow('over', cadence(CADENCE)),
  'inline-changes': `changes turn = | Dm7 | G7 | Cmaj7 |\n\n${cadence(CADENCE, '¦turn')}`,
  'join-systems': `${cadence('| D4-F A-C5 A ~ |', '| Dm7 |')}  ¦over | G7 |\n  line | B4 ~ ~ . |\n`,
  'meter-bars': atName(cadence('| D4-F A-C5 A ~ | B ~ ~ . |', '| Dm7 | G7 |')),
  'file-lines': `${atName(cadence('| D4-F A ~ ~ |', '| Dm7 |'))}\n${cadence('| G4-B D5 ~ ~ |', '| G7 |')}`,
};
