/** The parts of the reader of MIDI files that the tests use; the package ships no types. */
declare module 'jzz-midi-smf' {
  export default function install(jzz: unknown): void;
}
