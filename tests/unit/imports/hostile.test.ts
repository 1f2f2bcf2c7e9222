/** Files that are broken, hostile, or packed in every way the format knows: read, or refused quickly with the reason and the place. */
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { importMusicXml } from '../../../server/src/imports/import';
import { Unreadable } from '../../../server/src/imports/unreadable';
import { attributes, bothWays, chord, line, note, utf8 } from './scores';

const { partwise, timewise } = bothWays({ parts: [[attributes() + chord('F#', 'minor-seventh') + line('F#4 A4 C#5 E5'), line('D5:4')]] });
const PLAIN = importMusicXml(utf8(partwise), 'file');
const CONTAINER =
  '<?xml version="1.0"?><container><rootfiles><rootfile full-path="scores/low water.musicxml" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>';
const packed = (files: Record<string, string>, level: 0 | 6 = 6): Uint8Array =>
  zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])), { level });

function utf16(text: string, order: 'le' | 'be', withMark: boolean): Uint8Array {
  const codes = [...(withMark ? [0xfeff] : []), ...Array.from({ length: text.length }, (_, i) => text.charCodeAt(i))];
  return Uint8Array.from(codes.flatMap((code) => (order === 'le' ? [code & 255, code >> 8] : [code >> 8, code & 255])));
}

describe('ways to pack a score', () => {
  const asUtf16 = partwise.replace('UTF-8', 'UTF-16');
  test.each<readonly [string, Uint8Array]>([
    ['UTF-8 with a mark', utf8(`\uFEFF${partwise}`)],
    ['UTF-16, low byte first', utf16(asUtf16, 'le', true)],
    ['UTF-16, high byte first', utf16(asUtf16, 'be', true)],
    ['UTF-16 without a mark', utf16(asUtf16, 'be', false)],
    ['measure by measure', utf8(timewise)],
    ['compressed', packed({ 'META-INF/container.xml': CONTAINER, 'scores/low water.musicxml': partwise })],
    [
      'stored',
      packed(
        { mimetype: 'application/vnd.recordare.musicxml', 'scores/low water.musicxml': partwise, 'META-INF/container.xml': CONTAINER },
        0,
      ),
    ],
    ['without a container', packed({ 'a.xml': partwise })],
    ['UTF-16 in a zip file', zipSync({ 'a.musicxml': utf16(asUtf16, 'le', true) })],
    [
      'with the DOCTYPE of MusicXML 1.1',
      utf8(
        partwise.replace(
          '<score',
          '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 1.1 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">\n<score',
        ),
      ),
    ],
    ['with comments and instructions', utf8(partwise.replace('<part-list>', '<!-- a comment --><?layout wide?><part-list>'))],
  ])('%s', (_, bytes) => {
    expect(importMusicXml(bytes, 'file')).toEqual(PLAIN);
  });
});

function refused(bytes: Uint8Array): string {
  const start = process.cpuUsage();
  try {
    importMusicXml(bytes, 'file');
  } catch (error) {
    expect(error).toBeInstanceOf(Unreadable);
    // Processor time, three times what is promised: the machine may be busy.
    expect(process.cpuUsage(start).user / 1000).toBeLessThan(3000);
    return (error as Error).message;
  }
  throw new Error('this was read');
}

