/** What a teacher's sheet tells: each finding once, and what an error costs. */
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { beforeAll, describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { makeHandout } from '../../server/src/handout/handout';
import { DEFAULT_HANDOUT, type Handout, type HandoutOptions } from '../../server/src/handout/types';
import { createEngraver, type Engraver } from '../../server/src/picture/engraver';

let engraver: Engraver;
beforeAll(async () => {
  engraver = createEngraver(new VerovioToolkit(await createVerovioModule()));
});

const made = (text: string, options: Partial<HandoutOptions> = {}): Handout =>
  makeHandout([{ name: 'water', text }], { ...DEFAULT_HANDOUT, ...options }, { theory: DEFAULT_THEORY, engraver, onProgress: () => {} });
/** All that stands on the sheets, line by line. */
const linesOf = ({ blocks }: Handout): string[] =>
  blocks.flatMap((block) =>
    block.kind === 'prose'
      ? [block.words.map(({ text }) => text).join('')]
      : block.kind === 'item' || block.kind === 'label'
        ? [block.words]
        : [],
  );

const PHRASE = 'phrase "Wet shoes"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n';

describe('a finding is told once', () => {
  const text = `${PHRASE}  line | D4-F A-C5 B4-A G-E | F ~ ~ . |\n  claim lands 3 at 2.1\n  claim range C3 to C7\n`;
  const times = (handout: Handout, words: string): number => linesOf(handout).join('\n').split(words).length - 1;
  test('a clash among the findings, a claim among the claims', () => {
    const sheet = made(text);
    expect(times(sheet, 'F lands on beat 1 over Cmaj7')).toBe(1);
    expect(times(sheet, 'lands 3 at 2.1')).toBe(1);
    expect(linesOf(sheet)).toContain('“lands 3 at 2.1” does not hold: F4 there is the 11 of Cmaj7.');
    expect(linesOf(sheet).indexOf('Findings')).toBeLessThan(linesOf(sheet).indexOf('Walk-through'));
  });
  test('a clash in the walk-through where findings are left out', () => {
    expect(times(made(text, { without: ['findings'] }), 'F lands on beat 1 over Cmaj7')).toBe(1);
  });
  test('a claim among the findings where claims are left out', () => {
    expect(times(made(text, { without: ['claims'] }), 'lands 3 at 2.1')).toBe(1);
  });
  test('a claim with the first of all keys', () => {
    expect(times(made(text, { keys: ['C', 'F', 'G'] }), 'lands 3 at 2.1')).toBe(1);
  });
});

describe('notes may be missing', () => {
  test('where a bar cannot be read', () => {
    expect(made(`${PHRASE}  line | D4-F A-C5 B4-A xx | E ~ ~ . |\n`).notices.join()).toMatch(
      /^“Wet shoes” has an error, so its notes may not all be there: /,
    );
  });
  test('but not for a claim, which is said to have an error', () => {
    expect(made(`${PHRASE}  line | D4-F A-C5 B4-A G-F | E ~ ~ . |\n  claim lands 3 at 9.1\n`).notices).toEqual([
      '“Wet shoes” has an error: “lands 3 at 9.1” cannot be checked: the phrase has 2 bars, and no bar 9.',
    ]);
  });
});
