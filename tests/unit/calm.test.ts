/** Calm while somebody types: on a clock of the test's own, with the server's own analysis behind it. */
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openCalm, pensOf, REST, step, wakeAt, type Calm, type CalmEvent } from '../../client/src/calm/calm';
import { movedFindings, type Change, type Found } from '../../client/src/calm/moving';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot, whileWritten, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { always, lessonPhraseArbitrary, phraseArbitrary } from '../property/arbitrary';

/** An editor, a server that answers after a while, and a clock. */
interface Desk {
  readonly text: () => string;
  readonly shown: () => readonly Found[];
  readonly report: () => readonly Found[];
  /** Findings that were shown and went while nobody rested, of those that came after the desk was set up. */
  readonly flickered: () => readonly string[];
  readonly seen: () => readonly string[];
  /** Replaces stretches of the text (from the last to the first), and puts a cursor behind each. */
  edit(changes: readonly Change[], rest?: number): void;
  cursors(...offsets: number[]): void;
  pause(): void;
  wait(milliseconds: number): void;
  /** Time goes by in which nothing is taken up: no timer, no answer. */
  standStill(milliseconds: number): void;
}

/** `answersAfter`: milliseconds from a key to the report; a key before that puts it off. `calms`: false shows all that is reported. */
function desk(start: string, { answersAfter = 20, calms = true } = {}): Desk {
  let now = 0;
  let text = start;
  let snapshot: Snapshot | undefined;
  let version = 0;
  let calm: Calm<Found> = openCalm(start);
  let answerAt: number | null = null;
  let shown: readonly Found[] = [];
  const fresh = new Set<Found>();
  const flickered: string[] = [];
  const seen: string[] = [];

  const words = ({ rule, start: at, message }: Found): string => `${rule} at ${at}: ${message}`;
  const reportNow = (): readonly Found[] => {
    snapshot = openSnapshot('desk', version, text, snapshot);
    const pens = pensOf(calm);
    return findingsOf(whileWritten(snapshot, pens), DEFAULT_THEORY).map(({ rule, message, start: from, end, early, severity }) => ({
      rule,
      message,
      start: from,
      end,
      early,
      isError: severity === 'error',
    }));
  };
  const take = (event: CalmEvent<Found>): void => {
    const isKnown = calm.report !== null;
    calm = step(calm, event, now);
    // What was told of a bar that is left is asked for again.
    if (isKnown && calm.report === null) answerAt = now + answersAfter;
    if (calm.report !== null) show(calms ? calm.shown : [...calm.shown, ...calm.waiting]);
  };
  /** What is the same by rule and start is the same finding. */
  const show = (next: readonly Found[]): void => {
    const key = ({ rule, start: at }: Found): string => `${rule} ${at}`;
    const [had, has] = [new Map(shown.map((one) => [key(one), one])), new Map(next.map((one) => [key(one), one]))];
    const stillFresh = new Set<string>();
    for (const one of shown) {
      if (!fresh.has(one)) continue;
      if (has.has(key(one))) stillFresh.add(key(one));
      else flickered.push(words(one));
    }
    fresh.clear();
    for (const one of next) {
      if (!had.has(key(one))) seen.push(words(one));
      if (!had.has(key(one)) || stillFresh.has(key(one))) fresh.add(one);
    }
    shown = next;
  };
  const wait = (milliseconds: number): void => {
    const end = now + milliseconds;
    for (;;) {
      const wakes = [answerAt, wakeAt(calm)].filter((at) => at !== null && at <= end) as number[];
      if (wakes.length === 0) break;
      now = Math.max(now, Math.min(...wakes));
      if (answerAt !== null && answerAt <= now) {
        answerAt = null;
        take({ kind: 'report', findings: reportNow() });
      } else take({ kind: 'time' });
    }
    now = end;
  };
  take({ kind: 'report', findings: reportNow() });
  fresh.clear();
  seen.length = 0;
  return {
    text: () => text,
    shown: () => shown,
    report: reportNow,
    flickered: () => flickered,
    seen: () => seen,
    edit(changes, rest) {
      for (const { start: from, end, text: written } of changes) text = text.slice(0, from) + written + text.slice(end);
      version += 1;
      take({ kind: 'edit', text, changes, ...(rest === undefined ? {} : { rest }) });
      const freshBefore = shown.map((one) => fresh.has(one));
      const movedOnes = shown.map((one) => movedFindings([one], changes)[0]);
      fresh.clear();
      movedOnes.forEach((one, i) => {
        if (one !== undefined && freshBefore[i] === true) fresh.add(one);
      });
      shown = movedOnes.filter((one) => one !== undefined);
      answerAt = now + answersAfter;
    },
    cursors: (...offsets) => take({ kind: 'cursors', offsets }),
    pause: () => take({ kind: 'pause' }),
    wait,
    standStill(milliseconds) {
      now += milliseconds;
    },
  };
}

