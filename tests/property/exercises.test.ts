/** Exercises: each is checked by reading it anew, as a student's answer would be. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { matchesOfKind } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { deviceName } from '../../server/src/explain/device-words';
import { enclosuresOf } from '../../server/src/exercises/complete-enclosure';
import { EXERCISE_KINDS, faultsOf, type Exercise, type ExerciseKind, type Material, type Shown } from '../../server/src/exercises/exercise';
import { inOtherMode } from '../../server/src/exercises/other-mode';
import { randomOf } from '../../server/src/exercises/random';
import { exercisesOf, startsPage } from '../../server/src/exercises/sheet';
import { versionsOf } from '../../server/src/handout/versions';
import { openSnapshot } from '../../server/src/model/snapshot';
import { problemsOf } from '../../server/src/rules/findings';
import { beatWords } from '../../server/src/rules/words';
import { formatKey } from '../../server/src/theory/key';
import { formatNoteName, midi } from '../../server/src/theory/pitch';
import { always, lessonPhraseArbitrary, RUN } from './arbitrary';

function materialsOf(text: string): Material[] {
  const snapshot = openSnapshot('', 1, text);
  return snapshot.phrases.map((placed) => ({
    snapshot,
    placed,
    reading: readPhrase(placed.phrase, DEFAULT_THEORY),
    theory: DEFAULT_THEORY,
  }));
}
const TEXTS = readdirSync('samples')
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => readFileSync(`samples/${file}`, 'utf8'));
const SAMPLES = TEXTS.map(materialsOf);
const seeds = fc.nat(1_000_000);
const texts = fc.oneof(
  fc.constantFrom(...TEXTS),
  lessonPhraseArbitrary.map(({ text }) => text),
);
const plain = ({ kind, phrase, prompt, answer, asked }: Exercise): unknown => ({
  kind,
  phrase,
  prompt,
  answer,
  text: asked.map(({ reading }) => reading.phrase.text),
});

/** Every test draws the same texts and seeds: their exercises are made once. */
const made = new Map<string, { readonly exercises: readonly Exercise[]; readonly from: readonly Material[] }>();
const holds = (check: (exercises: readonly Exercise[], from: readonly Material[], seed: number) => void): void =>
  always(
    fc.property(texts, seeds, (text, seed) => {
      const key = `${seed} ${text}`;
      if (!made.has(key)) {
        const from = materialsOf(text);
        made.set(key, { from, exercises: exercisesOf(from, seed) });
      }
      const { exercises, from } = made.get(key)!;
      check(exercises, from, seed);
    }),
    { ...RUN, numRuns: 25 },
  );

/** Those of a kind that asks, and answers, by one picture. */
function pictured(
  exercises: readonly Exercise[],
  kind: ExerciseKind,
): (Omit<Exercise, 'asked' | 'answered'> & { readonly asked: readonly [Shown]; readonly answered: readonly [Shown] })[] {
  return exercises
    .filter((one) => one.kind === kind)
    .map(({ asked, answered, ...rest }) => {
      expect([asked.length, answered.length]).toEqual([1, 1]);
      return { ...rest, asked: [asked[0]!], answered: [answered[0]!] };
    });
}

