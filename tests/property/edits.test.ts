/** A version of a document that was made of the one before it and an edit is what opening its text afresh would be, in all that is kept from one to the next. */
import fc from 'fast-check';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { expect, test } from 'vitest';
import { parseSlice } from '../../grammar/parser';
import { resliceFile, sliceFile, type TextEdited } from '../../grammar/slices';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { codeLenses } from '../../server/src/features/code-lenses';
import { folds } from '../../server/src/features/folding';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { documentSymbols } from '../../server/src/features/symbols';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { toDiagnostic, toSymbol } from '../../server/src/protocol/convert';
import { editedAgain } from '../../server/src/protocol/documents';
import { symbolsIn } from '../../server/src/protocol/handlers/symbols';
import { isSameTold, toldOf, type Told } from '../../server/src/protocol/told';
import { findingsOf } from '../../server/src/rules/findings';
import { always, junk, RUN } from './arbitrary';
import { expectEqual } from './equal';

const URI = 'file:///a.phrase';

/** Lines on which the cuts depend, and what a file is made of. */
const line = fc.constantFrom(
  'phrase "A"',
  'phrase "B"',
  'lesson "L"',
  'changes turn = | C7 | F7 |',
  'changes turn = | Dm7 |',
  'changes bad = | Zz |',
  'cell climb = 1-2 3-5',
  'cell fall = 5-3',
  '  over | C7 | Fmaj7 |',
  '  over turn',
  '  over home',
  '  line | F4 F E C | climb ~ ~ |',
  '  line | C4 E G E |',
  '  | F4-G A-C ~ . |',
  '  degrees | 1 3 5 3 |',
  '  key F major',
  '  kye F',
  '// one',
  '  // two',
  '',
  '   ',
  'stray words',
  '\uFEFFphrase "C"',
  'prase "D"',
  'Phrase "E"',
  'prase',
  '  say "Play the',
  'about "Each',
  '  phrase twice, then sing.',
  '  changes lead the ear, and',
  '  cell is built',
  '  lesson by lesson."',
);
const lesson = fc
  .array(fc.tuple(line, fc.constantFrom('\n', '\n', '\r\n', '\r', '')), { maxLength: 40, size: 'max' })
  .map((lines) => lines.flat().join(''));
/** Where from, how much is taken away, what is put there. */
const edit = fc.tuple(
  fc.nat(),
  fc.oneof(fc.nat({ max: 3 }), fc.nat({ max: 60 })),
  fc.oneof(
    lesson.map((text) => text.slice(0, 80)),
    fc.constantFrom('', ' ', '\n', '\r', '/', '//', 'phrase', 'x', '"', '|'),
    junk,
  ),
);
const versions = fc.tuple(
  fc.oneof({ weight: 4, arbitrary: lesson }, junk),
  fc.array(fc.array(edit, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 4 }),
);

/** Parts with findings and without, one with a place in a definition, with nothing wrong among them; few characters are written or taken away. */
const part = fc.constantFrom(
  'phrase "Clean"\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D | E ~ ~ ~ |\n',
  'phrase "Clash"\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C B-G F-D | F ~ ~ ~ |\n',
  'phrase "Name"\n  over | C7 |\n  line | clim 5 3 1 |\n',
  'phrase "Cell"\n  over | C7 |\n  line | climb ~ ~ |\n',
  '// a comment\n\n',
);
const small = fc.tuple(fc.nat(), fc.nat({ max: 1 }), fc.constantFrom('', '', 'x', ' ', '\n', '4'));
const tidy = fc.tuple(
  fc.array(part, { minLength: 2, maxLength: 8 }).map((parts) => `cell climb = 1-2 3-5\n\n${parts.join('\n')}`),
  fc.array(fc.array(small, { minLength: 1, maxLength: 2 }), { minLength: 1, maxLength: 4 }),
);

/** Makes edits one after the other; answers the text, and all of them as one. */
function edited(text: string, edits: readonly (readonly [number, number, string])[]): { readonly text: string; readonly as: TextEdited } {
  let current = text;
  let as: TextEdited | null = null;
  for (const [from, length, put] of edits) {
    const start = from % (current.length + 1);
    const end = Math.min(current.length, start + length);
    current = current.slice(0, start) + put + current.slice(end);
    as = editedAgain(as, { start, end, length: put.length });
  }
  return { text: current, as: as! };
}

