/** Claims: each kind proved, refuted and impossible, and what is offered instead. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkWords } from '../../server/src/analysis/claims/check';
import { FIRST_WORDS } from '../../server/src/analysis/claims/kinds';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { actionsAt } from '../../server/src/features/code-actions';
import { completionsAt } from '../../server/src/features/completion/index';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { walkthrough } from '../../server/src/explain/walkthrough';
import { findingsOf } from '../../server/src/rules/findings';

const TEXT = 'phrase "A"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D# | E G C5 ~ |\n';
const reading = readPhrase(openSnapshot('file:///a.phrase', 1, TEXT).phrases[0]!.phrase, DEFAULT_THEORY);
const answer = (claim: string) => checkWords(claim.split(' '), reading);

describe('holds', () => {
  test.each([
    'chord-tones at least 80%',
    'arpeggio',
    'arpeggio of Dm7',
    'enclosure',
    'enclosure of 3',
    'enclosure of E',
    'enclosure of E4',
    'enclosure at 2.1',
    'enclosure of 3 at 2.1',
    'resolves 7 to 3',
    'lands 3 at 2.1',
    'lands 1 at 2.4',
    'lands b3 at 1.1+1/2',
    'range D4 to C5',
    'no clash',
    'guide tone resolution',
  ])('%s', (claim) => {
    expect(answer(claim)).toMatchObject({ status: 'holds' });
  });
});

describe('is refuted by the first note that breaks it', () => {
  test.each([
    ['diatonic', 7, []],
    ['chord-tones', 7, ['chord-tones at least 90%']],
    ['scale C major pentatonic', 1, []],
    ['lands 5 at 2.1', 8, ['lands 3 at 2.1']],
    ['range D4 to A4', 3, ['range D4 to C5']],
    ['enclosure at 1.3', 4, ['enclosure at 2.1']],
    ['turn', null, []],
  ] as const)('%s', (claim, note, instead) => {
    expect(answer(claim)).toMatchObject({ status: 'refuted', note, instead });
  });
});

describe('is impossible, and says why', () => {
  test.each([
    ['lands 3 at 9.1', 'the phrase has 2 bars, and no bar 9'],
    ['lands 3 at 1.9', 'bar 1 has 4 beats, and no beat 9'],
    ['lands 3', 'write lands, a degree, at, and a place'],
    ['lands 8 at 1.1', 'write lands'],
    ['chord-tones at least 120%', 'more than 100%'],
    ['scale C foo', '“foo” is no scale'],
    ['arpeggio of Xyz', '“Xyz” is no chord'],
    ['range C5 to C4', 'C5 is above C4'],
    ['range C to A', 'write range'],
    ['resolves 7', 'write resolves'],
    ['enclosur', 'there is no claim of that kind'],
    ['passing tone of 3', 'only an arpeggio or an enclosure'],
  ])('%s', (claim, why) => {
    const { status, because } = answer(claim);
    expect(status).toBe('impossible');
    expect(because).toContain(why);
  });
  test('an unknown device is offered the nearest one', () => {
    expect(answer('enclosur').instead[0]).toBe('enclosure');
  });
  test('without a key diatonic cannot be checked', () => {
    const plain = readPhrase(openSnapshot('file:///a.phrase', 1, 'phrase "A"\n  line | C4 D E F |\n').phrases[0]!.phrase, DEFAULT_THEORY);
    expect(checkWords(['diatonic'], plain)).toMatchObject({ status: 'impossible', because: 'the phrase has no key; write a key row' });
  });
});

test('a refuted claim is a warning with its note, and fixes that correct or remove it', () => {
  const text = `${TEXT}  claim lands 5 at 2.1\n  say "x"\n`;
  const [finding] = findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);
  expect(finding).toMatchObject({
    rule: 'claim-refuted',
    severity: 'warning',
    message: '“lands 5 at 2.1” does not hold: E4 there is the 3 of Cmaj7.',
  });
  expect(finding!.related).toHaveLength(1);
  expect(finding!.fixes.map(({ title }) => title)).toEqual(['Claim instead: lands 3 at 2.1', 'Remove the claim']);
  const remove = finding!.fixes[1]!.edits[0]!;
  expect(text.slice(0, remove.start) + text.slice(remove.end)).toBe(`${TEXT}  say "x"\n`);
});

test('a minor key is diatonic with the raised sixth and seventh', () => {
  const minor = readPhrase(
    openSnapshot('file:///a.phrase', 1, 'phrase "A"\n  key A minor\n  line | A4 F G E | F# G# A ~ |\n').phrases[0]!.phrase,
    DEFAULT_THEORY,
  );
  expect(checkWords(['diatonic'], minor).status).toBe('holds');
});

test('from a refuted claim one can go to the note that breaks it', () => {
  const text = `${TEXT}  claim lands 5 at 2.1\n`;
  const at = text.indexOf('lands');
  const actions = actionsAt(openSnapshot('file:///a.phrase', 1, text), at, at, DEFAULT_SETTINGS, (error) => {
    throw error;
  });
  const { instead } = actions.find(({ title }) => title === 'Go to the note that breaks it')!;
  expect(instead?.kind === 'go-to' && text.slice(instead.start, instead.end)).toBe('E');
});

/** Of a line over some chords: what a claim answers, as the end of a sentence. */
function told(claim: string, over: string, line: string): string {
  const { phrase } = openSnapshot('file:///a.phrase', 1, `phrase "A"\n  key F major\n  over ${over}\n  line ${line}\n`).phrases[0]!;
  const { status, because } = checkWords(claim.split(' '), readPhrase(phrase, DEFAULT_THEORY));
  return `${status}: ${because}`;
}

