/** The menu of code actions, and the list of all forms behind its last entry. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ASSISTS } from '../../../server/src/assists/registry';
import {
  actionNamed,
  actionsAt,
  actionsInPieces,
  formsAt,
  formsInPieces,
  groupedForms,
  type Form,
} from '../../../server/src/features/code-actions';
import { DEFAULT_SETTINGS } from '../../../server/src/features/options';
import { asItWouldBe } from '../../../server/src/features/score/instead';
import { scoreAt } from '../../../server/src/features/score/index';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import type { Pieces } from '../../../server/src/model/pieces';
import { openSnapshot, type Snapshot } from '../../../server/src/model/snapshot';
import { always, lessonPhraseArbitrary, phraseArbitrary, RUN } from '../../property/arbitrary';
import { atCursor, edited } from './cursor';

function fail(error: unknown): never {
  throw error;
}

const menu = ({ snapshot, at }: { snapshot: Snapshot; at: number }, only: string[] | null = null): string[] =>
  actionsAt(snapshot, at, at, DEFAULT_SETTINGS, fail, only).map(({ title }) => title);
const forms = ({ snapshot, at }: { snapshot: Snapshot; at: number }): readonly Form[] => formsAt(snapshot, at, at, DEFAULT_SETTINGS, fail);

/** What work in pieces answers, and in how many it comes. */
function counted<R>(work: Pieces<R>): { readonly answer: R; readonly pieces: number } {
  for (let pieces = 1; ; pieces += 1) {
    const { done, value } = work.next();
    if (done === true) return { answer: value, pieces };
  }
}

const HELD = 'phrase "Quay"\n  key C major\n  over | G7 | Cmaj7 |\n  line | G4 B D ~ | ¦G ~ E ~ |\n';

