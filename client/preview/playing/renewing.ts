/** Goes on with what plays where the wish or the text is another one meanwhile. */
import type { Pass, PlayedTake, ScoreNote } from '../../src/score/messages';
import { editedIndex, isEditOf } from './place';
import type { Current, Reads, Repeat, ShownPhrases } from './state';
import { isAudible, type Takes } from './takes';

export interface Renewing {
  /** Asks anew for what plays, and goes on from the note that sounds. */
  now(): Promise<void>;
  /** Where the phrase that plays was edited, its new text is heard after a moment of rest; until then what sounds is the old one. */
  takeUpEdit(): void;
  /** No edit is taken up any more. */
  cancel(): void;
}

export interface RenewingParts {
  readonly takes: Pick<Takes, 'of'>;
  /** Starts a take at so many seconds of it. Answers whether it has started. */
  play(take: PlayedTake, repeat: Repeat, from: number): Promise<boolean>;
  showPass(pass: Pass): void;
  shown(): ShownPhrases;
}

/** Milliseconds of rest after an edit before it is taken up, so that half a bar is not: longer than errors wait for the writer to rest. */
const REST = 1200;

export function createRenewing(state: Reads, { takes, play, showPass, shown }: RenewingParts): Renewing {
  let resting: ReturnType<typeof setTimeout> | undefined;

  const now = async (): Promise<void> => {
    const mine = state.current;
    if (mine === null || mine.take === null) return;
    const take = await takes.of(mine.wish);
    if (state.current !== mine || take === null || !isAudible(take)) return;
    const from = resumption(take, mine.wish.phrase.notes, mine);
    mine.take = take;
    const isPlaying = await play(take, mine.wish.repeat, from?.at ?? 0);
    if (!isPlaying || state.current !== mine || from === null) return;
    mine.pass = from.pass;
    showPass(take.passes[from.pass]!);
  };

  const takeUp = (mine: Current, index: number): void => {
    const phrase = shown().phrases[index];
    if (state.current !== mine || phrase === undefined || !isEditOf(mine.wish, phrase)) return;
    mine.wish = { ...mine.wish, phrase };
    void now();
  };

  return {
    now,
    takeUpEdit() {
      const mine = state.current;
      const index = mine === null ? null : editedIndex(mine.wish, shown());
      if (mine === null || index === null) return;
      clearTimeout(resting);
      resting = setTimeout(() => takeUp(mine, index), REST);
    },
    cancel: () => clearTimeout(resting),
  };
}

/**
 * Where another take goes on from the note of a phrase that sounds: the pass (the last one, where there are fewer now), and the seconds at
 * which the note begins in it, or the next one where it is left out. Null: from the beginning, since no note sounds.
 */
export function resumption(
  { passes, cursor }: Pick<PlayedTake, 'passes' | 'cursor'>,
  notes: readonly Pick<ScoreNote, 'onset'>[],
  { note, pass: former }: Pick<Current, 'note' | 'pass'>,
): { readonly pass: number; readonly at: number } | null {
  if (note === null) return null;
  const pass = Math.min(former ?? 0, passes.length - 1);
  const onset = notes[note]?.onset;
  const step = cursor.find((one) => one.pass === pass && (onset === undefined || notes[one.note]!.onset >= onset)) ?? cursor[0];
  return { pass, at: step?.at ?? 0 };
}
