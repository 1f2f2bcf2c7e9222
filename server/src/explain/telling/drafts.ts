/** Sentences while they are made: where the line lands is said once, and notes without words are given to a sentence beside them. */
import type { Reading } from '../../analysis/types';
import { beatWords, capital } from '../../rules/words';
import { listed, withRole } from '../note-words';
import { notesIn, type Stretch } from './stretch';

export interface Sentence {
  /** 0 in the pickup. */
  readonly bar: number;
  readonly text: string;
  /** Indexes of the notes it is about. Every note is one of exactly one sentence of the kind `line`. */
  readonly notes: readonly number[];
  readonly kind: 'line' | 'warning' | 'remark';
  /** The last of the bars that come again, where it tells several at once. */
  readonly through?: number | undefined;
}

/** A sentence, and what of it the next one need not say again. */
export interface Draft extends Sentence {
  /** The first note that it tells of. */
  readonly first: number;
  /** The notes that it leads to. */
  readonly targets: readonly number[];
  /** The note that its last clause leads to, named at its end. */
  readonly end: number | null;
  /** The note that is all it tells of: the line lands there. */
  readonly lands: number | null;
}

/** A bar of which the findings, or what was said before, tell all. */
export function silent(bar: number, stretches: readonly Stretch[]): Draft {
  return {
    bar,
    text: '',
    notes: stretches.flatMap(notesIn),
    kind: 'line',
    first: stretches[0]!.from,
    targets: [],
    end: null,
    lands: null,
  };
}

/** The notes of a bar without words belong to the sentence before, or to the one after; to one that names them where there is no other. */
export function withoutSilence(reading: Reading, drafts: readonly Draft[]): Draft[] {
  const kept: Draft[] = [];
  let waiting: readonly number[] = [];
  for (const draft of drafts) {
    const last = kept[kept.length - 1];
    if (draft.text !== '') {
      kept.push({ ...draft, notes: [...waiting, ...draft.notes] });
      waiting = [];
    } else if (last !== undefined) kept[kept.length - 1] = { ...last, notes: [...last.notes, ...draft.notes] };
    else waiting = [...waiting, ...draft.notes];
  }
  if (kept.length > 0 || waiting.length === 0) return kept;
  return [{ ...drafts[0]!, text: `${capital(listed(waiting.map((note) => withRole(reading, note))))}.`, notes: waiting }];
}

/** Where the line lands is said once: with what leads there. */
export function landed(reading: Reading, drafts: readonly Draft[]): Draft[] {
  const kept: Draft[] = [];
  for (const draft of drafts) {
    const before = kept[kept.length - 1];
    const isTold = draft.lands !== null && before !== undefined && before.targets.includes(draft.lands);
    if (isTold) kept[kept.length - 1] = withLanding(reading, before, draft);
    else kept.push(draft);
  }
  return kept;
}

/** A sentence that leads to a landing, and the notes of the one that tells only that: the beat is told where the note ends the words. */
function withLanding({ phrase }: Reading, before: Draft, { bar, lands, notes }: Draft): Draft {
  const all = [...before.notes, ...notes];
  if (lands === null || before.end !== lands) return { ...before, notes: all };
  const place = `${beatWords(phrase.notes[lands]!.beat)}${bar === before.bar ? '' : ` of bar ${bar}`}`;
  return { ...before, text: `${before.text.slice(0, -1)}, on ${place}.`, notes: all };
}
