/** Chord symbols against a table made from conventional guides to chord symbols (the heading of the file says of what kind). */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { chroma } from '../../server/src/theory/pitch';
import { readChord } from '../../server/src/theory/chord';
import { transposeSymbol } from '../../server/src/theory/transposition';
import { parseFile } from '../../grammar/parser';

const ROWS = readFileSync(join(import.meta.dirname, 'data', 'chord-symbols.tsv'), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'))
  .map((line) => line.split('\t') as [string, string]);

function tones(symbol: string): string {
  const chord = readChord(symbol);
  if (!('tones' in chord)) return `unread: ${chord.why}`;
  const root = chroma(chord.root);
  return [...new Set(chord.tones.map((tone) => (chroma(tone.name) - root + 12) % 12))].sort((a, b) => a - b).join(' ');
}

test.each(ROWS.filter(([, expected]) => expected !== 'NC'))('%s holds %s', (symbol, expected) => {
  expect(tones(symbol)).toBe(expected);
});

test.each(ROWS.filter(([, expected]) => expected !== 'NC'))('%s holds %s on every root', (symbol, expected) => {
  for (let diatonic = 0; diatonic < 7; diatonic += 1) {
    const chromatic = [0, 2, 4, 5, 7, 9, 11][diatonic]!;
    const moved = transposeSymbol(symbol, { diatonic, chromatic })!;
    const chord = readChord(moved);
    // A root has one accidental at most: E# moved up may need two, and is then no symbol.
    if (/^[A-G](?:##|bb)/.test(moved)) expect('tones' in chord).toBe(false);
    else expect(tones(moved)).toBe(expected);
  }
});

test('NC is no chord', () => {
  const [slice] = parseFile('phrase "A"\n  over | NC |\n');
  const { item } = slice!.parsed;
  const row = item.kind === 'phrase' ? item.rows[0] : undefined;
  expect(row?.kind === 'over' && row.bars[0]!.shares[0]!.kind).toBe('no-chord');
});
