/** The questions of *Write a Sound File…*: one list that shows what is chosen; a row of it changes one thing. */
import { pickChanges, pickMany, pickOne, type Item } from '../pick';
import { PIANO_VOICES } from '../score/messages';
import { pickWhat, subjectWords, type Asked, type Subject } from '../subject';
import { countInWords, pianoWords, tempoWords, VOICES, voicesWords, type Choice } from './choice';

type Row = 'what' | 'voices' | 'piano' | 'countIn' | 'tempo' | 'keys';

/** What is to be written; undefined where the list is left. */
export async function askSound({ subject, choice, wasChosen, onChange }: Asked<Choice>): Promise<Choice | undefined> {
  const done = await pickChanges<Choice, Row, 'write'>({
    choice: subject.phrase === null ? { ...choice, what: 'lesson' } : choice,
    wasChosen,
    title: ({ what }) => `Sound File of ${subjectWords(subject, what)}`,
    rows: (now, heading) => rowsOf(subject, now, heading),
    first: 'write',
    ask: { ...ASK, what: (now) => askWhat(subject, now) },
    onChange,
  });
  return done?.choice;
}

function rowsOf(subject: Subject, choice: Choice, heading: Item<never>): Item<Row | 'write'>[] {
  const row = (value: Row, label: string, description: string): Item<Row> => ({ value, label, description });
  return [
    { value: 'write', label: '$(unmute) Write the WAV …', description: 'asks where to' },
    heading,
    ...(subject.phrase === null ? [] : [row('what', 'What', subjectWords(subject, choice.what))]),
    row('voices', 'Voices', voicesWords(choice.voices)),
    row('piano', 'Played by the piano', pianoWords(choice.piano)),
    row('countIn', 'Count-in', countInWords(choice.countIn)),
    row('tempo', 'Tempo', tempoWords(choice.tempo)),
    row('keys', 'Keys', choice.keys === 'all' ? 'all twelve' : 'as written'),
  ];
}

async function askWhat(subject: Subject, choice: Choice): Promise<Choice | undefined> {
  const what = await pickWhat('What Is Written', { ...subject, lesson: `${subject.lesson}, phrase after phrase` }, choice.what);
  return what === undefined ? undefined : { ...choice, what };
}

const VOICE_LABELS = { line: 'Line', chords: 'Chords', bass: 'Bass', click: 'Click' } as const;

const SHARES = [1, 0.9, 0.8, 0.7, 0.6, 0.5] as const;

/** Asks for one thing; undefined leaves it as it is. */
const ASK: Readonly<Record<Exclude<Row, 'what'>, (choice: Choice) => Promise<Choice | undefined>>> = {
  async voices(choice) {
    const picked = await pickMany(
      'What Is Heard (without the line: to play along)',
      VOICES.map((value) => ({ value, label: VOICE_LABELS[value] })),
      choice.voices,
    );
    // A file in which nothing is heard is none.
    return picked === undefined || picked.length === 0
      ? undefined
      : { ...choice, voices: VOICES.filter((voice) => picked.includes(voice)) };
  },
  async piano(choice) {
    const picked = await pickMany(
      'What the Piano Plays (the rest is synthesized)',
      PIANO_VOICES.map((value) => ({ value, label: VOICE_LABELS[value] })),
      choice.piano,
    );
    return picked === undefined ? undefined : { ...choice, piano: PIANO_VOICES.filter((voice) => picked.includes(voice)) };
  },
  async countIn(choice) {
    const bars = await pickOne(
      'Count-in before Each Phrase',
      [0, 1, 2].map((count) => ({ value: String(count), label: countInWords(count) })),
      String(choice.countIn),
    );
    return bars === undefined ? undefined : { ...choice, countIn: Number(bars) };
  },
  async tempo(choice) {
    const share = await pickOne(
      'Tempo',
      SHARES.map((one) => ({ value: String(one), label: tempoWords(one) })),
      String(choice.tempo),
    );
    return share === undefined ? undefined : { ...choice, tempo: Number(share) };
  },
  async keys(choice) {
    const keys = await pickOne(
      'In Which Keys',
      [
        { value: 'written', label: 'As written' },
        { value: 'all', label: 'All twelve', description: 'one after another, its own first, in the order that the score practises them' },
      ] as const,
      choice.keys,
    );
    return keys === undefined ? undefined : { ...choice, keys };
  },
};
