/** What single code actions offer, and when they offer nothing. (What holds of all of them on any phrase: `tests/property`.) */
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { offersAt, type PlacedOffer } from '../../server/src/assists/registry';
import { openSnapshot } from '../../server/src/model/snapshot';
import { findingsOf } from '../../server/src/rules/findings';
import { figureName } from '../../server/src/theory/figure';
import { formatNoteName, parseNoteName } from '../../server/src/theory/pitch';
import { atCursor, edited } from './features/cursor';

/** What one action offers at the cursor `¦` in a line, over chords in 4/4. */
function offered(assist: string, over: string, line: string): { offers: PlacedOffer[]; lines: string[] } {
  const { snapshot, at } = atCursor(`phrase "A"\n  over | ${over} |\n  line | ${line} |\n`);
  const offers = offersAt(snapshot, { start: at, end: at, only: null }, DEFAULT_THEORY, (error) => {
    throw error;
  }).filter((offer) => offer.assist === assist);
  return { offers, lines: offers.map((offer) => /line +(?:\| )?(.*) \|/.exec(edited(snapshot.text, offer.edits()))![1]!) };
}

test('what is planted already is not offered again', () => {
  const { offers, lines } = offered('approach', 'C7', 'G4-D> ¦C ~ ~');
  expect(offers.map(({ title }) => title).filter((title) => title.includes('D C'))).toEqual([]);
  expect(lines).toContain('G4-B3 C ~ ~');
});

test('a note that is struck before its chord and again with it can be held over the change', () => {
  expect(offered('anticipation', 'G7 | Cmaj7', 'G4 F D-E F-E | ¦E ~ ~ ~').lines).toEqual(['G4 F D-E F-E | ~ ~ ~ ~']);
});

test('a note below the lowest octave figure is not written with one: E-1 would be E and the degree 1', () => {
  expect(offered('simplify', 'C7', 'Bb1 \\Bb-\\¦Eb E ~').lines).toEqual(['Bb1 \\Bb E0 ~']);
  expect(offered('simplify', 'C7', 'Bb0 \\Bb-\\¦Eb E ~').lines).toEqual([]);
  expect(offered('enclosure', 'C7', '¦C0 E G ~').lines.filter((line) => line.includes('-1'))).toEqual([]);
});

test('what would need two accidentals or more is written as it is read', () => {
  // Two half steps below Cbb; and the seventh of Cbdim7 itself.
  expect(offered('enclosure', 'Dbdim7', 'C4 D-F# ¦B ~').lines).toContain('C4 D-Ab-A-C Cbb ~');
  expect(offered('enclosure', 'Cbdim7', 'B4 D ¦A ~').lines).toContain('B4 D-Bb-G Ab ~');
});

test('a new note whose degree nobody says is a pitch in a line of degrees', () => {
  // A## over Cb is a 6 raised three times, C## the root raised twice.
  expect(offered('enclosure', 'Cbmaj7 | Am', '1 3 5 13-b9 | ¦\\#9 ~ ~ ~').lines).toContain('1 3 5 13-C#4-B | #9 ~ ~ ~');
});

test('bars that a device is taken out of are written anew, the others stay as they are: octave figures, spaces, weights, comments', () => {
  const { snapshot, at } = atCursor(
    'phrase "A"\n  over | C6   | C6  | C6 | // turn\n  line | C4-D4 E4  G4 E4 | 2:C4-E-G E-C4  G3 | D4-¦F E ~  C4 | // home\n  degrees | 1-2 3 5 3 |\n',
  );
  const [offer] = offersAt(snapshot, { start: at, end: at, only: null }, DEFAULT_THEORY, (error) => {
    throw error;
  }).filter(({ assist }) => assist === 'simplify');
  const rows = edited(snapshot.text, offer!.edits()).split('\n');
  expect(rows[1]).toBe('  over | C6   | C6  | C6 | // turn');
  expect(rows[2]).toMatch(/^ {2}line \| C4-D4 E4 {2}G4 E4 \| 2:C4-E-G E-C4 {2}G3 \| [^|]+ \| \/\/ home$/);
  expect(rows[3]).toBe('  degrees | 1-2 3 5 3 |');
});

