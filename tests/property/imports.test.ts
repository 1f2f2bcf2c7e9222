/** What we export to MusicXML comes back as the same music: in every part, at written and concert pitch, with marks, ties and chord symbols. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { homeKey } from '../../server/src/analysis/keys';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { pageShift, writeMusicXml, type MusicXmlOptions } from '../../server/src/exports/musicxml';
import { REMARKS, remarksOf } from '../../server/src/handout/remarks';
import { importMusicXml } from '../../server/src/imports/import';
import { openSnapshot } from '../../server/src/model/snapshot';
import type { Phrase } from '../../server/src/model/types';
import { fifthsOf } from '../../server/src/theory/key';
import { transposePitch } from '../../server/src/theory/interval';
import { PARTS } from '../../server/src/theory/part';
import { chroma, formatPitch } from '../../server/src/theory/pitch';
import { always, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from './arbitrary';

const RUNS = Number(process.env['IMPORT_RUNS'] ?? 150);

function phrasesOf(text: string): Phrase[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) => phrase);
}

/** Octaves beyond 9 cannot be said in MusicXML, nor below 0 here. */
function isWritable(text: string): boolean {
  return phrasesOf(text).every(({ notes }) => notes.every(({ midi }) => midi >= 36 && midi < 108));
}

const anyPhrase = fc
  .tuple(
    fc.oneof(phraseArbitrary, lessonPhraseArbitrary, plainPhraseArbitrary),
    fc.constantFrom(...PARTS),
    fc.constantFrom('written' as const, 'concert' as const),
    fc.constantFrom('', '  tempo   168 swing\n', '  tempo   96 straight\n'),
  )
  .map(([{ text }, part, pitch, tempo]) => ({ part, pitch, text: text.replace('  over ', `  part    ${part.name}\n${tempo}  over `) }))
  .filter(({ text }) => isWritable(text));

/** A page holds two accidentals a note at most: a phrase that has more on it comes back by other letters, and so does a key of more than seven. */
function isRespelled(reading: Reading, options: MusicXmlOptions): boolean {
  const { notes } = reading.phrase;
  const key = homeKey(reading);
  const shift = pageShift(reading, options);
  return (key !== null && Math.abs(fifthsOf(key)) > 7) || notes.some(({ pitch }) => Math.abs(transposePitch(pitch, shift).alter) > 2);
}

/** By sound: sounds are compared, not letters. */
function musicOf({ notes, spans, key, bars, part, tempo }: Phrase, bySound: boolean): string[] {
  // Dotted beats have no eighths to swing.
  const first = bars[0]!.meter;
  return [
    `${first.beats}/${first.unit} ${part.transpose.chromatic} ${part.transpose.octaves} ${tempo.bpm} ${first.compound ? '' : tempo.feel}`,
    bySound || key === null ? '' : `${key.tonic.letter}${key.tonic.alter} ${key.mode}`,
    ...notes.map(
      (note) =>
        `${note.onset.toFraction()} ${note.duration.toFraction()} ${bySound ? note.midi : formatPitch(note.pitch)} ${note.marks.filter((mark) => mark !== 'intended').join()}`,
    ),
    ...spans.map(
      ({ onset, end, chord, symbol }) =>
        `${onset.toFraction()} ${end.toFraction()} ${!bySound || chord === null ? symbol : `${chroma(chord.root)} ${chord.tones.map(({ interval }) => interval).join()} ${chord.bass === null ? '' : chroma(chord.bass)}`}`,
    ),
  ];
}

test('random phrases in every part', () => {
  always(
    fc.property(anyPhrase, ({ text, pitch }) => {
      const readings = phrasesOf(text).map((phrase) => readPhrase(phrase, DEFAULT_THEORY));
      const options: MusicXmlOptions = { pitch, degrees: false, words: 'sheet' };
      const xml = writeMusicXml(readings, 'Back again', options);
      const imported = importMusicXml(new TextEncoder().encode(xml), 'back');
      const back = phrasesOf(imported.text);
      const [own] = phrasesOf(text);
      const bySound = isRespelled(readings[0]!, options);
      expect(
        back.map((phrase) => musicOf(phrase, bySound)),
        `${text}\n${imported.text}`,
      ).toEqual([musicOf(own!, bySound)]);
      expect(back[0]!.name).toBe(own!.name);
      expect(imported.report, text).toEqual([]);
      expect(formatText(imported.text)).toBe(imported.text);
    }),
    { ...RUN, numRuns: RUNS },
  );
}, 120_000);

