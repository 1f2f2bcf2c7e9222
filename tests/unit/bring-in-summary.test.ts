/** The notification after scores were brought in: it names files, counts what was left out, and says one thing itself. */
import { expect, test } from 'vitest';
import { summary, type Outcome } from '../../client/src/import/summary';

const made = (score: string, ...report: Outcome['report']): Outcome => ({
  score,
  lesson: { name: score.replace(/\.\w+$/, '.phrase') },
  report,
});
const failed = (score: string, error = 'the file is empty.'): Outcome => ({ score, lesson: null, report: [], error });
const SLURS = { kind: 'left-out', text: 'measures 1, 2: left out: slurs' } as const;
const MINOR = { kind: 'decided', text: 'key signatures without a mode are read as minor' } as const;

test.each<readonly [string, Outcome[], ReturnType<typeof summary>]>([
  ['nothing was done', [], null],
  ['all was kept', [made('a.xml')], { kind: 'information', text: 'Brought in a.xml as a.phrase.', hasMore: false }],
  [
    'one thing was left out',
    [made('a.mxl', SLURS)],
    { kind: 'warning', text: 'Brought in a.mxl as a.phrase. Measures 1, 2: left out: slurs.', hasMore: true },
  ],
  [
    'one decision',
    [made('a.mxl', MINOR)],
    { kind: 'information', text: 'Brought in a.mxl as a.phrase. Key signatures without a mode are read as minor.', hasMore: true },
  ],
  [
    'several',
    [made('a.xml', SLURS, MINOR), made('b.xml', SLURS)],
    {
      kind: 'warning',
      text: 'Brought in 2 scores, each as a lesson beside it. The report tells 2 things left out and 1 decision.',
      hasMore: true,
    },
  ],
  ['a failure', [failed('a.xml')], { kind: 'error', text: 'a.xml was not brought in: the file is empty.', hasMore: false }],
  [
    'two failures, one lesson',
    [failed('a.xml'), made('b.xml'), failed('c.xml')],
    { kind: 'error', text: 'a.xml was not brought in: the file is empty. Nor was c.xml. Brought in b.xml as b.phrase.', hasMore: true },
  ],
  [
    'three failures',
    [failed('a.xml', 'a mistake.\n at b'), failed('b.xml'), failed('c.xml')],
    { kind: 'error', text: 'a.xml was not brought in: a mistake. Nor were 2 more.', hasMore: true },
  ],
])('%s', (_, outcomes, told) => {
  expect(summary(outcomes)).toEqual(told);
});
