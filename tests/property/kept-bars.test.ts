/** Every code action leaves the bars it does not change exactly as they are written: octave figures, spacing, marks, cells, comments. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyEdits, formatText } from '../../grammar/printer';
import type { TextEdit } from '../../grammar/tree';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { ASSISTS, offersAt, type Asked, type PlacedOffer } from '../../server/src/assists/registry';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import type { Bar, Phrase } from '../../server/src/model/types';
import { pitchInText } from '../../server/src/theory/pitch';
import { always, leadingPhraseArbitrary, lessonPhraseArbitrary, phraseArbitrary, plainPhraseArbitrary, RUN } from './arbitrary';
import { aFew } from './few-offers';

/** Actions whose purpose is to write the whole line, or a cell's or a system's bars, anew. */
const WRITES_ANEW = new Set([
  'transpose',
  'displace',
  'harmonic-rhythm',
  'line-in-degrees',
  'line-in-pitches',
  'extract-cell',
  'inline-cell',
  'join-systems',
  'meter-bars',
  'file-lines',
]);

/** Actions that write a row beside the line: in a phrase that is laid out, the columns of both rows move together. */
const WRITES_BESIDE = new Set(['write-degrees', 'chords-in-numerals', 'numerals-in-chords', 'extract-changes', 'inline-changes']);

/** The action that numbers a line. */
const NUMBERS = ASSISTS.find(({ id }) => id === 'write-degrees')!;

const anyPhrase = fc.oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary, leadingPhraseArbitrary);

function fail(error: unknown): never {
  throw error;
}

/** As people write: spaces at will, octave figures where none is needed, comments behind rows. */
function roughened(text: string, pick: number): string {
  const { start, phrase } = openSnapshot('', 1, text).phrases[0]!;
  const edits = phrase.notes.flatMap((note, i): TextEdit[] => {
    const { head } = note.node;
    if ((i + pick) % 3 !== 0 || head.kind !== 'pitch' || head.octave !== null || note.cell !== null || note.direction !== null) return [];
    const figured = pitchInText(note.pitch);
    return figured === null ? [] : [{ range: { start: start + head.range.start, end: start + head.range.end }, text: figured }];
  });
  let count = pick;
  return applyEdits(text, edits)
    .split('\n')
    .map((line) => {
      if (!/^ +(line|over|degrees)/.test(line)) return line;
      return `${line.replace(/(?<=\S) (?=\S)/g, () => ' '.repeat(1 + ((count = (count * 7 + 3) % 11) % 3)))}${pick % 2 === 0 ? ' // as it was' : ''}`;
    })
    .join('\n');
}

function placesIn({ start, phrase }: Snapshot['phrases'][number], pick: number): Asked[] {
  const at = (from: number, to = from): Asked => ({ start: start + from, end: start + to, only: null });
  const note = phrase.notes[pick % Math.max(1, phrase.notes.length)];
  const group = phrase.groups[pick % Math.max(1, phrase.groups.length)];
  const last = group === undefined ? undefined : phrase.groups[phrase.groups.indexOf(group) + 2];
  const all = [
    at(2),
    ...(note === undefined ? [] : [at(note.range.start)]),
    ...(group === undefined || last === undefined ? [] : [at(group.range.start, last.range.end)]),
    ...phrase.item.rows.map(({ keyword }) => at(keyword.range.start)),
  ];
  return all.filter((_, i) => (i + pick) % 3 === 0);
}

/** What sounds in a bar and how it is named and marked; times within the bar. */
function music(phrase: Phrase, bar: Bar): string {
  const end = bar.onset.add(bar.length);
  return phrase.notes
    .filter((note) => note.onset.compare(end) < 0 && note.onset.add(note.duration).compare(bar.onset) > 0)
    .map((note) => {
      const [from, to] = [note.onset.sub(bar.onset), note.onset.add(note.duration).sub(end)];
      return [
        from.compare(0) < 0 ? '<' : from.toFraction(),
        to.compare(0) >= 0 ? '>' : to.toFraction(),
        note.midi,
        note.pitch.letter,
        note.marks.join('+'),
      ].join(' ');
    })
    .join(', ');
}

/** A bar's text; a note whose place in the text is given is left out of it. */
function textOf(phrase: Phrase, bar: Bar, without: number | null): string {
  const { start, end } = bar.node!.range;
  const range = without === null ? null : phrase.notes[without]!.node.range;
  const text =
    range === null ? phrase.text.slice(start, end) : `${phrase.text.slice(start, range.start)}*${phrase.text.slice(range.end, end)}`;
  return text.trim();
}

