/** A figure that is shown can be copied: into a `degrees` row and into the line it is accepted, and names the same sound. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { degreesEdits } from '../../server/src/assists/degrees-row';
import { scoreAt } from '../../server/src/features/score/index';
import { inlayHints } from '../../server/src/features/inlay-hints';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { applyEdits } from '../../grammar/printer';
import { phraseArbitrary, RUN } from './arbitrary';

const open = (text: string): Snapshot => openSnapshot('file:///a.phrase', 1, text);
const errors = (text: string): string[] => findingsOf(open(text), DEFAULT_THEORY).filter(({ severity }) => severity === 'error').map(({ message }) => message);

test('the figures of the score, copied into a degrees row, are right', () => {
  fc.assert(
    fc.property(phraseArbitrary, ({ text }) => {
      const snapshot = open(text);
      const { phrase } = snapshot.phrases[0]!;
      const score = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      const figures = score.notes.map(({ figure }) => figure ?? '*');
      // A row of the figures as they stand in the picture: one to a slot.
      const bars = phrase.bars.map((bar) => phrase.groups.filter((group) => group.bar === bar.number).map((group) => group.slots.map((slot) => (slot.kind === 'note' && slot.note !== null ? figures[slot.note]! : '*')).join('-')).join(' '));
      const row = phrase.bars[0]!.pickup ? `${bars[0]} | ${bars.slice(1).join(' | ')}` : `| ${bars.join(' | ')}`;
      expect(errors(`${text}  degrees ${row} |\n`)).toEqual([]);
      expect(errors(applyEdits(phrase.text, degreesEdits(readPhrase(phrase, DEFAULT_THEORY))))).toEqual([]);
    }),
    { ...RUN, numRuns: 300 },
  );
}, 120_000);

test('the figure shown for a note, typed into the line, is the same sound and no error', () => {
  fc.assert(
    fc.property(phraseArbitrary, fc.nat(), ({ text }, pick) => {
      const { phrase } = open(text).phrases[0]!;
      const reading = readPhrase(phrase, DEFAULT_THEORY);
      const score = scoreAt(open(text), 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      // An anticipation is named over the next chord, a degree in the line is read over its own; a pickup is over none.
      const plain = phrase.notes.filter(({ index, span }) => span !== null && reading.notes[index]!.placement?.span === span);
      if (plain.length === 0) return;
      const note = plain[pick % plain.length]!;
      const figure = score.notes[note.index]!.figure!;
      const typed = applyEdits(text, [{ range: note.node.head.range, text: figure }]);
      const again = open(typed);
      expect(errors(typed)).toEqual([]);
      expect(again.phrases[0]!.phrase.notes[note.index]!.midi % 12, `${figure} in\n${typed}`).toBe(note.midi % 12);
    }),
    { ...RUN, numRuns: 400 },
  );
}, 120_000);

test('the hints after notes are the figures of the score', () => {
  fc.assert(
    fc.property(phraseArbitrary, ({ text }) => {
      const snapshot = open(text);
      const score = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!;
      for (const { offset, label } of inlayHints(snapshot, 0, text.length, DEFAULT_SETTINGS)) {
        expect(score.notes.find(({ end }) => end === offset)?.figure).toBe(label);
      }
    }),
    { ...RUN, numRuns: 100 },
  );
}, 120_000);
