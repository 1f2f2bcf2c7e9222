/** A figure that is shown can be copied: into a `degrees` row and into the line it is accepted, and names the same sound. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { holdingClaims } from '../../server/src/analysis/claims/holding';
import { shownFigure } from '../../server/src/analysis/shown-figure';
import { tell } from '../../server/src/explain/telling/tell';
import { noteHover } from '../../server/src/features/hover/note';
import { formatFigure } from '../../server/src/theory/figure';
import type { Chord } from '../../server/src/theory/types';
import { degreesEdits } from '../../server/src/assists/writing/degrees-row';
import { scoreAt } from '../../server/src/features/score/index';
import { inlayHints } from '../../server/src/features/inlay-hints';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { applyEdits } from '../../grammar/printer';
import { always, chordSymbol, phraseArbitrary, RUN } from './arbitrary';

const open = (text: string): Snapshot => openSnapshot('file:///a.phrase', 1, text);
const errors = (snapshot: Snapshot): string[] =>
  findingsOf(snapshot, DEFAULT_THEORY)
    .filter(({ severity }) => severity === 'error')
    .map(({ message }) => message);

test('the figures of the score, copied into a degrees row, are right', () => {
  always(
    fc.property(phraseArbitrary, ({ text }) => {
      const snapshot = open(text);
      const { phrase } = snapshot.phrases[0]!;
      const score = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      const figures = score.notes.map(({ figure }) => figure ?? '*');
      // A row of the figures as they stand in the picture: one to a slot.
      const bars = phrase.bars.map((bar) =>
        phrase.groups
          .filter((group) => group.bar === bar.number)
          .map((group) => group.slots.map((slot) => (slot.kind === 'note' && slot.note !== null ? figures[slot.note]! : '*')).join('-'))
          .join(' '),
      );
      const row = phrase.bars[0]!.pickup ? `${bars[0]} | ${bars.slice(1).join(' | ')}` : `| ${bars.join(' | ')}`;
      expect(errors(open(`${text}  degrees ${row} |\n`))).toEqual([]);
      expect(errors(open(applyEdits(phrase.text, degreesEdits(readPhrase(phrase, DEFAULT_THEORY)))))).toEqual([]);
    }),
    { ...RUN, numRuns: 300 },
  );
}, 120_000);

test('the figure shown for a note, typed into the line, is the same sound and no error', () => {
  always(
    fc.property(phraseArbitrary, fc.nat(), ({ text }, pick) => {
      const snapshot = open(text);
      const { phrase } = snapshot.phrases[0]!;
      const reading = readPhrase(phrase, DEFAULT_THEORY);
      const score = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      // An anticipation is named over the next chord, a degree in the line is read over its own; a pickup is over none.
      const plain = phrase.notes.filter(({ index, span }) => span !== null && reading.notes[index]!.placement?.span === span);
      if (plain.length === 0) return;
      const note = plain[pick % plain.length]!;
      const figure = score.notes[note.index]!.figure!;
      const typed = applyEdits(text, [{ range: note.node.head.range, text: figure }]);
      const again = open(typed);
      expect(errors(again)).toEqual([]);
      expect(again.phrases[0]!.phrase.notes[note.index]!.midi % 12, `${figure} in\n${typed}`).toBe(note.midi % 12);
    }),
    { ...RUN, numRuns: 400 },
  );
}, 120_000);

test('the hints after notes are the figures of the score', () => {
  always(
    fc.property(phraseArbitrary, ({ text }) => {
      const snapshot = open(text);
      const score = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      const hints = inlayHints(snapshot, 0, text.length, DEFAULT_SETTINGS);
      expect(hints.map(({ offset }) => score.notes.find(({ end }) => end === offset)?.figure)).toEqual(hints.map(({ label }) => label));
    }),
    { ...RUN, numRuns: 100 },
  );
}, 120_000);

/** The figures of the trade; 2, 4, 6 and bb7 where the chord writes them. `n` is the sign of the natural value, which `degrees` rows read. */
const TRADE = new Set(['1', 'b9', '9', '#9', 'b3', '3', '11', '#11', 'b5', '5', '#5', 'b13', '13', '6', 'b7', '7']);