/** The first note that starts in a bar, if it is written there. */
function firstIn(phrase: Phrase, bar: Bar): number | null {
  const note = phrase.notes.find(({ onset }) => onset.compare(bar.onset) >= 0 && onset.compare(bar.onset.add(bar.length)) < 0);
  return note === undefined || note.cell !== null ? null : note.index;
}

function check(before: Phrase, after: Phrase, said: string, spaced: (text: string) => string): number {
  let kept = 0;
  // After a pickup that is new, or gone, the first note may need one.
  const hasPickup = ({ bars }: Phrase): boolean => bars.some(({ number }) => number === 0);
  let previousChanged = hasPickup(before) !== hasPickup(after);
  before.bars.forEach((bar) => {
    // A pickup may come or go.
    const now = after.bars.find(({ number }) => number === bar.number);
    if (now === undefined) return;
    const isSame = music(before, bar) === music(after, now);
    // A cell holds no octave figure: one that would move is written out.
    const isWrittenOut =
      previousChanged && before.notes.some((note) => note.cell !== null && note.bar === bar.number) && firstIn(before, bar) === null;
    if (isSame && !isWrittenOut && bar.node !== null && now.node !== null) {
      // The first note after a change may need an octave figure so that it stays where it is: that note's text alone may differ.
      const [was, is] = previousChanged ? [firstIn(before, bar), firstIn(after, now)] : [null, null];
      const spare = was !== null && is !== null;
      expect(spaced(textOf(after, now, spare ? is : null)), `${said}\nbar ${bar.number}`).toBe(
        spaced(textOf(before, bar, spare ? was : null)),
      );
      kept += 1;
    }
    previousChanged = !isSame || (previousChanged && firstIn(before, bar) === null);
  });
  // Comments stay, each once.
  const comments = (text: string): number => text.split('// as it was').length;
  expect(comments(after.text), said).toBeGreaterThanOrEqual(comments(before.text));
  return kept;
}

test('bars whose notes stay are written as they were, by every action but those that write the line anew', () => {
  const counts = new Map(ASSISTS.filter(({ id }) => !WRITES_ANEW.has(id)).map(({ id }) => [id, 0]));
  let kept = 0;
  always(
    fc.property(anyPhrase, fc.nat(1000), fc.constantFrom('rough', 'rough', 'formatted', 'numbered'), ({ text }, pick, how) => {
      const base = openSnapshot('', 1, text);
      const numbering =
        how === 'numbered'
          ? offersAt(
              base,
              { start: base.phrases[0]!.start + 2, end: base.phrases[0]!.start + 2, only: [NUMBERS.kind] },
              DEFAULT_THEORY,
              fail,
            ).find(({ assist }) => assist === NUMBERS.id)
          : undefined;
      const given = numbering === undefined ? text : applied(text, numbering);
      const source = how === 'formatted' ? formatText(given) : roughened(given, pick);
      const snapshot = openSnapshot('', 1, source);
      const { phrase } = snapshot.phrases[0]!;
      for (const offer of aFew(snapshot, placesIn(snapshot.phrases[0]!, pick), pick, counts)) {
        // Degrees say something else over the chords of the other mode.
        if (offer.assist === 'major-minor' && phrase.notes.some(({ node }) => node.head.kind === 'degree')) continue;
        counts.set(offer.assist, counts.get(offer.assist)! + 1);
        const changed = openSnapshot('', 2, applied(source, offer)).phrases;
        // Steps are written before the phrase, copies after it.
        const own = offer.assist === 'write-steps' ? changed[changed.length - snapshot.phrases.length]! : changed[0]!;
        const movesColumns = how === 'formatted' && WRITES_BESIDE.has(offer.assist);
        kept += check(
          phrase,
          own.phrase,
          `${offer.assist}: ${offer.title}\n${source}\n${own.phrase.text}`,
          movesColumns ? (line) => line.replace(/ +/g, ' ') : (line) => line,
        );
      }
    }),
    { ...RUN, numRuns: 200 },
  );
  console.log(`cases: ${[...counts].map(([id, count]) => `${id} ${count}`).join(', ')}; bars kept: ${kept}`);
  for (const id of [
    'simplify',
    'octave',
    'skeleton',
    'enclosure',
    'write-degrees',
    'write-claims',
    'twelve-keys',
    'write-steps',
    'extract-changes',
  ])
    expect(counts.get(id), id).toBeGreaterThan(0);
  expect(kept).toBeGreaterThan(500);
}, 120_000);

function applied(text: string, offer: PlacedOffer): string {
  return [...offer.edits()]
    .sort((a, b) => b.start - a.start)
    .reduce((result, edit) => result.slice(0, edit.start) + edit.text + result.slice(edit.end), text);
}
