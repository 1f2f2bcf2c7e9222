/** The questions of *Export…*: one list that shows what is chosen, so that the usual file takes one key; a row of it changes one thing. */
import { pickChanges, pickMany, pickOne, type Item } from '../pick';
import { pickWhat, subjectWords, type Asked, type Subject } from '../subject';
import {
  BESIDE_WORDS,
  besideOf,
  besideWords,
  EIGHTHS_WORDS,
  FORMAT_WORDS,
  KEYS_WORDS,
  PITCH_WORDS,
  withBeside,
  type Beside,
  type Choice,
  type Choices,
} from './choice';

export interface Question extends Asked<Choice> {
  readonly choices: Choices;
}

type Row = 'what' | 'format' | 'pitch' | 'beside' | 'eighths' | 'keys';

/** What is to be written; undefined where the list is left. */
export async function askExport({ subject, choices, choice, wasChosen, onChange }: Question): Promise<Choice | undefined> {
  const done = await pickChanges<Choice, Row, 'write'>({
    choice,
    wasChosen,
    title: ({ what }) => `Export ${subjectWords(subject, what)}`,
    rows: (now, heading) => rowsOf(subject, now, heading),
    first: 'write',
    ask: asking(subject, choices),
    onChange,
  });
  return done?.choice;
}

function rowsOf(subject: Subject, choice: Choice, heading: Item<never>): Item<Row | 'write'>[] {
  const { format, options } = choice;
  const { musicXml, midi } = options;
  const row = (value: Row, label: string, description: string): Item<Row> => ({ value, label, description });
  const said = ([name, more]: readonly [string, string]): string => (more === '' ? name.toLowerCase() : `${name.toLowerCase()}: ${more}`);
  return [
    { value: 'write', label: `$(file) Write the ${FORMAT_WORDS[format][0]} …`, description: 'asks where to' },
    heading,
    ...(subject.phrase === null ? [] : [row('what', 'What', subjectWords(subject, choice.what))]),
    row('format', 'Format', `${FORMAT_WORDS[format][0]}: ${FORMAT_WORDS[format][1]}`),
    ...(format === 'midi'
      ? [row('eighths', 'Eighths', said(EIGHTHS_WORDS[midi.eighths])), row('keys', 'Keys', said(KEYS_WORDS[midi.keys]))]
      : [row('pitch', 'Pitch', said(PITCH_WORDS[musicXml.pitch])), row('beside', 'Beside the notes', besideWords(options))]),
  ];
}

/** Asks for one thing; undefined leaves it as it is. */
const asking = (subject: Subject, choices: Choices): Readonly<Record<Row, (choice: Choice) => Promise<Choice | undefined>>> => ({
  async what(choice) {
    const what = await pickWhat('What Is Exported', subject, choice.what);
    return what === undefined ? undefined : { ...choice, what };
  },
  async format(choice) {
    const format = await pickOne(
      'Format',
      choices.formats.map((value) => itemOf(value, FORMAT_WORDS[value])),
      choice.format,
    );
    return format === undefined ? undefined : { ...choice, format };
  },
  async pitch({ options, ...choice }) {
    const pitch = await pickOne(
      'Pitch',
      (['written', 'concert'] as const).map((value) => itemOf(value, PITCH_WORDS[value])),
      options.musicXml.pitch,
    );
    return pitch === undefined ? undefined : { ...choice, options: { ...options, musicXml: { ...options.musicXml, pitch } } };
  },
  async beside({ options, ...choice }) {
    const beside = await pickMany(
      'What Stands beside the Notes',
      (['degrees', ...choices.remarks] as const).map((value: Beside) => itemOf(value, BESIDE_WORDS[value])),
      besideOf(options),
    );
    return beside === undefined ? undefined : { ...choice, options: withBeside(options, beside, choices) };
  },
  async eighths({ options, ...choice }) {
    const eighths = await pickOne(
      'Eighths',
      (['as-played', 'as-written'] as const).map((value) => itemOf(value, EIGHTHS_WORDS[value])),
      options.midi.eighths,
    );
    return eighths === undefined ? undefined : { ...choice, options: { ...options, midi: { ...options.midi, eighths } } };
  },
  async keys({ options, ...choice }) {
    const keys = await pickOne(
      'In Which Keys',
      (['written', 'all'] as const).map((value) => itemOf(value, KEYS_WORDS[value])),
      options.midi.keys,
    );
    return keys === undefined ? undefined : { ...choice, options: { ...options, midi: { ...options.midi, keys } } };
  },
});

function itemOf<T extends string>(
  value: T,
  [label, description]: readonly [string, string],
): { readonly value: T; readonly label: string; readonly description: string } {
  return { value, label, description };
}
