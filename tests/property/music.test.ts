/** What must hold of the analysis for any phrase. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../grammar/printer';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { progressionsOf } from '../../server/src/analysis/progressions';
import { settingOf } from '../../server/src/analysis/setting';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { transpositionEdits } from '../../server/src/assists/vary/transposing';
import { actionsAt } from '../../server/src/features/code-actions';
import { explainDocument } from '../../server/src/explain/document';
import { fixAll } from '../../server/src/features/fix-all';
import { folds } from '../../server/src/features/folding';
import { hoverAt } from '../../server/src/features/hover/index';
import { inlayHints } from '../../server/src/features/inlay-hints';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { documentSymbols } from '../../server/src/features/symbols';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import type { Phrase } from '../../server/src/model/types';
import { formatFigure, writeDegree } from '../../server/src/theory/figure';
import { formatPitch, midi, nearestOctave, nextAbove, nextBelow } from '../../server/src/theory/pitch';
import { always, junk, phraseArbitrary, RUN } from './arbitrary';
import { expectEqual } from './equal';

const URI = 'file:///a.phrase';
const SHIFTS = [
  [0, 1],
  [1, 1],
  [1, 2],
  [2, 3],
  [2, 4],
  [3, 5],
  [3, 6],
  [4, 6],
  [4, 7],
  [5, 8],
  [5, 9],
  [6, 10],
  [6, 11],
].map(([diatonic, chromatic]) => ({ diatonic: diatonic!, chromatic: chromatic! }));

function openText(text: string): Snapshot {
  return openSnapshot(URI, 1, text);
}

/** Everything the analysis says that must not depend on the key. */
function judgement(snapshot: Snapshot) {
  return snapshot.phrases.map(({ phrase }) => {
    const reading = readPhrase(phrase, DEFAULT_THEORY);
    return {
      setting: settingOf(reading),
      progressions: progressionsOf(reading).map(({ id, from, to, numerals }) => ({ id, from, to, numerals })),
      devices: devicesOf(reading).map(({ id, notes, target }) => ({ id, notes, target })),
      scales: reading.scales.map((scale) => scale?.name),
      notes: reading.notes.map((note) => ({
        degree: note.placement === null ? null : formatFigure(note.placement.figure),
        role: note.placement?.role,
        borrowed: note.placement?.borrowed,
        strong: note.strong,
        anticipation: note.anticipation,
        verdict: note.verdict,
        excuses: note.soundings.map(({ excuse }) => excuse),
      })),
      // What is said of a spelling depends on the key: B over Abm7 is a plain Cb, and in the next key nothing plainer than the chord's own name.
      rules: findingsOf(snapshot, DEFAULT_THEORY)
        .map(({ rule, severity }) => `${rule} ${severity}`)
        .filter((rule) => !/^(?:out-of-range|spelling-against-chord)/.test(rule)),
    };
  });
}

/** A phrase's text with every note but the first as a degree of its chord, where a direction can place it. */
function inDegrees(phrase: Phrase): string {
  const edits = phrase.notes.slice(1).flatMap((note, i) => {
    const chord = note.span === null ? null : phrase.spans[note.span]!.chord;
    if (chord === null) return [];
    const from = phrase.notes[i]!.midi;
    const candidates = { '': nearestOctave(note.pitch, from), '/': nextAbove(note.pitch, from), '\\': nextBelow(note.pitch, from) };
    const direction = (Object.entries(candidates).find(([, pitch]) => midi(pitch) === note.midi) ?? [null])[0];
    if (direction === null) return [{ range: note.node.head.range, text: formatPitch(note.pitch) }];
    const marks = phrase.text.slice(note.node.head.range.end, note.range.end);
    return [{ range: note.range, text: `${direction}${writeDegree(chord, note.pitch)}${marks}` }];
  });
  const first = phrase.notes[0];
  const fixed = first === undefined ? [] : [{ range: first.node.head.range, text: formatPitch(first.pitch) }];
  return applyEdits(phrase.text, [...fixed, ...edits]);
}

/** Without the findings that speak of how a degree is written. */
function musical(judged: ReturnType<typeof judgement>): unknown {
  return judged.map(({ rules, ...rest }) => ({ ...rest, rules: rules.filter((rule) => /^(?:clash|rub|resolved|borrowed)/.test(rule)) }));
}

