/** Every code action, on random phrases: bars stay whole, other notes stay, a repair mends its finding and adds none. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { DeviceKind } from '../../server/src/analysis/devices/device';
import { matchesOf } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { ASSISTS, offersAt, type Asked, type PlacedOffer } from '../../server/src/assists/registry';
import { hasAbsoluteChord, transposedText } from '../../server/src/assists/vary/transposing';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import type { Phrase } from '../../server/src/model/types';
import { findingsOf } from '../../server/src/rules/findings';
import { always, leadingPhraseArbitrary, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN, SEEDS } from './arbitrary';
import { aFew } from './few-offers';

const URI = 'file:///a.phrase';

function applied(text: string, offer: PlacedOffer): string {
  return [...offer.edits()]
    .sort((a, b) => b.start - a.start)
    .reduce((result, edit) => result.slice(0, edit.start) + edit.text + result.slice(edit.end), text);
}

/** Actions that change how a phrase is written and nothing that sounds. */
const SOUND_STAYS = new Set([
  'line-in-degrees',
  'line-in-pitches',
  'chords-in-numerals',
  'numerals-in-chords',
  'write-degrees',
  'write-claims',
  'write-walkthrough',
  'mark-intended',
  'respell',
  'extract-cell',
  'inline-cell',
  'extract-changes',
  'inline-changes',
  'join-systems',
  'meter-bars',
  'file-lines',
]);
/** Actions that lay the bars out anew. */
const BARS_CHANGE = new Set(['meter-bars', 'harmonic-rhythm']);
/** Actions on the whole line: what they keep is said of each below. */
const WHOLE_LINE = new Set([
  'skeleton',
  'simplify',
  'transpose',
  'major-minor',
  'harmonic-rhythm',
  'octave',
  'displace',
  'sequence-through',
]);
const WRITES_COPIES = new Set(['twelve-keys', 'write-steps']);

/** The rules of warnings and errors in one phrase; a claim that is refuted is told, not counted. */
function severe(snapshot: Snapshot, phrase: number): string[] {
  const placed = snapshot.phrases[phrase]!;
  const inside = (start: number): boolean => start >= placed.start && start < placed.start + placed.phrase.text.length;
  return findingsOf(snapshot, DEFAULT_THEORY)
    .filter(({ start }) => inside(start))
    .filter(({ severity }) => severity === 'error' || severity === 'warning')
    .map(({ rule }) => rule)
    .filter((rule) => rule !== 'out-of-range')
    .sort();
}

function barLengths(phrase: Phrase): string[] {
  return phrase.bars.filter((bar) => bar.number > 0).map((bar) => bar.length.toFraction());
}

function soundsOf({ notes }: Phrase): string[] {
  return notes.map(({ onset, midi }) => `${onset.toFraction()} ${midi}`);
}

function fail(error: unknown): never {
  throw error;
}

const at = (offset: number): Asked => ({ start: offset, end: offset, only: null });

/** Every place where something could be asked for: a note, a stretch of notes, the name, the start of each row, and each use of a cell. */
function places({ start, phrase }: Snapshot['phrases'][number], pick: number): Asked[] {
  const reading = readPhrase(phrase, DEFAULT_THEORY);
  const flagged = reading.notes.filter(({ verdict }) => verdict !== null && verdict.level !== 'hint').map(({ note }) => note);
  const one = (candidates: readonly number[]): Asked[] =>
    candidates.length === 0 ? [] : [at(start + phrase.notes[candidates[pick % candidates.length]!]!.range.start)];
  const all = phrase.notes.map(({ index }) => index);
  const notes = [...one(all), ...one(flagged), ...one(all.slice(Math.floor(all.length / 2)))];
  const first = phrase.groups[pick % Math.max(1, phrase.groups.length)];
  const stretch =
    first === undefined
      ? []
      : [phrase.groups[phrase.groups.indexOf(first) + 1 + (pick % 3)] ?? first].map(
          (last): Asked => ({ start: start + first.range.start, end: start + last.range.end, only: null }),
        );
  const cells = phrase.notes
    .filter(({ cell }) => cell !== null)
    .slice(0, 1)
    .map(({ range }) => at(start + range.start));
  return [...notes, at(start + 2), ...phrase.item.rows.map(({ keyword }) => at(start + keyword.range.start)), ...stretch, ...cells];
}

