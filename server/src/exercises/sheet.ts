/** A sheet of exercises, or its answers, as the blocks of a handout. */
import { keyAsWritten } from '../exports/musicxml';
import type { Engraver } from '../picture/engraver';
import { guarded } from '../model/faults';
import { lessonTitle, openSnapshot, phraseNear } from '../model/snapshot';
import type { Tools } from '../handout/handout';
import { versionsOf } from '../handout/versions';
import { paperOf, type Paper } from '../handout/paper';
import { drawn } from '../handout/pictures';
import { line, withoutPicture } from '../handout/plain-blocks';
import { quotedName, type Block, type Handout, type HandoutOptions, type LessonText } from '../handout/types';
import { formatKey } from '../theory/key';
import { partByName } from '../theory/part';
import { anotherKey } from './another-key';
import { completeEnclosure } from './complete-enclosure';
import { EXERCISE_KINDS, type Exercise, type ExerciseKind, type Make, type Material } from './exercise';
import { nameDevice } from './name-device';
import { numberNotes } from './number-notes';
import { otherMode } from './other-mode';
import { randomOf } from './random';
import { wrongNote } from './wrong-note';

/** So many exercises of a kind, from so many phrases of a lesson. */
const OF_A_KIND = 2;

const KINDS: Readonly<Record<ExerciseKind, { readonly title: string; readonly make: Make }>> = {
  'number-notes': { title: 'Number the notes', make: numberNotes },
  'wrong-note': { title: 'Find the wrong note', make: wrongNote },
  'complete-enclosure': { title: 'Complete the enclosure', make: completeEnclosure },
  'name-device': { title: 'Name the device', make: nameDevice },
  'another-key': { title: 'Write it in another key', make: anotherKey },
  'other-mode': { title: 'Put it over the other ii–V–I', make: otherMode },
};

/** Makes the sheet of the options' seed. An exercise that cannot be drawn has a line in its place, and the fault is told. Throws where no phrase gives an exercise. */
export function makeExerciseSheet(
  lessons: readonly LessonText[],
  options: HandoutOptions,
  { theory, engraver, onProgress }: Tools,
): Handout {
  const isKey = options.sheet === 'exercise-answers';
  const paper = paperOf(options.paper);
  const books = lessons.map((lesson) => {
    const snapshot = openSnapshot(lesson.name, 1, lesson.text);
    const chosen = lesson.at === undefined ? null : phraseNear(snapshot, lesson.at);
    const phrases = chosen === null ? snapshot.phrases : [chosen];
    return { title: lessonTitle(snapshot) || lesson.name, snapshot, phrases };
  });
  const notices: string[] = [];
  const sections = (options.parts.length === 0 ? [null] : options.parts).flatMap((part) =>
    books.map(({ title, snapshot, phrases }): Section => {
      const materials = phrases.flatMap((placed, phrase) =>
        guarded(`the reading of ${quotedName(placed.phrase.name)}`, [], () => {
          const { versions, notices: told } = versionsOf({ snapshot, placed }, part, options.keys, theory);
          notices.push(...told);
          return versions.map(
            ({ text, reading, key }): Material => ({ ...text, reading, theory, ...(key === null ? {} : { version: { phrase, key } }) }),
          );
        }),
      );
      return { title, label: part === null ? '' : partByName(part)!.label, exercises: exercisesOf(materials, options.seed) };
    }),
  );
  const total = sections.reduce((sum, { exercises }) => sum + exercises.length, 0);
  if (total === 0) throw new Error('No exercise can be made: they are made from phrases with chords in which nothing clashes.');
  for (const { title, exercises } of sections)
    if (exercises.length === 0)
      notices.push(`“${title}” gives no exercise: they are made from phrases with chords in which nothing clashes.`);
  let done = 0;
  const blocks = sections.flatMap(({ title, label, exercises }, i): Block[] =>
    exercises.length === 0
      ? []
      : [
          {
            kind: 'section',
            id: `exercises-${i + 1}`,
            title,
            note: `${label === '' ? '' : `${label}: `}${isKey ? 'answers to exercises' : 'exercises'}, set ${options.seed}`,
            name: [title, label, isKey ? 'answers' : 'exercises'].filter((one) => one !== '').join(', '),
          },
          { kind: 'names' },
          ...exercises.flatMap((exercise, k) => {
            const made = blocksOf(exercise, `${i + 1}-${k + 1}`, k + 1, { isKey, startsPage: startsPage(exercises, k), paper, engraver });
            onProgress((done += 1), total);
            return made;
          }),
        ],
  );
  return { title: books.map(({ title }) => title).join(', '), blocks, notices: [...new Set(notices)] };
}

