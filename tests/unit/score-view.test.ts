/** What the editor's side of the score decides without an editor: what is asked for again, and what of a score stands where the cursor is. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { newestOnly } from '../../client/src/score/newest';
import { noteAt, phraseAt, stretchIn } from '../../client/src/score/offsets';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, RUN } from '../property/arbitrary';

describe('asking for the newest', () => {
  test('wishes that come while an answer is awaited are answered once, and each promise ends after that', async () => {
    let newest = 0;
    const asked: number[] = [];
    const overtaken: boolean[] = [];
    const answers: (() => void)[] = [];
    const wish = newestOnly(async (isOvertaken) => {
      asked.push(newest);
      await new Promise<void>((resolve) => answers.push(resolve));
      overtaken.push(isOvertaken());
      return 'done';
    });
    const done: string[] = [];
    const wishFor = (value: number): Promise<void> => {
      newest = value;
      return wish().then(() => void done.push(String(value)));
    };
    const all = [wishFor(1), wishFor(2), wishFor(3)];
    // The first wish asks before the others are made.
    expect(asked).toEqual([1]);
    answers[0]!();
    await new Promise((resolve) => setImmediate(resolve));
    expect([asked, overtaken, done]).toEqual([[1, 3], [true], []]);
    answers[1]!();
    await Promise.all(all);
    expect([asked, overtaken, done]).toEqual([
      [1, 3],
      [true, false],
      ['1', '2', '3'],
    ]);
  });

  test('what says so is asked again', async () => {
    const answers = ['again', 'again', 'done', 'again'] as const;
    let asks = 0;
    await newestOnly(async () => answers[asks++]!)();
    expect(asks).toBe(3);
  });

  test('an error reaches who wishes, and the next wish is answered', async () => {
    let asks = 0;
    const wish = newestOnly(async () => {
      asks += 1;
      if (asks === 1) throw new Error('no answer');
      return 'done';
    });
    await expect(wish()).rejects.toThrow('no answer');
    await wish();
    expect(asks).toBe(2);
  });

  test('whenever wishes come, the last one is answered by what was asked after it, and two are never asked at once', async () => {
    const turns = fc.array(fc.nat(6), { maxLength: 8 });
    await always(
      fc.asyncProperty(turns, turns, async (pauses, lengths) => {
        let [made, answered, open, most, asks] = [0, 0, 0, 0, 0];
        const wish = newestOnly(async () => {
          const newest = made;
          open += 1;
          most = Math.max(most, open);
          for (let turn = lengths[asks++] ?? 0; turn > 0; turn -= 1) await undefined;
          open -= 1;
          answered = newest;
          return 'done';
        });
        const wishes: Promise<void>[] = [];
        for (const pause of [...pauses, 0]) {
          for (let turn = pause; turn > 0; turn -= 1) await undefined;
          made += 1;
          const mine = made;
          wishes.push(wish().then(() => expect(answered).toBeGreaterThanOrEqual(mine)));
        }
        await Promise.all(wishes);
        expect([answered, open]).toEqual([made, 0]);
        expect(most).toBe(1);
      }),
      RUN,
    );
  });
});

describe('where the cursor is', () => {
  const TEXT = 'phrase "Weir"\n  line G4-B | C5 ~ . . | E . . . |\n\nphrase "Lock"\n  line | D4 . . . |';
  const { phrases } = scoreAt(openSnapshot('', 1, TEXT), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' });
  const [weir] = phrases;
  const at = (words: string): number => TEXT.indexOf(words);

  test.each([
    ['the first keyword', 0, 0],
    ['a note', at('C5'), 0],
    ['the second keyword', at('phrase "Lock"'), 1],
    ['the end of the text', TEXT.length, 1],
  ])('%s is in its phrase', (_, offset, index) => {
    expect(phraseAt(phrases, offset, TEXT.length)).toBe(index);
  });

  test('between two phrases is in none, and so is the end of the last one where the text goes on', () => {
    const gap = [
      { start: 3, end: 10 },
      { start: 20, end: 30 },
    ];
    expect([2, 3, 9, 10, 15, 20, 29, 30, 31].map((offset) => phraseAt(gap, offset, 40))).toEqual([
      null,
      0,
      0,
      null,
      null,
      1,
      1,
      null,
      null,
    ]);
    expect(phraseAt(gap, 30, 30)).toBe(1);
    expect(phraseAt([], 0, 0)).toBeNull();
  });

  test('on a note, behind it, and where it is held, it is at that note; elsewhere at none', () => {
    expect([at('G4'), at('C5'), at('C5') + 2, at('~'), at('E .'), at('line')].map((offset) => noteAt(weir!, offset))).toEqual([
      0,
      2,
      2,
      2,
      3,
      null,
    ]);
  });

  test('between two notes it is at the one that begins there', () => {
    const notes = [
      { start: 0, end: 2, holds: [] },
      { start: 2, end: 4, holds: [{ start: 6, end: 7 }] },
    ];
    expect([0, 1, 2, 3, 4, 5, 6, 7, 8].map((offset) => noteAt({ notes }, offset))).toEqual([0, 0, 1, 1, 1, null, 1, 1, null]);
  });

  test('a selection takes from its first note to the end of its last, be it in parts; one note is none', () => {
    const notes = weir!.notes;
    const range = (from: string, to: string): { start: number; end: number } => ({ start: at(from), end: at(to) });
    expect(stretchIn(weir!, [range('G4', 'C5')])).toEqual({ from: notes[0]!.onset, to: notes[2]!.onset });
    expect(stretchIn(weir!, [range('C5', '~'), range('E .', '\n\n')])).toEqual({
      from: notes[2]!.onset,
      to: notes[3]!.onset + notes[3]!.duration,
    });
    expect(stretchIn(weir!, [range('C5', '~')])).toBeNull();
    expect(stretchIn(weir!, [])).toBeNull();
  });
});
