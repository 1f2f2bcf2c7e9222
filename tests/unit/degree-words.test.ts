/** Which prose would tell students what they are to find out. The sentences are written for this, as a teacher would say them. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { tellsDegree } from '../../server/src/handout/degree-words';
import { makeHandout } from '../../server/src/handout/handout';
import { DEFAULT_HANDOUT } from '../../server/src/handout/types';

describe('tells a degree', () => {
  test.each([
    'Starts on a third, lands on a third.',
    'Sing the third before you play it.',
    'The D flat is the seventh of the chord, and may stay.',
    'The B is the flat five of the key.',
    'From the fifth the cell gives 5, 6, 7 and 9.',
    'Everything here is made of 1-2-3-5 and its reverse.',
    'The b9 falls to the root.',
    'Lean on the ♯11: nothing rubs.',
    'The flat nine falls by a half step.',
    'Mind the 9 in bar 2.',
    'The thirds and sevenths stay where they were.',
    'The line climbs 3, 5, flat 7, flat 9.',
    'Hear how 7 to 3 pulls.',
    'Only the third changes its colour.',
    'Land on the major third and stay.',
    'Sie beginnt auf der b3.',
    'The roots are left to the bass.',
  ])('%s', (text) => expect(tellsDegree(text)).toBe(true));
});

describe('tells none', () => {
  test.each([
    'Play this slowly and sing it.',
    'In three, the strong place is beat 1 alone.',
    'Let the second and third beat lean towards the next bar.',
    'Breathe before the third bar.',
    'Before bar 2 the A-flat and the F wrap the G.',
    'Play bars 1 to 3 twice.',
    'Over the E7b9 the F is no mistake.',
    'Count in 3/4 and swing 2:1.',
    'Sing the 3 notes before you play.',
    'Take it at 120, then 140.',
    'Move it up a fourth.',
    'The same a third higher.',
    'Practise it in thirds.',
    'C minor 7 and F7 share the D.',
    'Play it twice, in all 12 keys, with 4 bars of rest.',
    'Bars 5-7 are the same.',
    'The third time louder.',
    'The F from above and the D from below.',
    'Beats 2 and 4 are for the foot.',
    'The last 2 bars are yours.',
  ])('%s', (text) => expect(tellsDegree(text)).toBe(false));
});

test('a text that is left out is told as it would be printed, without the marks of emphasis', () => {
  // The picture is not what this is about.
  const engraver = { engrave: () => [], has: () => false };
  const text = 'phrase "Weir"\n  over | C7 |\n  line | Bb4 ~ ~ ~ |\n  say "Hear how the **b7** *leans*."\n';
  const { notices } = makeHandout(
    [{ name: 'weir', text }],
    { ...DEFAULT_HANDOUT, sheet: 'student' },
    { theory: DEFAULT_THEORY, engraver, onProgress: () => undefined },
  );
  expect(notices).toEqual(['“Weir”: this sheet leaves out a text that tells degrees: “Hear how the b7 leans.”']);
});
