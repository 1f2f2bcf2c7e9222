/** What MusicXML says of tuplets and of places without a chord. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../../server/src/analysis/read';
import { writeMusicXml, type MusicXmlOptions } from '../../../server/src/exports/musicxml';
import { openSnapshot } from '../../../server/src/model/snapshot';

function written(rows: string, words: MusicXmlOptions['words'] = 'notes'): string {
  const { phrases } = openSnapshot(
    '',
    1,
    `phrase "A"\n${rows
      .split(';')
      .map((row) => `  ${row.trim()}\n`)
      .join('')}`,
  );
  return writeMusicXml(
    phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY)),
    'A',
    { pitch: 'written', degrees: false, words },
  );
}

test.each([
  ['eighths of one beat', 'line | 1:C4-D-E F G A |', ['no']],
  ['one with a rest', 'line | 1:C4-.-E F G A |', ['yes']],
  ['quarters', 'line | 2:C4-D-E F G |', ['yes']],
  ['a quarter and an eighth', 'line | 1:C4-~-E F G A |', ['yes']],
  ['two, each under its own beam', 'line | 1:C4-D-E 1:F-G-A G A |', ['no', 'no']],
  ['five sixteenths', 'line | 1:C4-D-E-F-G F G A |', ['no']],
])('a bracket over a tuplet where no beam shows it: %s', (_, rows, brackets) => {
  expect([...written(rows).matchAll(/type="start" bracket="(\w+)"/g)].map(([, bracket]) => bracket)).toEqual(brackets);
});

test('a file keeps to the schema where no chord sounds, a picture says what is written', () => {
  const rows = 'over | N.C. |; line | C4 D E F |';
  expect(written(rows, 'sheet')).toMatch(/<root-step text="">C<\/root-step>\s*<\/root>\s*<kind text="N.C.">none/);
  expect(written(rows)).toMatch(/<root-step>N.C.<\/root-step>\s*<\/root>\s*<kind text="">none/);
});

test('the meter is written where it changes, not again at each system', () => {
  const rows =
    'meter 3/4; over | C |; line | C4 D E |; over | F |; line | F4 G A |; meter 3/4; over | C |; line | C4 D E |; meter 4/4; over | C |; line | C4 D E F |';
  expect([...written(rows).matchAll(/<beats>(\d)<\/beats>/g)].map(([, beats]) => beats)).toEqual(['3', '4']);
});
