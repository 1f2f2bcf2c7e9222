/**
 * The proof of an edit on the bars around it says what the proof on the whole phrase says, of every candidate that an action tries and of
 * edits that no action would try. `WINDOWS=6000` asks for so many candidates (some minutes).
 */
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import type { DeviceKind } from '../../server/src/analysis/devices/device';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { AssistContext } from '../../server/src/assists/assist';
import { offersAt } from '../../server/src/assists/registry';
import { verified } from '../../server/src/assists/writing/verified';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { always, lessonPhraseArbitrary, phraseArbitrary, RUN } from './arbitrary';
import { longPhraseArbitrary } from './long-phrases';

const seen = vi.hoisted(() => ({ candidates: 0, windows: 0, sound: 0, differing: [] as string[] }));

vi.mock('../../server/src/assists/writing/verified', async (importOriginal) => {
  const real = await importOriginal<typeof import('../../server/src/assists/writing/verified')>();
  const { windowOf } = await import('../../server/src/assists/writing/window');
  const both: typeof real.verified = (context, edits, wanted) => {
    const near = real.verified(context, edits, wanted);
    const whole = real.verifiedOnWhole(context, edits, wanted);
    seen.candidates += 1;
    if (
      windowOf(
        context,
        [...edits].sort((a, b) => a.range.start - b.range.start),
      ) !== null
    )
      seen.windows += 1;
    if (whole !== null) seen.sound += 1;
    if (JSON.stringify(near) !== JSON.stringify(whole))
      seen.differing.push(JSON.stringify({ text: context.placed.phrase.text, edits, wanted, near: near !== null, whole: whole !== null }));
    return near;
  };
  return { ...real, verified: both };
});

function fail(error: unknown): never {
  throw error;
}

const WANTED = Number(process.env['WINDOWS'] ?? 600);
const TEXTS = [
  'C',
  'C#',
  'Bb-A',
  'E-~',
  '.',
  '~',
  'F-F#',
  'G-Ab-A',
  '(D)',
  'Eb!',
  'B>',
  'C2',
  'D8',
  'F-E-Eb-D',
  'A | B',
  'x?',
  'Gb-F E',
  '',
] as const;
const DEVICES: readonly (DeviceKind | null)[] = [
  null,
  null,
  'enclosure',
  'approach',
  'passing-tone',
  'double-chromatic',
  'neighbour-tone',
  'arpeggio',
  'turn',
  'anticipation',
  'appoggiatura',
  'chromatic-run',
];

function contextOf(snapshot: Snapshot): AssistContext {
  const placed = snapshot.phrases[0]!;
  return {
    snapshot,
    placed,
    reading: readPhrase(placed.phrase, DEFAULT_THEORY),
    options: DEFAULT_THEORY,
    selection: { start: 0, end: 0 },
    note: null,
    selected: [],
    asked: false,
  };
}

test('a proof on the bars around an edit says what the proof on the whole phrase says', () => {
  always(
    fc.property(
      fc.oneof({ weight: 6, arbitrary: longPhraseArbitrary }, lessonPhraseArbitrary, phraseArbitrary),
      fc.array(fc.nat(), { minLength: 8, maxLength: 8 }),
      ({ text }, picks) => {
        if (seen.candidates >= WANTED) return;
        const snapshot = openSnapshot('file:///a.phrase', 1, text);
        const placed = snapshot.phrases[0]!;
        const { phrase, start } = placed;
        if (phrase.notes.length === 0) return;
        for (const pick of picks.slice(0, 2)) {
          const at = start + phrase.notes[pick % phrase.notes.length]!.range.start;
          offersAt(snapshot, { start: at, end: at, only: null }, DEFAULT_THEORY, fail);
        }
        const context = contextOf(snapshot);
        for (const pick of picks) {
          const index = pick % phrase.groups.length;
          const group = phrase.groups[index]!;
          const device = DEVICES[pick % DEVICES.length]!;
          const repaired = pick % 5 === 0 ? pick % phrase.notes.length : null;
          const at = group.onset.add(pick % 3 === 0 ? group.duration : 0);
          const edits = group.cell === null ? [{ range: group.range, text: TEXTS[(pick >> 4) % TEXTS.length]! }] : [];
          verified(context, edits, {
            repaired,
            groups: [index, ...(index > 0 && pick % 2 === 0 ? [index - 1] : [])],
            ...(device === null ? {} : { device: { kind: device, at } }),
          });
        }
        expect(seen.differing).toEqual([]);
      },
    ),
    { ...RUN, numRuns: WANTED },
  );
  console.log(`candidates: ${seen.candidates}, on the bars around them ${seen.windows}, sound ${seen.sound}`);
  expect(seen.candidates).toBeGreaterThanOrEqual(WANTED);
  expect(seen.windows).toBeGreaterThan(seen.candidates / 2);
  expect(seen.sound).toBeGreaterThan(seen.candidates / 20);
}, 1_200_000);

test('so it does where a figure slips a half step away and back, which reaches over bars', () => {
  const before = seen.differing.length;
  for (const figures of ['D4-F A-C5 B-A G-F | Eb4-Gb Bb-Db5 C-Bb Ab-Gb | F4 ~ A ~', 'Eb4-F Gb-Bb . . | D4-E F-A . . | F4 ~ A ~']) {
    const plain = 'F4-A C5-E D-C A-G | F4-D F-A C5 A |';
    const text = `phrase "A"\n  over | Dm7:dorian | % | % | % | % | % | % |\n  line | ${plain} ${figures} | ${plain}\n`;
    const context = contextOf(openSnapshot('file:///a.phrase', 1, text));
    expect(context.reading.slips.size).toBeGreaterThan(3);
    context.reading.phrase.groups.forEach(({ range }, index) => {
      for (const other of [...TEXTS, 'Eb-Gb', 'D-F'])
        verified(context, [{ range, text: other }], { repaired: null, groups: [index, ...(index > 0 ? [index - 1] : [])] });
    });
  }
  expect(seen.differing.slice(before)).toEqual([]);
});
