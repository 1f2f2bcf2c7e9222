/** When a server that is there is taken to hang, on a clock of the test's own. */
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { PATIENCE } from '../../client/src/server/silence';
import { watchSilence, type Clock } from '../../client/src/server/watch-silence';
import { always, RUN } from '../property/arbitrary';

/** A clock that goes on when it is told to, and stands still when the machine sleeps. */
function openClock(): Clock & { go(milliseconds: number): void; sleep(milliseconds: number): void } {
  let now = 0;
  const timers = new Set<{ readonly at: number; readonly run: () => void }>();
  const due = (until: number) => [...timers].filter(({ at }) => at <= until).sort((a, b) => a.at - b.at)[0];
  return {
    now: () => now,
    after(milliseconds, run) {
      const timer = { at: now + milliseconds, run };
      timers.add(timer);
      return () => void timers.delete(timer);
    },
    go(milliseconds) {
      const until = now + milliseconds;
      for (let timer = due(until); timer !== undefined; timer = due(until)) {
        timers.delete(timer);
        now = Math.max(now, timer.at);
        timer.run();
      }
      now = until;
    },
    sleep(milliseconds) {
      now += milliseconds;
    },
  };
}

/** A server whose answers the test gives, and what the watch does. */
function openWatch() {
  const clock = openClock();
  const done: string[] = [];
  const open: ((how: 'answer' | 'error') => void)[] = [];
  /** As the language client does it: through the middleware. */
  const send = (): void => {
    const answer = watch.middleware.sendRequest!(
      'any',
      undefined,
      undefined,
      () => new Promise<unknown>((resolve, reject) => open.push((how) => (how === 'answer' ? resolve(null) : reject(new Error(how))))),
    );
    answer.catch(() => undefined);
  };
  const watch = watchSilence(
    clock,
    () => {
      done.push('ask');
      send();
    },
    () => void done.push('tell'),
  );
  return {
    ...watch,
    clock,
    done,
    send,
    async answer(which = 0, how: 'answer' | 'error' = 'answer'): Promise<void> {
      open.splice(which, 1)[0]?.(how);
      await Promise.resolve();
      await Promise.resolve();
    },
    waiting: () => open.length,
  };
}

/** What a timer that is never early adds. */
const SOON = 10;

describe('a server that is there', () => {
  test('and is asked nothing may be silent for ever', () => {
    const { clock, done } = openWatch();
    clock.go(100 * PATIENCE);
    expect(done).toEqual([]);
  });

  test('and answers nothing more is asked something light after ten seconds, and said to hang after twenty, once', () => {
    const { clock, done, send } = openWatch();
    send();
    clock.go(PATIENCE - 1);
    expect(done).toEqual([]);
    clock.go(SOON);
    expect(done).toEqual(['ask']);
    clock.go(PATIENCE - SOON);
    send();
    expect(done).toEqual(['ask']);
    clock.go(SOON);
    expect(done).toEqual(['ask', 'tell']);
    send();
    clock.go(100 * PATIENCE);
    expect(done).toEqual(['ask', 'tell']);
  });

  test('and is long at something, but answers what is light, is never said to hang', async () => {
    const { clock, done, send, answer } = openWatch();
    send();
    for (let times = 1; times <= 20; times += 1) {
      clock.go(PATIENCE + SOON);
      expect(done).toEqual(Array.from({ length: times }, () => 'ask'));
      await answer(1);
    }
  });

  test('and answers with errors lives', async () => {
    const { clock, done, send, answer } = openWatch();
    for (let times = 0; times < 20; times += 1) {
      send();
      clock.go(PATIENCE - 1);
      await answer(0, 'error');
    }
    clock.go(100 * PATIENCE);
    expect(done).toEqual([]);
  });

  test('and answers late is watched anew from there, and may hang again', async () => {
    const { clock, done, send, answer, waiting } = openWatch();
    send();
    clock.go(2 * PATIENCE + SOON);
    expect(done).toEqual(['ask', 'tell']);
    while (waiting() > 0) await answer();
    clock.go(100 * PATIENCE);
    send();
    clock.go(2 * PATIENCE + SOON);
    expect(done).toEqual(['ask', 'tell', 'ask', 'tell']);
  });

  test('and slept with the machine is given the time anew', () => {
    const { clock, done, send } = openWatch();
    send();
    clock.go(PATIENCE + SOON);
    clock.sleep(3_600_000);
    clock.go(PATIENCE - SOON);
    expect(done).toEqual(['ask']);
    clock.go(2 * SOON);
    expect(done).toEqual(['ask', 'tell']);
  });

  test('and has taken the place of one that hung owes nothing of what that one owed', async () => {
    const { clock, done, send, beginAnew, answer } = openWatch();
    send();
    send();
    clock.go(PATIENCE + SOON);
    beginAnew();
    clock.go(100 * PATIENCE);
    expect(done).toEqual(['ask']);
    send();
    // The old questions fail when the old server's connection is closed: that is no answer of the new one.
    clock.go(PATIENCE - SOON);
    for (let times = 0; times < 3; times += 1) await answer(0, 'error');
    clock.go(PATIENCE + 2 * SOON);
    expect(done).toEqual(['ask', 'ask', 'tell']);
  });
});