// What resolves goes by step to a chord tone of its own chord (b9 to 1, 11 to 3, a 4–3 suspension) or to a tone of the next (common practice).
describe('a degree resolves within its chord or into the next', () => {
  const [over, line] = ['| Gm7 C7 | Fmaj7 |', '| Bb4-D F-A G-E Db-C | A ~ . . |'];
  test.each([
    ['resolves b9 to 1', over, line, 'holds: the Db5 in bar 1, beat 4 (the b9 of C7) goes to C5, the 1 of C7'],
    ['resolves 11 to 3', '| Fmaj7 |', '| A4-C Bb-A C ~ |', 'holds: the Bb4 in bar 1, beat 2 (the 11 of Fmaj7) goes to A4, the 3 of Fmaj7'],
    ['resolves 7 to 1', '| Fmaj7 |', '| C5 E-F A ~ |', 'holds: the E5 in bar 1, beat 2 (the 7 of Fmaj7) goes to F5, the 1 of Fmaj7'],
    [
      'resolves 4 to 3',
      '| Gm7 | C7 | Fmaj7 |',
      '| D4 G Bb F5 | ~ E ~ . | F ~ ~ ~ |',
      'holds: the F5 in bar 1, beat 4 (the 11 of C7) goes to E5, the 3 of C7',
    ],
    [
      'resolves 4 to 3',
      '| C7sus | C7 |',
      '| G4 C5 F ~ | E ~ ~ ~ |',
      'holds: the F5 in bar 1, beat 3 (the 4 of C7sus) goes to E5, the 3 of C7',
    ],
    [
      'resolves 7 to 3',
      '| Gm7 | C7 |',
      '| Bb4 D5 F F | E ~ ~ ~ |',
      'holds: the F5 in bar 1, beat 3 (the b7 of Gm7) goes to E5, the 3 of C7',
    ],
    [
      'resolves b7 to 3',
      '| Gm7 | Dm7 |',
      '| Bb4 D5 G F | F ~ ~ ~ |',
      'holds: the F5 in bar 1, beat 4 (the b7 of Gm7) stays, and becomes the b3 of Dm7',
    ],
    ['resolves b9 to 1', '| C7 |', '| C#5-C G E ~ |', 'holds: the C#5 in bar 1, beat 1 (the b9 of C7) goes to C5, the 1 of C7'],
  ])('%s over %s', (claim, chords, notes, answered) => {
    expect(told(claim, chords, notes)).toBe(answered);
  });
  test.each([
    [
      'resolves 7 to 3',
      over,
      line,
      'refuted: the F5 in bar 1, beat 2 (the b7 of Gm7) goes to A5 (the 9 of Gm7) and G5 (the 5 of C7), and not to the 3 of a chord',
    ],
    [
      'resolves 7 to 3',
      '| Gm7 | C7 |',
      '| Bb4 D5 C5 F | E4 ~ ~ ~ |',
      'refuted: the F5 in bar 1, beat 4 (the b7 of Gm7) leaps to E4, the 3 of C7, and what resolves goes by step or stays',
    ],
    [
      'resolves 1 to 9',
      '| Fmaj7 |',
      '| F4 G A ~ |',
      'refuted: the F4 in bar 1, beat 1 (the 1 of Fmaj7) and G4, the 9 of Fmaj7, stand in one chord, in which a note resolves by step to its 1, 3 or 5',
    ],
    ['resolves 7 to 3', '| Fmaj7 |', '| F4 A C E5 |', 'refuted: the E5 in bar 1, beat 4 (the 7 of Fmaj7) is the last note'],
    ['resolves 4 to 3', '| Fmaj7 |', '| F4 A C E5 |', 'refuted: no note is the 4 of its chord'],
  ])('%s over %s does not, and it is said where the note goes', (claim, chords, notes, answered) => {
    expect(told(claim, chords, notes)).toBe(answered);
  });
});