/** Types a text key by key at the end, as a keyboard gives it. */
function typeAtEnd(one: Desk, text: string, delay: number): void {
  for (const key of text) typeAt(one, one.text().length, key, delay);
}

function typeAt(one: Desk, at: number, text: string, delay: number): void {
  [...text].forEach((key, i) => {
    one.edit([{ start: at + i, end: at + i, text: key }]);
    one.cursors(at + i + 1);
    one.wait(delay);
  });
}

const LESSON = `// An evening at the lock.
lesson "Lock-keeper's evening"
about  "Five lines for one evening"
level  2

cell    rise = 1-2 3-5
changes gate = | Dm7 | G7 | Cmaj7 | % |

phrase "Upper gate"
  key     C major
  tempo   120 swing
  over    gate
  line    | D4-F A-C5 A-F D-F | G-B D5-B G-F D-F | E ~ G ~ | C ~ ~ . |
  degrees | 1-b3 5-b7 5-b3 1-b3 | 1-3 5-3 1-b7 5-b7 | 3 * 5 * | 1 |
  claim   chord-tones
  say     "Chord tones first."

// A clash that is meant to be found, and stays.
phrase "Weir"
  key     Eb major
  meter   4/4
  part    alto sax
  over    | Fm7 Bb7 | Ebmaj7 |
  line    C4-Eb-G | Ab ~ F-D Ab-F | Ab ~ ~ ~ |

phrase "Lower gate"
  tempo   96 straight
  over    | Fmaj7 | Ebmaj7 |
  line    | rise 5-3 2-1 | rise 6-5 3 |

changes blue = | C7 | F7 | C7 | % |

phrase "Tow rope"
  key     C major
  over    blue
  line    | E4-Eb C ~ . | F-A C5-Eb D-C A-F | (E)-G >C5 ~ G | E . . . |
  say     "Lean on the third: then let it go."

phrase "Last boat"
  meter   3/4
  over    | Am7 | D7 | Gmaj7 |
  line    | C5 B A | F#-G A-Bb B | D5 ~ . |
`;
const SAMPLE = readFileSync(join(import.meta.dirname, '..', '..', 'samples', 'lanterns-on-the-quay.phrase'), 'utf8');

describe('a lesson typed key by key', () => {
  for (const delay of [10, 50, 150, 2 * REST]) {
    for (const answersAfter of [0, 30]) {
      test(`at ${delay} ms a key, answered after ${answersAfter} ms: nothing appears that vanishes again`, () => {
        const one = desk('', { answersAfter });
        typeAtEnd(one, LESSON, delay);
        expect(one.flickered()).toEqual([]);
        one.wait(REST + 50);
        one.pause();
        one.wait(REST + 50);
        expect(one.flickered()).toEqual([]);
        // What is real is there: the clash of the second phrase at the latest, and all else that a report has.
        expect(one.seen().some((words) => words.startsWith('clash '))).toBe(true);
        expect(one.shown()).toEqual(one.report());
      });
    }
  }

  test('without it more than a hundred come and go', () => {
    const one = desk('', { answersAfter: 30, calms: false });
    typeAtEnd(one, LESSON, 50);
    expect(one.flickered().length).toBeGreaterThan(100);
  });

  test('the sample, too', () => {
    const one = desk('', { answersAfter: 0 });
    typeAtEnd(one, SAMPLE, 50);
    expect(one.flickered()).toEqual([]);
  });
});

