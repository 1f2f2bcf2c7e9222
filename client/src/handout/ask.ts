/** The questions of *Hand Out…*: one list that shows what is chosen, so that the usual handout takes one key; a row of it changes one thing. */
import { pickChanges, pickMany, pickOne, type Item } from '../pick';
import { pickWhat, subjectWords, type Asked, type Subject } from '../subject';
import {
  EXTRA_WORDS,
  FORMAT_WORDS,
  isOfExercises,
  keysWords,
  leftOut,
  leftOutWords,
  PAPER_WORDS,
  partsWords,
  SHEET_WORDS,
  type Choice,
  type Choices,
} from './choice';

export interface Question extends Asked<Choice> {
  readonly choices: Choices;
  readonly isPreviewOpen: boolean;
}

type Row = 'what' | 'sheet' | 'seed' | 'keys' | 'parts' | 'without' | 'paper' | 'format';
type End = 'write' | 'preview';

/** What is to be done; undefined where the list is left. */
export async function askHandout(question: Question): Promise<End | undefined> {
  const { subject, choices, choice, wasChosen, onChange } = question;
  const done = await pickChanges<Choice, Row, End>({
    choice,
    wasChosen,
    title: ({ what }) => `Hand Out ${subjectWords(subject, what)}`,
    rows: (now, heading) => rowsOf(question, now, heading),
    first: 'write',
    ask: asking(subject, choices),
    onChange,
  });
  return done?.end;
}

function rowsOf({ choices, subject, isPreviewOpen }: Question, choice: Choice, heading: Item<never>): Item<Row | End>[] {
  const { options, format } = choice;
  const row = (value: Row, label: string, description: string): Item<Row> => ({ value, label, description });
  return [
    {
      value: 'write',
      label: `$(${format === 'pdf' ? 'file-pdf' : 'file-code'}) Write the ${FORMAT_WORDS[format][0]} …`,
      description: 'asks where to',
    },
    ...(isPreviewOpen
      ? []
      : [{ value: 'preview', label: '$(open-preview) Show the Preview', description: 'beside the text; it follows your edits' } as const]),
    heading,
    ...(subject.phrase === null ? [] : [row('what', 'What', subjectWords(subject, choice.what))]),
    row('sheet', 'Sheet', `${SHEET_WORDS[options.sheet][0].toLowerCase()}: ${SHEET_WORDS[options.sheet][1]}`),
    ...(isOfExercises(options.sheet) ? [row('seed', 'Exercises', `set ${options.seed}; takes the next set`)] : []),
    row('keys', 'Keys', keysWords(options.keys)),
    row('parts', 'Parts', partsWords(options.parts, choices)),
    ...(choices.extrasOf(options.sheet).length === 0 ? [] : [row('without', 'Left out', leftOutWords(options, choices))]),
    row('paper', 'Paper', PAPER_WORDS[options.paper][0]),
    row('format', 'Format', `${FORMAT_WORDS[format][0]}: ${FORMAT_WORDS[format][1]}`),
  ];
}

/** Asks for one thing; undefined leaves it as it is. */
const asking = (subject: Subject, choices: Choices): Readonly<Record<Row, (choice: Choice) => Promise<Choice | undefined>>> => ({
  async what(choice) {
    const what = await pickWhat('What Is Handed Out', subject, choice.what);
    return what === undefined ? undefined : { ...choice, what };
  },
  async sheet(choice) {
    const sheet = await pickOne(
      'For Whom',
      choices.sheets.map((value) => ({ value, label: SHEET_WORDS[value][0], description: SHEET_WORDS[value][1] })),
      choice.options.sheet,
    );
    return sheet === undefined ? undefined : withOptions(choice, { sheet });
  },
  // One key for another set.
  seed: async (choice) => withOptions(choice, { seed: choice.options.seed + 1 }),
  async keys(choice) {
    const { keys } = choice.options;
    const how = await pickOne(
      'In Which Keys',
      [
        { value: 'written', label: 'As written' },
        { value: 'all', label: 'All twelve', description: 'its own first, then round the cycle of fifths' },
        { value: 'some', label: 'Some keys …', description: typeof keys === 'string' ? '' : keysWords(keys) },
      ] as const,
      typeof keys === 'string' ? keys : 'some',
    );
    if (how === undefined) return undefined;
    if (how !== 'some') return withOptions(choice, { keys: how });
    const some = await pickMany(
      'Keys, by Their Tonics',
      choices.tonics.map((value) => ({ value, label: value })),
      typeof keys === 'string' ? [] : keys,
    );
    return some === undefined ? undefined : withOptions(choice, { keys: some.length === 0 ? 'written' : some });
  },
  async parts(choice) {
    const parts = await pickMany(
      'For Which Parts (none: each phrase for the part it names)',
      choices.parts.map(({ name, label }) => ({ value: name, label })),
      choice.options.parts,
    );
    return parts === undefined ? undefined : withOptions(choice, { parts });
  },
  async without(choice) {
    const { options } = choice;
    const shown = choices.extrasOf(options.sheet);
    const kept = shown.filter((extra) => !options.without.includes(extra));
    const picked = await pickMany(
      'What the Sheet Shows',
      shown.map((value) => ({ value, label: EXTRA_WORDS[value] })),
      kept,
    );
    if (picked === undefined) return undefined;
    // What this sheet does not show stays as it was chosen for others.
    const others = options.without.filter((extra) => !leftOut(options, choices).includes(extra));
    return withOptions(choice, { without: [...others, ...shown.filter((extra) => !picked.includes(extra))] });
  },
  async paper(choice) {
    const paper = await pickOne(
      'Paper',
      [
        { value: 'a4', label: PAPER_WORDS.a4[0], description: PAPER_WORDS.a4[1] },
        { value: 'letter', label: PAPER_WORDS.letter[0], description: PAPER_WORDS.letter[1] },
      ] as const,
      choice.options.paper,
    );
    return paper === undefined ? undefined : withOptions(choice, { paper });
  },
  async format(choice) {
    const format = await pickOne(
      'Format',
      [
        { value: 'pdf', label: FORMAT_WORDS.pdf[0], description: FORMAT_WORDS.pdf[1] },
        { value: 'html', label: FORMAT_WORDS.html[0], description: FORMAT_WORDS.html[1] },
      ] as const,
      choice.format,
    );
    return format === undefined ? undefined : { ...choice, format };
  },
});

function withOptions(choice: Choice, options: Partial<Choice['options']>): Choice {
  return { ...choice, options: { ...choice.options, ...options } };
}
