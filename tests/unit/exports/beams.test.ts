/** Beams as engravers join them [common practice: a beat's flagged notes hang together, a rest parts them, a lone finer value gets a stub]. */
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../../server/src/analysis/read';
import { writeMusicXml } from '../../../server/src/exports/musicxml';
import { openSnapshot } from '../../../server/src/model/snapshot';

/** The beams of every note of a line, levels joined by `+`, `-` for none. */
function beams(line: string, meter = '4/4'): string {
  const { phrases } = openSnapshot('', 1, `phrase "A"\n  meter ${meter}\n  line | ${line} |\n`);
  const xml = writeMusicXml(
    phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY)),
    '',
    { pitch: 'concert', degrees: false, words: 'notes' },
  );
  return [...xml.matchAll(/<note[ >].*?<\/note>/gs)]
    .map(([note]) => [...note.matchAll(/<beam number="\d">([^<]+)<\/beam>/g)].map(([, value]) => value).join('+') || '-')
    .join(' ');
}

test.each([
  ['4/4', 'C4-D E F-G A', 'begin end - begin end -'],
  ['4/4', 'C4-D-E-F G .-A B-.', 'begin+begin continue+continue continue+continue end+end - - - - -'],
  ['4/4', 'C4-~-~-D E F G', 'begin end+backward hook - - -'],
  ['4/4', 'C4-D-~-~ E F G', 'begin+forward hook end - - -'],
  ['4/4', 'C4-D-E F G A', 'begin continue end - - -'],
  ['6/8', 'C4-D-E F-G-A', 'begin continue end begin continue end'],
  ['3/8', 'C4 D E', 'begin continue end'],
  ['2/2', 'C4-D-E-F G', 'begin continue continue end -'],
])('%s | %s |', (meter, line, expected) => {
  const got = beams(line, meter);
  expect(got).toBe(expected);
});