test('edits made one after the other are one edit', () => {
  fc.assert(
    fc.property(lesson, fc.array(edit, { minLength: 1, maxLength: 5 }), (before, edits) => {
      const { text, as } = edited(before, edits);
      expect(before.slice(0, as.start) + text.slice(as.start, as.start + as.length) + before.slice(as.end)).toBe(text);
    }),
    { ...RUN, numRuns: 500 },
  );
});

test('slices cut again around an edit are those of the whole text', () => {
  let kept = 0;
  fc.assert(
    fc.property(versions, ([before, edits]) => {
      const old = sliceFile(before).map((slice) => ({ ...slice, keyword: keywordOf(slice.text) }));
      const { text, as } = edited(before, edits[0]!);
      const { from, to, fresh } = resliceFile(text, old.length, (index) => old[index]!, as);
      const by = text.length - before.length;
      const all = [...old.slice(0, from), ...fresh, ...old.slice(to).map((slice) => ({ ...slice, start: slice.start + by }))];
      expect(all.map(({ start, text: slice }) => ({ start, text: slice }))).toEqual(sliceFile(text));
      kept += from + old.length - to;
    }),
    { ...RUN, numRuns: 3000 },
  );
  expect(kept).toBeGreaterThan(1000);
});

function keywordOf(slice: string): string {
  return parseSlice(slice).item.kind.replace('stray', '');
}

test('findings, outline, folds and lenses after edits are those of the text opened afresh', () => {
  fc.assert(
    fc.property(versions, ([first, edits]) => {
      let snapshot = openSnapshot(URI, 1, first);
      told(snapshot);
      edits.forEach((some, i) => {
        const { text, as } = edited(snapshot.text, some);
        snapshot = openSnapshot(URI, i + 2, text, snapshot, as);
        expectEqual(told(snapshot), told(openSnapshot(URI, i + 2, text)));
      });
    }),
    { ...RUN, numRuns: 500 },
  );
});

test('findings and outline as a client is told them, kept slice by slice, are those of the text opened afresh', () => {
  let same = 0;
  always(
    fc.property(fc.oneof(versions, tidy), ([first, edits]) => {
      let snapshot = openSnapshot(URI, 1, first);
      let before = toldIn(snapshot);
      symbolsIn(documentOf(snapshot), snapshot);
      edits.forEach((some, i) => {
        const { text, as } = edited(snapshot.text, some);
        snapshot = openSnapshot(URI, i + 2, text, snapshot, as);
        const now = toldIn(snapshot);
        const document = documentOf(snapshot);
        const afresh = openSnapshot(URI, i + 2, text);
        expectEqual(
          now.flat(),
          findingsOf(afresh, DEFAULT_THEORY).map((finding) => toDiagnostic(document, finding, 'manual')),
        );
        expectEqual(
          symbolsIn(document, snapshot),
          documentSymbols(afresh).map((symbol) => toSymbol(document, symbol)),
        );
        if (isSameTold(before, now)) {
          expectEqual(now, before);
          if (now.length > 0) same += 1;
        }
        before = now;
      });
    }),
    { ...RUN, numRuns: 500 },
  );
  expect(same).toBeGreaterThan(20);
});

function documentOf({ version, text }: Snapshot): TextDocument {
  return TextDocument.create(URI, 'phrase', version, text);
}

function toldIn(snapshot: Snapshot): Told {
  return toldOf({ document: documentOf(snapshot), snapshot, theory: DEFAULT_THEORY, manual: 'manual' });
}

/** All that is kept from version to version. */
function told(snapshot: Snapshot): unknown {
  return {
    slices: snapshot.slices.map(({ start, parsed }) => [start, parsed.text]),
    phrases: snapshot.phrases.map(({ start, phrase }) => [start, phrase.text, phrase.bars.length]),
    names: [...snapshot.definitions.changes.keys(), ...snapshot.definitions.cells.keys()],
    problems: snapshot.problems,
    findings: findingsOf(snapshot, DEFAULT_THEORY),
    symbols: documentSymbols(snapshot),
    folds: folds(snapshot),
    lenses: codeLenses(snapshot, { ...DEFAULT_SETTINGS, codeLenses: true }),
  };
}