/** Places that chance seldom meets, of actions that are offered nowhere else: a note of a beat that is reached by step, the second system. */
function seldomMet({ start, phrase }: Snapshot['phrases'][number]): Asked[] {
  const held = phrase.groups
    .filter(({ slots }) => slots.length === 1)
    .flatMap(({ slots: [slot] }) => (slot!.kind === 'note' && slot!.note! > 0 ? [slot!.note!] : []));
  const reached = held.filter((i) => [1, 2].includes(Math.abs(phrase.notes[i]!.midi - phrase.notes[i - 1]!.midi))).slice(0, 1);
  const systems = phrase.item.rows.filter(({ kind }) => kind === 'over').slice(1, 2);
  return [
    ...reached.map((i) => at(start + phrase.notes[i]!.range.start)),
    ...systems.map(({ keyword }) => at(start + keyword.range.start)),
  ];
}

const anyPhrase = fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary, leadingPhraseArbitrary);

/** Phrases that are drawn at most. */
const MOST = 2_500;

test('every code action leaves bars whole, keeps what stands outside the edit, and a repair repairs', () => {
  // A well-formed phrase has no bar too long: `long-bar.test.ts` makes some.
  const counts = new Map(ASSISTS.filter(({ id }) => id !== 'long-bar').map(({ id }) => [id, 0]));
  let runs = 0;
  always(
    fc.property(anyPhrase, fc.nat(), ({ text }, pick) => {
      // How often chance offers an action depends on the seed: after its share of 500, phrases are drawn for those that were not tried often enough.
      runs += 1;
      const isOver = runs % Math.ceil(MOST / SEEDS.length) > 500 / SEEDS.length;
      const wanted = [...counts].filter(([, count]) => !isOver || count <= 15);
      if (wanted.length === 0) return;
      const snapshot = openSnapshot(URI, 1, text);
      const { phrase } = snapshot.phrases[0]!;
      const asked = [...places(snapshot.phrases[0]!, pick).filter((_, i) => (i + pick) % 3 === 0), ...seldomMet(snapshot.phrases[0]!)];
      const offers = aFew(snapshot, asked, pick, new Map(wanted));
      if (offers.length === 0) return;
      const before = severe(snapshot, 0);
      for (const offer of offers) {
        counts.set(offer.assist, counts.get(offer.assist)! + 1);
        const after = openSnapshot(URI, 2, applied(text, offer));
        expect(
          after.problems.filter(({ problem }) => problem.severity === 'error').map(({ problem }) => problem.rule),
          offer.title,
        ).toEqual([]);
        if (WRITES_COPIES.has(offer.assist)) {
          checkCopies(offer, snapshot, after);
          continue;
        }
        const changed = after.phrases[0]!.phrase;
        if (!BARS_CHANGE.has(offer.assist)) expect(barLengths(changed), offer.title).toEqual(barLengths(phrase));
        const now = severe(after, 0);
        expect(now.length, `${offer.title}\n${after.text}`).toBeLessThanOrEqual(before.length);
        if (SOUND_STAYS.has(offer.assist)) expect(soundsOf(changed), offer.title).toEqual(soundsOf(phrase));
        if (WHOLE_LINE.has(offer.assist)) checkLine(offer, phrase, changed);
        else checkUntouched(offer, snapshot, changed);
        if (PLANTS.has(offer.assist)) checkPlanted(offer, phrase, changed);
        if (offer.repairs === 'clash')
          expect(now.filter((rule) => rule === 'clash').length).toBeLessThan(before.filter((rule) => rule === 'clash').length);
      }
    }),
    { ...RUN, numRuns: MOST },
  );
  console.log(`cases: ${[...counts].map(([id, count]) => `${id} ${count}`).join(', ')}`);
  for (const [id, count] of counts) expect(count, `${id} was offered`).toBeGreaterThan(15);
}, 300_000);

