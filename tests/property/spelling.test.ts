/** A fix of a note's spelling: the finding goes, nothing sounds otherwise, no other rule says anything else. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { applyPlaced, findingsOf } from '../../server/src/rules/findings';
import { always, RUN } from './arbitrary';
import { QUALITIES, ROOTS } from './chord-parts';

const RULE = 'spelling-against-chord';
const opened = (text: string): Snapshot => openSnapshot('file:///a.phrase', 1, text);

function soundsOf({ phrases }: Snapshot): string[] {
  return phrases[0]!.phrase.notes.map(({ onset, duration, midi }) => `${onset.toFraction()} ${duration.toFraction()} ${midi}`);
}

/** What is found, the notes it is about, and its severity; a respelled note is called otherwise in some words. */
function othersIn(snapshot: Snapshot): string[] {
  return findingsOf(snapshot, DEFAULT_THEORY)
    .filter(({ rule }) => rule !== RULE)
    .map(({ rule, severity, about }) => `${rule} ${severity} ${about?.note ?? ''}`)
    .sort();
}

const NAMES = [
  'C',
  'C#',
  'Db',
  'D',
  'D#',
  'Eb',
  'E',
  'Fb',
  'E#',
  'F',
  'F#',
  'Gb',
  'G',
  'G#',
  'Ab',
  'A',
  'A#',
  'Bb',
  'B',
  'Cb',
  'B#',
  'F##',
  'Bbb',
];
const FIRST_NAMES = NAMES.map((name) => `${name}4`);

const slot = fc.oneof(
  {
    weight: 10,
    arbitrary: fc
      .tuple(fc.constantFrom('', '', '', '/', '\\'), fc.constantFrom(...NAMES), fc.constantFrom('', '', '', '', '>'))
      .map((parts) => parts.join('')),
  },
  { weight: 2, arbitrary: fc.constantFrom(...NAMES).map((name) => `${name}5`) },
  { weight: 1, arbitrary: fc.constantFrom('~', '.') },
);
const bar = fc.array(
  fc.tuple(slot, slot).map((pair) => pair.join('-')),
  { minLength: 4, maxLength: 4 },
);
const chord = fc
  .tuple(fc.constantFrom(...ROOTS, 'Gb', 'C#', 'G#'), fc.constantFrom(...QUALITIES, '/Bb', 'm/D#'))
  .map((parts) => parts.join(''));
const text = fc
  .tuple(
    fc.constantFrom('', 'C major', 'Eb major', 'B major', 'C minor', 'F# minor'),
    fc.constantFrom(...FIRST_NAMES),
    fc.array(fc.tuple(chord, bar), { minLength: 1, maxLength: 3 }),
  )
  .map(([key, first, bars]) => {
    const line = bars.map(([, groups], i) => (i === 0 ? [first, ...groups.slice(1)] : groups).join(' ')).join(' | ');
    return `phrase "A"\n${key === '' ? '' : `  key  ${key}\n`}  over | ${bars.map(([symbol]) => symbol).join(' | ')} |\n  line | ${line} |\n`;
  });

test('a fix takes its finding away, and nothing else changes', () => {
  let fixed = 0;
  always(
    fc.property(text, (before) => {
      const snapshot = opened(before);
      const found = findingsOf(snapshot, DEFAULT_THEORY).filter(({ rule }) => rule === RULE);
      for (const { fixes, about } of found) {
        fixed += 1;
        expect(fixes).toHaveLength(1);
        const after = opened(applyPlaced(before, fixes[0]!.edits));
        expect(soundsOf(after), after.text).toEqual(soundsOf(snapshot));
        expect(
          findingsOf(after, DEFAULT_THEORY).filter((finding) => finding.rule === RULE && finding.about?.note === about!.note),
          after.text,
        ).toEqual([]);
        expect(othersIn(after), after.text).toEqual(othersIn(snapshot));
      }
    }),
    { ...RUN, numRuns: 250 },
  );
  expect(fixed).toBeGreaterThan(80);
});

test('all of them at once, as often as there are some, leave none', () => {
  always(
    fc.property(text, (before) => {
      let after = before;
      for (let round = 0; round < 5; round += 1)
        after = applyPlaced(
          after,
          findingsOf(opened(after), DEFAULT_THEORY)
            .filter(({ rule }) => rule === RULE)
            .flatMap(({ fixes }) => fixes[0]!.edits),
        );
      expect(
        findingsOf(opened(after), DEFAULT_THEORY).filter(({ rule }) => rule === RULE),
        after,
      ).toEqual([]);
      expect(soundsOf(opened(after)), after).toEqual(soundsOf(opened(before)));
    }),
    { ...RUN, numRuns: 200 },
  );
});