describe('a server that starts', () => {
  test('owes the first answer: it is said to hang after twenty seconds, once', () => {
    const { clock, done, starts } = openWatch();
    clock.go(100 * PATIENCE);
    starts();
    clock.go(2 * PATIENCE - 1);
    expect(done).not.toContain('tell');
    clock.go(2 * SOON);
    expect(done).toEqual(['ask', 'tell']);
    clock.go(100 * PATIENCE);
    expect(done).toEqual(['ask', 'tell']);
  });

  test('and is there in time is not said to hang', () => {
    const { clock, done, starts, beginAnew } = openWatch();
    starts();
    clock.go(PATIENCE - 1);
    beginAnew();
    clock.go(100 * PATIENCE);
    expect(done).toEqual([]);
  });

  test('in the place of one that hung has the whole time for its own start', async () => {
    const { clock, done, send, starts, answer } = openWatch();
    send();
    clock.go(2 * PATIENCE + SOON);
    expect(done).toEqual(['ask', 'tell']);
    starts();
    // The questions to the old one fail when it ends.
    for (let times = 0; times < 2; times += 1) await answer(0, 'error');
    clock.go(2 * PATIENCE - 1);
    expect(done).toEqual(['ask', 'tell', 'ask']);
    clock.go(2 * SOON);
    expect(done).toEqual(['ask', 'tell', 'ask', 'tell']);
  });

  test('and slept with the machine is given the time anew', () => {
    const { clock, done, starts } = openWatch();
    starts();
    clock.sleep(3_600_000);
    clock.go(PATIENCE);
    expect(done).toEqual([]);
    clock.go(PATIENCE + 2 * SOON);
    expect(done).toEqual(['ask', 'tell']);
  });
});

test('whatever is asked and answered when: it is said to hang exactly where nothing came for twice the patience though something was waited for', async () => {
  const step = fc.record({ wait: fc.integer({ min: 0, max: 3 * PATIENCE }), does: fc.constantFrom('send', 'answer') });
  await always(
    fc.asyncProperty(fc.array(step, { maxLength: 30 }), async (steps) => {
      const { clock, done, send, answer, waiting } = openWatch();
      /** The same, counted in another way: from the last answer, or from the first question after which nothing was open. */
      let [owed, since, told] = [0, 0, 0];
      let isTold = false;
      for (const { wait, does } of steps) {
        clock.go(wait);
        if (owed > 0 && !isTold && clock.now() - since > 2 * PATIENCE + SOON) {
          isTold = true;
          told += 1;
        }
        // Too near to the bound to be told apart.
        if (owed > 0 && Math.abs(clock.now() - since - 2 * PATIENCE) <= SOON) return;
        if (does === 'send') {
          if (owed === 0) since = clock.now();
          owed += 1;
          send();
        } else if (owed > 0) {
          // A light question that was sent meanwhile is answered with all others.
          while (waiting() > 0) await answer();
          [owed, since, isTold] = [0, clock.now(), false];
        }
        expect(done.filter((one) => one === 'tell')).toHaveLength(told);
      }
    }),
    RUN,
  );
});
