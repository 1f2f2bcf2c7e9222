/** What a command is about: the lesson, or the phrase at the cursor. */
import { pickOne } from './pick';
import { asWords } from './words';

export type What = 'lesson' | 'phrase';

export interface Subject {
  /** In words. */
  readonly lesson: string;
  /** Its name; null where the cursor is in none. */
  readonly phrase: string | null;
}

/** What a list of questions is asked with. */
export interface Asked<Choice> {
  readonly subject: Subject;
  /** How it was chosen so far. */
  readonly choice: Choice;
  /** Whether it was chosen, or is what everybody has at first. */
  readonly wasChosen: boolean;
  /** Called when something is chosen, so that it is kept. */
  readonly onChange: (choice: Choice) => void;
}

export function subjectWords({ lesson, phrase }: Subject, what: What): string {
  return asWords(what === 'phrase' && phrase !== null ? `the phrase “${phrase}”` : lesson);
}

/** Asks for the one or the other; `lesson` is what the lesson comes to. Undefined where the list is left. */
export function pickWhat(title: string, { lesson, phrase }: Subject, now: What): Promise<What | undefined> {
  return pickOne<What>(
    title,
    [
      { value: 'lesson', label: 'The lesson', description: asWords(lesson) },
      { value: 'phrase', label: 'The phrase at the cursor', description: asWords(`“${phrase ?? ''}”`) },
    ],
    now,
  );
}
