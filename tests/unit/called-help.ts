/** Phrases of a line or a note, read, and what is asked of them. */
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading, TheoryOptions } from '../../server/src/analysis/types';
import { inlayHints } from '../../server/src/features/inlay-hints';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot } from '../../server/src/model/snapshot';

/** `rows` stand above the line. */
export function readingOf(rows: string, line: string): Reading {
  return readPhrase(openSnapshot('', 1, `phrase "A"\n  ${rows}\n  line ${line}\n`).phrases[0]!.phrase, DEFAULT_THEORY);
}

/** The hints after one note that lasts a bar over a chord. (The key keeps C7 alone from being a blues.) */
export function degreeHintsOf(chord: string, note: string, theory: TheoryOptions = DEFAULT_THEORY): string[] {
  const text = `phrase "A"\n  key F major\n  over | ${chord} |\n  line | ${note}4 ~ ~ ~ |\n`;
  return inlayHints(openSnapshot('', 1, text), 0, text.length, { ...DEFAULT_SETTINGS, theory }).map(({ label }) => label);
}
