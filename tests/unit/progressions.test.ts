/** Which progressions a phrase has, with their keys and bars; the main one is its setting. What they are called is common practice. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { BLUES_FORMS, progressionsOf } from '../../server/src/analysis/progressions';
import { progressionWords, settingOf } from '../../server/src/analysis/setting';
import type { Reading } from '../../server/src/analysis/types';
import { explainPhrase } from '../../server/src/explain/document';
import { walkthrough } from '../../server/src/explain/walkthrough';
import { openSnapshot } from '../../server/src/model/snapshot';
import { formatKey } from '../../server/src/theory/key';

function reading(key: string, over: string): Reading {
  const bars = over.split('|').length;
  const text = `phrase "A"\n${key === '' ? '' : `  key ${key}\n`}  over | ${over} |\n  line | C4 ~ ~ ~ ${'| ~ ~ ~ ~ '.repeat(bars - 1)}|\n`;
  return readPhrase(openSnapshot('', 1, text).phrases[0]!.phrase, DEFAULT_THEORY);
}

const told = (one: Reading): string =>
  progressionsOf(one)
    .map(({ id, key, from, to }) => `${id} ${formatKey(key)} ${from}-${to}`)
    .join(', ');

describe('are found with their bars', () => {
  test.each([
    ['C major', 'Dm7 | G7 | Cmaj7 | Cmaj7', 'long-ii-v-i-major C major 1-4'],
    ['C major', 'Dm7 G7 | Cmaj7', 'short-ii-v-i-major C major 1-2'],
    ['C minor', 'Dm7b5 G7b9 | Cm6', 'short-ii-v-i-minor C minor 1-2'],
    ['', 'Dm9 | G7sus G13 | C6', 'long-ii-v-i-major C major 1-3'],
    ['C major', 'Dm7 | G7', 'long-ii-v C major 1-2'],
    ['', 'Dm7 G7', 'short-ii-v C major 1-1'],
    ['', 'Dm7b5 G7', 'short-ii-v C minor 1-1'],
    ['C major', 'Gm7 C7 | Fmaj7 | Dm7 G7 | Cmaj7', 'short-ii-v-i-major F major 1-2, short-ii-v-i-major C major 3-4'],
    ['Bb major', 'Dm7 G7 | Cm7 F7 | Bbmaj7', 'turnaround Bb major 1-2, short-ii-v-i-major Bb major 2-3'],
    ['Eb major', 'Dm7 G7 | Cm7 F7 | Fm7 Bb7 | Ebmaj7', 'short-ii-v C major 1-1, short-ii-v Bb major 2-2, short-ii-v-i-major Eb major 3-4'],
    ['F major', 'C7 | Fmaj7', 'v-i-major F major 1-2'],
    ['D minor', 'A7 | Dm', 'v-i-minor D minor 1-2'],
    ['C major', 'Cmaj7 Am7 | Dm7 G7', 'turnaround C major 1-2'],
    ['C major', 'Em7 A7 | Dm7 G7 | Cmaj7', 'turnaround C major 1-2, short-ii-v-i-major C major 2-3'],
    ['C major', 'Cmaj7 Ebmaj7 | Abmaj7 Db7 | Cmaj7', 'turnaround C major 1-2, tritone-substitute C major 2-3'],
    ['C minor', 'Cm6 Am7b5 | Dm7b5 G7b9', 'turnaround C minor 1-2'],
    ['C major', 'Cmaj7 | Fm7 | Bb7 | Cmaj7', 'backdoor C major 2-4'],
    ['C major', 'Dm7 Db7 | Cmaj7', 'tritone-substitute C major 1-2'],
    ['F major', 'F | Bb | C7 | F', 'i-iv-v-i F major 1-4'],
    ['A minor', 'Am | Dm | E7 | Am', 'i-iv-v-i A minor 1-4'],
    ['', 'E7 | A7 | D7 | G7', 'cycle C major 1-4'],
    ['C major', 'E7 | A7 | D7 | G7 | Cmaj7', 'cycle C major 1-5'],
    ['C major', 'Cmaj7 C#dim7 | Dm7 G7 | Cmaj7', 'turnaround C major 1-2, passing-diminished C major 1-2, short-ii-v-i-major C major 2-3'],
    ['Bb major', 'Dm7 Dbdim7 | Cm7 F7', 'turnaround Bb major 1-2, passing-diminished Bb major 1-2'],
    ['F major', 'F7 | Bb7 | F7', 'blues F major 1-3'],
    [
      'F major',
      'F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 | C7',
      'blues F major 1-12, turnaround F major 7-10, long-ii-v-i-major F major 9-11',
    ],
    ['C major', 'Cmaj7 | C7 | F7 | Cmaj7', ''],
    [
      'Bb major',
      'Bbmaj7 | Am7b5 D7 | Gm7 C7 | Bb6 | Eb7 | Eb7 | Dm7 | Dm7 | Cm7 | F7 | Bb6 | Bb6',
      'blues-with-substitutes Bb major 1-12, short-ii-v G minor 2-2, short-ii-v F major 3-3, long-ii-v-i-major Bb major 9-12',
    ],
    [
      'G minor',
      'Gm7 C7 | Fmaj7 | Dm7 G7 | Cm7 | Am7b5 D7 | Gm6',
      'short-ii-v-i-major F major 1-2, short-ii-v-i-minor C minor 3-4, short-ii-v-i-minor G minor 5-6',
    ],
    ['D minor', 'Dm | Dm | Dm | Dm Bm7b5 | Bbmaj7 A7', 'turnaround D minor 3-5'],
    [
      'C minor',
      'Cm7 | Fm7 | Cm7 | Cm7 | Fm7 | Fm7 | Cm7 | Cm7 | Ab7 | G7 | Cm7 | Cm7',
      'minor-blues C minor 1-12, v-i-minor C minor 10-12',
    ],
    ['', 'Cmaj7 | Cmaj7', 'major-vamp C major 1-2'],
    ['', 'Dm7 | Dm9', 'minor-vamp D minor 1-2'],
    ['', 'C7 | C7', 'dominant-vamp C major 1-2'],
    ['', 'D7sus | D9sus', 'suspended-vamp D major 1-2'],
    ['', 'Dm7 | Em7 | Dm7 | Em7', 'modal-vamp D minor 1-4'],
    ['Eb major', 'Ebmaj7 | Abmaj7 | Ebmaj7', ''],
    // E7 falls to A, and stands for no Bb7.
    ['Eb major', 'G7 | Cm7 | Cm7 | Bm7 E7 | Amaj7', 'v-i-minor C minor 1-3, short-ii-v-i-major A major 4-5'],
    ['Bb major', 'Dm7 Db7 | Cm7 B7 | Bb6', 'turnaround Bb major 1-2, tritone-substitute Bb major 2-3'],
    ['D minor', 'Dm7 | G7 | Dm7 | G7', 'modal-vamp D minor 1-4'],
    ['', 'Cm | Cm(maj7) | Cm7 | Cm6', 'line-cliche C minor 1-4'],
    ['', 'Cm Cm/B | Cm/Bb Cm/A', 'line-cliche C minor 1-2'],
    ['C minor', 'Cm Cm(maj7) | Cm7 Cm6 | Dm7b5 G7 | Cm6', 'line-cliche C minor 1-2, short-ii-v-i-minor C minor 3-4'],
    ['', 'Cmaj7 | Ebmaj7 | Abmaj7', ''],
    // The backdoor that does not come home: after IV, or to the iii that stands for I.
    ['C major', 'Fmaj7 | Fm7 Bb7 | Em7', 'backdoor C major 2-2'],
    ['G major', 'Cmaj7 | Cm7 F7 | E7 | Am7', 'backdoor G major 2-2, v-i-minor A minor 3-4'],
    ['G major', 'Gmaj7 | Cm7 F7 | Bm7', 'backdoor G major 2-2'],
    ['G major', 'Gmaj7 | Cm7 F7 | Bbmaj7', 'short-ii-v-i-major Bb major 2-3'],
    // A ii–V that slips down to the next one has no key of its own.
    ['G major', 'Bbm7 Eb7 | Am7 D7 | Gmaj7', 'chromatic-ii-v G major 1-1, short-ii-v-i-major G major 2-3'],
    ['F minor', 'Abm7 Db7 | Gm7b5 C7 | Fm6', 'chromatic-ii-v F minor 1-1, short-ii-v-i-minor F minor 2-3'],
    ['Bb major', 'Cm7 F7 | Bm7 E7 | Amaj7', 'short-ii-v Bb major 1-1, short-ii-v-i-major A major 2-3'],
    // Its V falls to a minor chord that is the ii of what follows, though a substitute takes the place of the next V.
    ['Bb major', 'Gm7 C7 | Fm7 E7 | Ebmaj7', 'short-ii-v F major 1-1, tritone-substitute Eb major 2-3'],
    // The iv of a minor key has its dominant, and is no home.
    ['E minor', 'Em6 | E7 | Am7 | B7 | Em6', 'v-i-minor E minor 4-5'],
    ['G major', 'C7 | C#dim7 | G6', 'passing-diminished G major 1-3'],
    ['G major', 'C7 | C#dim7 | D7', 'passing-diminished G major 1-3'],
    ['G major', 'Am7 | C#dim7 | G6', ''],
  ])('%s: %s', (key, over, expected) => expect(told(reading(key, over))).toBe(expected));

  test('chords that N.C. parts belong to no progression together', () => {
    expect(told(reading('C major', 'Dm7 | N.C. | G7 | Cmaj7'))).toBe('v-i-major C major 3-4');
  });
});

describe('a blues of twelve bars lasts twelve bars', () => {
  const TWELVE = 'G7 | C7 | G7 | % | C7 | % | G7 | % | D7 | C7 | G7 | D7';
  const MINOR = 'Am7 | % | % | % | Dm7 | % | Am7 | % | F7 | E7 | Am7 | E7';
  const MAJOR_SEVENTH = 'Fmaj7 | Em7b5 A7b9 | Dm7 G7 | Cm7 F7 | Bbmaj7 | Bbm7 Eb7 | Am7 | Abm7 Db7 | Gm7 | C7 | Fmaj7 D7 | Gm7 C7';
  test.each([
    ['alone', 'G major', TWELVE, 'blues 1-12'],
    ['with a tag', 'G major', `${TWELVE} | Am7 | D7 | G6 | G6`, 'blues 1-12'],
    ['with the chord of the tag already in its last bar', 'A minor', `${MINOR} | Am7 | % | Bm7b5 E7 | Am6`, 'minor-blues 1-12'],
    ['two choruses', 'G major', `${TWELVE} | ${TWELVE}`, 'blues 1-12, blues 13-24'],
    [
      'two choruses, one chord over the bar between',
      'A minor',
      `${MINOR.replace(/E7$/, 'Am7')} | ${MINOR}`,
      'minor-blues 1-12, minor-blues 13-24',
    ],
    ['I as a major seventh, IV reached by its dominant, ii–V in 9 and 10', 'F major', MAJOR_SEVENTH, 'blues-with-substitutes 1-12'],
    [
      'the same with the substitute of the dominant of IV',
      'F major',
      MAJOR_SEVENTH.replace('Cm7 F7', 'Cm7 B7'),
      'blues-with-substitutes 1-12',
    ],
    ['two choruses of that', 'F major', `${MAJOR_SEVENTH} | ${MAJOR_SEVENTH}`, 'blues-with-substitutes 1-12, blues-with-substitutes 13-24'],
    ['none where IV comes from nowhere', 'F major', MAJOR_SEVENTH.replace('Cm7 F7', 'Fmaj7'), ''],
    ['none where bar 9 has no ii', 'F major', MAJOR_SEVENTH.replace('Gm7 | C7', 'C7 | C7'), ''],
    ['none where it turns elsewhere', 'F major', MAJOR_SEVENTH.replace('Fmaj7 D7 | Gm7 C7', 'Abmaj7 | Dbmaj7'), ''],
    [
      'sixteen bars of another form are one',
      'G major',
      'G7 | % | % | % | G7 | % | % | % | C7 | % | G7 | % | D7 | C7 | G7 | %',
      'blues 1-16',
    ],
  ])('%s', (_, key, over, expected) => {
    const whole = progressionsOf(reading(key, over)).filter(({ id }) => BLUES_FORMS.has(id));
    expect(whole.map(({ id, from, to }) => `${id} ${from}-${to}`).join(', ')).toBe(expected);
  });
});

describe('the main one', () => {
  test.each([
    ['C major', 'Gm7 C7 | Fmaj7 | Dm7 G7 | Cmaj7 | Gm7 C7 | Fmaj7', 'short-ii-v-i-major'],
    ['F major', 'F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 | C7', 'blues'],
    ['C major', 'Cmaj7 Am7 | Dm7 G7', 'turnaround'],
    ['', 'Cmaj7 | Ebmaj7 | Abmaj7', 'free'],
    ['', 'N.C.', null],
  ])('%s: %s is %s', (key, over, setting) => expect(settingOf(reading(key, over))).toBe(setting));

  test('the data lists all beside it, and the walk-through says where each is', () => {
    const one = reading('C major', 'Gm7 C7 | Fmaj7 | Dm7 G7 | Cmaj7');
    expect(explainPhrase(one)).toMatchObject({
      setting: 'short-ii-v-i-major',
      settings: [
        { id: 'short-ii-v-i-major', key: 'F major', from: 1, to: 2 },
        { id: 'short-ii-v-i-major', key: 'C major', from: 3, to: 4 },
      ],
    });
    expect(walkthrough(one).setting).toBe(
      '4 bars in C major, over a short ii–V–I in F major (bars 1–2) and a short ii–V–I in C major (bars 3–4).',
    );
    expect(walkthrough(reading('C major', 'Cmaj7 Am7 | Dm7 G7')).setting).toBe('2 bars in C major, over a turnaround (I–vi–ii–V).');
  });
});

describe('are named', () => {
  test.each([
    ['with the mode, where all are of the key of the phrase', 'C major', 'Dm7 G7 | Cmaj7', ['short ii–V–I in major']],
    [
      'with the key, each of several keys',
      'C major',
      'Gm7 C7 | Fmaj7 | Dm7 G7 | Cmaj7',
      ['short ii–V–I in F major', 'short ii–V–I in C major'],
    ],
    ['with the key, one that is at home elsewhere', 'C major', 'Gm7 C7 | Fmaj7', ['short ii–V–I in F major']],
    [
      'without it, where the name says no mode and they are at home',
      'Bb major',
      'Gm7 C7 | Dm7 G7 | Cm7 F7 | Bbmaj7',
      ['short ii–V in F major', 'turnaround (iii–VI–ii–V)', 'short ii–V–I in Bb major'],
    ],
    [
      'with the chord that it leads to, a ii–V to the ii of the next',
      'Bb major',
      'Am7b5 D7 | Gm7 C7 | Cm7 F7 | Bbmaj7',
      ['short ii–V to Gm7', 'short ii–V in F major', 'short ii–V–I in Bb major'],
    ],
    [
      'without a key, one that slips down',
      'D major',
      'Fm7 Bb7 | Em7 A7 | Dmaj7',
      ['ii–V a half step above the next', 'short ii–V–I in major'],
    ],
    ['without the cadence, a backdoor that does not come home', 'D major', 'Gm7 C7 | F#m7', ['backdoor (iv–bVII7)']],
  ])('%s', (_, key, over, names) => {
    const one = reading(key, over);
    expect(progressionsOf(one).map((progression) => progressionWords(progression, one))).toEqual(names);
  });
});
