/** No claim that is offered is refuted, on any phrase and once it is written there; what the walk-through calls a resolution is one to a claim. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkClaims, checkWords } from '../../server/src/analysis/claims/check';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { completionsAt } from '../../server/src/features/completion/index';
import { plainText } from '../../server/src/features/completion/template';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, phraseArbitrary, RUN } from './arbitrary';

test('every claim that is offered holds, and says a place of the phrase', () => {
  const kinds = new Set<string>();
  always(
    fc.property(phraseArbitrary, ({ text }) => {
      // Without notes there is nothing to claim anything of: then it is said how claims are written.
      fc.pre(openSnapshot('file:///a.phrase', 1, text).phrases[0]!.phrase.notes.length > 0);
      const row = `${text}  claim `;
      const offered = completionsAt(openSnapshot('file:///a.phrase', 1, row), row.length, DEFAULT_THEORY).map(({ template }) =>
        plainText(template),
      );
      expect(new Set(offered).size).toBe(offered.length);
      const { phrase } = openSnapshot('file:///a.phrase', 1, text + offered.map((claim) => `  claim ${claim}\n`).join('')).phrases[0]!;
      const checked = checkClaims(readPhrase(phrase, DEFAULT_THEORY));
      expect(checked.map(({ claim }) => claim.text)).toEqual(offered);
      expect(checked.filter(({ status }) => status !== 'holds').map(({ claim, because }) => `${claim.text}: ${because}`)).toEqual([]);
      for (const claim of offered) kinds.add(claim.split(' ')[0]!);
    }),
    { ...RUN, numRuns: 120 },
  );
  expect([...kinds]).toEqual(
    expect.arrayContaining(['lands', 'resolves', 'enclosure', 'range', 'scale', 'no', 'diatonic', 'passing-tone', 'chord-tones']),
  );
});

test('what resolves in the walk-through resolves in a claim', () => {
  const told = new Map<string, number>();
  always(
    fc.property(fc.array(fc.integer({ min: -3, max: 3 }), { minLength: 32, maxLength: 32 }), (moves) => {
      const { phrase } = openSnapshot(
        'file:///a.phrase',
        1,
        `phrase "A"\n  over | Gm7 C7 | Fmaj7 D7alt | Gm7 Gb7 | Fmaj7 |\n  line ${walk(moves)}\n`,
      ).phrases[0]!;
      const reading = readPhrase(phrase, DEFAULT_THEORY);
      for (const { kind, notes, target } of devicesOf(reading).filter((device) =>
        ['tension-resolution', 'guide-tone-resolution', 'leading-tone'].includes(device.kind),
      )) {
        const [from, to] = [notes[0]!, target!].map((note) => reading.notes[note]!.placement!.called.number);
        expect([kind, from, to, checkWords(['resolves', String(from), 'to', String(to)], reading).status]).toEqual([
          kind,
          from,
          to,
          'holds',
        ]);
        told.set(kind, (told.get(kind) ?? 0) + 1);
      }
    }),
    { ...RUN, numRuns: 100 },
  );
  expect(told.size).toBe(3);
});

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

/** Four bars of eighths, each so many half steps from the one before. */
function walk(moves: readonly number[]): string {
  let midi = 67;
  const notes = moves.map((move) => `${NAMES[(midi += move) % 12]!}${Math.floor(midi / 12) - 1}`);
  const bar = (from: number): string => [0, 2, 4, 6].map((i) => `${notes[from + i]!}-${notes[from + i + 1]!}`).join(' ');
  return `| ${[0, 8, 16, 24].map(bar).join(' | ')} |`;
}