describe('refused, with a reason', () => {
  const entity = (inner: string, use: string): string =>
    partwise.replace('<score-partwise', `<!DOCTYPE score-partwise [${inner}]>\n<score-partwise`).replace('Low water', use);
  const packedOnce = zipSync({ 'a.musicxml': new Uint8Array(60_000_000) }, { level: 9 });
  const bomb = (): Uint8Array => packedOnce.slice();

  test.each<readonly [string, () => Uint8Array, RegExp]>([
    ['an entity of its own', () => utf8(entity('<!ENTITY a "aaaa">', '&a;')), /^line 2, column \d+: the file declares entities of its own/],
    [
      'entities in entities',
      () => utf8(entity(Array.from({ length: 20 }, (_, i) => `<!ENTITY a${i} "${`&a${i - 1};`.repeat(10)}">`).join(''), '&a19;')),
      /declares entities/,
    ],
    ['an entity that names a file', () => utf8(entity('<!ENTITY f SYSTEM "file:///etc/hostname">', '&f;')), /declares entities/],
    ['an entity that nobody declared', () => utf8(partwise.replace('Low water', '&nbsp;')), /entity of its own\. Only the five/],
    ['100 MB', () => new Uint8Array(100_000_000).fill(0x20), /has 100000000 bytes; at most \d+ are read/],
    ['a zip bomb', bomb, /a\.musicxml in this zip file unpacks to more than/],
    [
      'a zip bomb that lies',
      () => {
        const bytes = bomb();
        // The size is said in the header of the file and in the directory (APPNOTE 4.3.7, 4.3.12): ten bytes, says this one.
        const sizes = [
          22,
          bytes.findLastIndex((_, i) => bytes[i] === 0x50 && bytes[i + 1] === 0x4b && bytes[i + 2] === 1 && bytes[i + 3] === 2) + 24,
        ];
        for (const at of sizes) bytes.set([10, 0, 0, 0], at);
        return bytes;
      },
      /unpacks to more than/,
    ],
    ['a damaged zip file', () => packed({ 'a.xml': partwise }).subarray(0, 200), /damaged/],
    ['a zip file that holds no score', () => packed({ 'readme.txt': 'no' }), /holds no score/],
    ['nothing', () => new Uint8Array(0), /empty/],
    ['no text', () => Uint8Array.from([0x3c, 0xff, 0xfe, 0xff]), /not UTF-8/],
    [
      'a Standard MIDI File',
      () => Uint8Array.from([0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 1, 0xe0]),
      /^this is a MIDI file.*Export the score as MusicXML/,
    ],
    [
      'neither text nor a zip file',
      () => Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0]),
      /^this is no text, and so no MusicXML; nor is it a \.mxl/,
    ],
    ['no XML', () => utf8('C4 D4 E4'), /this is no XML/],
    ['cut off', () => utf8(partwise.slice(0, -60)), /^line \d+, column \d+: this is not well-formed XML/],
    ['another XML', () => utf8('<svg><g/></svg>'), /its root is <svg>/],
    ['very deep', () => utf8('<a>'.repeat(200_000)), /more than 60 deep/],
    ['very wide', () => utf8(`<score-partwise>${'<a/>'.repeat(3_000_000)}</score-partwise>`), /more than 1000000 elements/],
    ['no part', () => utf8('<score-partwise><part-list/></score-partwise>'), /lists no part/],
    ['a part that is only listed', () => utf8(partwise.replace('<part id="P1">', '<part id="P9">')), /no part of that name/],
    ['a part without a measure', () => utf8(partwise.replace(/<part id="P1">.*<\/part>/, '<part id="P1"></part>')), /P1 has no measure/],
    [
      'a measure missing in one part',
      () => {
        const two = bothWays({
          parts: [
            [attributes() + line('C4:4'), line('D4:4')],
            [attributes() + line('C4:4'), line('D4:4')],
          ],
        }).partwise;
        return utf8(`${two.slice(0, two.lastIndexOf('<measure'))}</part></score-partwise>`);
      },
      /part P2 has 1 measures, part P1 2: a measure is missing/,
    ],
    [
      'a part missing in one measure',
      () => utf8(timewise.replace('<part id="P1">', '<part id="P2">')),
      /measure 2: part P1 is missing from the measure before it/,
    ],
    [
      'a negative duration',
      () => utf8(partwise.replace('<duration>4</duration>', '<duration>-4</duration>')),
      /measure 2: a note lasts -4 divisions/,
    ],
    ['no duration', () => utf8(partwise.replace('<duration>4</duration>', '')), /measure 2: a note has no duration/],
    ['no divisions', () => utf8(partwise.replace('<divisions>1', '<divisions>0')), /measure 1: “0” divisions/],
    [
      'endless repeats',
      () =>
        utf8(
          bothWays({
            parts: [
              [`${attributes() + note('C4', 4)}<barline location="right"><repeat direction="backward" times="1000000000"/></barline>`],
            ],
          }).partwise,
        ),
      /more than 4000 measures/,
    ],
    [
      'a long bar that is repeated',
      () =>
        utf8(
          bothWays({
            parts: [
              [
                attributes() +
                  note('C4', 1).repeat(20_000) +
                  '<barline location="right"><repeat direction="backward" times="3000"/></barline>',
              ],
            ],
          }).partwise,
        ),
      /more than 50000 notes/,
    ],
    [
      'a long bar that comes again by a sign',
      () =>
        utf8(
          bothWays({
            parts: [
              [
                attributes() + note('C4', 1).repeat(20_000),
                '<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>',
                ...Array<string>(20_000).fill(''),
              ],
            ],
          }).partwise,
        ),
      /more than 50000 notes/,
    ],
    [
      'repeat signs inside a bar without end',
      () =>
        utf8(
          bothWays({
            parts: [[attributes() + `${note('C4', 1)}<barline location="middle"><repeat direction="backward"/></barline>`.repeat(5000)]],
          }).partwise,
        ),
      /more than 16 repeat signs/,
    ],
  ])(
    '%s',
    (_, bytes, why) => {
      expect(refused(bytes())).toMatch(why);
    },
    60_000,
  );
});

