/** What must hold of any text: parsed and formatted, edited piece by piece, exported. */
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { SaxesParser } from 'saxes';
import { parseFile } from '../../grammar/parser';
import { formatText } from '../../grammar/printer';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { walkthroughText } from '../../server/src/explain/walkthrough';
import { UnplayableNote, writeMidiFile } from '../../server/src/exports/midi';
import { writeMusicXml } from '../../server/src/exports/musicxml';
import { writeMxl } from '../../server/src/exports/mxl';
import { REMARKS, remarksOf } from '../../server/src/handout/remarks';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { commentsOf, musicOf } from '../property/music-of';
import { area } from './area';
import { anyText, mutated, mutatedLesson, mutation } from './texts';

const URI = 'file:///fuzz.phrase';

function holds(is: boolean, what: string): void {
  if (!is) throw new Error(what);
}

export const parser = area({
  name: 'parser',
  share: 500,
  turn: 5000,
  inputs: anyText,
  async check(text, meter) {
    const slices = await meter.time('parsing', text, () => parseFile(text));
    holds(slices.map(({ parsed }) => parsed.text).join('') === text, 'the slices are not the file');
    for (const { parsed } of slices) {
      for (const { range, rule } of parsed.problems)
        holds(0 <= range.start && range.start <= range.end && range.end <= parsed.text.length, `${rule} is outside its slice`);
    }
  },
});

export const formatting = area({
  name: 'formatting',
  share: 70,
  turn: 400,
  inputs: anyText,
  async check(text, meter) {
    const formatted = await meter.time('formatting', text, () => formatText(text));
    holds(formatText(formatted) === formatted, `formatting changes what it formatted:\n${formatted}`);
    holds(isDeepStrictEqual(musicOf(formatted), musicOf(text)), `formatting changes the music:\n${formatted}`);
    holds(isDeepStrictEqual(commentsOf(formatted), commentsOf(text)), `formatting changes the comments:\n${formatted}`);
  },
});

/** All that is known of a version of a document. */
function stateOf(snapshot: Snapshot): unknown {
  return { findings: findingsOf(snapshot, DEFAULT_THEORY), phrases: snapshot.phrases, slices: snapshot.slices };
}

/** Each edit is tried on the text as the edits before it left it. */
export const edits = area({
  name: 'edits',
  share: 15,
  turn: 100,
  inputs: fc.tuple(fc.oneof(mutatedLesson, anyText), fc.array(mutation, { minLength: 1, maxLength: 12 })),
  async check([text, mutations], meter) {
    let snapshot = openSnapshot(URI, 1, text);
    stateOf(snapshot);
    for (const [i, one] of mutations.entries()) {
      const next = mutated(snapshot.text, [one], text);
      const [before, version] = [snapshot, i + 2];
      snapshot = openSnapshot(URI, version, next, before);
      const state = await meter.time('findings after an edit', next, () => stateOf(snapshot));
      holds(
        isDeepStrictEqual(state, stateOf(openSnapshot(URI, version, next))),
        `after edit ${i + 1} it is not what it is from scratch:\n${next}`,
      );
    }
  },
});

function refuseBroken(xml: string): void {
  const reader = new SaxesParser({ xmlns: false });
  reader.on('error', (error) => {
    throw new Error(`the MusicXML is not well-formed: ${error.message}`);
  });
  reader.write(xml).close();
}

export const exported = area({
  name: 'exports',
  share: 12,
  turn: 100,
  inputs: fc.oneof(mutatedLesson, anyText),
  async check(text, meter) {
    const snapshot = openSnapshot(URI, 1, text);
    const readings = snapshot.phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
    for (const pitch of ['written', 'concert'] as const) {
      const xml = await meter.time('MusicXML', text, () => {
        const remarks = snapshot.phrases.map((placed) => remarksOf(snapshot, placed, { shown: REMARKS, pitch, theory: DEFAULT_THEORY }));
        return writeMusicXml(readings, 'Any', { pitch, degrees: true, words: 'sheet', remarks });
      });
      refuseBroken(xml);
      holds(!/undefined|NaN|Infinity/.test(xml), 'the MusicXML has a hole');
      writeMxl(xml);
    }
    for (const eighths of ['as-played', 'as-written'] as const) {
      try {
        const bytes = await meter.time('MIDI', text, () => writeMidiFile(readings, 'Any', { eighths, keys: 'written' }));
        for (const event of parseMidi(bytes).tracks.flat())
          holds(Number.isInteger(event.deltaTime) && event.deltaTime >= 0, 'a MIDI event before the one before it');
      } catch (error) {
        if (!(error instanceof UnplayableNote)) throw error;
      }
    }
    for (const reading of readings) {
      const told = await meter.time('walk-through', text, () => walkthroughText(reading, 'notes'));
      holds(!/\bundefined\b|\bNaN\b/.test(told), `the walk-through has a hole:\n${told}`);
    }
  },
});
