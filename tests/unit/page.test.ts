/** What the page of the score decides without a page: whom the controls speak of, what is sent again. */
import { describe, expect, test } from 'vitest';
import { isPartial, knownOf, wholeScore } from '../../client/src/score/known';
import { nameOf, soundingWords, withTempo, type Subject } from '../../client/preview/subject';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt, sentScoreAt } from '../../server/src/features/score/index';
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

describe('a score that is sent in parts', () => {
  const lesson = (count: number, change = ''): string => Array.from({ length: count }, (_, i) => `phrase "P${i}"\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C5 B-G F-D | E ~ . . |${i === 3 ? change : ''}\n`).join('');
  const ask = (text: string, version: number, before: ReturnType<typeof openSnapshot> | undefined, at: string, known: readonly number[], most: number) => {
    const snapshot = openSnapshot('', version, text, before);
    return { snapshot, sent: sentScoreAt(snapshot, text.indexOf(at), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written', known, most }) };
  };
  const whole = (text: string, version: number, at: string, before?: ReturnType<typeof openSnapshot>) => scoreAt(openSnapshot('', version, text, before), text.indexOf(at), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' });
  const plain = (score: object): unknown => JSON.parse(JSON.stringify(score, (key, value: unknown) => (key === 'revision' ? 'any' : value)));

  test('what is nearest to the cursor comes first; asked again and again, all of it has come', () => {
    const text = lesson(20);
    const { snapshot, sent } = ask(text, 1, undefined, '"P9"', [], 5);
    let score = wholeScore(sent, new Map())!;
    expect(score.phrases.flatMap(({ revision }, i) => (revision > 0 ? [i] : []))).toEqual([7, 8, 9, 10, 11]);
    expect(score.phrases.map(({ name, bars }) => [name, bars.length])).toEqual(Array.from({ length: 20 }, (_, i) => [`P${i}`, 2]));
    let rounds = 1;
    for (; isPartial(score) && rounds < 10; rounds += 1) {
      const known = knownOf(score);
      score = wholeScore(sentScoreAt(snapshot, text.indexOf('"P9"'), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written', known: [...known.keys()], most: 5 }), known)!;
    }
    expect(rounds).toBe(4);
    expect(score).toEqual(scoreAt(snapshot, text.indexOf('"P9"'), DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }));
  });

  test('after an edit only what changed is sent, and the rest is moved to where it stands now', () => {
    const [before, after] = [lesson(20), lesson(20, ' E ~ C . |')];
    const first = ask(before, 1, undefined, '"P3"', [], 100);
    const known = knownOf(wholeScore(first.sent, new Map())!);
    const { sent } = ask(after, 2, first.snapshot, '"P3"', [...known.keys()], 100);
    expect(sent.phrases.flatMap((one, i) => ('same' in one ? [] : [i]))).toEqual([3]);
    expect(JSON.stringify(sent).length).toBeLessThan(JSON.stringify(first.sent).length / 8);
    expect(plain(wholeScore(sent, known)!)).toEqual(plain(whole(after, 2, '"P3"')));
  });

  test('what counts on a phrase that is not there is no score', () => {
    const first = ask(lesson(3), 1, undefined, '"P1"', [], 100);
    const known = knownOf(wholeScore(first.sent, new Map())!);
    expect(wholeScore(ask(lesson(3), 2, first.snapshot, '"P1"', [...known.keys()], 100).sent, new Map())).toBeNull();
  });
});
