/**
 * Our MusicXML against two readers of it: the W3C MusicXML 4.0 schema (through libxml2), and the engraving library verovio, whose own
 * account of pitches, onsets, durations and chord symbols is compared with the model.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { validateXML } from 'xmllint-wasm';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { writeMusicXml, type MusicXmlOptions } from '../../server/src/exports/musicxml';
import { writeMxl } from '../../server/src/exports/mxl';
import type { Remark } from '../../server/src/exports/remarks';
import { REMARKS, remarksOf } from '../../server/src/handout/remarks';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from '../property/arbitrary';

const ROOT = resolve(import.meta.dirname, '..', '..');
/** Not ours to ship; MUSICXML_SCHEMA says where the three .xsd files of the W3C are. */
const SCHEMA = process.env['MUSICXML_SCHEMA'] ?? join(ROOT, '..', 'shared', 'data', 'musicxml-4.0');
const SAMPLES = readdirSync(join(ROOT, 'samples'))
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => readFileSync(join(ROOT, 'samples', file), 'utf8'));
const WRITTEN: MusicXmlOptions = { pitch: 'written', degrees: true, words: 'sheet' };

function readingsOf(text: string): Reading[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
}

/** Devices and findings of each phrase. */
function remarksIn(text: string): Remark[][] {
  const snapshot = openSnapshot('', 1, text);
  return snapshot.phrases.map((placed) => remarksOf(snapshot, placed, { shown: REMARKS, pitch: 'written', theory: DEFAULT_THEORY }));
}

const PARTS = ['alto-sax', 'tenor-sax', 'bass', 'trumpet', 'guitar'];
/** Octaves beyond 9 cannot be said in MusicXML, nor played; random lines may climb there. */
const isPlayable = (text: string): boolean =>
  readingsOf(text).every(({ phrase }) => phrase.notes.every(({ midi }) => midi >= 24 && midi < 108));
const anyPhrase = fc
  .tuple(fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary), fc.nat())
  .map(([{ text }, pick]) => (pick % 3 === 0 ? text.replace('  over ', `  part    ${PARTS[pick % PARTS.length]}\n  over `) : text))
  .filter(isPlayable);

describe.skipIf(!existsSync(SCHEMA))('valid by the schema (skipped where the W3C schema is not at hand)', () => {
  test('every sample and a hundred random phrases', async () => {
    const texts = [...SAMPLES, ...fc.sample(anyPhrase, { seed: RUN.seed, numRuns: 100 })];
    const preload = ['xml.xsd', 'xlink.xsd'].map((fileName) => ({ fileName, contents: readFileSync(join(SCHEMA, fileName), 'utf8') }));
    const result = await validateXML({
      xml: texts.map((text, i) => ({
        fileName: `${i}.musicxml`,
        contents: writeMusicXml(readingsOf(text), 'A <title> & "more" \u0007', { ...WRITTEN, remarks: i % 2 === 0 ? remarksIn(text) : [] }),
      })),
      schema: [readFileSync(join(SCHEMA, 'musicxml.xsd'), 'utf8')],
      preload,
    });
    expect(result.errors.slice(0, 5).map(({ message, rawMessage }) => `${message} ${rawMessage}`)).toEqual([]);
    expect(result.valid).toBe(true);
  }, 60_000);
});

