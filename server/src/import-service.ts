/** What the editor asks of the server's side to bring in scores: a bundle of its own, which is loaded by the first of them. */
export { refuseTooLarge } from './imports/bytes';
export { problemOfChords, withoutOption } from './imports/given-chords';
export { importMusicXml, MOST_BARS, type Imported, type ImportOptions } from './imports/import';
export { partsIn, type PartSummary } from './imports/parts';
export { Unreadable } from './imports/unreadable';
