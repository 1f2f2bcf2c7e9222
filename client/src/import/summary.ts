/** The words of the notification after scores were brought in. */
import type { Imported } from '../../../server/src/import-service';

/** What came of one score. */
export interface Outcome {
  /** The score's file. */
  readonly score: string;
  /** Null where there is none, which `error` explains. */
  readonly lesson: { readonly name: string } | null;
  readonly report: Imported['report'];
  readonly error?: string;
}

export interface Summary {
  readonly kind: 'information' | 'warning' | 'error';
  readonly text: string;
  /** The output says more. */
  readonly hasMore: boolean;
}

/** Null where nothing was done. */
export function summary(outcomes: readonly Outcome[]): Summary | null {
  const made = outcomes.flatMap(({ score, lesson }) => (lesson === null ? [] : [{ score, name: lesson.name }]));
  const failed = outcomes.filter(({ error }) => error !== undefined);
  if (outcomes.length === 0) return null;
  const [first] = failed;
  const brought =
    made.length === 0
      ? ''
      : made.length === 1
        ? `Brought in ${made[0]!.score} as ${made[0]!.name}.`
        : `Brought in ${made.length} scores, each as a lesson beside it.`;
  const missed =
    first === undefined
      ? ''
      : `${first.score} was not brought in: ${firstLine(first.error!)}${failed.length === 1 ? '' : ` Nor ${failed.length === 2 ? `was ${failed[1]!.score}` : `were ${failed.length - 1} more`}.`}`;
  const lines = outcomes.flatMap(({ report }) => report);
  return {
    kind: first !== undefined ? 'error' : lines.some(({ kind }) => kind === 'left-out') ? 'warning' : 'information',
    text: [missed, brought, reportWords(lines)].filter((words) => words !== '').join(' '),
    hasMore: failed.length > 1 || lines.length > 0 || made.length > 1,
  };
}

/** One thing is said itself, of more it is said how many. */
function reportWords(lines: Outcome['report']): string {
  const [only, more] = lines;
  if (only === undefined) return '';
  if (more === undefined) return sentence(only.text);
  const left = lines.filter(({ kind }) => kind === 'left-out').length;
  const decided = lines.length - left;
  return `The report tells ${[...(left > 0 ? [`${left} ${left === 1 ? 'thing' : 'things'} left out`] : []), ...(decided > 0 ? [`${decided} ${decided === 1 ? 'decision' : 'decisions'}`] : [])].join(' and ')}.`;
}

function sentence(text: string): string {
  return `${text[0]!.toUpperCase()}${text.slice(1)}.`;
}

function firstLine(text: string): string {
  return text.split('\n')[0]!;
}