describe('the menu', () => {
  test('has one entry a device, in its likeliest form, its title showing the notes, and a last one for the rest', () => {
    const titles = menu(atCursor(HELD));
    expect(titles.filter((title) => title.startsWith('Enclose'))).toEqual(['Enclose G: A-F G']);
    expect(titles.filter((title) => title.startsWith('Approach')).length).toBeLessThanOrEqual(2);
    expect(titles[titles.length - 1]).toBe('More …');
    expect(titles.length).toBeLessThanOrEqual(12);
  });

  test('comes in pieces, one an action at most, and all forms for a selection in one a note at most where an action is tried on each: between them it can be put off', () => {
    const { snapshot, at } = atCursor(HELD);
    const tried = counted(actionsInPieces(snapshot, at, at, DEFAULT_SETTINGS, fail));
    expect(tried.answer.map(({ title }) => title)).toEqual(menu({ snapshot, at }));
    expect(tried.pieces).toBeGreaterThan(tried.answer.length);
    const [start, end] = [HELD.indexOf('G4'), HELD.lastIndexOf('|')];
    const all = counted(formsInPieces(snapshot, start, end, DEFAULT_SETTINGS, fail));
    expect(all.answer.length).toBeGreaterThan(0);
    const repeating = ASSISTS.filter(({ repeats }) => repeats === true).length;
    expect(repeating).toBeGreaterThan(5);
    expect(all.pieces).toBeGreaterThan((snapshot.phrases[0]!.phrase.notes.length * repeating) / 2 + ASSISTS.length);
  });

  test('lists all forms of an action that is asked for by its own kind, each with a name of its own', () => {
    const titles = menu(atCursor(HELD), ['refactor.rewrite.enclosure']);
    expect(titles.length).toBeGreaterThan(5);
    expect(new Set(titles).size).toBe(titles.length);
    expect(titles[0]).toBe('Enclose G: A-F G (above–below, diatonic, from the hold before)');
    expect(titles).not.toContain('More …');
  });

  describe('says bar and beat of a fix for another note than the one at the cursor', () => {
    // F is the 11 of Cmaj7, on beat 1 of bar 3.
    const FLAGGED =
      'phrase "Quay"\n  key C major\n  over | Dm7 | G7 | Cmaj7 |\n  line | D4-F A-C5 B-A G-F | G-B D-F E-D B-G | ¦F ~ ~ . |\n';

    test('where fixes alone are asked for, as an editor does for the findings of the cursor’s line', () => {
      const found = atCursor(FLAGGED);
      expect(menu(found).slice(0, 2)).toEqual(['Move F down to the chord tone E', 'Move F up to the chord tone G']);
      const elsewhere = menu({ ...found, at: found.at + 1 }, ['quickfix']);
      expect(elsewhere.slice(0, 2)).toEqual([
        'Bar 3, beat 1: move F down to the chord tone E',
        'Bar 3, beat 1: move F up to the chord tone G',
      ]);
      expect(elsewhere.filter((title) => !title.startsWith('Bar 3, beat 1: '))).toEqual([]);
      expect(elsewhere[elsewhere.length - 1]).toBe('Bar 3, beat 1: more …');
    });

    test('where a selection reaches beyond the note', () => {
      const { snapshot, at } = atCursor(FLAGGED);
      const titles = (start: number, end: number): string[] =>
        actionsAt(snapshot, start, end, DEFAULT_SETTINGS, fail).map(({ title }) => title);
      expect(titles(at, at + 1)).toContain('Move F down to the chord tone E');
      expect(titles(at, at + 3)).toContain('Bar 3, beat 1: move F down to the chord tone E');
    });

    test('the bar alone where the finding is of the bar, and what it does is found again by that title', () => {
      const { snapshot, at } = atCursor('phrase "Quay"\n  over | Dm7 | G7 |\n  line | D4-F A C5 A ¦F | G ~ ~ . |\n');
      const [fix] = actionsAt(snapshot, at, at, DEFAULT_SETTINGS, fail, ['quickfix']);
      expect(fix!.title).toBe('Bar 1: halve the last values: A-F');
      const again = actionNamed(
        snapshot,
        { start: at, end: at, only: ['quickfix'], kind: fix!.kind, name: fix!.name },
        DEFAULT_SETTINGS,
        fail,
      );
      expect(again!.edits()).toEqual(fix!.edits());
    });
  });

  test('does at the cursor what it offers there, and not what the same action asked for by its kind does elsewhere', () => {
    const system = (chord: string): string => `  over | ${chord} |\n  line | D4 F A ~ |\n`;
    const { snapshot, at } = atCursor(
      `phrase "A"\n  key C major\n${system('Dm7')}${system('F7')}${system('Dm6').replace('over', '¦over')}`,
    );
    const wanted = { start: at, end: at, kind: 'refactor.rewrite.systems', name: 'Join this system to the one before' };
    const doneWith = (only: readonly string[] | null): string =>
      edited(snapshot.text, actionNamed(snapshot, { ...wanted, only }, DEFAULT_SETTINGS, fail)!.edits());
    expect(doneWith(null)).toMatch(/over +\| Dm7 *\|\n[^]*\| F7 *\| Dm6 *\|/);
    expect(doneWith(['refactor.rewrite.systems'])).toMatch(/\| Dm7 *\| F7 *\|\n[^]*\| Dm6 *\|/);
  });

  test('of any phrase has at most a dozen entries, no device twice, and finds the edits of each again', () => {
    always(
      fc.property(fc.oneof(phraseArbitrary, lessonPhraseArbitrary), fc.nat(), ({ text }, pick) => {
        const snapshot = openSnapshot('file:///a.phrase', 1, text);
        const at = pick % text.length;
        const entries = actionsAt(snapshot, at, at, DEFAULT_SETTINGS, fail);
        const all = formsAt(snapshot, at, at, DEFAULT_SETTINGS, fail);
        expect(entries.length).toBeLessThanOrEqual(12);
        const shown = entries.flatMap(({ name }) => all.find((form) => form.name === name)?.entry ?? []);
        expect(new Set(shown).size).toBe(shown.length);
        // What the menu leaves untried changes nothing that it shows.
        const likeliest = all.filter(({ entry }, i) => all.findIndex((form) => form.entry === entry) === i).map(({ name }) => name);
        expect(entries.filter(({ instead }) => instead?.kind !== 'more').map(({ name }) => name)).toEqual(likeliest.slice(0, shown.length));
        expect(entries.some(({ instead }) => instead?.kind === 'more')).toBe(all.length > shown.length);
        for (const { kind, name, edits, instead } of entries)
          if (instead === null)
            expect(actionNamed(snapshot, { start: at, end: at, only: null, kind, name }, DEFAULT_SETTINGS, fail)?.edits()).toEqual(edits());
      }),
      { ...RUN, numRuns: 60 },
    );
  }, 120_000);
});

