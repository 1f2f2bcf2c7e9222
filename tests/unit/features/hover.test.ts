/** What a hover says of names, figures, holds and chords of a definition (notes and chords in a phrase: `tests/lsp`). */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import { hoverAt } from '../../../server/src/features/hover/index';
import { atCursor } from './cursor';

/** The hover's text, and what it is said of. */
const hover = (marked: string): { said: string; of: string } => {
  const { snapshot, at } = atCursor(marked);
  const found = hoverAt(snapshot, at, DEFAULT_THEORY);
  if (found === null) throw new Error('The hover says nothing.');
  return { said: found.markdown, of: snapshot.text.slice(found.start, found.end) };
};

const PHRASE = 'phrase "A"\n  key C major\n  over | Cmaj7 |\n';

test('a hold tells the note that it holds', () => {
  const { said, of } = hover(`${PHRASE}  line | E4 ¦~ G ~ |\n`);
  expect(of).toBe('~');
  expect(said).toContain('**E4** is the **3** of `Cmaj7`');
});

test('a figure of the writer’s is judged, and the note named', () => {
  expect(hover(`${PHRASE}  line | E4 G B D |\n  degrees | 3 ¦5 7 9 |\n`).said).toMatch(
    /^Your figure `5` is right\.\n\n\*\*G4\*\* is the \*\*5\*\*/,
  );
  const wrong = hover(`${PHRASE}  line | E4 G B D |\n  degrees | 3 ¦b5 7 9 |\n`);
  expect(wrong.of).toBe('b5');
  expect(wrong.said).not.toContain('is right');
  expect(wrong.said).toContain('**G4** is the **5**');
});

test('a cell tells what it is, and what its notes are here', () => {
  const cell = 'cell climb = 1-2 3-5 // up\n';
  expect(hover(`${cell}${PHRASE}  line | cl¦imb 3 1 |\n`).said).toBe(
    '```phrase\ncell climb = 1-2 3-5\n```\n\nHere: C4 1 of `Cmaj7`, D4 9 of `Cmaj7`, E4 3 of `Cmaj7`, G4 5 of `Cmaj7`.',
  );
  expect(hover(`cell cl¦imb = 1-2 3-5\n${PHRASE}  line | climb climb |\n`).said).toContain('Used 2 times in this file.');
  expect(hover('cell cl¦imb = 1-2\n').said).toContain('Not used yet.');
  expect(hover(`${PHRASE}  line | ri¦se 3 1 |\n`).said).toBe('Nothing in this file defines a cell named `rise`.');
});

test('a name of changes tells its chords; a chord of a definition its tones', () => {
  const changes = 'changes turn = | Gm7 C7 | Fmaj7 |\n';
  expect(hover(`${changes}phrase "A"\n  over tu¦rn\n`)).toEqual({ said: '```phrase\nchanges turn = | Gm7 C7 | Fmaj7 |\n```', of: 'turn' });
  const numerals = 'changes turn = | ii7 V7 | Imaj7 |\n';
  expect(hover(`${numerals}phrase "A"\n  key F major\n  over tu¦rn\n`).said).toContain('```\n\nHere: `Gm7`, `C7`, `Fmaj7`.');
  expect(hover(`${numerals}phrase "A"\n  key F major\n  over turn\n  over t¦urn\n`).said).toContain('\n\nHere: `Gm7`, `C7`, `Fmaj7`.');
  const long = hover(`changes turn = | ${Array(30).fill('ii7 V7').join(' | ')} |\nphrase "A"\n  key F major\n  over tu¦rn\n`).said;
  expect([long.match(/`(?:Gm7|C7)`/g)!.length, long.endsWith('`C7` …')]).toEqual([24, true]);
  expect(hover('changes turn = | Gm¦7 C7 |\n')).toEqual({ said: '**Gm7**: G 1, Bb b3, D 5, F b7.', of: 'Gm7' });
  expect(hover('changes turn = | i¦i7 V7 |\n').said).toContain('from the key of the phrase');
});

test('a keyword tells what its row means, in a definition inside a phrase too', () => {
  expect(hover('phrase "A"\n  me¦ter 3/4\n').said).toContain('4/4 unless written');
  expect(hover('phrase "A"\n  ce¦ll climb = 1-2\n  line | C4 |\n').said).toContain('Names a few beat groups');
});

