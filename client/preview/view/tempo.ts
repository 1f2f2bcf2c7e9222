/** The tempo of what the controls are about. */
import type { Controls } from '../controls';
import type { Playing } from '../playing';
import { withTempo, type Subject } from '../subject';
import { phraseHere, tempoOf, type ViewState } from './state';

export interface Tempo {
  show(): void;
  /** Beats a minute; null: as written. */
  set(tempo: number | null): void;
}

export function createTempo(
  state: Pick<ViewState, 'shown' | 'cursor' | 'tempos'>,
  controls: Pick<Controls, 'showTempo'>,
  playing: Pick<Playing, 'subject'>,
): Tempo {
  /** Who loops a phrase and looks at another still hears the first: the controls are about that one. */
  const subjectNow = (): Subject | null => {
    const phrase = phraseHere(state);
    return playing.subject() ?? (phrase === undefined ? null : { uri: state.shown!.uri, phrase });
  };
  const show = (): void => {
    const subject = subjectNow();
    if (subject !== null) controls.showTempo(subject.phrase.tempo, tempoOf(state, subject));
  };
  return {
    show,
    set(tempo) {
      const subject = subjectNow();
      if (subject !== null) state.tempos = withTempo(state.tempos, subject, tempo);
      show();
    },
  };
}