describe('the list of all forms', () => {
  test('stands in groups by device and shape, each group together', () => {
    const groups = groupedForms(forms(atCursor(HELD))).map(({ group }) => group);
    expect(groups).toContain('Enclosure, above–below');
    expect(groups).toContain('Enclosure, below–above');
    const runs = groups.filter((group, i) => group !== groups[i - 1]);
    expect(new Set(runs).size).toBe(runs.length);
  });

  test('spells new notes as one reads them: no double accidental, no Cb, Fb, E# or B# where neither key nor chord has it', () => {
    const over = (chord: string, line: string, key = ''): string[] =>
      forms(atCursor(`phrase "A"\n${key}  over | ${chord} | ${chord} |\n  line | ${line} |\n`)).map(({ title }) => title);
    const all = [
      ...over('Bb7', 'Bb4 D F ~ | ¦Bb ~ D ~'),
      ...over('Ebmaj7', 'Eb4 G Bb ~ | ¦Eb ~ G ~'),
      ...over('Bmaj7', 'B4 D# F# ~ | ¦D# ~ B ~'),
      ...over('Dbmaj7', 'Db4 F Ab ~ | ¦Db ~ F ~'),
    ];
    expect(all.length).toBeGreaterThan(30);
    expect(all.filter((title) => /\b(?:[A-G](?:bb|##)|[CF]b|[EB]#)(?![a-z0-9#])/.test(title))).toEqual([]);
    // The flat ninth of a chord that writes it is its own, and so is the fourth of a key.
    expect(over('Bb7b9', 'Bb4 D F ~ | ¦Bb ~ D ~').some((title) => title.includes('Cb'))).toBe(true);
    expect(over('Gbmaj7', 'Gb4 Bb Db ~ | ¦Bb ~ Gb ~', '  key Gb major\n').some((title) => title.includes('Cb'))).toBe(true);
  });

  test('says nothing is in place of itself, and offers no enclosure that stands there', () => {
    const all = forms(atCursor('phrase "A"\n  key C major\n  over | G7 | Cmaj7 |\n  line | G4-E B-E D-E F-D | ¦E ~ C ~ |\n'));
    expect(all.map(({ title }) => title)).not.toContain('Enclose E: F-D E');
    const words = all.flatMap(({ title }) => {
      const old = /in place of ([^,)]+)/.exec(title)?.[1]?.split('-') ?? [];
      const fresh = title.replace(/^.*: /, '').replace(/, .*$/, '').split(/[- ]/).slice(0, -1);
      return old.map((name, i) => [name, fresh[i - old.length + fresh.length]]);
    });
    expect(words.length).toBeGreaterThan(3);
    expect(words.filter(([old, fresh]) => old === fresh)).toEqual([]);
    const struck = forms(atCursor('phrase "A"\n  over | C | C |\n  line | E4 C D C-E4 | ¦E5 ~ C ~ |\n')).filter(({ title }) =>
      title.startsWith('Pick up E'),
    );
    expect(struck.map(({ title }) => title)).toEqual(['Pick up E on the same note: E E, in place of E4']);
  });
});

describe('the score as it would be', () => {
  test('is that of the edited text, and the document’s own stays as it is', () => {
    always(
      fc.property(lessonPhraseArbitrary, fc.nat(), ({ text }, pick) => {
        const snapshot = openSnapshot('file:///a.phrase', 1, text);
        const { start, phrase } = snapshot.phrases[0]!;
        if (phrase.notes.length === 0) return;
        const at = start + phrase.notes[pick % phrase.notes.length]!.range.start;
        const options = { scope: 'phrase', pitch: 'concert' } as const;
        const before = scoreAt(snapshot, at, DEFAULT_THEORY, options);
        for (const form of formsAt(snapshot, at, at, DEFAULT_SETTINGS, fail).slice(0, 4)) {
          const would = asItWouldBe(snapshot, at, form.edits());
          const taken = openSnapshot('file:///a.phrase', 2, edited(text, form.edits()));
          expect(would.snapshot.text).toBe(taken.text);
          expect(scoreAt(would.snapshot, would.offset, DEFAULT_THEORY, options).phrases[0]!.musicXml).toBe(
            scoreAt(taken, taken.phrases[0]!.start + 1, DEFAULT_THEORY, options).phrases[0]!.musicXml,
          );
        }
        expect(scoreAt(snapshot, at, DEFAULT_THEORY, options)).toEqual(before);
      }),
      { ...RUN, numRuns: 40 },
    );
  }, 120_000);

  test('of copies is the first copy', () => {
    const found = atCursor('phrase "A¦"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4 F G B | C5 ~ ~ ~ |\n');
    const copies = forms(found).find(({ kind }) => kind === 'refactor.rewrite.twelve-keys')!;
    const { snapshot, offset } = asItWouldBe(found.snapshot, found.at, copies.edits());
    expect(scoreAt(snapshot, offset, DEFAULT_THEORY, { scope: 'phrase', pitch: 'concert' }).phrases[0]!.heading).toMatch(/^F major/);
  });
});