describe('a phrase', () => {
  test('says the same in every key: degrees, roles, scales and findings', () => {
    let compared = 0;
    always(
      fc.property(phraseArbitrary, fc.constantFrom(...SHIFTS), ({ text }, shift) => {
        const before = openText(text);
        const { phrase } = before.phrases[0]!;
        const edits = transpositionEdits(phrase.text, phrase.item, shift);
        if (edits === null) return;
        compared += 1;
        expectEqual(judgement(openText(applyEdits(phrase.text, edits))), judgement(before));
      }),
      { ...RUN, numRuns: 500 },
    );
    expect(compared).toBeGreaterThan(200);
  });

  test('says the same when its line is written in degrees', () => {
    always(
      fc.property(phraseArbitrary, ({ text }) => {
        const before = openText(text);
        const after = openText(inDegrees(before.phrases[0]!.phrase));
        expect(after.phrases[0]!.phrase.notes.map(({ midi }) => midi)).toEqual(before.phrases[0]!.phrase.notes.map(({ midi }) => midi));
        expectEqual(musical(judgement(after)), musical(judgement(before)));
      }),
      { ...RUN, numRuns: 300 },
    );
  });

  test('says the same when all durations are halved with the meter', () => {
    always(
      fc.property(phraseArbitrary, ({ text, meter }) => {
        const [beats, unit] = meter.split('/');
        const halved = text.replace(`meter   ${meter}`, `meter   ${beats}/${Number(unit) * 2}`);
        expectEqual(judgement(openText(halved)), judgement(openText(text)));
      }),
      { ...RUN, numRuns: 300 },
    );
  });

  test('has notes in order that fill no more than its bars', () => {
    always(
      fc.property(phraseArbitrary, ({ text }) => {
        const { phrase } = openText(text).phrases[0]!;
        const end = phrase.bars.at(-1)!.onset.add(phrase.bars.at(-1)!.length);
        expect(phrase.notes.filter(({ duration }) => duration.compare(0) <= 0)).toEqual([]);
        expect(phrase.notes.filter(({ onset, duration }, i) => onset.add(duration).compare(phrase.notes[i + 1]?.onset ?? end) > 0)).toEqual(
          [],
        );
      }),
      { ...RUN, numRuns: 300 },
    );
  });
});

describe('any text', () => {
  test('is answered by every feature without throwing', () => {
    always(
      fc.property(junk, fc.nat(), (text, pick) => {
        const snapshot = openText(text);
        const at = pick % (text.length + 1);
        const onError = (error: unknown): never => {
          throw error;
        };
        findingsOf(snapshot, DEFAULT_THEORY);
        hoverAt(snapshot, at, DEFAULT_THEORY);
        inlayHints(snapshot, 0, text.length, DEFAULT_SETTINGS);
        documentSymbols(snapshot);
        folds(snapshot);
        explainDocument(snapshot, DEFAULT_THEORY);
        actionsAt(snapshot, at, at, DEFAULT_SETTINGS, onError);
      }),
      { ...RUN, numRuns: 800 },
    );
  });

  test('has findings whose ranges and fixes lie in it', () => {
    always(
      fc.property(junk, (text) => {
        const isOutside = ({ start, end }: { readonly start: number; readonly end: number }): boolean =>
          !(0 <= start && start <= end && end <= text.length);
        const findings = findingsOf(openText(text), DEFAULT_THEORY);
        expect(findings.filter((finding) => isOutside(finding) || finding.fixes.some(({ edits }) => edits.some(isOutside)))).toEqual([]);
        expect(findings.map(({ message }) => message).filter((message) => /undefined|\[object/.test(message))).toEqual([]);
      }),
      { ...RUN, numRuns: 800 },
    );
  });

  test('is mended by all safe fixes to a text that they leave alone', () => {
    always(
      fc.property(junk, (text) => {
        const { text: mended } = fixAll(text, DEFAULT_THEORY);
        expect(fixAll(mended, DEFAULT_THEORY)).toMatchObject({ text: mended, applied: [] });
      }),
      { ...RUN, numRuns: 400 },
    );
  });

  test('is the same after any edits as opened afresh', () => {
    always(
      fc.property(junk, fc.array(fc.tuple(fc.nat(), fc.nat({ max: 12 }), junk), { minLength: 1, maxLength: 4 }), (text, edits) => {
        let snapshot = openText(text);
        let current = text;
        edits.forEach(([from, length, inserted], i) => {
          const at = from % (current.length + 1);
          current = current.slice(0, at) + inserted.slice(0, 40) + current.slice(at + length);
          snapshot = openSnapshot(URI, i + 2, current, snapshot);
        });
        const fresh = openText(current);
        expectEqual(findingsOf(snapshot, DEFAULT_THEORY), findingsOf(fresh, DEFAULT_THEORY));
        expectEqual(explainDocument(snapshot, DEFAULT_THEORY), explainDocument(fresh, DEFAULT_THEORY));
      }),
      { ...RUN, numRuns: 400 },
    );
  });
});