function isOfTheTrade(figure: string, chord: Chord): boolean {
  if (TRADE.has(figure.replace(/^n/, ''))) return true;
  return ['2', '4', 'bb7'].includes(figure) && chord.tones.some((tone) => formatFigure(tone.figure) === figure);
}

test('every figure that is shown is one of the trade’s: hints, score, hovers, messages, walk-through, claims that hold', () => {
  always(
    fc.property(fc.oneof(phraseArbitrary, spelledPhrase), ({ text }) => {
      const snapshot = open(text);
      const { phrase } = snapshot.phrases[0]!;
      const reading = readPhrase(phrase, DEFAULT_THEORY);
      const score = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      const hints = new Map(inlayHints(snapshot, 0, text.length, DEFAULT_SETTINGS).map(({ offset, label }) => [offset, label]));
      const wrong: string[] = [];
      const hovers = reading.notes.map(({ note }) => noteHover(reading, note));
      for (const { note, placement, soundings } of reading.notes) {
        if (placement === null) continue;
        const chord = phrase.spans[placement.span]!.chord!;
        const hover = hovers[note]!;
        const shown = [score.notes[note]!.figure!, /is the \*\*([^*]+)\*\* of/.exec(hover)![1]!];
        const hint = hints.get(phrase.notes[note]!.range.end);
        if (hint !== undefined) shown.push(hint);
        if (new Set(shown).size !== 1 || shown.some((figure) => !isOfTheTrade(figure, chord)))
          wrong.push(`${shown.join(', ')} in ${hover}`);
        const held = soundings
          .filter((one) => one.held)
          .map((one) => [shownFigure(reading, one.placement), phrase.spans[one.placement.span]!.chord!] as const);
        wrong.push(...held.filter(([figure, over]) => !isOfTheTrade(figure, over)).map(([figure]) => `held: ${figure} in ${hover}`));
      }
      expect(wrong, text).toEqual([]);
      const said = [
        ...hovers,
        ...score.notes.map(({ label }) => label),
        ...tell(reading).map((sentence) => sentence.text),
        ...findingsOf(snapshot, DEFAULT_THEORY).map(({ message }) => message),
        ...holdingClaims(reading),
      ];
      expect(
        said.filter((words) => NEVER.test(words)),
        text,
      ).toEqual([]);
    }),
    { ...RUN, numRuns: 300 },
  );
}, 120_000);

/** What no one says. */
const NEVER =
  /(?:flat|sharp) (?:root|one|two|three|four|six|seven)\b|(?:raised|lowered) root|sharp thirteen|flat eleven|(?<![\w#])(?:#1|b1|b4|#3|#13|b11|#2|#4|#6|#7|b2|b6|##\d+|bb(?!7)\d+)(?![\w#b])/;

test('the sign of what no one says is known', () => {
  expect(['the #1 of C7', 'sharp root', 'a flat four', 'is the b11', '1-b4-5', 'bb3'].filter((words) => !NEVER.test(words))).toEqual([]);
  expect(['the #11 of C7', 'flat nine', 'Gb6', 'F#6/9', 'bb7', '1-b3-5', 'Bb4 falls'].filter((words) => NEVER.test(words))).toEqual([]);
});

/** Lines in pitches of any spelling. */
const spelledPhrase = fc
  .tuple(
    fc.array(
      fc.tuple(fc.constantFrom(...'CDEFGAB'), fc.constantFrom('', 'b', '#', 'bb', '##')).map((parts) => parts.join('')),
      { minLength: 8, maxLength: 8 },
    ),
    chordSymbol,
    chordSymbol,
    fc.boolean(),
  )
  .map(([notes, one, two, isTied]) => ({
    text: `phrase "Spelled"\n  over | ${one} | ${two} |\n  line | ${notes[0]}4-${notes[1]} ${notes.slice(2, 5).join(' ')} | ${isTied ? '~' : notes[5]} ${notes.slice(6).join(' ')} . |\n`,
  }));
