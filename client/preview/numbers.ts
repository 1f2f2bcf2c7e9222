/** Numbers that are typed into the page, and what is said where they are not taken as they are. */

/** Tempos that are played, in beats a minute. */
export const TEMPOS = { min: 20, max: 400 } as const;

/** The tempo that was typed, brought into range (null for none: as written), and a sentence where that is another one. */
export function typedTempo(text: string): { readonly tempo: number | null; readonly told: string } {
  const { min, max } = TEMPOS;
  const tempo = within(text, min, max);
  return { tempo, told: tempo === null || tempo === Number(text) ? '' : `A tempo is ${min} to ${max} beats a minute: ${tempo} is taken.` };
}

/** The number that was typed, brought between two others; null for none. */
export function within(text: string, min: number, max: number): number | null {
  const value = Number(text);
  return text.trim() === '' || !Number.isFinite(value) ? null : Math.min(max, Math.max(min, value));
}
