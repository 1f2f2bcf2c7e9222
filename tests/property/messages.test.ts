/** Every sentence that a finding says is whole: no empty fact, no slip of the program, on any text. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { devicesAt } from '../../server/src/analysis/devices/read';
import { explainPhrase } from '../../server/src/explain/document';
import { noteHover } from '../../server/src/features/hover/note';
import { scoreAt } from '../../server/src/features/score/index';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf, problemsAbout, problemsOf } from '../../server/src/rules/findings';
import { always, junk, leadingPhraseArbitrary, lessonPhraseArbitrary, phraseArbitrary, RUN } from './arbitrary';

/** What an empty fact, or a value that is none, leaves in a sentence. `N.C.` may end one. */
const GAPS = /^\s|\s$|^$| {2,}|\(\s*\)|[“"']\s*[”"'](?![\w”"])|``|\bundefined\b|\bnull\b|\bNaN\b|\[object|(?<!N\.C)\.\.(?!\.)/;
/** Those, and a sign of punctuation that stands alone: where the file holds but well-formed music, no sentence names a rest or repeats a stray sign. */
const SLIPS = new RegExp(`${GAPS.source}| [,;:.!?](?:\\s|$)`);

function sentences(text: string): string[] {
  return findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY).flatMap(({ message, related, fixes }) => [
    message,
    ...related.map((one) => one.text),
    ...fixes.map(({ title }) => title),
  ]);
}

