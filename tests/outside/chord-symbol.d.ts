/** The library ships types for its main entry only; the entry for modules is the same parser. */
declare module 'chord-symbol/lib/chord-symbol-esm.js' {
  export function chordParserFactory(): (symbol: string) => unknown;
}
