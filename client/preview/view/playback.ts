/** Plays what is asked for, or says why it cannot. */
import type { Practice, What } from '../../src/score/messages';
import type { Controls } from '../controls';
import type { Playing, Wish } from '../playing';
import type { Subject } from '../subject';
import { practiceOf, repeatOf, stretchOf } from './asked';
import { phraseHere, tempoOf, type ViewState } from './state';

export interface Playback {
  toggle(): void;
  /** What a command plays is shown while it plays; the next press of the button is the reader's own choice again. */
  command(what: What, kind: Practice['kind']): void;
  /** A tempo or a loop that is changed while it plays is heard at once. */
  change(): void;
  /** It plays no more: the controls say again what they said before a command chose otherwise. */
  ended(): void;
  refuse(words: string): void;
  /** Something else is looked at. */
  forgetRefusal(): void;
}

export function createPlayback(
  state: Omit<ViewState, 'page' | 'isExplainAsked'>,
  controls: Pick<Controls, 'what' | 'practice' | 'choose' | 'say'>,
  playing: Pick<Playing, 'start' | 'stop' | 'isPlaying' | 'subject' | 'change'>,
): Playback {
  const refuse = (words: string): void => {
    state.isRefused = true;
    controls.say(words);
  };

  const wishOf = (subject: Subject): Pick<Wish, 'tempo' | 'practice' | 'repeat'> => {
    const tempo = tempoOf(state, subject);
    return {
      tempo,
      practice: practiceOf(state.asked.kind, tempo ?? subject.phrase.tempo, state.options),
      repeat: repeatOf(state.asked, state.options),
    };
  };

  const play = (what: What, kind: Practice['kind']): void => {
    const phrase = phraseHere(state);
    if (phrase === undefined) return refuse('There is no phrase to play.');
    const stretch = stretchOf(phrase, what, state.cursor);
    if (stretch === 'none')
      return refuse(
        what === 'selection'
          ? 'Select two notes or more in the text, then play the selection.'
          : 'Put the cursor on a note of the bar, then play the bar.',
      );
    state.asked = { what, kind };
    const subject = { uri: state.shown!.uri, phrase };
    void playing.start({ ...subject, stretch, ...wishOf(subject) });
  };

  const ended = (): void => {
    if (state.chosen === null) return;
    controls.choose(state.chosen.what, state.chosen.kind);
    state.chosen = null;
  };

  return {
    toggle() {
      if (playing.isPlaying()) playing.stop();
      else play(controls.what(), controls.practice());
    },
    command(what, kind) {
      state.chosen ??= { what: controls.what(), kind: controls.practice() };
      controls.choose(what, kind);
      play(what, kind);
      if (!playing.isPlaying()) ended();
    },
    change() {
      const subject = playing.subject();
      if (subject !== null) playing.change(wishOf(subject));
    },
    ended,
    refuse,
    forgetRefusal() {
      if (state.isRefused) controls.say('');
      state.isRefused = false;
    },
  };
}
