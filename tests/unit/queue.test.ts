/** The queue of requests, on a clock of the test's own: a round is run by hand, and time passes where the work says so. */
import { describe, expect, test } from 'vitest';
import { CancellationToken, CancellationTokenSource, LSPErrorCodes } from 'vscode-languageserver';
import { openQueue, STRETCH, type Queue, type Urgency } from '../../server/src/protocol/queue';
import type { Pieces } from '../../server/src/model/pieces';

/** What a test sees of a queue: what was done, in order, how long each round took, and the answers. */
class Bench {
  readonly done: string[] = [];
  readonly rounds: number[] = [];
  version = 1;
  private time = 0;
  private planned: (() => void)[] = [];
  readonly queue: Queue = openQueue({ now: () => this.time, next: (run) => void this.planned.push(run) });

  /** Work of so many pieces, each of so many milliseconds. */
  ask(name: string, urgency: Urgency, pieces: number, each: number, token: CancellationToken = CancellationToken.None): Promise<unknown> {
    const work = function* (bench: Bench): Pieces<string> {
      const text = bench.version;
      for (let i = 1; i <= pieces; i += 1) {
        bench.time += each;
        bench.done.push(`${name}${i}`);
        if (i < pieces) yield;
      }
      return `${name} of ${text}`;
    };
    return this.queue.add({ urgency, token, about: () => this.version, begin: () => work(this) });
  }

  round(): boolean {
    const [run] = this.planned.splice(0, 1);
    const before = this.time;
    run?.();
    if (run !== undefined) this.rounds.push(this.time - before);
    return run !== undefined;
  }

  rest(): void {
    while (this.round());
  }
}

describe('the order', () => {
  test('what somebody waits for comes before what came in first, and what is seen before what is only at hand', async () => {
    const bench = new Bench();
    const answers = [
      bench.ask('lens', 'later', 1, 1),
      bench.ask('outline', 'soon', 1, 1),
      bench.ask('score', 'later', 1, 1),
      bench.ask('findings', 'now', 1, 1),
    ];
    bench.rest();
    expect(bench.done).toEqual(['findings1', 'outline1', 'lens1', 'score1']);
    expect(await Promise.all(answers)).toEqual(['lens of 1', 'outline of 1', 'score of 1', 'findings of 1']);
  });

  test('a burst comes in whole before the first that nobody waits for is begun', () => {
    const bench = new Bench();
    void bench.ask('actions', 'later', 1, 1);
    bench.round();
    expect(bench.done).toEqual([]);
    void bench.ask('findings', 'now', 1, 1);
    bench.round();
    expect(bench.done).toEqual(['findings1']);
    bench.rest();
    expect(bench.done).toEqual(['findings1', 'actions1']);
  });

  test('long work is put off for what comes in between its pieces', () => {
    const bench = new Bench();
    void bench.ask('score', 'later', 6, 4);
    bench.round();
    bench.round();
    expect(bench.done).toEqual(['score1', 'score2']);
    void bench.ask('hover', 'now', 1, 1);
    bench.rest();
    expect(bench.done).toEqual(['score1', 'score2', 'hover1', 'score3', 'score4', 'score5', 'score6']);
  });
});

test('a round ends with the first piece that ends after its stretch, however many wait', () => {
  const bench = new Bench();
  for (let i = 0; i < 20; i += 1) void bench.ask(`a${i}-`, i % 3 === 0 ? 'now' : 'later', 5, 3);
  bench.rest();
  expect(bench.done).toHaveLength(100);
  expect(Math.max(...bench.rounds)).toBeLessThan(STRETCH + 3);
});

describe('what is cancelled', () => {
  test('is not begun, and answered as cancelled', async () => {
    const bench = new Bench();
    const source = new CancellationTokenSource();
    const answer = bench.ask('score', 'later', 3, 1, source.token);
    source.cancel();
    bench.rest();
    expect(bench.done).toEqual([]);
    expect(await answer).toMatchObject({ code: LSPErrorCodes.RequestCancelled });
  });

  test('stops between two pieces, and what it had open is closed', async () => {
    const bench = new Bench();
    const source = new CancellationTokenSource();
    let closed = 0;
    const work = function* (): Pieces<string> {
      try {
        bench.done.push('first');
        source.cancel();
        yield;
        bench.done.push('second');
        return 'never';
      } finally {
        closed += 1;
      }
    };
    const answer = bench.queue.add({ urgency: 'now', token: source.token, about: () => 1, begin: work });
    bench.rest();
    expect(bench.done).toEqual(['first']);
    expect(closed).toBe(1);
    expect(await answer).toMatchObject({ code: LSPErrorCodes.RequestCancelled });
  });
});

test('what the text has overtaken begins again, and is answered for the newest text', async () => {
  const bench = new Bench();
  const answer = bench.ask('score', 'later', 4, 5);
  bench.round();
  bench.round();
  expect(bench.done).toEqual(['score1', 'score2']);
  bench.version = 2;
  bench.rest();
  expect(bench.done).toEqual(['score1', 'score2', 'score1', 'score2', 'score3', 'score4']);
  expect(await answer).toBe('score of 2');
});

test('what throws fails alone', async () => {
  const bench = new Bench();
  const failing = bench.queue.add({
    urgency: 'now',
    token: CancellationToken.None,
    about: () => 1,
    begin: function* (): Pieces<string> {
      throw new Error('a mistake');
    },
  });
  const other = bench.ask('hover', 'now', 1, 1);
  bench.rest();
  await expect(failing).rejects.toThrow('a mistake');
  expect(await other).toBe('hover of 1');
});
