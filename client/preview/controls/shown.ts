/** What the controls show of what plays. */
import type { Repeat } from '../playing/state';

/** The box of the loop. What goes round by itself shows it; there the box has nothing to choose. */
export function loopShown(repeat: Repeat | null, isChosen: boolean): { readonly isChecked: boolean; readonly isDisabled: boolean } {
  const goesRound = repeat !== null && repeat !== 'none';
  return { isChecked: goesRound || isChosen, isDisabled: goesRound && !isChosen };
}

/** The field of the tempo, in beats a minute, and whether that is the written one: then there is no way back to it. */
export function tempoShown(written: number, played: number | null): { readonly tempo: number; readonly isWritten: boolean } {
  return { tempo: played ?? written, isWritten: played === null || played === written };
}
