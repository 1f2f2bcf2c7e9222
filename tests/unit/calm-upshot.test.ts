/** What the editor and the server are told of the calm: when findings are asked for again, which pens are told, what is waited for. */
import { describe, expect, test } from 'vitest';
import { openCalm, step, type Calm, type CalmEvent } from '../../client/src/calm/calm';
import type { Found } from '../../client/src/calm/moving';
import { pensToTell, showsOthers } from '../../client/src/calm/upshot';
import { isTold, type Placed, type Report } from '../../client/src/calm/watched';

const TEXT = 'phrase "Weir"\n  line | C4 D4';
const AFTER = `${TEXT} E`;
const FOUND: Found = { rule: 'beats', message: 'Two beats are missing.', start: TEXT.indexOf('C4'), end: TEXT.indexOf('C4') + 2 };
const EDIT: CalmEvent<Found> = { kind: 'edit', text: AFTER, changes: [{ start: TEXT.length, end: TEXT.length, text: ' E' }], rest: 1000 };
const REPORT: CalmEvent<Found> = { kind: 'report', findings: [FOUND] };

const after = (calm: Calm<Found>, ...events: readonly CalmEvent<Found>[]): Calm<Found> =>
  events.reduce((before, event) => step(before, event, 0), calm);
const told = after(openCalm<Found>(TEXT), { kind: 'report', findings: [] });
const waiting = after(told, EDIT, REPORT);

test('a finding of the part that is being written waits', () => {
  expect([waiting.waiting, waiting.shown]).toEqual([[FOUND], []]);
});

describe('other findings are shown', () => {
  test('when what waited waits no longer', () => {
    expect(showsOthers(waiting, step(waiting, { kind: 'time' }, 1000))).toBe(true);
    expect(showsOthers(waiting, step(waiting, { kind: 'time' }, 999))).toBe(false);
  });

  test('when a bar is left, which is read anew', () => {
    const left = after(waiting, { kind: 'cursors', offsets: [0] });
    expect(left.report).toBeNull();
    expect(showsOthers(waiting, left)).toBe(true);
    // What is not known yet is asked for by the language client.
    expect(showsOthers(left, after(left, { kind: 'cursors', offsets: [1] }))).toBe(false);
  });

  test('not by a report that lets a finding wait', () => {
    const written = after(told, EDIT);
    expect(showsOthers(written, after(written, REPORT))).toBe(false);
  });
});

describe('the places of bars that are being written are told', () => {
  const written = after(told, EDIT);

  test('with the edit that begins one, and with every further one, which makes a version', () => {
    expect(pensToTell(told, 'edit', written)).toEqual([AFTER.length]);
    expect(pensToTell(written, 'edit', written)).toEqual([AFTER.length]);
  });

  test('not again by what makes no version', () => {
    expect(pensToTell(written, 'report', after(written, REPORT))).toBeNull();
    expect(pensToTell(told, 'edit', told)).toBeNull();
  });

  test('when the bar is left: none', () => {
    expect(pensToTell(written, 'cursors', after(written, { kind: 'cursors', offsets: [0] }))).toEqual([]);
  });
});

describe('a text is told of', () => {
  const report: Report = { id: '1', items: [], version: 1 };
  const resting: Calm<Placed> = openCalm(TEXT);
  const writing = step(resting, { kind: 'edit', text: AFTER, changes: [{ start: TEXT.length, end: TEXT.length, text: ' E' }] }, 0);
  const known: Calm<Placed> = { ...writing, report: [] };

  test.each([
    ['a text that is not watched', undefined, true],
    ['a text of which all is known', { calm: known, report }, true],
    ['a text that nobody writes, before the first report', { calm: resting, report: undefined }, true],
    ['a text that somebody writes, before the first report', { calm: writing, report: undefined }, false],
    ['a text that went on after the last report', { calm: writing, report }, false],
    ['a text that is to be read anew', { calm: resting, report }, false],
  ])('%s: %#', (_, one, isSo) => {
    expect(isTold(one)).toBe(isSo);
  });
});