test('what the writer wrote never becomes markup', () => {
  const { said } = hover('phrase "[a](http://b) <b>¦*c*</b>"\n  line | C4 |\n');
  expect(said).not.toMatch(/\[a\]\(|<b>|[^\\]\*c/);
});

test('a chord that cannot be read is shown as it stands, and is no markup', () => {
  expect(hover('phrase "A"\n  over | X¦`**b**` |\n').said).toBe('`X**b**` could not be read as a chord.');
  expect(hover('changes turn = | X¦`**b**` |\n').said).toBe('`X**b**` could not be read as a chord.');
});

test('white space and comments say nothing', () => {
  const { snapshot, at } = atCursor('phrase "A"\n  // no¦tes C4\n  line | C4 |\n');
  expect(hoverAt(snapshot, at, DEFAULT_THEORY)).toBeNull();
});

test('a claim says whether it holds and on which notes, wherever in its row one points', () => {
  const row = `${PHRASE}  line | E4 G B D |\n  claim`;
  expect(hover(`${row} lands 3 ¦at 1.1\n`)).toEqual({ said: '**Holds**: E4 is the 3 of Cmaj7.', of: 'claim lands 3 at 1.1' });
  expect(hover(`${row} lands 5 at ¦1.1\n`).said).toBe(
    '**Does not hold**: E4 there is the 3 of Cmaj7.\n\nThis would hold: `lands 3 at 1.1`.',
  );
  expect(hover(`${row} enclo¦sur\n`).said).toBe('**Cannot be checked**: there is no claim of that kind.\n\nDid you mean: `enclosure`?');
  expect(hover(`${PHRASE}  line | E4 G B D |\n  cla¦im arpeggio\n`).said).toMatch(
    /^\*\*Holds\*\*: there is one, E4.*\n\n\*\*claim\*\*: A teaching point/,
  );
  expect(hover(`${PHRASE}  line | E4 G B D |\n  cla¦im\n`).said).toContain('A teaching point');
});

test('what a claim quotes is no markup', () => {
  expect(hover(`${PHRASE}  line | E4 G B D |\n  claim lands 3 at ¦[a](http://b)\n`).said).not.toContain('[a](');
});

// An escape tone is left by leap, so nothing of it resolves (THEORY, section 5: no escape excuses).
test('a flagged note that is part of a device says that this excuses nothing', () => {
  const { said } = hover('phrase "A"\n  key C minor\n  over | Cm7 | F7 |\n  line | C4 Eb G F¦# | A C Eb . |\n');
  expect(said).toContain('**escape tone**: ');
  expect(said).toContain('Flagged, and the sequence and escape tone above do not excuse it: within a beat it neither moves');
  expect(hover('phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | F¦4 C G ~ |\n').said).toContain('\n\nFlagged: within two beats');
});

// A dominant borrows the altered tensions of all its forms where it falls; 9 and 13 are its own (THEORY, section 4).
test('a chord says where it leads and what a line may borrow beside its own tensions', () => {
  const over = (key: string, chords: string): string =>
    hover(`phrase "A"\n  key ${key}\n  over ${chords}\n  line | C4 ~ ~ ~ | ~ ~ ~ ~ |\n`).said;
  expect(over('F major', '| C¦7 | Fmaj7 |')).toContain('C7 leads down a fifth to Fmaj7, so a line may borrow b9, #9, #11 and b13 too.');
  expect(over('F major', '| Gb¦7 | Fmaj7 |')).toMatch(/Gb7 leads down a half step to Fmaj7, so a line may borrow /);
  expect(over('C major', '| C¦ | Fmaj7 |')).toContain('C leads down a fifth to Fmaj7, so a line may borrow b7 too.');
  expect(over('F major', '| Gm¦7 | C7 |')).not.toContain('borrow');
  expect(over('Bb major', '| Bb¦7 | Eb7 | Bb7 |')).toContain('In Bb major: I7.');
  expect(over('F major', '| C¦7 | Fmaj7 |')).toContain('In F major: V7.');
});

test('a cell that is an arpeggio is told once', () => {
  const { said } = hover('phrase "A"\n  key F major\n  over | Gm7 | C7 |\n  line | Bb¦4-D F-A G ~ | E ~ ~ ~ |\n');
  expect(said).toContain('**arpeggio**: ');
  expect(said).not.toContain('**cell**');
});

test('the values of key and tempo say what they are', () => {
  expect(hover('phrase "A"\n  key F ma¦jor\n').said).toMatch(/^\*\*F major\*\*: F G A Bb C D E\.\n\n\*\*key\*\*: /);
  expect(hover('phrase "A"\n  key ¦C minor\n').said).toContain('**C minor**: C D Eb F G Ab Bb; the sixth and seventh may be raised.');
  expect(hover('phrase "A"\n  tempo 1¦32 swing\n').said).toContain('**132 beats a minute**, swung eighths.');
  expect(hover('phrase "A"\n  tempo 132 st¦raight\n').said).toContain('straight eighths');
  expect(hover('phrase "A"\n  key ¦H major\n').said).toMatch(/^\*\*key\*\*/);
});