test('any phrase typed at any rhythm, with rests of two seconds anywhere: nothing appears that vanishes again', () => {
  // Chords that come behind a line may change what is right to say of it, however late they are written.
  const phrase = fc.oneof(phraseArbitrary, lessonPhraseArbitrary).filter(({ text }) => text.match(/^ *over/gm)?.length === 1);
  const pause = fc.constantFrom(30, 30, 200, 2 * REST);
  always(
    fc.property(phrase, fc.array(pause, { minLength: 7, maxLength: 23 }), ({ text }, pauses) => {
      const one = desk('');
      [...text].forEach((key, i) => typeAt(one, one.text().length, key, pauses[i % pauses.length]!));
      expect(one.flickered()).toEqual([]);
      one.cursors();
      one.wait(50);
      expect(one.shown()).toEqual(one.report());
    }),
    { numRuns: 24 },
  );
});

const PAIR = `changes turn = | Dm7 | G7 |

phrase "One"
  over turn
  line | F4 E D C | B3 ~ ~ ~ |

phrase "Two"
  over | Cmaj7 |
  line | F4 ~ ~ ~ |
`;
const after = (text: string, words: string): number => text.indexOf(words) + words.length;
const rules = (one: Desk): string[] => one.shown().map(({ rule }) => rule);

describe('what is new waits', () => {
  test('until a second after the last key, and not a moment longer', () => {
    const one = desk(PAIR);
    const before = rules(one);
    typeAt(one, after(PAIR, 'F4 E D C'), ' Q ', 50);
    one.wait(REST - 51);
    expect(rules(one)).toEqual(before);
    one.wait(2);
    expect(rules(one)).toContain('unreadable-word');
    expect(one.shown()).toEqual(one.report());
  });

  for (const [how, rest] of [
    ['the phrase is left', (one: Desk) => one.cursors(one.text().indexOf('phrase "Two"'))],
    ['it is saved, or loses the focus', (one: Desk) => one.pause()],
  ] as const) {
    test(`or until ${how}`, () => {
      const one = desk(PAIR);
      typeAt(one, after(PAIR, 'F4 E D C'), ' Q ', 50);
      expect(rules(one)).not.toContain('unreadable-word');
      rest(one);
      expect(rules(one)).toContain('unreadable-word');
    });
  }

  test('left before the server has answered, it comes with the answer, though the next phrase is written by then', () => {
    const one = desk(PAIR, { answersAfter: 100 });
    typeAt(one, after(PAIR, 'F4 E D C'), ' Q ', 10);
    typeAt(one, after(one.text(), 'F4 ~ ~ ~'), ' Q ', 10);
    expect(rules(one)).not.toContain('unreadable-word');
    one.wait(100);
    expect(one.shown().filter(({ rule }) => rule === 'unreadable-word')).toHaveLength(1);
    one.wait(REST);
    expect(one.shown().filter(({ rule }) => rule === 'unreadable-word')).toHaveLength(2);
  });

  test('in the phrases that use what is edited, and until the definition is left', () => {
    const one = desk(PAIR);
    const at = after(PAIR, 'changes turn');
    typeAt(one, at, 's', 50);
    expect(one.report().some(({ rule }) => rule === 'undefined-name')).toBe(true);
    expect(rules(one)).not.toContain('undefined-name');
    one.cursors(one.text().indexOf('over turn'));
    expect(rules(one)).toContain('undefined-name');
  });

  test('at every cursor', () => {
    const one = desk(PAIR);
    const before = rules(one);
    const places = [after(PAIR, 'line | F4 ~ ~ ~'), after(PAIR, 'F4 E D C')];
    for (const key of ' Q ') {
      one.edit(places.map((at) => ({ start: at, end: at, text: key })));
      places[0]! += 2;
      places[1]! += 1;
      one.cursors(...places);
      one.wait(50);
    }
    expect(one.report().filter(({ rule }) => rule === 'unreadable-word')).toHaveLength(2);
    expect(rules(one)).toEqual(before);
    one.wait(REST);
    expect(one.shown()).toEqual(one.report());
  });

  test('while the editor stands still, and the keys come all at once afterwards', () => {
    const one = desk(PAIR);
    const before = rules(one);
    const at = after(PAIR, 'F4 E D C');
    typeAt(one, at, ' ', 50);
    typeAt(one, at + 1, 'E', 0);
    one.standStill(3 * REST);
    typeAt(one, at + 2, 'b', 0);
    typeAt(one, at + 3, '-', 0);
    one.standStill(3 * REST);
    typeAt(one, at + 4, 'D', 0);
    one.wait(REST - 50);
    expect(rules(one)).toEqual(before);
    expect(one.seen()).toEqual([]);
    one.wait(50);
    expect(one.shown()).toEqual(one.report());
  });

  test('for as long as the writer has chosen', () => {
    const one = desk(PAIR);
    const at = after(PAIR, 'F4 E D C');
    one.edit([{ start: at, end: at, text: ' Q ' }], 4000);
    one.wait(3999);
    expect(rules(one)).not.toContain('unreadable-word');
    one.wait(1);
    expect(rules(one)).toContain('unreadable-word');
  });

  test('while a dead key or an input method replaces what it has written', () => {
    const one = desk(PAIR);
    const before = rules(one);
    const at = after(PAIR, 'B3 ');
    one.edit([{ start: at, end: at + 1, text: '' }]);
    for (const [old, fresh] of [
      ['', '˜'],
      ['˜', '~'],
      ['~', 'n'],
      ['n', 'ñ'],
      ['ñ', 'に'],
      ['に', 'にほ'],
      ['にほ', '日'],
    ] as const) {
      one.edit([{ start: at, end: at + old.length, text: fresh }]);
      one.cursors(at + fresh.length);
      one.wait(300);
      expect(rules(one)).toEqual(before);
    }
    one.edit([{ start: at, end: at + 1, text: '~' }]);
    one.wait(REST + 50);
    expect(rules(one)).toEqual(before);
    expect(one.flickered()).toEqual([]);
  });

  test('over undoing and doing again, wherever the cursor is', () => {
    const one = desk(PAIR);
    const before = rules(one);
    const at = after(PAIR, 'F4 E D C');
    one.cursors(one.text().length);
    for (let i = 0; i < 4; i += 1) {
      one.edit([{ start: at, end: at, text: ' Q' }]);
      one.wait(100);
      one.cursors(at + 2);
      expect(rules(one)).toEqual(before);
      one.edit([{ start: at, end: at + 2, text: '' }]);
      one.cursors(at);
      one.wait(100);
    }
    expect(one.seen()).toEqual([]);
  });
});