describe('exercises', () => {
  test('the same seed gives the same ones, other seeds give others', () => {
    holds((exercises, from, seed) => {
      expect(exercisesOf(from, seed).map(plain)).toEqual(exercises.map(plain));
    });
    const sets = Array.from({ length: 8 }, (_, seed) => JSON.stringify(exercisesOf(SAMPLES[2]!, seed).map(plain)));
    expect(new Set(sets).size).toBeGreaterThan(5);
  });

  test('every sample gives some of each kind that it can, none twice from one phrase', () => {
    const kinds = new Set<string>();
    for (const from of SAMPLES) {
      const exercises = exercisesOf(from, 1);
      for (const { kind } of exercises) kinds.add(kind);
      expect(new Set(exercises.map(({ kind, phrase }) => `${kind} ${phrase}`)).size).toBe(exercises.length);
      expect(exercises.length).toBeGreaterThanOrEqual(4);
    }
    expect([...kinds].sort()).toEqual([...EXERCISE_KINDS].sort());
  });

  test('no page shows a line with a wrong note and the line as it is', () => {
    let turned = 0;
    holds((exercises) => {
      const first = exercises.findIndex(({ kind }) => kind === 'wrong-note');
      const pages = exercises.map((_, i) => exercises.slice(0, i + 1).filter((_, k) => startsPage(exercises, k)).length);
      exercises.forEach(({ kind, phrase }, i) => {
        const beside = exercises.filter((one, k) => pages[k] === pages[i] && one.kind !== 'wrong-note').map((one) => one.phrase);
        if (kind === 'wrong-note') expect(beside).not.toContain(phrase);
        if (startsPage(exercises, i)) expect(i).toBe(first);
      });
      turned += pages.at(-1) ?? 0;
    });
    expect(turned).toBeGreaterThan(0);
  });

  test('in keys that are asked for: each is of one of them, all keys come, and other phrases rather than one twice', () => {
    const keys = ['F', 'B', 'Eb'];
    for (const text of TEXTS.slice(0, 3)) {
      const snapshot = openSnapshot('', 1, text);
      const from = snapshot.phrases.flatMap((placed, phrase) =>
        versionsOf({ snapshot, placed }, null, keys, DEFAULT_THEORY).versions.flatMap(({ text: own, reading, key }): Material[] =>
          key === null ? [] : [{ ...own, reading, theory: DEFAULT_THEORY, version: { phrase, key } }],
        ),
      );
      const exercises = exercisesOf(from, 3);
      for (const { key, asked } of exercises) {
        // A phrase may name no key: then it is that of its chords.
        const { key: named } = asked[0]!.reading.phrase;
        if (named !== null) expect(key!.replace(/ \(written in .*/, '')).toBe(formatKey(named));
        expect(keys).toContain(key!.replace(/ .*$/, ''));
      }
      const counts = keys.map((tonic) => exercises.filter(({ key }) => key!.startsWith(`${tonic} `)).length);
      if (exercises.length >= 6) expect(Math.min(...counts)).toBeGreaterThan(0);
      // Where two phrases give a kind as they are written, it is not made twice from one.
      const phrasesOf = (all: readonly Exercise[], kind: ExerciseKind): number =>
        new Set(all.filter((one) => one.kind === kind).map(({ phrase }) => phrase)).size;
      const written = exercisesOf(materialsOf(text), 3);
      for (const kind of EXERCISE_KINDS) expect(phrasesOf(exercises, kind)).toBeGreaterThanOrEqual(phrasesOf(written, kind));
    }
  });

  test('of a line with a wrong note only that one is flagged, one note was moved by a step, and the rest sounds as it did', () =>
    holds((exercises, from) => {
      for (const {
        asked: [asked],
        phrase,
        answer,
      } of pictured(exercises, 'wrong-note')) {
        const before = from.find(({ placed }) => placed.phrase.name === phrase)!.reading;
        const moved = asked.reading.phrase.notes.filter((note, i) => note.midi !== before.phrase.notes[i]!.midi);
        expect(moved).toHaveLength(1);
        expect(Math.abs(moved[0]!.midi - before.phrase.notes[moved[0]!.index]!.midi)).toBeLessThanOrEqual(2);
        const warnings = problemsOf(asked.reading).filter(
          ({ severity, rule }) => (severity === 'warning' || severity === 'error') && !rule.startsWith('claim-'),
        );
        expect(warnings.map(({ rule, about }) => [rule, about?.note])).toEqual([['clash', moved[0]!.index]]);
        expect(problemsOf(before).filter(({ rule }) => rule === 'clash')).toEqual([]);
        expect(answer).toContain(`${moved[0]!.bar === 0 ? 'The pickup' : `Bar ${moved[0]!.bar}`}, ${beatWords(moved[0]!.beat)}: `);
      }
    }));

  test('an enclosure is left out whole, all ways to complete it are enclosures of its target in which nothing is wrong, the line’s own among them', () =>
    holds((exercises, from) => {
      for (const {
        asked: [asked],
        answered: [answered],
        phrase,
      } of pictured(exercises, 'complete-enclosure')) {
        const material = from.find(({ placed }) => placed.phrase.name === phrase)!;
        const { from: first, to } = answered.data.devices[0]!;
        const left = answered.reading.phrase.notes.length - asked.reading.phrase.notes.length;
        expect([2, 3]).toContain(left);
        const [device] = matchesOfKind(material.reading, 'enclosure').filter(
          ({ target, notes }) => target === to && notes[0] === first && notes.length === left,
        );
        const ways = enclosuresOf(material, device!);
        for (const way of ways) {
          expect(faultsOf(way)).toEqual([]);
          const goal = way.phrase.notes[to]!.midi;
          const around = device!.notes.map((note) => way.phrase.notes[note]!.midi - goal);
          expect(around.some((off) => off > 0) && around.some((off) => off < 0) && around.every((off) => Math.abs(off) <= 3)).toBe(true);
          expect(
            way.phrase.notes
              .filter((note, i) => note.midi !== material.reading.phrase.notes[i]!.midi)
              .every(({ index }) => device!.notes.includes(index)),
          ).toBe(true);
        }
        // The line's own way is among them.
        expect(ways.some((way) => way.phrase.notes.every((note, i) => note.midi === midi(material.reading.phrase.notes[i]!.pitch)))).toBe(
          true,
        );
      }
    }));

  test('an enclosure in which a note is struck again is none to complete: rests do not tell how often', () => {
    const line = (wrap: string): string => `phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | D4-B3 ${wrap} |\n`;
    const kinds = (text: string): ExerciseKind[] =>
      Array.from({ length: 5 }, (_, seed) => exercisesOf(materialsOf(text), seed))
        .flat()
        .map(({ kind }) => kind);
    expect(matchesOfKind(materialsOf(line('B C E'))[0]!.reading, 'enclosure').map(({ notes }) => notes.length)).toEqual([3]);
    expect(kinds(line('B C E'))).not.toContain('complete-enclosure');
    expect(kinds(line('C E G'))).toContain('complete-enclosure');
  });

  test('another key: the line as it stands, then its chords moved over nothing; each note of the answer is as far from the line’s, and the same figure of its chord', () =>
    holds((exercises, from) => {
      for (const {
        asked: [line, chords],
        answered: [answer],
        phrase,
        prompt,
      } of exercises.filter(({ kind }) => kind === 'another-key')) {
        const own = from.find(({ placed }) => placed.phrase.name === phrase)!.reading;
        expect(line!.reading).toBe(own);
        expect([chords!.line, chords!.data.notes.length]).toEqual(['blank', 0]);
        expect(chords!.reading).toBe(answer!.reading);
        const there = answer!.reading;
        const by = new Set(there.phrase.notes.map((note, i) => note.midi - own.phrase.notes[i]!.midi));
        expect(by.size).toBe(1);
        expect([...by][0]! % 12).not.toBe(0);
        expect(there.phrase.spans.map(({ onset, chord }) => `${onset.toFraction()} ${chord?.kind ?? ''}`)).toEqual(
          own.phrase.spans.map(({ onset, chord }) => `${onset.toFraction()} ${chord?.kind ?? ''}`),
        );
        expect(
          there.notes.map(({ placement }) => (placement === null ? '' : `${placement.figure.number} ${placement.figure.alter}`)),
        ).toEqual(own.notes.map(({ placement }) => (placement === null ? '' : `${placement.figure.number} ${placement.figure.alter}`)));
        expect(faultsOf(there)).toEqual([]);
        expect(prompt).toMatch([...by][0]! > 0 ? /higher\./ : /lower\./);
        // A page is respelled for its part, but one moves by the common intervals.
        expect(prompt).not.toMatch(/ (?:diminished|augmented) (?!fifth|fourth)/);
      }
    }));

  test('the other ii–V–I: notes keep their places on the staff; a note of that place with another accidental is in neither chord nor scale', () => {
    const found = SAMPLES.flat().flatMap((material) => {
      const there = inOtherMode(material);
      return there === null ? [] : [{ own: material.reading, there }];
    });
    expect(found.length).toBeGreaterThan(2);
    for (const { own, there } of found) {
      const { phrase, notes, scales } = there;
      expect([phrase.key!.mode, own.phrase.key!.mode].sort()).toEqual(['major', 'minor']);
      expect(phrase.key!.tonic).toEqual(own.phrase.key!.tonic);
      expect(phrase.notes.map(({ pitch: { letter, octave } }) => `${letter}${octave}`)).toEqual(
        own.phrase.notes.map(({ pitch: { letter, octave } }) => `${letter}${octave}`),
      );
      expect(phrase.notes.map(({ midi: height }) => height)).not.toEqual(own.phrase.notes.map(({ midi: height }) => height));
      for (const { pitch, index } of phrase.notes) {
        const { span } = notes[index]!.placement!;
        const fitting = new Set(
          [...phrase.spans[span]!.chord!.tones, ...(scales[span]?.tones ?? [])]
            .filter(({ name }) => name.letter === pitch.letter)
            .map(({ name }) => name.alter),
        );
        expect([...fitting]).toEqual([pitch.alter]);
      }
      expect(faultsOf(there)).toEqual([]);
    }
  });

  // What a teacher would write: the ii–V–I in C minor has Eb and Ab, and over the tonic A natural (the chord is Cm6).
  test.each([
    ['| D4 F A C5 | B4 G A F | E ~ ~ ~ |', 'D F Ab C B G Ab F Eb'],
    ['| F4 E D C | B3 D4 F A | G E ~ ~ |', 'F Eb D C B D F Ab G Eb'],
    // A chromatic note is none of its scale, and without a note that changes there is nothing to do.
    ['| D4 F A C5 | B4 Bb A F | E ~ ~ ~ |', null],
    ['| D4 F D C | B3 D4 F D | G ~ ~ ~ |', null],
  ])('%s in the other mode: %s', (line, wanted) => {
    const [material] = materialsOf(`phrase "A"\n  key   C major\n  over  | Dm7 | G7 | Cmaj7 |\n  line  ${line}\n`);
    const there = inOtherMode(material!);
    expect(there?.phrase.notes.map(({ pitch }) => formatNoteName(pitch)).join(' ') ?? null).toBe(wanted);
  });

  test('a bracket has no name on the sheet, and every name that fits its notes in the answers', () =>
    holds((exercises) => {
      for (const {
        asked: [asked],
        answered: [answered],
      } of pictured(exercises, 'name-device')) {
        for (const [i, { name }] of asked.data.devices.entries()) expect(name).toMatch(new RegExp(`^${i + 1} _+$`));
        for (const { name, from, to } of answered.data.devices) {
          const names = name.replace(/^\d /, '').split(' or ');
          for (const kind of ['enclosure', 'arpeggio', 'scale-run', 'cell', 'passing-tone'] as const) {
            const fits = matchesOfKind(answered.reading, kind).some(({ notes, target }) => {
              const all = target === null ? notes : [...notes, target];
              return Math.min(...all) === from && Math.max(...all) === to;
            });
            expect(names.includes(deviceName(kind)), `${kind} in ${name}`).toBe(fits);
          }
        }
      }
    }));
});

test('random numbers come again, lie below their limit, and take all values', () => {
  const [one, other] = [randomOf(7), randomOf(7)];
  const drawn = Array.from({ length: 500 }, () => one.below(6));
  expect(Array.from({ length: 500 }, () => other.below(6))).toEqual(drawn);
  expect(new Set(drawn)).toEqual(new Set([0, 1, 2, 3, 4, 5]));
  expect([...one.shuffled([1, 2, 3, 4, 5])].sort()).toEqual([1, 2, 3, 4, 5]);
});
