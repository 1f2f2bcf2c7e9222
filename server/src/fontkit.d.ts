/** The part of fontkit that is used here: it comes without types. */
declare module 'fontkit' {
  export function create(file: Uint8Array): { hasGlyphForCodePoint(codePoint: number): boolean };
}
