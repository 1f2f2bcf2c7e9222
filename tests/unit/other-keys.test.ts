/** Copies in other keys: an octave that suits the part, and words that are true of the notes above them. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { offersAt } from '../../server/src/assists/registry';
import { barParagraphs, walkthrough } from '../../server/src/explain/walkthrough';
import { openSnapshot } from '../../server/src/model/snapshot';
import type { Phrase } from '../../server/src/model/types';
import { PARTS, soundingRange } from '../../server/src/theory/part';
import { midi } from '../../server/src/theory/pitch';
import { always, lessonPhraseArbitrary, phraseArbitrary, RUN } from '../property/arbitrary';

function applied(text: string, kind: string, titled: (title: string) => boolean = () => true): string | null {
  const offer = offersAt(
    openSnapshot('', 1, text),
    { start: text.indexOf('phrase') + 2, end: text.indexOf('phrase') + 2, only: [kind] },
    DEFAULT_THEORY,
    (error) => {
      throw error;
    },
  ).find(({ title }) => titled(title));
  return offer === undefined
    ? null
    : offer.edits().reduce((result, edit) => result.slice(0, edit.start) + edit.text + result.slice(edit.end), text);
}

const copies = (text: string): string | null => applied(text, 'refactor.rewrite.twelve-keys');
const inKey = (text: string, key: string): string => applied(text, 'refactor.rewrite.transpose', (title) => title.endsWith(` ${key}`))!;

function phrasesOf(text: string): Phrase[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => phrase);
}

function outside({ notes, part }: Phrase, by = 0): number {
  const { low, high } = soundingRange(part);
  return notes.filter((note) => note.midi + by < midi(low) || note.midi + by > midi(high)).length;
}

test('a tenor phrase whose copies would leave the range is written an octave away where that fits', () => {
  const text =
    'phrase "Climb"\n  key Bb major\n  part tenor-sax\n  over | Cm7 F7 | Bbmaj7 |\n  line | C4-Eb G-Bb A-C5 Eb-D | D ~ Db4 F5 |\n';
  const [own, ...rest] = phrasesOf(copies(text)!);
  expect(rest).toHaveLength(11);
  for (const copy of rest) {
    const reachable = [-24, -12, 0, 12, 24].map((by) => outside(copy, by));
    expect(outside(copy), copy.name).toBe(Math.min(...reachable));
  }
  expect(outside(own!)).toBe(1);
});

test('random phrases for any part: each copy is the phrase moved as a whole, and no octave suits it better', () => {
  let cases = 0;
  always(
    fc.property(fc.oneof(phraseArbitrary, lessonPhraseArbitrary), fc.constantFrom(...PARTS), fc.boolean(), ({ text }, part, octave) => {
      const fitted = text
        .replace('\n  over', `\n  part ${part.name}\n  over`)
        .replace(/(line +(?:\| )?)([A-G][b#]?)(?=[- >^])/, octave ? '$1$25' : '$1$2');
      const [before] = phrasesOf(fitted);
      const text12 = copies(fitted);
      if (text12 === null || before!.notes.length === 0) return;
      const all = phrasesOf(text12);
      for (const copy of all.slice(1, 12)) {
        cases += 1;
        const moves = new Set(copy.notes.map((note, i) => note.midi - before!.notes[i]!.midi));
        expect(moves.size, text12).toBe(1);
        // A line of degrees has no octave figure of its own: the part's range places it.
        if (copy.notes[0]!.node.head.kind !== 'pitch') continue;
        expect(outside(copy), `${text12}\n${copy.name}`).toBe(Math.min(...[-12, 0, 12].map((by) => outside(copy, by))));
      }
    }),
    { ...RUN, numRuns: 50 },
  );
  expect(cases).toBeGreaterThan(200);
}, 60_000);

test('an octave figure later in the line keeps its distance to a first note without one', () => {
  const text = 'phrase "A"\n  key F major\n  over | F6 |\n  line | A C5 F4 A |\n';
  for (const copy of phrasesOf(copies(text)!))
    expect(
      copy.notes.map((note) => note.midi - copy.notes[0]!.midi),
      copy.name,
    ).toEqual([0, 3, -4, 0]);
});

const WORDS = `phrase "Landing in C"
  key     C major
  // The B leans on C.
  over    | Dm7 G7  | Cmaj7   |
  line    | D4-F A-B | C5 ~ ~ ~ |
  say     "The B of G7 falls up to C: 7 to 1."

  say     "A line that climbs a minor third."
  say     "It lands on C." // home

  say     "Play it in the B section." // once
`;

test('words move with the key, and a text that cannot be told is left out with a comment', () => {
  const moved = inKey(WORDS, 'Eb major');
  expect(moved).toContain('phrase "Landing in Eb"');
  expect(moved).toContain('// The D leans on Eb.');
  expect(moved).toContain('say     "The D of Bb7 falls up to Eb: 7 to 1."');
  expect(moved).toContain('say     "A line that climbs a minor third. It lands on Eb."\n  // home\n');
  expect(phrasesOf(moved)[0]!.says).toHaveLength(2);
  expect(moved).toContain('// Left out, for it may be true of another key only: say     "Play it in the B section." // once');
  // Nothing more is made of what was left out.
  expect(inKey(moved, 'F major')).toContain(
    '// Left out, for it may be true of another key only: say     "Play it in the B section." // once',
  );
});

test('copies name their key once', () => {
  const names = phrasesOf(copies(WORDS.replace('Landing in C', 'Landing (C)'))!).map(({ name }) => name);
  expect(names.slice(0, 3)).toEqual(['Landing (C)', 'Landing (F)', 'Landing (Bb)']);
  expect(phrasesOf(copies(WORDS)!)[1]!.name).toBe('Landing in F (F)');
});

test.each([
  ['A', 'A'],
  ['Etude B', 'Etude B'],
  ['Blues in C', 'Blues in Eb'],
  ['C minor climb', 'Eb minor climb'],
  ['Over G7 to C', 'Over Bb7 to Eb'],
  ['E-flat morning', 'G-flat morning'],
  ['Plan B in C', 'Plan B in C'],
])('a name that names a key moves, a label stays: %s', (name, moved) => {
  expect(phrasesOf(inKey(WORDS.replace('Landing in C', name), 'Eb major'))[0]!.name).toBe(moved);
});

test('a walk-through written as say texts is that of the copy', () => {
  const bare = WORDS.split('\n')
    .filter((line) => !line.includes('say'))
    .join('\n');
  const told = applied(bare, 'refactor.rewrite.phrase', (title) => title.includes('walk-through'))!;
  for (const copy of phrasesOf(copies(told)!))
    expect(copy.says, copy.name).toEqual(
      barParagraphs(walkthrough(readPhrase(copy, DEFAULT_THEORY)).telling).map((bar) => bar.replace(/[“”]/g, '"')),
    );
});

test('there and back, a phrase says what it said, or says less', () => {
  const says = ['The B of G7 falls to C.', 'Sing the A-flat.', 'Part B', 'A 1-2-3-5 over ii–V–I', 'From C4 to Bb5', 'A falls to G'];
  always(
    fc.property(fc.subarray(says), fc.constantFrom('Eb', 'G', 'A', 'Db', 'Bb'), (said, key) => {
      const text = `phrase "A"\n  key     C major\n  over    | Cmaj7   |\n  line    | C4 E G A |\n${said.map((one) => `\n  say     "${one}"\n`).join('')}`;
      const back = inKey(inKey(text, `${key} major`), 'C major');
      const plain = (texts: readonly string[]): string[] => texts.map((one) => one.replace('-flat', 'b'));
      const told = plain(phrasesOf(back)[0]!.says);
      expect(plain(said).filter((one) => told.includes(one))).toEqual(told);
      // What may be a label, and what would need a double flat.
      const mayGo = ['Part B', 'From C4 to Bb5', ...(key === 'Db' ? ['Sing the A-flat.'] : [])];
      expect(told).toEqual(expect.arrayContaining(plain(said.filter((one) => !mayGo.includes(one)))));
    }),
    { ...RUN, numRuns: 25 },
  );
});
