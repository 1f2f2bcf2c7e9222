/** What may be the name of a cell or of changes. */

/** Readable as a degree, an accidental, a lower-case pitch, a flat before its pitch or a Roman numeral: not to be used as a name. */
const TAKEN = /^(?:(?:bb?|n)?\d+|bb?|n|[a-g](?:bb?|#{1,2}|n|B)?\d?|b[A-G]\d?|[ivIV]+)$/;

export function isName(text: string): boolean {
  return /^[a-z][A-Za-z0-9_]*$/.test(text) && !TAKEN.test(text);
}

/** A pitch written small: `bb4`, `c`. */
export function isLowerPitch(text: string): boolean {
  return /^[a-g](?:bb?|#{1,2}|n)?\d?$/.test(text);
}

/** A text with the accidental that stands before its first letter, as it is said, written after it: `♭B7` as `Bb7`; any other as it is. */
export function accidentalAfter(text: string): string {
  return text.replace(/^([b#♭♯])([A-G])(?!\1)/, (_, sign: string, letter: string) => letter + (/[b♭]/.test(sign) ? 'b' : '#'));
}