describe('what findings say', () => {
  test('the sign of an empty fact is known', () => {
    expect(
      ['It resolves to  ().', 'It resolves to E ().', 'Write ', 'the undefined of C7', 'Did you mean ?'].filter(
        (text) => !SLIPS.test(text),
      ),
    ).toEqual([]);
    expect(['F lands on beat 1 over Cmaj7: it is the 11.', 'Write “N.C.”.', 'say "…"'].filter((text) => SLIPS.test(text))).toEqual([]);
  });

  test('a note held from where nothing excuses it into a chord where it resolves says where to', () => {
    const said = [
      'phrase "A"\n  key C major\n  over | Cmaj7 Am7 |\n  line | E4 G-C# ~ C |\n',
      'phrase "A"\n  over | Cmaj7 | Dm7 |\n  line | E4 G C#-~ ~ | ~ D F A |\n',
    ].flatMap(sentences);
    expect(said.filter((text) => SLIPS.test(text))).toEqual([]);
    expect(
      said.some((text) => /C# is held into Am7.*It resolves (?:by step )?to C\b/.test(text)),
      said.join('\n'),
    ).toBe(true);
  });

  test.each([
    ['phrases', phraseArbitrary],
    ['lessons', lessonPhraseArbitrary],
    ['leading lines', leadingPhraseArbitrary],
  ] as const)('every sentence is whole, on random %s', (_, arbitrary) => {
    always(
      fc.property(arbitrary, ({ text }) => {
        expect(sentences(text).filter((one) => SLIPS.test(one))).toEqual([]);
      }),
      { ...RUN, numRuns: 400 },
    );
  });

  test('no weight is read before what can be no chord', () => {
    const said = sentences('phrase "A"\n  over | 12:line)()( |\n  line | E4 G C5 G |\n');
    expect(said.filter((one) => GAPS.test(withoutQuotes(one)))).toEqual([]);
    expect(said.join(' ')).not.toContain('weights');
  });

  test('what is offered is quoted where it ends with a rest', () => {
    expect(sentences('phrase "A"\n  over | Cmaj7 |\n  line | E4 G ~. C5 |\n').join(' ')).toContain('Write “~-.”.');
  });

  test('every sentence is whole, on text that is only half right', () => {
    always(
      fc.property(junk, (text) => {
        expect(sentences(text).filter((one) => GAPS.test(withoutQuotes(one)))).toEqual([]);
      }),
      { ...RUN, numRuns: 600 },
    );
  });
});

/** A sentence with what it repeats of the file, which may be anything, taken out of its quotes. */
function withoutQuotes(sentence: string): string {
  return sentence.replace(/“.+”/gs, '“x”');
}

describe('the device that a finding names', () => {
  test('is one of the note’s devices, in its hover, the score and the JSON', () => {
    let named = 0;
    always(
      fc.property(fc.oneof(phraseArbitrary, lessonPhraseArbitrary), ({ text }) => {
        const snapshot = openSnapshot('file:///a.phrase', 1, text);
        const { phrase } = snapshot.phrases[0]!;
        const reading = readPhrase(phrase, DEFAULT_THEORY);
        const json = explainPhrase(reading);
        const score = scoreAt(snapshot, snapshot.phrases[0]!.start, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' });
        for (const { about, facts } of problemsOf(reading)) {
          if (about === undefined || (facts['device'] ?? '') === '') continue;
          const device = devicesAt(reading, about.note).find(
            ({ kind, notes }) => kind.replaceAll('-', ' ') === facts['device'] && notes.includes(about.note),
          )!;
          expect(device, `${String(facts['device'])} in ${text}`).toBeDefined();
          expect(noteHover(reading, about.note)).toContain(`**${String(facts['device'])}**`);
          expect(json.notes[about.note]!.devices).toContain(device.id);
          expect(score.phrases[0]!.notes[about.note]!.label).toContain(String(facts['device']));
          named += 1;
        }
      }),
      { ...RUN, numRuns: 400 },
    );
    expect(named).toBeGreaterThan(20);
  });

  test('the devices of the JSON are those of each note', () => {
    always(
      fc.property(phraseArbitrary, ({ text }) => {
        const { devices, notes } = explainPhrase(readPhrase(openSnapshot('file:///a.phrase', 1, text).phrases[0]!.phrase, DEFAULT_THEORY));
        const ids = new Set(devices.map(({ id }) => id));
        expect(notes.flatMap((note) => note.devices).filter((id) => !ids.has(id))).toEqual([]);
        for (const { id, from, to, target } of devices)
          for (const note of [from, to, ...(target === null ? [] : [target])]) expect(notes[note]!.devices).toContain(id);
      }),
      { ...RUN, numRuns: 150 },
    );
  });
});

describe('whom findings are about', () => {
  test('a finding about a note stands where that note, or its figure, is written, and speaks of a sounding that it has', () => {
    always(
      fc.property(fc.oneof(phraseArbitrary, lessonPhraseArbitrary), ({ text }) => {
        for (const { phrase } of openSnapshot('file:///a.phrase', 1, text).phrases) {
          const reading = readPhrase(phrase, DEFAULT_THEORY);
          for (const { rule, range, about, facts } of problemsOf(reading)) {
            if (about === undefined) continue;
            const note = phrase.notes[about.note]!;
            if (rule !== 'wrong-figure' && rule !== 'figure-without-chord') expect(range).toEqual(note.range);
            if (about.sounding !== null) expect(reading.notes[about.note]!.soundings[about.sounding]!.bar).toBe(facts['bar']);
          }
          for (const { note, verdict } of reading.notes) {
            // Within a double chromatic enclosure no hint is given.
            const isSpared = verdict?.level === 'hint' && devicesAt(reading, note).some(({ kind }) => kind === 'double-chromatic');
            const count = problemsAbout(reading, note).filter(({ about }) => about!.sounding !== null).length;
            expect(count).toBe(verdict === null || (isSpared && count === 0) ? 0 : 1);
          }
        }
      }),
      { ...RUN, numRuns: 300 },
    );
  });

  test('the notes of a cell, which share one place, have each its own', () => {
    const text = 'cell lean = F4-E F-A\n\nphrase "A"\n  over | Cmaj7 | Cmaj7 |\n  line | lean lean | E4 G C ~ |\n';
    const { phrase } = openSnapshot('file:///a.phrase', 1, text).phrases[0]!;
    const reading = readPhrase(phrase, DEFAULT_THEORY);
    const told = problemsOf(reading).map(({ about }) => about!.note);
    expect(new Set(told).size).toBe(told.length);
    expect(told.length).toBeGreaterThan(1);
    expect(told.every((note) => phrase.notes[note]!.cell !== null)).toBe(true);
  });
});