/** A lesson, for a part; the label of none is empty. */
interface Section {
  readonly title: string;
  readonly label: string;
  readonly exercises: readonly Chosen[];
}

/** An exercise, and the key of its phrase where keys were asked for. */
export interface Chosen extends Exercise {
  readonly key: string | null;
}

/** The exercises that phrases give, kind by kind, each kind in the order of the phrases, the wrong notes last; the same for the same seed. */
export function exercisesOf(materials: readonly Material[], seed: number): Chosen[] {
  const random = randomOf(seed);
  const phraseOf = (material: Material): unknown => material.version?.phrase ?? material;
  const keyOf = ({ version }: Material): string => version?.key ?? '';
  const used = new Map<unknown, number>();
  const uses = (what: unknown): number => used.get(what) ?? 0;
  const all = EXERCISE_KINDS.flatMap((kind) => {
    const made: { readonly at: number; readonly exercise: Chosen }[] = [];
    const isMade = (material: Material): number => Number(made.some(({ at }) => phraseOf(materials[at]!) === phraseOf(material)));
    const waiting = random.shuffled(materials);
    while (made.length < OF_A_KIND && waiting.length > 0) {
      // Another phrase first, one that had the fewest exercises so far, in the key that had the fewest.
      waiting.sort((a, b) => isMade(a) - isMade(b) || uses(phraseOf(a)) - uses(phraseOf(b)) || uses(keyOf(a)) - uses(keyOf(b)));
      const material = waiting.shift()!;
      const { title, make } = KINDS[kind];
      const exercise = guarded(`the exercise “${title}” from ${quotedName(material.placed.phrase.name)}`, null, (): Chosen | null => {
        const one = make(material, random);
        return one === null
          ? null
          : { ...one, key: material.version === undefined ? null : keyWords(material.version.key, material.reading) };
      });
      if (exercise === null) continue;
      for (const what of [phraseOf(material), keyOf(material)]) used.set(what, uses(what) + 1);
      made.push({ at: materials.indexOf(material), exercise });
    }
    return made.sort((a, b) => a.at - b.at).map(({ exercise }) => exercise);
  });
  return [...all.filter(({ kind }) => kind !== 'wrong-note'), ...all.filter(({ kind }) => kind === 'wrong-note')];
}

/** Whether an exercise begins a page: the first wrong note, where another exercise shows what the line is without it. */
export function startsPage(exercises: readonly Exercise[], index: number): boolean {
  const [wrong, others] = [exercises.filter(({ kind }) => kind === 'wrong-note'), exercises.filter(({ kind }) => kind !== 'wrong-note')];
  return exercises[index] === wrong[0] && others.some(({ phrase }) => wrong.some((one) => one.phrase === phrase));
}

/** `F major`; `F major (written in G major)` for a part that reads another: what is asked speaks of what it reads. */
function keyWords(key: string, reading: Material['reading']): string {
  const written = keyAsWritten(reading, { pitch: 'written', degrees: false, words: 'notes' });
  return written === null || formatKey(written) === key ? key : `${key} (written in ${formatKey(written)})`;
}

function blocksOf(
  exercise: Chosen,
  id: string,
  number: number,
  {
    isKey,
    startsPage: turns,
    paper,
    engraver,
  }: { readonly isKey: boolean; readonly startsPage: boolean; readonly paper: Paper; readonly engraver: Engraver },
): Block[] {
  const { kind, phrase, key, prompt, answer } = exercise;
  const shown = isKey ? exercise.answered : exercise.asked;
  const { title } = KINDS[kind];
  const name = `${number}. ${title}: ${quotedName(phrase)}${key === null ? '' : ` – ${key}`}`;
  return [
    { kind: 'phrase', id: `exercise-${id}`, name, heading: prompt, listed: null, ...(turns ? { startsPage: true } : {}) },
    ...guarded(`the notation of the exercise “${title}” from ${quotedName(phrase)}`, withoutPicture(NOT_DRAWN), () =>
      shown.map((one): Block => ({ kind: 'systems', systems: drawn(one, paper, engraver), isWhole: true })),
    ),
    ...(isKey && answer !== '' ? [line(answer)] : []),
  ];
}

/** In the place of what broke off. */
const NOT_DRAWN = 'This exercise could not be drawn. That is a fault of Phrasewright, not of the phrase.';