test('a repair leaves no finding on the note that it mends, wherever it moves it, and flags no other', () => {
  const counts = new Map<string, number>();
  let runs = 0;
  const flagged = ({ phrases }: Snapshot): string[] => {
    const { phrase } = phrases[0]!;
    const sounds = soundsOf(phrase);
    return readPhrase(phrase, DEFAULT_THEORY)
      .notes.filter(({ verdict }) => verdict !== null && verdict.level !== 'hint')
      .map(({ note }) => sounds[note]!);
  };
  always(
    fc.property(anyPhrase, fc.nat(), ({ text }, pick) => {
      runs += 1;
      if (runs > 150 && MENDING.every((id) => (counts.get(id) ?? 0) > 10)) return;
      const snapshot = openSnapshot(URI, 1, text);
      const { start, phrase } = snapshot.phrases[0]!;
      const before = flagged(snapshot);
      if (before.length === 0) return;
      const named = before[pick % before.length]!;
      const note = phrase.notes[soundsOf(phrase).indexOf(named)]!;
      for (const offer of offersAt(snapshot, { ...at(start + note.range.start), only: ['quickfix'] }, DEFAULT_THEORY, fail).filter(
        ({ repairs }) => repairs === 'clash' || repairs === 'rub',
      )) {
        counts.set(offer.assist, (counts.get(offer.assist) ?? 0) + 1);
        const mended = applied(text, offer);
        expect(
          flagged(openSnapshot(URI, 2, mended)).filter((one) => one === named || !before.includes(one)),
          `${offer.title}\n${text}\n${mended}`,
        ).toEqual([]);
      }
    }),
    { ...RUN, numRuns: 900 },
  );
  console.log(`cases: ${[...counts].map(([id, count]) => `${id} ${count}`).join(', ')}`);
  for (const id of MENDING) expect(counts.get(id) ?? 0, `${id} was offered`).toBeGreaterThan(10);
}, 300_000);

/** Actions that mend a flagged note. */
const MENDING = ['chord-tone-below', 'chord-tone-above', 'raise-eleventh', 'off-the-beat', 'enclosure', 'mark-intended'];

/** Notes whose text no edit touches start when they did, at the same pitch. */
function checkUntouched(offer: PlacedOffer, snapshot: Snapshot, changed: Phrase): void {
  const { start, phrase } = snapshot.phrases[0]!;
  const edits = offer.edits();
  const untouched = phrase.notes.filter((one) =>
    edits.every((edit) => edit.end <= start + one.range.start || edit.start >= start + one.range.end),
  );
  const sounding = new Set(soundsOf(changed));
  const moved = untouched.filter(({ onset, midi }) => !sounding.has(`${onset.toFraction()} ${midi}`));
  expect(
    moved.map(({ bar, beat }) => `${bar}:${beat}`),
    offer.title,
  ).toEqual([]);
}

/** Actions named after what they plant. */
const PLANTS: ReadonlyMap<string, readonly DeviceKind[]> = new Map<string, readonly DeviceKind[]>([
  ['enclosure', ['enclosure']],
  ['passing-tone', ['passing-tone']],
  ['neighbour-tone', ['neighbour-tone']],
  ['approach', ['approach', 'double-chromatic']],
  ['ornament', ['mordent', 'turn']],
  ['triplet-arpeggio', ['triplet-arpeggio']],
  ['anticipation', ['anticipation']],
  ['suspension', ['suspension', 'retardation']],
]);

/** The device is found where it was not before: a note that is only held longer, or struck no more, may be what makes it. */
function checkPlanted({ assist, title }: PlacedOffer, before: Phrase, after: Phrase): void {
  const devices = (phrase: Phrase): string[] => {
    const sounds = soundsOf(phrase);
    const matches = matchesOf(readPhrase(phrase, DEFAULT_THEORY)).filter(({ kind }) => PLANTS.get(assist)!.includes(kind));
    return matches.map(
      ({ kind, notes, target }) => `${kind}: ${[...notes, ...(target === null ? [] : [target])].map((note) => sounds[note]).join(', ')}`,
    );
  };
  const known = new Set(devices(before));
  expect(devices(after).filter((device) => !known.has(device)).length, title).toBeGreaterThan(0);
}

function checkLine({ assist, title }: PlacedOffer, before: Phrase, after: Phrase): void {
  const sounds = (phrase: Phrase): number[] => phrase.notes.map(({ midi }) => midi);
  const differences = new Set(sounds(after).map((sound, i) => sound - sounds(before)[i]!));
  const sameRhythm =
    after.notes.length === before.notes.length && after.notes.every((note, i) => note.onset.equals(before.notes[i]!.onset));
  switch (assist) {
    case 'skeleton':
    case 'simplify': {
      expect(after.notes.length, title).toBeLessThanOrEqual(before.notes.length);
      const names = new Set(sounds(before));
      expect(
        sounds(after).every((sound) => names.has(sound)),
        title,
      ).toBe(true);
      break;
    }
    case 'transpose':
      expect(sameRhythm && differences.size === 1, title).toBe(true);
      break;
    case 'octave':
      expect(sameRhythm && [...differences].every((one) => [0, 12, -12].includes(one)), title).toBe(true);
      break;
    case 'displace':
      expect(sounds(after), title).toEqual(sounds(before));
      expect(new Set(after.notes.map((note, i) => note.onset.sub(before.notes[i]!.onset).toFraction())).size, title).toBe(1);
      break;
    case 'harmonic-rhythm':
      expect(sounds(after), title).toEqual(sounds(before));
      break;
    case 'major-minor':
      expect(sameRhythm && [...differences].every((one) => Math.abs(one) <= 2), `${title} ${[...differences].join()}`).toBe(true);
      break;
    case 'sequence-through':
      expect(after.notes[0]!.midi, title).toBe(before.notes[0]!.midi);
  }
}

