/** The questions of *Write a Sound File…*: one list that shows what was chosen last; a row of it changes one thing. */
import * as vscode from 'vscode';
import { pickMany, pickOne, type Item } from '../pick';
import { PIANO_VOICES } from '../score/messages';
import { asWords } from '../words';
import { countInWords, pianoWords, tempoWords, VOICES, voicesWords, type Choice } from './choice';

export interface Question {
  /** What is written, in words; `phrase` is null where the cursor is in none. */
  readonly subject: { readonly lesson: string; readonly phrase: string | null };
  readonly choice: Choice;
  /** Called when something is chosen, so that it is kept. */
  readonly onChange: (choice: Choice) => void;
}

type Row = 'what' | 'voices' | 'piano' | 'countIn' | 'tempo' | 'keys';

/** What is to be written; undefined where the list is left. */
export async function askSound({ subject, choice: kept, onChange }: Question): Promise<Choice | undefined> {
  let choice = subject.phrase === null ? { ...kept, what: 'lesson' as const } : kept;
  let last: Row | 'write' = 'write';
  for (;;) {
    const picked: Row | 'write' | undefined = await pickOne(`Sound File of ${subjectWords(subject, choice)}`, rowsOf(subject, choice), last);
    if (picked === undefined) return undefined;
    if (picked === 'write') return choice;
    last = picked;
    const changed = await ASK[picked](choice, subject);
    if (changed === undefined) continue;
    choice = changed;
    onChange(choice);
  }
}

function rowsOf(subject: Question['subject'], choice: Choice): Item<Row | 'write'>[] {
  const row = (value: Row, label: string, description: string): Item<Row> => ({ value, label, description });
  return [
    { value: 'write', label: '$(unmute) Write the WAV …', description: 'asks where to' },
    { value: null, label: 'as chosen last', kind: vscode.QuickPickItemKind.Separator },
    ...(subject.phrase === null ? [] : [row('what', 'What', subjectWords(subject, choice))]),
    row('voices', 'Voices', voicesWords(choice.voices)),
    row('piano', 'Played by the piano', pianoWords(choice.piano)),
    row('countIn', 'Count-in', countInWords(choice.countIn)),
    row('tempo', 'Tempo', tempoWords(choice.tempo)),
    row('keys', 'Keys', choice.keys === 'all' ? 'all twelve' : 'as written'),
  ];
}

function subjectWords({ lesson, phrase }: Question['subject'], { what }: Choice): string {
  return asWords(what === 'phrase' && phrase !== null ? `the phrase “${phrase}”` : lesson);
}

const VOICE_LABELS = { line: 'Line', chords: 'Chords', bass: 'Bass', click: 'Click' } as const;

const SHARES = [1, 0.9, 0.8, 0.7, 0.6, 0.5] as const;

/** Asks for one thing; undefined leaves it as it is. */
const ASK: Readonly<Record<Row, (choice: Choice, subject: Question['subject']) => Promise<Choice | undefined>>> = {
  async what(choice, { lesson, phrase }) {
    const what = await pickOne('What Is Written', [
      { value: 'lesson', label: 'The lesson', description: asWords(`${lesson}, phrase after phrase`) }, { value: 'phrase', label: 'The phrase at the cursor', description: asWords(`“${phrase ?? ''}”`) },
    ] as const, choice.what);
    return what === undefined ? undefined : { ...choice, what };
  },
  async voices(choice) {
    const picked = await pickMany('What Is Heard (without the line: to play along)', VOICES.map((value) => ({ value, label: VOICE_LABELS[value] })), choice.voices);
    // A file in which nothing is heard is none.
    return picked === undefined || picked.length === 0 ? undefined : { ...choice, voices: VOICES.filter((voice) => picked.includes(voice)) };
  },
  async piano(choice) {
    const picked = await pickMany('What the Piano Plays (the rest is synthesized)', PIANO_VOICES.map((value) => ({ value, label: VOICE_LABELS[value] })), choice.piano);
    return picked === undefined ? undefined : { ...choice, piano: PIANO_VOICES.filter((voice) => picked.includes(voice)) };
  },
  async countIn(choice) {
    const bars = await pickOne('Count-in before Each Phrase', [0, 1, 2].map((count) => ({ value: String(count), label: countInWords(count) })), String(choice.countIn));
    return bars === undefined ? undefined : { ...choice, countIn: Number(bars) };
  },
  async tempo(choice) {
    const share = await pickOne('Tempo', SHARES.map((one) => ({ value: String(one), label: tempoWords(one) })), String(choice.tempo));
    return share === undefined ? undefined : { ...choice, tempo: Number(share) };
  },
  async keys(choice) {
    const keys = await pickOne('In Which Keys', [
      { value: 'written', label: 'As written' }, { value: 'all', label: 'All twelve', description: 'one after another, its own first, in the order that the score practises them' },
    ] as const, choice.keys);
    return keys === undefined ? undefined : { ...choice, keys };
  },
};
