/** The dominant that a substitute stands for, against the chords of `tonal` (npm registry, 6.4.3): third and seventh of one are seventh and third of the other, in every key. */
import { Chord, Note } from 'tonal';
import { expect, test } from 'vitest';
import { walkthrough } from '../../server/src/explain/walkthrough';
import { readingOf } from '../unit/called-help';

const KEYS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

test.each(KEYS)('in %s major', (key) => {
  const symbol = `${Note.simplify(Note.transpose(key, '2m'))}7`;
  const { setting } = walkthrough(
    readingOf(`key ${key} major\n  over | ${symbol} | ${key}maj7 |`, `| ${symbol.slice(0, -1)}4 ~ ~ ~ | ${key} ~ ~ ~ |`),
  );
  const [, told] = /stands for (\S+):/.exec(setting)!;
  const guides = (of: string): (number | undefined)[] => [1, 3].map((tone) => Note.chroma(Chord.get(of).notes[tone]!));
  expect(guides(told!), setting).toEqual(guides(symbol).reverse());
});