/** Copies in other keys have the same findings; each step of a line has the notes of the step before and more, and the last is the line. */
function checkCopies({ assist, title }: PlacedOffer, before: Snapshot, after: Snapshot): void {
  if (assist === 'twelve-keys') {
    const own = severe(before, 0);
    expect(
      after.phrases.slice(0, 12).map((_, i) => severe(after, i)),
      title,
    ).toEqual(Array.from({ length: 12 }, () => own));
    return;
  }
  const steps = after.phrases.slice(0, after.phrases.length - before.phrases.length + 1).map(({ phrase }) => phrase);
  expect(steps.length, title).toBeGreaterThan(1);
  expect(soundsOf(steps[steps.length - 1]!)).toEqual(soundsOf(before.phrases[0]!.phrase));
  for (const [i, step] of steps.entries()) {
    expect(barLengths(step)).toEqual(barLengths(before.phrases[0]!.phrase));
    if (i > 0) expect(step.notes.length, `${title}\n${after.text}`).toBeGreaterThan(steps[i - 1]!.notes.length - 1);
  }
}

test('transposing then acting is acting then transposing', () => {
  let cases = 0;
  let runs = 0;
  // Sound is what counts: how a note is spelled may differ where a key would need double accidentals.
  const keyless = new Set([...SOUND_STAYS, 'transpose', 'twelve-keys', 'octave']);
  const classes = (text: string): string[] =>
    openSnapshot(URI, 1, text).phrases.map(({ phrase }) =>
      phrase.notes.map(({ onset, midi }) => `${onset.toFraction()} ${midi % 12}`).join(' '),
    );
  always(
    fc.property(
      anyPhrase,
      fc.nat(),
      fc.constantFrom({ diatonic: 2, chromatic: 3 }, { diatonic: 3, chromatic: 5 }, { diatonic: -1, chromatic: -2 }),
      ({ text }, pick, shift) => {
        // Here too chance decides how much a phrase gives to compare.
        runs += 1;
        if (runs > 300 && cases > 500) return;
        const snapshot = openSnapshot(URI, 1, text);
        const placed = snapshot.phrases[0]!;
        if (snapshot.phrases.length > 1) return;
        const moved = transposedText(snapshot, placed.phrase, shift, hasAbsoluteChord(placed.phrase));
        if (moved === null) return;
        const other = openSnapshot(URI, 1, text.slice(0, placed.start) + moved);
        // At the ends of a part's range an action is refused where a note would fall outside it, in one key and not in the other.
        const isMid = ({ phrase }: Snapshot['phrases'][number]): boolean => phrase.notes.every(({ midi }) => midi > 33 && midi < 96);
        if (!isMid(placed) || !isMid(other.phrases[0]!)) return;
        const own = { asked: places(placed, pick), there: places(other.phrases[0]!, pick) };
        if (own.asked.length !== own.there.length) return;
        own.asked.forEach((asked, i) => {
          if ((i + pick) % 4 !== 0) return;
          const acting = (from: Snapshot, at: Asked): PlacedOffer[] =>
            offersAt(from, at, DEFAULT_THEORY, fail).filter(({ assist }) => !keyless.has(assist));
          const here = acting(snapshot, asked);
          const there = acting(other, own.there[i]!);
          expect(
            there.map(({ assist }) => assist),
            `${text}\n${moved}\n${here.map(({ title }) => title).join('\n')}\n--\n${there.map(({ title }) => title).join('\n')}`,
          ).toEqual(here.map(({ assist }) => assist));
          here.forEach((offer, k) => {
            if ((k + pick) % 3 !== 0) return;
            cases += 1;
            const rotate = (line: string): string =>
              line
                .split(' ')
                .map((word, w) => (w % 2 === 1 ? String((Number(word) + shift.chromatic + 12) % 12) : word))
                .join(' ');
            expect(classes(applied(other.text, there[k]!)), offer.title).toEqual(classes(applied(text, offer)).map(rotate));
          });
        });
      },
    ),
    { ...RUN, numRuns: 1_500 },
  );
  console.log(`cases: ${cases}`);
  expect(cases).toBeGreaterThan(500);
}, 300_000);