describe('what is begun waits on, however long nothing is written', () => {
  const HEAD = 'phrase "Ebb"\n  key F major\n  over | Gm7 C7 | Fmaj7 |\n';
  const LINE = `${HEAD}  line | Bb4-D F-A `;
  const thinking = (text: string): Desk => {
    const one = desk(HEAD);
    typeAtEnd(one, text, 50);
    one.wait(10 * REST);
    return one;
  };

  test('half a bar, until the cursor leaves it, or it is saved', () => {
    const text = LINE.slice(HEAD.length);
    for (const leave of [(one: Desk) => one.cursors(10), (one: Desk) => one.cursors(LINE.indexOf('Bb4') - 3), (one: Desk) => one.pause()]) {
      const one = thinking(text);
      expect(one.shown()).toEqual([]);
      leave(one);
      one.wait(50);
      expect(rules(one)).toEqual(['line-shorter-than-chords', 'clash']);
      expect(one.flickered()).toEqual([]);
    }
  });

  test('what is wrong in a bar before it is told after a second', () => {
    const one = desk('phrase "Ebb"\n  over | Fmaj7 | Fmaj7 |\n');
    typeAtEnd(one, '  line | Bb4 ~ ~ ~ | A G F', 50);
    expect(one.shown()).toEqual([]);
    one.wait(REST);
    expect(rules(one)).toEqual(['clash']);
  });

  test('a note that a note to come may excuse, also right behind a bar line', () => {
    const one = desk('phrase "Ebb"\n  over | Cmaj7 | Am7 |\n');
    for (const part of ['  line | E4 G A F', ' |', ' ', 'G ', '~ ~ ~ |']) {
      typeAtEnd(one, part, 50);
      one.wait(2 * REST);
    }
    expect(one.seen()).toEqual([]);
  });

  test('with several cursors, each of their bars, until one is left', () => {
    const whole = `${HEAD}  line | Bb4-D F-\n\n${HEAD}  line | Bb4-D F-\n`;
    const ends = [whole.indexOf('F-\n') + 2, whole.lastIndexOf('F-\n') + 2] as const;
    const typed = whole.replaceAll('F-\n', 'F-A\n');
    const changes = [...ends].reverse().map((at) => ({ start: at, end: at, text: 'A' }));
    const pens = [ends[0] + 1, ends[1] + 2];
    const looked = step(openCalm<Found>(whole), { kind: 'cursors', offsets: ends }, 0);
    const written = step(step(looked, { kind: 'edit', text: typed, changes, rest: REST }, 0), { kind: 'cursors', offsets: pens }, 0);
    expect(pensOf(written)).toEqual(pens);
    const left = step(written, { kind: 'cursors', offsets: [pens[1]!] }, 0);
    expect(pensOf(left)).toEqual([pens[1]]);
    // The bar that is left is reported anew.
    expect(left.report).toBeNull();
  });

  test('a bar that is only looked at is read as it stands', () => {
    const one = desk(LINE);
    one.cursors(LINE.length);
    one.wait(REST);
    expect(rules(one)).toEqual(['line-shorter-than-chords', 'clash']);
  });

  for (const begun of [
    '  key ',
    '  key Eb',
    '  claim ',
    '  claim lands 3 at ',
    '  line | D4-',
    '  line | D4 (E',
    '  tempo 1',
    '  say "A',
    '  ov',
    'phrase ',
    'phr',
    'cell x = ',
    'changes turn = | Gm',
  ]) {
    test(`“${begun.trim()}”, while the cursor stands right behind it`, () => {
      const one = desk(begun.startsWith(' ') ? 'phrase "Ebb"\n' : '');
      typeAtEnd(one, begun, 50);
      one.wait(10 * REST);
      expect(one.shown()).toEqual([]);
      typeAtEnd(one, '\n', 50);
      one.wait(REST);
      expect(one.shown()).toEqual(one.report());
    });
  }
});

