/** The parts that one can choose from are those that the import takes. */
import { expect, test } from 'vitest';
import { importMusicXml } from '../../../server/src/imports/import';
import { partsIn } from '../../../server/src/imports/parts';
import { Unreadable } from '../../../server/src/imports/unreadable';

const measure = (harmony: string, step: string): string =>
  `<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${harmony}<note><pitch><step>${step}</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure>`;
const CHORD = '<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>';
const DUET = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Trumpet</part-name></score-part><score-part id="P2"><part-name/></score-part></part-list><part id="P1">${measure('', 'E')}</part><part id="P2">${measure(CHORD, 'G')}</part></score-partwise>`;
const bytes = new TextEncoder().encode(DUET);

test('each part has its name, its length and whether chords stand over it; the import takes each', () => {
  const parts = partsIn(bytes);
  expect(parts).toEqual([
    { part: 'P1', name: 'Trumpet', measures: 1, hasChords: false },
    { part: 'P2', name: 'P2', measures: 1, hasChords: true },
  ]);
  expect(parts.map(({ part }) => /line.*([A-G])4/.exec(importMusicXml(bytes, 'duet', { part }).text)?.[1])).toEqual(['E', 'G']);
});

test('what is no score is refused', () => {
  expect(() => partsIn(new TextEncoder().encode('<html/>'))).toThrow(Unreadable);
});