describe('what verovio reads back', () => {
  let toolkit: VerovioToolkit;
  beforeAll(async () => {
    toolkit = new VerovioToolkit(await createVerovioModule());
    toolkit.setOptions({ breaks: 'none', header: 'none', footer: 'none' });
  });

  interface Moment {
    readonly qstamp: number;
    readonly on?: readonly string[];
    readonly off?: readonly string[];
  }

  /** Sounding notes as the library has them: by the ids we gave, tied parts joined; times in quarters. */
  function soundsRead(): Map<string, { onset: number; end: number; pitch: number }> {
    const sounds = new Map<string, { onset: number; end: number; pitch: number }>();
    for (const { qstamp, on, off } of toolkit.renderToTimemap({ includeMeasures: false, includeRests: false }) as Moment[]) {
      for (const id of off ?? []) {
        const own = sounds.get(wholeOf(id));
        if (own !== undefined) own.end = qstamp;
      }
      for (const id of on ?? []) {
        if (!sounds.has(wholeOf(id)))
          sounds.set(wholeOf(id), { onset: qstamp, end: qstamp, pitch: (toolkit.getMIDIValuesForElement(id) as { pitch: number }).pitch });
      }
    }
    return sounds;
  }

  function wholeOf(id: string): string {
    return id.split('-').slice(0, 3).join('-');
  }

  /** Where the library has the chord symbols, bar by bar, in units of the meter from 1. */
  function harmoniesRead(): number[] {
    return [...toolkit.getMEI().matchAll(/<harm[^>]*tstamp="([\d.]+)"/g)].map(([, at]) => Number(Number(at).toFixed(3)));
  }

  function compare(text: string, remarks: readonly Remark[][] = []): void {
    const readings = readingsOf(text);
    expect(Boolean(toolkit.loadData(writeMusicXml(readings, 'Lesson', { ...WRITTEN, remarks }))), text).toBe(true);
    const sounds = soundsRead();
    let start = 0;
    for (const [p, { phrase }] of readings.entries()) {
      const first = phrase.bars[0]!;
      const { chromatic, octaves } = phrase.part.transpose;
      const zero = start - Number(first.onset.valueOf());
      for (const note of phrase.notes) {
        const read = sounds.get(`n-${p}-${note.index}`);
        expect(read, `${text}\nn-${p}-${note.index}`).toBeDefined();
        // The library answers the written pitch; the part's transposition takes it to the sounding one.
        expect(read!.pitch + chromatic + 12 * octaves, `${text}\n${note.bar}.${note.beat}`).toBe(note.midi);
        expect(read!.onset - zero, `${text}\n${note.bar}.${note.beat}`).toBeCloseTo(Number(note.onset.valueOf()), 2);
        expect(read!.end - zero, `${text}\n${note.bar}.${note.beat} end`).toBeCloseTo(Number(note.onset.add(note.duration).valueOf()), 2);
      }
      const last = phrase.bars[phrase.bars.length - 1]!;
      start = zero + Number(last.onset.add(last.length).valueOf());
    }
    expect(harmoniesRead(), text).toEqual(
      readings.flatMap(({ phrase }) =>
        phrase.bars
          .filter(({ number }) => number > 0)
          .flatMap((bar) =>
            phrase.spans
              .filter(({ onset }) => onset.compare(bar.onset) >= 0 && onset.compare(bar.onset.add(bar.length)) < 0)
              .map(({ onset }) => Number(onset.sub(bar.onset).mul(bar.meter.unit).div(4).add(1).valueOf().toFixed(3))),
          ),
      ),
    );
    expect(sounds.size).toBe(readings.reduce((sum, { phrase }) => sum + phrase.notes.length, 0));
  }

  test('every sample: pitches, onsets and durations', () => {
    for (const text of SAMPLES) compare(text);
  });

  test('random phrases: pitches, onsets and durations', () => {
    always(
      fc.property(anyPhrase, (text) => compare(text)),
      { ...RUN, numRuns: 250 },
    );
  }, 120_000);

  test('devices and findings stand in it as words, and change no note', () => {
    for (const text of [...SAMPLES, ...fc.sample(anyPhrase, { seed: RUN.seed, numRuns: 30 })]) {
      const remarks = remarksIn(text);
      compare(text, remarks);
      const words = [...toolkit.getMEI().matchAll(/<dir [^>]*>([\s\S]*?)<\/dir>/g)].map(([, content]) =>
        content!
          .replace(/<[^>]*>/g, '')
          .replaceAll('&apos;', "'")
          .replaceAll('&quot;', '"')
          .replaceAll('&lt;', '<')
          .replaceAll('&gt;', '>')
          .replaceAll('&amp;', '&')
          .trim(),
      );
      for (const { text: said } of remarks.flat()) expect(words).toContain(said);
    }
  }, 60_000);

  test('a compressed score is the same score, read by its own unpacking', () => {
    const readings = readingsOf(SAMPLES[0]!);
    const xml = writeMusicXml(readings, 'Lesson', WRITTEN);
    toolkit.loadData(xml);
    // The ids that it makes up differ from one reading to the next, and so does the time of day.
    const music = (): string => toolkit.getMEI().replace(/ (?:xml:id|plist|startid|endid|isodate)="[^"]*"/g, '');
    const plain = music();
    const bytes = writeMxl(xml);
    toolkit.loadZipDataBase64(Buffer.from(bytes).toString('base64'));
    expect(music()).toBe(plain);
    // The standard's first entry: its kind, not compressed, so that it stands at a known place.
    expect(Buffer.from(bytes.subarray(30, 72)).toString('latin1')).toBe('mimetypeapplication/vnd.recordare.musicxml');
    expect(bytes).toEqual(writeMxl(xml));
  });

  test('each phrase is numbered from bar 1, its pickup is bar 0', () => {
    toolkit.loadData(
      writeMusicXml(
        readingsOf(
          'phrase "A"\n  over | C | F |\n  line G4 | C5 ~ ~ ~ | F ~ ~ ~ |\nphrase "B"\n  over | C | F |\n  line | C5 ~ ~ ~ | F ~ ~ ~ |\n',
        ),
        'Lesson',
        WRITTEN,
      ),
    );
    expect([...toolkit.getMEI().matchAll(/<measure [^>]*\bn="(\w+)"/g)].map(([, number]) => number)).toEqual(['0', '1', '2', '1', '2']);
  });

  test('an instrument is named, a concert part is not', () => {
    const label = (part: string): string | undefined => {
      toolkit.loadData(writeMusicXml(readingsOf(`phrase "A"\n${part}  over | C |\n  line | C5 ~ ~ ~ |\n`), 'Lesson', WRITTEN));
      return /<label[^>]*>([^<]*)/.exec(toolkit.getMEI())?.[1];
    };
    expect(label('')).toBeUndefined();
    expect(label('  part trumpet\n')).toBe('trumpet');
  });

  test('chord symbols are spelled as written, at written pitch for a part', () => {
    const said = (part: string): string[] => {
      toolkit.loadData(
        writeMusicXml(
          readingsOf(`phrase "A"\n${part}  over | Dm7 G7 | Cmaj7 | F/C |\n  line | D4 F A G | E ~ ~ ~ | C ~ ~ ~ |\n`),
          'Lesson',
          WRITTEN,
        ),
      );
      return [...toolkit.getMEI().matchAll(/<harm[^>]*>([^<]*)/g)].map(([, text]) => text!.replaceAll('♯', '#').replaceAll('♭', 'b'));
    };
    expect(said('')).toEqual(['Dm7', 'G7', 'Cmaj7', 'F/C']);
    expect(said('  part alto-sax\n')).toEqual(['Bm7', 'E7', 'Amaj7', 'D/A']);
  });

  test('where no chord sounds, a picture says so, and a chord that cannot be read is as it was written', () => {
    const [reading] = readingsOf('phrase "A"\n  over | N.C. | C Xq&7 |\n  line | D4 F A G | E ~ ~ ~ |\n');
    toolkit.loadData(writeMusicXml([reading!], 'Lesson', { ...WRITTEN, words: 'notes' }));
    const read = [...toolkit.getMEI().matchAll(/<harm[^>]*>([^<]*)/g)].map(([, text]) => text);
    expect(read.slice(0, 2)).toEqual(['N.C.', 'C']);
    expect(read.slice(2)).toEqual(reading!.phrase.spans.slice(2).map(({ symbol }) => symbol.replace('&', '&amp;')));
  });
});
