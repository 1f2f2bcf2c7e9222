/** What a run of half steps excuses. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';

function warned(over: string, line: string): string[] {
  const { phrase } = openSnapshot('', 1, `phrase "A"\n  key C major\n  over ${over}\n  line ${line}\n`).phrases[0]!;
  return readPhrase(phrase, DEFAULT_THEORY)
    .notes.filter(({ verdict }) => verdict?.level === 'warning')
    .map(({ note }) => `${phrase.notes[note]!.bar}.${phrase.notes[note]!.beat}`);
}

test.each([
  ['up', '| Dm7 | G7 |', '| D4-D# E-F F#-G G#-A | B ~ . . |'],
  ['down', '| Dm7 | G7 |', '| A4-G# G-F# F-E Eb-D | B3 ~ . . |'],
])('a run %s from chord tone to chord tone excuses all its notes', (_, over, line) => expect(warned(over, line)).toEqual([]));

test.each([
  ['that ends on no chord tone', '| Cmaj7 |', '| C4-~ C# D-Eb ~ |'],
  ['that turns round', '| Cmaj7 |', '| G4 ~ G#-A Ab |'],
  ['in which a note is dwelt on for longer than its room', '| Cmaj7 |', '| C4 . C# ~ |'],
  ['that starts on the clash itself', '| Cmaj7 | Cmaj7 |', '| E4 ~ . . | C#4 D D# E |'],
])('a run %s does not', (_, over, line) => expect(warned(over, line)).not.toEqual([]));
