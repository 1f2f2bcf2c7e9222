/** A chord tone under another name than its chord's is told, and what players spell so on purpose is left in peace (common practice of spelling). */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { offersAt } from '../../server/src/assists/registry';
import { actionsAt, formsAt } from '../../server/src/features/code-actions';
import { fixAll } from '../../server/src/features/fix-all';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf, type Finding } from '../../server/src/rules/findings';

const textOf = (over: string, line: string, key = ''): string =>
  `phrase "A"\n${key === '' ? '' : `  key  ${key}\n`}  over | ${over} |\n  line | ${line} |\n`;
const told = (text: string): readonly Finding[] =>
  findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY).filter(({ rule }) => rule === 'spelling-against-chord');
const fail = (error: unknown): never => {
  throw error;
};

/** A case, its chords, its line and its key; the words, null where nothing is told, and the line with the fix. */
type Row = readonly [what: string, over: string, line: string, key: string, message: string | null, fixed: string];

const TOLD: readonly Row[] = [
  ['the third of a minor chord', 'Cm', 'C4 D# G C', '', 'D# over Cm is the chord’s minor third, which is spelled Eb.', 'C4 Eb G C'],
  [
    'the flat five of a half-diminished chord',
    'Dm7b5',
    'D4 F G# C',
    '',
    'G# over Dm7b5 is the chord’s flat five, which is spelled Ab.',
    'D4 F Ab C',
  ],
  [
    'the third of a dominant',
    'D7 | Gm',
    'D4 Gb A C | Bb G . .',
    'G minor',
    'Gb over D7 is the chord’s major third, which is spelled F#.',
    'D4 F# A C | Bb G . .',
  ],
  [
    'beside the flat nine that the chord writes',
    'D7b9 | Gm',
    'D4 Eb Gb Eb | D ~ . .',
    '',
    'Gb over D7b9 is the chord’s major third, which is spelled F#.',
    'D4 Eb F# Eb | D ~ . .',
  ],
  ['the seventh', 'F7', 'F4 A C D#', '', 'D# over F7 is the chord’s minor seventh, which is spelled Eb.', 'F4 A C Eb'],
  ['the root', 'Ab7', 'G#4 C Eb C', '', 'G# over Ab7 is the chord’s root, which is spelled Ab.', 'Ab4 C Eb C'],
  ['the fifth', 'Bm7', 'B4 D Gb A', '', 'Gb over Bm7 is the chord’s perfect fifth, which is spelled F#.', 'B4 D F# A'],
  ['the sixth', 'Db6', 'Db4 F A# Db', '', 'A# over Db6 is the chord’s sixth, which is spelled Bb.', 'Db4 F Bb Db'],
  [
    'what a suspended chord has for its third',
    'Bb7sus',
    'Bb4 D# F Ab',
    '',
    'D# over Bb7sus is the chord’s fourth, which is spelled Eb.',
    'Bb4 Eb F Ab',
  ],
  ['a flat nine that is written', 'C7b9', 'E4 C# Bb G', '', 'C# over C7b9 is the chord’s flat nine, which is spelled Db.', 'E4 Db Bb G'],
  ['a bass', 'Dm/Bb', 'D4 A# D F', '', 'A# over Dm/Bb is the chord’s bass, which is spelled Bb.', 'D4 Bb D F'],
  ['a sharp on the way down', 'Cm', 'E4-D# D-C G C', '', 'D# over Cm is the chord’s minor third, which is spelled Eb.', 'E4-Eb D-C G C'],
  [
    'the last of a run of half steps, where it is no passing note',
    'Cm',
    'C4-C# D-D# ~ .',
    '',
    'D# over Cm is the chord’s minor third, which is spelled Eb.',
    'C4-C# D-Eb ~ .',
  ],
  ['a note alone', 'Cm', '4:D#4', '', 'D# over Cm is the chord’s minor third, which is spelled Eb.', '4:Eb4'],
  ['another octave figure', 'G7', 'B3 D Cb4 G', '', 'Cb over G7 is the chord’s major third, which is spelled B.', 'B3 D B3 G'],
  ['with its marks', 'Cm', 'C4 (/D#)> G C', '', 'D# over Cm is the chord’s minor third, which is spelled Eb.', 'C4 (/Eb)> G C'],
];