describe('what is there stays', () => {
  test('and moves with the text, also while its own words are rewritten in place', () => {
    const one = desk(PAIR);
    const clash = one.shown().find(({ rule }) => rule === 'clash')!;
    expect(clash.start).toBe(PAIR.indexOf('F4 ~ ~ ~'));
    typeAt(one, after(PAIR, 'phrase "Two"'), '\n  tempo 120', 50);
    const moved = clash.start + '\n  tempo 120'.length;
    expect(one.shown().find(({ rule }) => rule === 'clash')?.start).toBe(moved);
    const row = one.text().slice(one.text().lastIndexOf('  line'), -1);
    const start = one.text().lastIndexOf('  line');
    one.edit([{ start, end: start + row.length, text: row }]);
    one.wait(50);
    expect(one.shown().find(({ rule }) => rule === 'clash')?.start).toBe(moved);
  });

  test('but goes at once where it is mended', () => {
    const one = desk(PAIR);
    const at = PAIR.indexOf('F4 ~ ~ ~');
    one.edit([{ start: at, end: at + 1, text: 'E' }]);
    one.wait(20);
    expect(rules(one)).not.toContain('clash');
  });

  test('and a note in its place is a new one', () => {
    const one = desk(PAIR);
    const at = PAIR.indexOf('F4 ~ ~ ~');
    one.edit([{ start: at, end: at + 2, text: '' }]);
    one.wait(50);
    typeAt(one, at, 'F4', 50);
    expect(rules(one)).not.toContain('clash');
    one.wait(REST);
    expect(rules(one)).toContain('clash');
  });
});

test('whatever is edited: what is shown is reported, and once it is left or saved after a rest all of it is', () => {
  const place = fc.double({ min: 0, max: 0.999, noNaN: true });
  const edit = fc.record({
    at: place,
    length: fc.nat(3),
    text: fc.constantFrom('', 'F', 'b', ' Eb', '-', '|', '\n', ' ~', 'phrase ', 'line', '"', 'cell x = '),
    pause: fc.constantFrom(0, 30, 200, 1200),
  });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 12 }), fc.boolean(), (edits, leaves) => {
      const one = desk(LESSON);
      for (const { at, length, text, pause } of edits) {
        const start = Math.floor(at * one.text().length);
        one.edit([{ start, end: Math.min(one.text().length, start + length), text }]);
        one.cursors(start + text.length);
        one.wait(pause);
        if (pause < 20) continue;
        const report = one.report().map((finding) => JSON.stringify(finding));
        expect(one.shown().filter((finding) => !report.includes(JSON.stringify(finding)))).toEqual([]);
      }
      one.wait(REST + 50);
      if (leaves) one.cursors();
      else one.pause();
      one.wait(50);
      expect(one.shown()).toEqual(one.report());
    }),
    { numRuns: 100 },
  );
});
