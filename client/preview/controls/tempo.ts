/** The tempo, and the way back to the one that is written. */
import { html, setText } from '../dom';
import { TEMPOS, typedTempo } from '../numbers';
import { labelled } from './fields';
import { tempoShown } from './shown';

export interface TempoField {
  readonly element: HTMLElement;
  /** Beats a minute as written, and as played where that was changed. */
  show(written: number, played: number | null): void;
}

/** `onTempo`: it was set, in beats a minute; null: as written. */
export function createTempoField(onTempo: (tempo: number | null) => void, say: (words: string) => void): TempoField {
  const field = html('input', { type: 'number', ...TEMPOS, step: 1, 'aria-label': 'Tempo in beats a minute' });
  field.addEventListener('change', () => {
    const typed = typedTempo(field.value);
    onTempo(typed.tempo);
    if (typed.told !== '') say(typed.told);
  });
  const asWritten = html('button', { type: 'button', class: 'back', 'aria-label': 'Tempo as written', title: 'Tempo as written' });
  asWritten.addEventListener('click', () => onTempo(null));
  return {
    element: html('span', { class: 'tempo' }, labelled('Tempo', field), asWritten),
    show(written, played) {
      const { tempo, isWritten } = tempoShown(written, played);
      field.value = String(tempo);
      setText(asWritten, `↺ ${written}`);
      // It keeps its room, so that nothing moves when it comes.
      asWritten.classList.toggle('idle', isWritten);
      asWritten.disabled = isWritten;
    },
  };
}
