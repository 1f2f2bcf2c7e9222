/** The parts of verovio that the tests use; the package ships no types. */
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<unknown>;
}
declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: unknown);
    setOptions(options: Readonly<Record<string, unknown>>): void;
    loadData(data: string): unknown;
    renderToMIDI(): string;
    renderToTimemap(options: Readonly<Record<string, unknown>>): unknown[];
    getMIDIValuesForElement(id: string): unknown;
    getMEI(): string;
    /** Of a compressed file, in base 64. */
    loadZipDataBase64(data: string): unknown;
    getPageCount(): number;
    renderToSVG(page: number): string;
  }
}
