/** A sheet of exercises, or its answers, as the blocks of a handout. */
import { readPhrase } from '../analysis/read';
import type { Engraver } from '../picture/engraver';
import { lessonTitle, openSnapshot, phraseNear } from '../model/snapshot';
import type { Tools } from '../handout/handout';
import { paperOf, type Paper } from '../handout/paper';
import { drawn } from '../handout/pictures';
import type { Block, Handout, HandoutOptions, LessonText } from '../handout/types';
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

/** Makes the sheet of the options' seed. Throws where no phrase gives an exercise, and with the phrase's name where one cannot be engraved. */
export function makeExerciseSheet(lessons: readonly LessonText[], options: HandoutOptions, { theory, engraver, onProgress }: Tools): Handout {
  const isKey = options.sheet === 'exercise-answers';
  const paper = paperOf(options.paper);
  const books = lessons.map((lesson) => {
    const snapshot = openSnapshot(lesson.name, 1, lesson.text);
    const chosen = lesson.at === undefined ? null : phraseNear(snapshot, lesson.at);
    const materials = (chosen === null ? snapshot.phrases : [chosen]).map((placed): Material => ({ snapshot, placed, reading: readPhrase(placed.phrase, theory), theory }));
    return { title: lessonTitle(snapshot) || lesson.name, exercises: exercisesOf(materials, options.seed) };
  });
  const total = books.reduce((sum, { exercises }) => sum + exercises.length, 0);
  if (total === 0) throw new Error('No exercise can be made: they are made from phrases with chords in which nothing clashes.');
  const notices = books.filter(({ exercises }) => exercises.length === 0).map(({ title }) => `“${title}” gives no exercise: they are made from phrases with chords in which nothing clashes.`);
  let done = 0;
  const blocks = books.flatMap(({ title, exercises }, i): Block[] => (exercises.length === 0 ? [] : [
    { kind: 'section', id: `exercises-${i + 1}`, title, note: isKey ? `answers to exercises, set ${options.seed}` : `exercises, set ${options.seed}`, name: `${title}, ${isKey ? 'answers' : 'exercises'}` },
    ...(isKey ? [] : [{ kind: 'names' } as const]),
    ...exercises.flatMap((exercise, k) => {
      const made = blocksOf(exercise, `${i + 1}-${k + 1}`, k + 1, { isKey, paper, engraver });
      onProgress((done += 1), total);
      return made;
    }),
  ]));
  return { title: books.map(({ title }) => title).join(', '), blocks, notices };
}

/** The exercises that phrases give, kind by kind, each kind in the order of the phrases; the same for the same seed. */
export function exercisesOf(materials: readonly Material[], seed: number): Exercise[] {
  const random = randomOf(seed);
  const used = new Map<Material, number>();
  return EXERCISE_KINDS.flatMap((kind) => {
    const made: { readonly at: number; readonly exercise: Exercise }[] = [];
    // Phrases that had the fewest exercises so far go first.
    const order = random.shuffled(materials).sort((a, b) => (used.get(a) ?? 0) - (used.get(b) ?? 0));
    for (const material of order) {
      if (made.length === OF_A_KIND) break;
      const exercise = KINDS[kind].make(material, random);
      if (exercise === null) continue;
      used.set(material, (used.get(material) ?? 0) + 1);
      made.push({ at: materials.indexOf(material), exercise });
    }
    return made.sort((a, b) => a.at - b.at).map(({ exercise }) => exercise);
  });
}

function blocksOf(exercise: Exercise, id: string, number: number, { isKey, paper, engraver }: { readonly isKey: boolean; readonly paper: Paper; readonly engraver: Engraver }): Block[] {
  const { kind, phrase, prompt, answer } = exercise;
  const shown = isKey ? exercise.answered : exercise.asked;
  const name = `${number}. ${KINDS[kind].title}: “${phrase === '' ? 'a phrase without a name' : phrase}”`;
  return [
    { kind: 'phrase', id: `exercise-${id}`, name, heading: prompt, listed: null },
    ...shown.map((one): Block => ({ kind: 'systems', systems: drawn(one, paper, engraver) })),
    ...(isKey && answer !== '' ? [{ kind: 'prose', words: [{ text: answer, isStrong: false, isEmphasized: false }] } as const] : []),
  ];
}
