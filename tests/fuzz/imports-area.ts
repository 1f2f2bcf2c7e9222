/** Scores with something wrong in them: brought in, or refused with a reason. */
import fc from 'fast-check';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { writeMusicXml } from '../../server/src/exports/musicxml';
import { writeMxl } from '../../server/src/exports/mxl';
import { importMusicXml } from '../../server/src/imports/import';
import { Unreadable } from '../../server/src/imports/unreadable';
import { openSnapshot } from '../../server/src/model/snapshot';
import { lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary } from '../property/arbitrary';
import { attributes, bothWays, chord, DOUBLE, line, note, repeat, sign, words } from '../unit/imports/scores';
import { area } from './area';
import { SAMPLES } from './texts';

function exportOf(text: string): string {
  const readings = openSnapshot('', 1, text).phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
  return writeMusicXml(readings, 'Fuzz', { pitch: 'written', degrees: false, words: 'sheet' });
}

const first = attributes({ divisions: 12 }) + words('Swing') + chord('F#', 'minor-seventh') + line('F#4:12 A4:12 C#5:12 E5:12');
const byHand = bothWays({
  head: '<identification><creator type="composer">Quay</creator><rights>none</rights></identification>',
  parts: [
    [
      first,
      repeat('forward') + note('D5', 24, { type: 'half', tie: 'start' }) + note('D5', 24, { type: 'half', tie: 'stop' }),
      note('C4', 8, { type: 'quarter', tuplet: '3:2' }).repeat(6) + repeat('backward', '', '<ending number="1" type="stop"/>'),
      sign('coda') + line('r:48') + DOUBLE,
    ],
    [attributes({ divisions: 12 }) + line('C3:48'), line('D3:48'), line('E3:48'), line('F3:48')],
  ],
});

/** Of each sample a phrase: a whole one takes long to change. */
const SOURCES = [
  byHand.partwise,
  byHand.timewise,
  ...SAMPLES.map((text) => exportOf(text.slice(text.search(/^phrase/m)).split(/^(?=phrase)/m)[0]!)),
];
const scores = fc.oneof(
  { weight: 2, arbitrary: fc.constantFrom(...SOURCES) },
  { weight: 3, arbitrary: fc.oneof(phraseArbitrary, lessonPhraseArbitrary, plainPhraseArbitrary).map(({ text }) => exportOf(text)) },
);

/** What is done to a document: to its elements and their texts, so that most of it stays XML; or to its signs. */
const change = fc.record({
  kind: fc.constantFrom('value', 'value', 'value', 'rename', 'drop', 'repeat', 'swap', 'attribute', 'signs', 'cut'),
  at: fc.nat(),
  other: fc.nat(),
  value: fc.oneof(
    fc.constantFrom(
      '',
      '0',
      '-1',
      '1',
      '7',
      '12',
      '999999999',
      '1e9',
      '0.5',
      '1/2',
      'NaN',
      'C',
      'H',
      'x',
      'start',
      'stop',
      'quarter',
      'minor',
      'none',
      'F#',
      '4+3',
      ' ',
    ),
    fc.integer().map(String),
    fc.string({ maxLength: 5 }),
  ),
});
type Change = typeof change extends fc.Arbitrary<infer T> ? T : never;

function changed(xml: string, { kind, at, other, value }: Change): string {
  const pick = (pattern: RegExp, which = at): RegExpExecArray | undefined => {
    const all = [...xml.matchAll(pattern)];
    return all[which % Math.max(1, all.length)];
  };
  const replaced = (match: RegExpExecArray | undefined, text: string): string =>
    match === undefined ? xml : xml.slice(0, match.index) + text + xml.slice(match.index + match[0].length);
  const escaped = value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
  const LEAF = /<([a-z-]+)( [^<>]*)?>([^<>]*)<\/\1>/g;
  const ELEMENT =
    /<(note|measure|attributes|harmony|barline|direction|time-modification|notations|time|key|pitch|transpose|degree|ending|repeat|part)\b[^<>]*>[^]*?<\/\1>/g;
  const leaf = pick(LEAF);
  const element = pick(ELEMENT);
  switch (kind) {
    case 'value':
      return replaced(leaf, leaf === undefined ? '' : `<${leaf[1]}${leaf[2] ?? ''}>${escaped}</${leaf[1]}>`);
    case 'rename':
      return replaced(leaf, leaf === undefined ? '' : `<${pick(LEAF, other)![1]}>${leaf[3]}</${pick(LEAF, other)![1]}>`);
    case 'drop':
      return replaced(at % 2 === 0 ? element : leaf, '');
    case 'repeat':
      return replaced(element, (element?.[0] ?? '').repeat(2 + (other % 3)));
    case 'swap':
      return replaced(element, pick(ELEMENT, other)?.[0] ?? '');
    case 'attribute':
      return replaced(pick(/"[^"<>]*"/g), `"${escaped}"`);
    case 'signs':
      return xml.slice(0, at % xml.length) + value + xml.slice((at % xml.length) + (other % 9));
    case 'cut':
      return other % 20 === 0 ? xml.slice(0, at % xml.length) : xml;
  }
}

interface Score {
  readonly xml: string;
  readonly bytes: Uint8Array;
}

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

const inputs: fc.Arbitrary<Score> = fc
  .tuple(scores, fc.array(change, { maxLength: 6 }), fc.constantFrom('plain', 'plain', 'plain', 'packed', 'damaged'), fc.nat(), fc.nat(255))
  .map(([xml, changes, way, at, byte]) => {
    const text = changes.reduce(changed, xml);
    const bytes = way === 'plain' ? utf8(text) : writeMxl(text);
    if (way === 'damaged') bytes[at % bytes.length] = byte;
    return { xml: text, bytes };
  });

export const imported = area({
  name: 'imports',
  share: 20,
  turn: 200,
  inputs,
  async check({ xml, bytes }, meter) {
    try {
      const { text } = await meter.time('import', xml, () => importMusicXml(bytes, 'fuzz'));
      if (/\bNaN\b|\bundefined\b/.test(text.replaceAll(/"[^"]*"/g, ''))) throw new Error(`a hole in what was brought in:\n${text}`);
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      if (error.message.trim() === '') throw new Error('refused without a reason');
    }
  },
});
