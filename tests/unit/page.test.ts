/** What the page of the score decides without a page: whom the controls speak of. */
import { describe, expect, test } from 'vitest';
import { nameOf, soundingWords, withTempo, type Subject } from '../../client/preview/subject';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';

const TEXT = 'phrase "Weir"\n  over | G7 | C |\n  line G4 | B4 . . . | C5 ~ . . |\nphrase "Lock"\n  line | D4 . . . |\nphrase\n  line | E4 . . . |\n';
const PHRASES = scoreAt(openSnapshot('', 1, TEXT), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }).phrases;

describe('what sounds', () => {
  test.each([[0, null, '“Weir”'], [0, 0, '“Weir”, pickup'], [0, 1, '“Weir”, bar 1'], [0, 2, '“Weir”, bar 2'], [1, 7, '“Lock”'], [2, 0, 'A phrase without a name, bar 1']])('phrase %i, note %j: %s', (phrase, note, words) => {
    expect(soundingWords(PHRASES[phrase]!, note)).toBe(words);
  });

  test('has a tempo of its own, which looking at another phrase leaves alone', () => {
    const [weir, lock]: Subject[] = [{ uri: 'a', phrase: PHRASES[0]! }, { uri: 'a', phrase: PHRASES[1]! }];
    const both = withTempo(withTempo(new Map(), weir!, 90), lock!, 200);
    expect([both.get(nameOf(weir!)), both.get(nameOf(lock!))]).toEqual([90, 200]);
    expect([...withTempo(both, lock!, null)]).toEqual([[nameOf(weir!), 90]]);
    expect(both.get(nameOf({ ...weir!, uri: 'b' }))).toBeUndefined();
  });
});