test('devices and findings beside the notes change nothing of the music, and are told as words and brackets', () => {
  always(
    fc.property(anyPhrase, ({ text, pitch }) => {
      const snapshot = openSnapshot('', 1, text);
      const readings = snapshot.phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
      const options: MusicXmlOptions = { pitch, degrees: false, words: 'sheet' };
      const remarks = snapshot.phrases.map((placed) => remarksOf(snapshot, placed, { shown: REMARKS, pitch, theory: DEFAULT_THEORY }));
      const plain = importMusicXml(new TextEncoder().encode(writeMusicXml(readings, 'Back again', options)), 'back');
      const remarked = importMusicXml(new TextEncoder().encode(writeMusicXml(readings, 'Back again', { ...options, remarks })), 'back');
      expect(remarked.text).toBe(plain.text);
      expect(remarked.report.filter(({ text: told }) => !/left out: (?:the words “|brackets)/.test(told))).toEqual([]);
      // No remark, nothing to tell: the check above would hold of a score without any.
      expect(remarked.report.length > 0).toBe(remarks.flat().length > 0);
    }),
    { ...RUN, numRuns: 60 },
  );
}, 60_000);

test('a phrase comes back under its name, be it one that sends players elsewhere or tells a tempo', () => {
  const names = [
    'Coda',
    'Fine',
    'D.C. al Fine',
    'To Coda',
    'Slow ferry',
    'Up to the tonic',
    'Straight home',
    'Swing bridge',
    'Segno',
    'Bars 1–8',
    'A “quoted” name',
    'Ampersand & <tag>',
  ];
  fc.assert(
    fc.property(fc.shuffledSubarray(names, { minLength: 2 }), fc.boolean(), (some, swings) => {
      const text = some
        .map(
          (name, i) =>
            `phrase "${name.replace(/[“”]/g, '\\$&')}"\n  key C major\n  meter 4/4\n${swings ? '  tempo 120 swing\n' : ''}  over | ${i % 2 === 0 ? 'C' : 'F'} |\n  line | ${['C4', 'D4', 'E4', 'F4'][i % 4]} . . . |\n`,
        )
        .join('\n');
      const readings = phrasesOf(text).map((phrase) => readPhrase(phrase, DEFAULT_THEORY));
      const imported = importMusicXml(
        new TextEncoder().encode(writeMusicXml(readings, 'Names', { pitch: 'written', degrees: false, words: 'sheet' })),
        'back',
      );
      expect(phrasesOf(imported.text).map(({ name, tempo }) => [name, tempo.feel])).toEqual(
        phrasesOf(text).map(({ name, tempo }) => [name, tempo.feel]),
      );
      expect(phrasesOf(imported.text).map((phrase) => musicOf(phrase, false))).toEqual(
        phrasesOf(text).map((phrase) => musicOf(phrase, false)),
      );
      expect(imported.report).toEqual([]);
    }),
    { ...RUN, numRuns: 40 },
  );
});

test('the phrases of a lesson come back each for its own part', () => {
  always(
    fc.property(fc.array(anyPhrase, { minLength: 2, maxLength: 3 }), (several) => {
      const text = several.map((one, i) => one.text.replace(/^phrase ("[^"]*")?/m, `phrase "Number ${i + 1}"`)).join('\n');
      const readings = phrasesOf(text).map((phrase) => readPhrase(phrase, DEFAULT_THEORY));
      const xml = writeMusicXml(readings, 'Back again', { pitch: several[0]!.pitch, degrees: false, words: 'sheet' });
      const back = phrasesOf(importMusicXml(new TextEncoder().encode(xml), 'back').text);
      expect(
        back.map(({ name, part }) => [name, part.name]),
        text,
      ).toEqual(several.map(({ part }, i) => [`Number ${i + 1}`, part.name]));
    }),
    { ...RUN, numRuns: 60 },
  );
}, 60_000);
