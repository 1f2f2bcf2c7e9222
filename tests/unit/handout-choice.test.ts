/** What was chosen of a handout in the editor, as it is kept: junk never gets through, and what was chosen does. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  EXTRA_WORDS,
  isOfExercises as isOfExercisesHere,
  keysWords,
  leftOut,
  leftOutWords,
  partsWords,
  readChoice,
  SHEET_WORDS,
} from '../../client/src/handout/choice';
import { CHOICES, namesAt } from '../../server/src/handout-service';
import { DEFAULT_HANDOUT, isOfExercises } from '../../server/src/handout/types';
import { always, RUN } from '../property/arbitrary';

const AT_FIRST = { what: 'lesson', format: 'pdf', options: DEFAULT_HANDOUT };

describe('a kept choice', () => {
  test('is read as it was kept', () => {
    const chosen = {
      what: 'phrase',
      format: 'html',
      options: { sheet: 'student', paper: 'letter', keys: ['C', 'Bb'], parts: ['tenor-sax', 'trumpet'], without: ['says'], seed: 12 },
    };
    expect(readChoice(JSON.parse(JSON.stringify(chosen)), CHOICES)).toEqual(chosen);
  });

  test.each([
    undefined,
    null,
    'pdf',
    7,
    [],
    { options: { sheet: 'parent', paper: 'A3', keys: ['H'], parts: 'trumpet', without: ['all'], seed: 0.5 } },
    { options: null, what: 'file', format: 'doc' },
  ])('of another shape is that of the start: %j', (kept) => {
    expect(readChoice(kept, CHOICES)).toEqual(AT_FIRST);
  });

  test('has only what there is to choose, whatever is kept', () => {
    always(
      fc.property(fc.anything(), fc.anything(), (some, other) => {
        const { options } = readChoice(
          { what: some, format: other, options: { sheet: other, keys: some, parts: [some, 'flute', other], without: some, seed: other } },
          CHOICES,
        );
        expect(CHOICES.sheets).toContain(options.sheet);
        expect(options.parts).toEqual(['flute']);
        expect(Number.isInteger(options.seed) && options.seed > 0).toBe(true);
      }),
      RUN,
    );
  });

  test('is told in words, and what another sheet shows is not left out of this one', () => {
    const { options } = readChoice(
      { options: { sheet: 'student', keys: ['C', 'Bb'], parts: ['tenor-sax'], without: ['devices', 'says'] } },
      CHOICES,
    );
    expect([keysWords(options.keys), partsWords(options.parts, CHOICES), leftOutWords(options, CHOICES)]).toEqual([
      'C, Bb',
      'tenor saxophone',
      'prose',
    ]);
    expect(leftOut({ ...options, sheet: 'teacher' }, CHOICES)).toEqual(['devices', 'says']);
    expect(leftOut({ ...options, sheet: 'exercises' }, CHOICES)).toEqual([]);
  });

  test('the client’s words are for the sheets that the server makes', () => {
    expect(Object.keys(SHEET_WORDS)).toEqual([...CHOICES.sheets]);
    expect(Object.keys(EXTRA_WORDS)).toEqual([...CHOICES.extras]);
    for (const sheet of CHOICES.sheets) expect(isOfExercisesHere(sheet)).toBe(isOfExercises(sheet));
  });
});

test('what is handed out is called by its lesson, and by the phrase at the cursor, between phrases the next one', () => {
  const text = 'lesson "Weir"\n\nphrase "Lock"\n  over | C |\n  line | E4 |\n\ncell up = 1-2\n\nphrase "Gate"\n  line | D4 |\n';
  expect(namesAt(text, 0)).toEqual({ lesson: 'Weir', phrase: 'Lock' });
  expect(namesAt(text, text.indexOf('cell') + 2)).toEqual({ lesson: 'Weir', phrase: 'Gate' });
  expect(namesAt('phrase\n  line | D4 |\n', 3)).toEqual({ lesson: null, phrase: 'without a name' });
  expect(namesAt('', 0)).toEqual({ lesson: null, phrase: null });
});