test.each(['<creator type="">Quay</creator>', '<creator>Quay</creator>'])('%s is by someone', (creator) => {
  const { text } = importMusicXml(utf8(partwise.replace('<part-list>', `<identification>${creator}</identification><part-list>`)), 'file');
  expect(text).toContain('about  "By: Quay"');
});

describe('numbers that no score has cost no time, and no note more than they must', () => {
  const HUGE = '246211348';
  const transposed = `<transpose><chromatic>${HUGE}</chromatic></transpose>`;
  test.each<readonly [string, string, RegExp]>([
    ['a root', partwise.replace('<root-alter>1<', `<root-alter>${HUGE}<`), /more than 3 accidentals/],
    [
      'a bass',
      partwise.replace('</kind>', `</kind><bass><bass-step>C</bass-step><bass-alter>-${HUGE}</bass-alter></bass>`),
      /more than 3 accidentals/,
    ],
    [
      'a degree',
      partwise.replace(
        '</kind>',
        `</kind><degree><degree-value>9</degree-value><degree-alter>${HUGE}</degree-alter><degree-type>add</degree-type></degree>`,
      ),
      /the chord F#/,
    ],
    ['a transposition', partwise.replace('</time>', `</time>${transposed}`), /more than five octaves/],
    [
      'octaves of a transposition',
      partwise.replace('</time>', `</time><transpose><chromatic>0</chromatic><octave-change>-${HUGE}</octave-change></transpose>`),
      /more than five octaves/,
    ],
    ['more figures than a number has', partwise.replace('<octave>4<', `<octave>${'9'.repeat(400)}<`), /pitch cannot be read/],
    [
      'dots',
      partwise.replace(
        '</duration>',
        `</duration><type>quarter</type>${'<dot/>'.repeat(100_000)}<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>`,
      ),
      /^$/,
    ],
    [
      'a tempo',
      partwise.replace('<harmony>', '<direction><direction-type><words/></direction-type><sound tempo="1e999"/></direction><harmony>'),
      /tempo/,
    ],
  ])('%s', (_, xml, told) => {
    expect(xml).not.toBe(partwise);
    const start = process.cpuUsage();
    const { text, report } = importMusicXml(utf8(xml), 'file');
    const { user } = process.cpuUsage(start);
    // Processor time, three times what is promised.
    expect(user / 1000).toBeLessThan(3000);
    expect(text).toMatch(/ A4? C#5? E/);
    expect(text).not.toMatch(/NaN|Infinity/);
    expect(report.map(({ text: line }) => line).join('\n')).toMatch(told);
  });
});

test('a zip file with zeros in its middle is refused', () => {
  const bytes = packed({ 'a.xml': partwise });
  bytes.fill(0, 60, 120);
  expect(refused(bytes)).toMatch(/damaged|not well-formed|UTF-8/);
});

test('any bytes and any cut of a score are read or refused, and never break it', () => {
  for (let at = 0; at < partwise.length; at += 7) {
    for (const text of [partwise.slice(0, at), partwise.slice(0, at) + partwise.slice(at + 9)]) {
      try {
        importMusicXml(utf8(text), 'file');
      } catch (error) {
        expect(error, text).toBeInstanceOf(Unreadable);
      }
    }
  }
});
