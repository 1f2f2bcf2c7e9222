/** The judge of what is shown in time: what keeps to the music passes on any machine, and what lags fails on any. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { always, RUN } from '../property/arbitrary';
import { judged, TOGETHER, type Moment } from '../workbench/together';

/** Milliseconds between the frames of the slowest machine that is tried. */
const SLOWEST = 140;

/** Notes of 150 and 300 milliseconds, and a page that draws a frame every 16 to `SLOWEST` of them. */
const page = fc
  .record({
    heard: fc
      .array(fc.constantFrom(150, 300), { minLength: 8, maxLength: 20 })
      .map((lengths) => lengths.map((_, i): Moment => ({ note: i, at: 500 + lengths.slice(0, i).reduce((sum, one) => sum + one, 0) }))),
    gaps: fc.array(fc.integer({ min: 16, max: SLOWEST }), { minLength: 600, maxLength: 600 }),
  })
  .map(({ heard, gaps }) => {
    let at = 0;
    return { heard, frames: gaps.map((gap) => (at += gap)) };
  });

/** What a page does that marks each note in the first frame after it is told, so many milliseconds after it is due. */
const marked = (heard: readonly Moment[], frames: readonly number[], lag: number): Moment[] =>
  heard.map(({ note, at }) => ({ note, at: frames.find((frame) => frame >= at + lag)! }));

test('what is marked in the first frame after it is due is in time, however few frames there are', () => {
  always(
    fc.property(page, ({ heard, frames }) => {
      expect(judged(heard, marked(heard, frames, 0), frames)).toEqual({ inTime: heard.map((_, i) => i), unseen: [], wrong: [] });
    }),
    RUN,
  );
});

test('a lag of ours is told of every note, on a slow machine as on a fast one; so is what comes too early', () => {
  always(
    fc.property(page, ({ heard, frames }) => {
      const all = heard.map((_, i) => i);
      expect(judged(heard, marked(heard, frames, 2 * SLOWEST + TOGETHER + 1), frames).wrong).toEqual(all);
      expect(
        judged(
          heard,
          heard.map(({ note, at }) => ({ note, at: at - TOGETHER - 1 })),
          frames,
        ).wrong,
      ).toEqual(all);
    }),
    RUN,
  );
});

test('a mark that does not come is told where the page drew before the next note', () => {
  always(
    fc.property(page, fc.nat(), ({ heard, frames }, pick) => {
      const without = pick % heard.length;
      const { unseen, wrong } = judged(
        heard,
        marked(heard, frames, 0).filter(({ note }) => note !== without),
        frames,
      );
      const next = heard[without + 1]?.at ?? Infinity;
      expect({ unseen, wrong }).toEqual(
        frames.some((at) => at >= heard[without]!.at && at < next) ? { unseen: [], wrong: [without] } : { unseen: [without], wrong: [] },
      );
    }),
    RUN,
  );
});

test('what is held up on its way is excused by as much, and not what lags besides', () => {
  always(
    fc.property(page, fc.integer({ min: 1, max: 400 }), ({ heard, frames }, held) => {
      const all = heard.map((_, i) => i);
      expect(judged(heard, marked(heard, frames, held), frames, () => held)).toEqual({ inTime: all, unseen: [], wrong: [] });
      expect(judged(heard, marked(heard, frames, held + 2 * SLOWEST + TOGETHER + 1), frames, () => held).wrong).toEqual(all);
    }),
    RUN,
  );
});

test('on a machine that draws every 16 ms a lag of 80 ms is told of every note', () => {
  const frames = Array.from({ length: 600 }, (_, i) => i * 16);
  const heard = Array.from({ length: 12 }, (_, note) => ({ note, at: 500 + note * 300 }));
  expect(judged(heard, marked(heard, frames, 80), frames).wrong).toHaveLength(12);
});