test('what holds says on which notes', () => {
  expect(answer('lands 3 at 2.1').because).toBe('E4 is the 3 of Cmaj7');
  expect(answer('range C4 to A5').because).toBe('the lowest note is D4, the highest C5');
  expect(answer('enclosure').because).toBe('there is one, F4-D#4 into E4 in bar 2, beat 1');
  expect(answer('arpeggio').because).toBe('there is one, D4-F4-A4-C5 from bar 1, beat 1 on');
});

test('a message names its claim, in all places in the same words', () => {
  const text = `${TEXT}  claim lands 5 at 2.1\n  claim lands 3 at 9.1\n`;
  const snapshot = openSnapshot('file:///a.phrase', 1, text);
  const messages = findingsOf(snapshot, DEFAULT_THEORY).map(({ message }) => message);
  expect(messages).toEqual([
    '“lands 5 at 2.1” does not hold: E4 there is the 3 of Cmaj7.',
    '“lands 3 at 9.1” cannot be checked: the phrase has 2 bars, and no bar 9.',
  ]);
  expect(walkthrough(readPhrase(snapshot.phrases[0]!.phrase, DEFAULT_THEORY)).claims).toEqual(messages);
});

test('a natural beside an altered tone is said in words', () => {
  const text = 'phrase "A"\n  key C major\n  over | G7alt | Cmaj7 |\n  line | C5 ~ B ~ | C ~ . . |\n  claim lands 3 at 1.1\n';
  expect(findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY).map(({ message }) => message)).toEqual([
    'C lands on beat 1 over G7alt: it is the natural 11, outside G altered. Let it fall to B.',
    '“lands 3 at 1.1” does not hold: C5 there is the natural 11 of G7alt.',
  ]);
});

test('every kind of claim has its row in LANGUAGE, and its form in the list for a phrase without notes', () => {
  const language = readFileSync(join(import.meta.dirname, '..', '..', 'grammar', 'LANGUAGE.md'), 'utf8');
  const rows = language.split('| claim | holds if |\n| --- | --- |\n')[1]!.split('\n\n')[0]!;
  const text = 'phrase "A"\n  claim ';
  const listed = completionsAt(openSnapshot('file:///a.phrase', 1, text), text.length, DEFAULT_THEORY).map(({ label }) => label);
  for (const words of FIRST_WORDS) {
    expect(rows).toMatch(new RegExp(`^\\| \`${words}\\b`, 'm'));
    expect(listed).toContain(words);
  }
});