describe('rows written out of a phrase in which a note is flagged', () => {
  const AVOID = 'phrase "A¦"\n  key F major\n  over | Gm7 | C7 | Fmaj7 |\n  line | Bb4-D F-A G-F D-C | E-G Bb-D C-Bb A-G | Bb ~ ~ . |\n';
  const written = (assist: string, marked: string): string => {
    const { snapshot, at } = atCursor(marked);
    const [offer] = offersAt(snapshot, { start: at, end: at, only: null }, DEFAULT_THEORY, (error) => {
      throw error;
    }).filter((one) => one.assist === assist);
    return edited(snapshot.text, offer!.edits());
  };

  test('no claim names it', () => {
    expect(findingsOf(openSnapshot('', 1, AVOID.replace('¦', '')), DEFAULT_THEORY).map(({ rule }) => rule)).toEqual(['clash']);
    const claims = written('write-claims', AVOID)
      .split('\n')
      .filter((row) => row.includes('claim'));
    expect(claims).toEqual(['  claim   diatonic']);
    // The same where the note is a chord tone.
    expect(written('write-claims', AVOID.replace('| Bb ~ ~ . |', '| A ~ ~ . |'))).toContain('\n  claim   lands 3 at 3.1\n');
  });

  test('no text says what is said against it', () => {
    const text = written('write-walkthrough', AVOID);
    expect(text).toMatch(/\n\n {2}say {5}"Bar 1: /);
    expect(text).not.toContain('Bar 3');
    expect(text).not.toMatch(/half step above|off the beat/);
    const alone = atCursor('phrase "A¦"\n  over | Cmaj7 |\n  line | F4 ~ ~ ~ |\n');
    expect(
      offersAt(alone.snapshot, { start: alone.at, end: alone.at, only: null }, DEFAULT_THEORY, (error) => {
        throw error;
      }).map(({ assist }) => assist),
    ).not.toContain('write-walkthrough');
  });

  test.each(['write-claims', 'write-walkthrough'])(
    '%s: each new row stands as the formatter would write it, the others as they were',
    (assist) => {
      const before = AVOID.replace('¦', '').trimEnd().split('\n');
      const after = written(assist, AVOID);
      const fresh = after.split('\n').slice(before.length);
      expect(after.split('\n').slice(0, before.length)).toEqual(before);
      expect(formatText(after).split('\n').slice(before.length)).toEqual(fresh);
    },
  );
});

test('a flagged note that would be flagged off the beat, too, goes on to the chord tone that it leans on', () => {
  const told = (over: string, line: string): string[] => {
    const { offers, lines } = offered('off-the-beat', over, line);
    return offers.map(({ title }, i) => `${title}: ${lines[i]}`);
  };
  // Bb is the 11 of Fmaj7, a half step above A.
  expect(told('C7 | Fmaj7', 'C5-Bb G-E D-E C-D | ¦Bb ~ ~ .')).toEqual([
    'Play Bb half a beat later, holding the note before, and let it fall to A: C5-Bb G-E D-E C-D | ~-Bb A ~ .',
  ]);
  expect(told('C7 | Fmaj7', 'C5-Bb G-E D-E C-. | 2:¦Bb G E')).toEqual([
    'Play Bb half a beat later, after a rest, and let it fall to A: C5-Bb G-E D-E C-. | 2:.-Bb-A-~ G E',
  ]);
  // What moves into sixteenths says so.
  expect(told('Cmaj7', 'G4 E ¦F-A C')).toEqual(['Play F half a beat later, holding the note before, in sixteenths: G4 E ~-~-F-A C']);
  // One that is short there passes as it is.
  expect(told('Cmaj7', 'G4 E ¦F C')).toEqual(['Play F half a beat later, holding the note before: G4 E ~-F C']);
});

describe('the title of an embellishment says what else it changes', () => {
  const told = (assist: string, over: string, line: string): string[] => {
    const { offers, lines } = offered(assist, over, line);
    return offers.map(({ title }, i) => `${title}: ${lines[i]}`);
  };

  test('in a line of eighths, what keeps the eighths comes first, then what does not says so', () => {
    const forms = told('enclosure', 'C7 | Fmaj7', 'C4-E G-Bb C5-Bb Db-C | ¦A ~ ~ .');
    expect(forms[0]).toBe('Enclose A: Bb-G A, in place of Db-C: C4-E G-Bb C5-Bb Bb-G | A ~ ~ .');
    expect(forms).toContain('Enclose A: Bb-G A, in sixteenths: C4-E G-Bb C5-Bb Db-C-Bb-G | A ~ ~ .');
    expect(forms).toContain('Enclose A: Bb-G A, as a triplet, in place of C: C4-E G-Bb C5-Bb Db-Bb-G | A ~ ~ .');
    const isPlain = forms.map((form) => !/, (?:as a|in sixteenths)/.test(form));
    expect(isPlain.filter(Boolean).length).toBeGreaterThan(2);
    expect(isPlain.lastIndexOf(true)).toBeLessThan(isPlain.indexOf(false));
    expect(told('approach', 'C7 | Fmaj7', 'C4-E G-Bb C5-Bb Db-C | ¦A ~ ~ .')[0]).toBe(
      'Approach A: Ab A, in place of C: C4-E G-Bb C5-Bb Db-Ab | A ~ ~ .',
    );
  });

  test('a hold gives way without a word; a note of a beat does not', () => {
    expect(told('enclosure', 'G7 | Cmaj7', 'G4 B D ~ | ¦G ~ E ~')[0]).toBe('Enclose G: A-F G: G4 B D A5-F | G ~ E ~');
    const forms = told('enclosure', 'G7 | Cmaj7', 'D4 F A G | ¦E ~ C ~');
    expect(forms[0]).toBe('Enclose E: F-D E, in place of G: D4 F A F-D | E ~ C ~');
    expect(forms).toContain('Enclose E: F-D E, as a triplet: D4 F A G-F-D | E ~ C ~');
  });

  test('mordents, turns and pickups', () => {
    expect(told('ornament', 'Dm7', 'D4 F ¦A F').map((form) => form.replace(/^.*-[A-G]#?, /, ''))).toEqual([
      'as a triplet: D4 F A-B-A F',
      'in sixteenths: D4 F B-A-G#-A F',
    ]);
    const pickups = told('enclosure', 'Cmaj7', '¦E4 G C ~').map((form) => form.replace(/: [^:]*$/, ''));
    expect(pickups).toContain('Enclose E: F-D E');
    expect(pickups).toContain('Enclose E: F#-F-D E, as a triplet');
    expect(told('anticipation', 'Dm7 | G7', 'D4-F A-C5 A C-A | ¦B ~ ~ .')).toEqual([
      'Anticipate B: half a beat early, held over the change, in place of A: D4-F A-C5 A C-B | ~ ~ ~ .',
    ]);
  });

  test('three to a beat are the eighths of a compound meter', () => {
    const { snapshot, at } = atCursor('phrase "A"\n  meter 6/8\n  over | G7 | Cmaj7 |\n  line | D4-F-A G | ¦E C |\n');
    const titles = offersAt(snapshot, { start: at, end: at, only: ['refactor.rewrite.enclosure'] }, DEFAULT_THEORY, (error) => {
      throw error;
    })
      .filter(({ assist }) => assist === 'enclosure')
      .map(({ title }) => title);
    expect(titles[0]).toBe('Enclose E: F-D E');
    expect(titles.filter((title) => /triplet/.test(title))).toEqual([]);
  });
});

describe('a new note that is the b13 of a dominant is spelled as one', () => {
  // The sixth above the root, lowered: common practice. Of Ab7 and Gb7 it is an Fb and an Ebb, which are written as they are read.
  test.each([
    ['C', 'Ab'],
    ['F', 'Db'],
    ['Bb', 'Gb'],
    ['Eb', 'B'],
    ['Ab', 'E'],
    ['Db', 'A'],
    ['Gb', 'D'],
    ['B', 'G'],
    ['E', 'C'],
    ['A', 'F'],
    ['D', 'Bb'],
    ['G', 'Eb'],
  ])('%s7: %s', (root, flat) => {
    const third = formatNoteName(figureName(parseNoteName(root)!, { number: 13, alter: 0 }));
    const home = formatNoteName(figureName(parseNoteName(root)!, { number: 11, alter: 0 }));
    const { offers, lines } = offered('approach', `${root}7 | ${home}`, `${root}4 ~ ~ ~ | ¦${third} ~ ~ ~`);
    const i = offers.findIndex(({ detail }) => detail === 'from below, chromatic, from the hold before');
    expect(offers[i]!.title).toBe(`Approach ${third}: ${flat} ${third}`);
    expect(lines[i]).toMatch(new RegExp(`~-${flat}\\d? \\|`));
  });

  test('in a line of degrees, too, where a #5 would be told as no fifth of the chord', () => {
    const forms = offered('enclosure', 'G7 | Cmaj7', '1 3 5 ~ | ¦3 ~ ~ .').lines;
    expect(forms).toContain('1 3 5 7-b13 | 3 ~ ~ .');
    expect(forms.filter((line) => line.includes('#5'))).toEqual([]);
  });

  test('over another chord the note that leads up stays sharp', () => {
    expect(offered('approach', 'Dm7 | G7', 'D4 ~ ~ ~ | ¦B ~ ~ ~').lines).toContain('D4 ~ ~ ~-A# | B ~ ~ ~');
  });
});

describe('chords that a row or a definition has on two lines are one progression', () => {
  const LINE = '  line | D4 ~ ~ ~ | B3 ~ ~ ~ | C4 ~ ~ ~ | ~ ~ ~ . |\n';
  const after = (assist: string, marked: string): string[] => {
    const { snapshot, at } = atCursor(marked);
    return offersAt(snapshot, { start: at, end: at, only: null }, DEFAULT_THEORY, (error) => {
      throw error;
    })
      .filter((one) => one.assist === assist)
      .map((one) => edited(snapshot.text, one.edits())!);
  };

  test.each([
    ['a bar line at the end and at the beginning', '¦over | Dm7 | G7 |\n       | Cmaj7 | % |', '| Dm7 | G7 | Cmaj7 | % |'],
    ['a bar line at the beginning', 'over | Dm7 | G7\n       | Cm¦aj7 | %', '| Dm7 | G7 | Cmaj7 | % |'],
    ['a double bar line', 'over | Dm7 | G¦7 ||\n       | Cmaj7 | % ||', '| Dm7 | G7 || Cmaj7 | % ||'],
    [
      'a blank line between them',
      '¦over | Dm7   G7 | Cmaj7 |\n\n       | G7:altered / | Cmaj7 |',
      '| Dm7   G7 | Cmaj7 | G7:altered / | Cmaj7 |',
    ],
  ])('named, %s', (_, over, bars) => {
    expect(after('extract-changes', `phrase "A"\n  ${over}\n${LINE}`)).toEqual([
      `changes progression = ${bars}\n\nphrase "A"\n  over    progression\n${LINE}`,
    ]);
  });

  test('named, where they have a comment: not at all, since it would be lost', () => {
    expect(after('extract-changes', `phrase "A"\n  ¦over | Dm7 | G7 | // from here\n       | Cmaj7 | % |\n${LINE}`)).toEqual([]);
  });

  test.each([
    ['', '| Dm7 | G7 |\n  | Cmaj7 | % |'],
    [', a comment stays where it is', '| Dm7 | G7 | // from here\n  | Cmaj7 | % |'],
  ])('written out%s', (_, bars) => {
    const definition = `changes turn = ${bars}\n\n`;
    expect(after('inline-changes', `${definition}phrase "A"\n  over t¦urn\n${LINE}`)).toEqual([
      `${definition}phrase "A"\n  over | Dm7 | G7 | Cmaj7 | % |\n${LINE}`,
    ]);
  });
});

describe('a phrase is respelled as its notes are, and what has two spellings keeps its own (THEORY, section 4: Spelling)', () => {
  test.each([
    ['a sharp nine as a flat third', 'D7#9', 'D4 F# A F', 'D4 F# A F'],
    ['a sharp nine as a sharp nine', 'C7', 'E4 D# Bb C', 'E4 D# Bb C'],
    ['a sharp eleven as a flat five', 'C7', 'E4 Gb Bb C', 'E4 Gb Bb C'],
    ['a sharp eleven of a lydian scale', 'Cmaj7:lydian', 'E4 Gb B G', 'E4 Gb B G'],
    ['a flat thirteen as a sharp five', 'C7b13', 'E4 G# Bb C', 'E4 G# Bb C'],
    ['a flat five as a sharp eleven', 'C7b5', 'E4 F# Bb C', 'E4 F# Bb C'],
    ['an altered chord', 'G7alt', 'G4-Ab Bb-B Db-Eb F-G', 'G4-Ab Bb-B Db-Eb F-G'],
    ['a diminished seventh chord', 'Cdim7', 'C4 D# F# A', 'C4 D# F# A'],
    ['an augmented chord', 'C+7', 'C4 E Ab G#', 'C4 E Ab G#'],
    ['B for Cb', 'Abm7', 'Ab4 B Eb Gb', 'Ab4 B Eb Gb'],
    ['F for E#', 'C#7', 'C#4 F G# B', 'C#4 F G# B'],
    ['what nobody reads', 'Abm7', 'Ab4 A## Eb Gb', 'Ab4 Cb Eb Gb'],
    ['a third', 'Cm7', 'C4 D# G Bb', 'C4 Eb G Bb'],
    ['the flat five of a half-diminished chord', 'Dm7b5', 'D4 F G# C', 'D4 F Ab C'],
    ['a flat nine', 'G7b9', 'B3 G# D F', 'B3 Ab D F'],
    ['a root under its other name', 'Ebm7', 'D#4 F# A# C#', 'Eb4 Gb Bb Db'],
    ['a sharp eleven on its way up', 'C7', 'E4 Gb G C', 'E4 F# G C'],
    ['a sharp nine on its way down', 'C7', 'E4 D# D C', 'E4 Eb D C'],
    ['a passing note', 'G7', 'G4-Gb G B D', 'G4-F# G B D'],
  ])('%s over %s', (_, over, line, spelled) => {
    const text = `phrase "A"\n  over | ${over} |\n  line | ${line} |\n`;
    const respelled = (before: string, at: number): string => {
      const offers = offersAt(openSnapshot('file:///a.phrase', 1, before), { start: at, end: at, only: null }, DEFAULT_THEORY, (error) => {
        throw error;
      }).filter(({ assist }) => assist === 'respell');
      expect(offers.length).toBeLessThan(2);
      return offers.length === 0 ? before : edited(before, offers[0]!.edits())!;
    };
    const row = text.indexOf(` | ${line}`);
    expect(respelled(text, row - 1)).toBe(text.replace(` | ${line}`, ` | ${spelled}`));
    // From the end, so that all before it stay where they are.
    const places = [...line.matchAll(/[A-G]/g)].map(({ index }) => row + 3 + index).reverse();
    expect(places.reduce(respelled, text)).toBe(text.replace(` | ${line}`, ` | ${spelled}`));
  });
});
