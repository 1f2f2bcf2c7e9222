/** Claims: each kind proved, refuted and impossible, and what is offered instead. */
import { describe, expect, test } from 'vitest';
import { checkWords } from '../../server/src/analysis/claims/check';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { actionsAt } from '../../server/src/features/code-actions';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { findingsOf } from '../../server/src/rules/findings';

const TEXT = 'phrase "A"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D# | E G C5 ~ |\n';
const reading = readPhrase(openSnapshot('file:///a.phrase', 1, TEXT).phrases[0]!.phrase, DEFAULT_THEORY);
const answer = (claim: string) => checkWords(claim.split(' '), reading);

describe('holds', () => {
  test.each([
    'chord-tones at least 80%', 'arpeggio', 'arpeggio of Dm7', 'enclosure', 'enclosure of 3', 'enclosure of E', 'enclosure of E4', 'enclosure at 2.1',
    'enclosure of 3 at 2.1', 'resolves 7 to 3', 'lands 3 at 2.1', 'lands 1 at 2.4', 'lands b3 at 1.1+1/2', 'range D4 to C5', 'no clash', 'guide tone resolution',
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
    ['lands 3 at 9.1', 'there is no bar 9: the phrase has 2 bars'],
    ['lands 3 at 1.9', 'bar 1 has no beat 9: it has 4'],
    ['lands 3', 'write lands, a degree, at, and a place'],
    ['lands 8 at 1.1', 'write lands'],
    ['chord-tones at least 120%', 'more than 100%'],
    ['scale C foo', '“foo” is no scale'],
    ['arpeggio of Xyz', '“Xyz” is no chord'],
    ['range C5 to C4', 'C5 is above C4'],
    ['range C to A', 'write range'],
    ['resolves 7', 'write resolves'],
    ['enclosur', 'is no claim known here'],
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
  expect(finding).toMatchObject({ rule: 'claim-refuted', severity: 'warning', message: 'The phrase does not bear this out: E4 there is the 3 of Cmaj7.' });
  expect(finding!.related).toHaveLength(1);
  expect(finding!.fixes.map(({ title }) => title)).toEqual(['Claim instead: lands 3 at 2.1', 'Remove the claim']);
  const remove = finding!.fixes[1]!.edits[0]!;
  expect(text.slice(0, remove.start) + text.slice(remove.end)).toBe(`${TEXT}  say "x"\n`);
});

test('a minor key is diatonic with the raised sixth and seventh', () => {
  const minor = readPhrase(openSnapshot('file:///a.phrase', 1, 'phrase "A"\n  key A minor\n  line | A4 F G E | F# G# A ~ |\n').phrases[0]!.phrase, DEFAULT_THEORY);
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