/** What players spell so on purpose. */
const LEFT_IN_PEACE: readonly (readonly [what: string, over: string, line: string, key: string])[] = [
  ['as the chord spells it', 'Cm7', 'C4 Eb G Bb', ''],
  ['a sharp on its way up', 'Cm7', 'D4-D# E-F G Bb Eb', ''],
  ['a flat on its way down', 'D7', 'G4-Gb F-E D C A', ''],
  ['one that wraps the note it leads to', 'Cm7 | C6', 'G4 Eb D# F | E ~ . .', ''],
  ['one held over a change, right before it', 'B7 | Cm', 'B4 A F# D# | ~ D C G', ''],
  ['one held over a change, right after it', 'Cm | B7', 'C4 G C D# | ~ F# A B', ''],
  ['one struck again over a change', 'B7 | Cm', 'B4 A F# D# | D# D C G', ''],
  ['an anticipation that the scale before spells so', 'F#7 | Cm', 'F#4 A# C# .-D# | ~ D C G', ''],
  ['Cb read as B', 'Abm7', 'Ab4 B Eb Gb', ''],
  ['E# read as F', 'C#7', 'C#4 F G# B', ''],
  ['a double accidental read as one reads it', 'G#7', 'G#4 C D# F#', ''],
  ['a diminished seventh chord', 'Cdim7 | Edim7', 'C4 D# F# A | G4 A# C# E', ''],
  ['an augmented chord', 'C+7 | C+', 'E4 G# A# C | E Ab C E', ''],
  ['an altered chord', 'D7alt', 'D4-Eb F-Gb Ab-Bb C-D', ''],
  ['a sharp nine as a flat third', 'D7#9', 'D4 F# A F', ''],
  ['a sharp eleven as a flat five', 'Cmaj7#11', 'E4 Gb B G', ''],
  ['a flat five as a sharp eleven', 'C7b5', 'E4 F# Bb C', ''],
  ['a flat thirteen as a sharp five', 'C7b13', 'E4 G# Bb C', ''],
  ['a blue third over the IV of a blues', 'C7 | F7 | C7', 'E4 G Bb C | F D# C D# | C ~ . .', 'C major'],
  ['a line of another chord: F# over C7', 'C7', 'G4-E F#-A# C#-A# F#-E', ''],
  ['a line of one root under its other name', 'Ebm7', 'D#4 F# A# C#', ''],
  ['a note that the key spells so', 'B7 | Bbmaj7', 'B4 Eb A B | Bb ~ . .', 'Bb major'],
  ['the flat two of where the chord falls', 'F#7 | F6', 'F#4 Db E Bb | A ~ . .', ''],
  ['what leads to the root where the chord falls', 'Ab7 | G7', 'Ab4 C Eb F# | F ~ G ~', ''],
  ['a note that is meant', 'Cm', 'C4 D#! G C', ''],
  ['a degree', 'Cm', '1 #2 5 1', ''],
  ['what the chord does not hold', 'C7', 'C4 D# C G', ''],
];

test.each<Row>([...TOLD, ...LEFT_IN_PEACE.map((row): Row => [...row, null, row[2]])])(
  '%s over %s: %s',
  (_, over, line, key, message, fixed) => {
    const text = textOf(over, line, key);
    const found = told(text);
    const facts = found.map((one) => [one.severity, one.message, one.fixes.map(({ safe }) => safe)]);
    expect(facts).toEqual(message === null ? [] : [['hint', message, [true]]]);
    const edits = found.flatMap(({ fixes }) => fixes[0]!.edits);
    expect(applyPlaced(text, edits)).toBe(textOf(over, fixed, key));
  },
);

test('a stretch of them is told as one, and all safe fixes mend it', () => {
  const text = textOf('Ebm7', 'C5-D# F#-A# C#-A# F#-F', '');
  expect(told(text).map(({ message }) => message.slice(0, 2))).toEqual(['D#', 'F#', 'A#', 'C#', 'A#', 'F#']);
  expect(fixAll(text, DEFAULT_THEORY).text).toBe(textOf('Ebm7', 'C5-Eb Gb-Bb Db-Bb Gb-F'));
});

test('a pickup is not told', () => {
  expect(told('phrase "A"\n  over | Cm |\n  line C4-D#-G | C G C . |\n')).toEqual([]);
});

test('a cell, which other chords use too, is not told', () => {
  expect(told(`cell odd = C4 D# G C\n\n${textOf('Cm', 'odd')}`)).toEqual([]);
});

test('the action of the same words is shown once, as the fix', () => {
  const text = textOf('Cm', 'C4 D# G C');
  const snapshot = openSnapshot('file:///a.phrase', 1, text);
  const at = text.indexOf('D#');
  expect(
    offersAt(snapshot, { start: at, end: at, only: null }, DEFAULT_THEORY, fail)
      .filter(({ assist }) => assist === 'respell')
      .map(({ title }) => title),
  ).toEqual(['Spell D# as Eb']);
  for (const all of [actionsAt(snapshot, at, at, DEFAULT_SETTINGS, fail), formsAt(snapshot, at, at, DEFAULT_SETTINGS, fail)]) {
    expect(all.filter(({ title }) => title.startsWith('Spell')).map(({ kind }) => kind)).toEqual(['quickfix']);
  }
  expect(actionsAt(snapshot, at, at, DEFAULT_SETTINGS, fail, ['refactor.rewrite.spelling']).map(({ kind }) => kind)).toEqual([
    'refactor.rewrite.spelling',
  ]);
});
