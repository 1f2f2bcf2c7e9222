/** A score as data: what is said aloud of its notes, where they stand in the text, what is marked, what is broken. */
import { describe, expect, test } from 'vitest';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import { scoreAt } from '../../../server/src/features/score/index';
import type { Score, ScoreNote, ScoreOptions, ScorePhrase } from '../../../server/src/features/score/types';
import { openSnapshot } from '../../../server/src/model/snapshot';
import { findingsOf } from '../../../server/src/rules/findings';
import { atCursor, opened } from './cursor';

const PHRASE: ScoreOptions = { scope: 'phrase', pitch: 'written' };

const phrase = (rows: string): string =>
  `phrase "A"\n${rows
    .split(';')
    .map((row) => `  ${row.trim()}\n`)
    .join('')}`;

function only(text: string, options: ScoreOptions = PHRASE): ScorePhrase {
  const { phrases } = scoreAt(opened(text), text.lastIndexOf('phrase "') + 1, DEFAULT_THEORY, options);
  expect(phrases).toHaveLength(1);
  return phrases[0]!;
}

const notes = (rows: string): readonly ScoreNote[] => only(phrase(rows)).notes;
const labels = (rows: string): string[] => notes(rows).map(({ label }) => label);

describe('a note read aloud', () => {
  test('its name, length, place, degree, role and devices', () => {
    expect(labels('key F major; over | Gm7 C7 | Fmaj7 |; line | Bb4-A G-F E ~ | F ~ ~ ~ |')).toEqual(
      [
        'B flat 4, eighth, bar 1, beat 1, minor third of Gm7, chord tone, scale run',
        'A 4, eighth, bar 1, the “and” of 1, major ninth of Gm7, tension, scale run',
        'G 4, eighth, bar 1, beat 2, root of Gm7, chord tone, scale run',
        'F 4, eighth, bar 1, the “and” of 2, minor seventh of Gm7, chord tone, scale run, guide tone resolution',
        'E 4, half, bar 1, beat 3, major third of C7, chord tone, scale run',
        'F 4, whole, bar 2, beat 1, root of Fmaj7, chord tone',
      ].map((label) => expect.stringMatching(new RegExp(`^${label}`)) as string),
    );
  });

  test.each([
    ['line | F#4 ~ ~ ~ |', 'F sharp 4, whole, bar 1, beat 1, no chord'],
    ['line | Bbb3 ~ ~ . |', 'B double flat 3, dotted half, bar 1, beat 1, no chord'],
    ['line | C##3 ~ ~ . |', 'C double sharp 3, dotted half, bar 1, beat 1, no chord'],
    ['line | B4-~-~-A B ~ ~ |', 'B 4, dotted eighth, bar 1, beat 1, no chord'],
    ['line | (E4)> . . . |', 'E 4, quarter, ghost note, accented, bar 1, beat 1, no chord'],
    ['over | C |; line | C#4 . . . |', 'C sharp 4, quarter, bar 1, beat 1, flat nine of C, written C#, outside the scale'],
    ['line | E4^ . . . |', 'E 4, quarter, accented, bar 1, beat 1, no chord'],
    ['line E4 | C ~ ~ ~ |', 'E 4, quarter, pickup, beat 4, no chord'],
    ['line | . E4 ~ ~ |', 'E 4, quarter tied to half, bar 1, beat 2, no chord'],
    ['line | . . E4 ~ | ~ . . . |', 'E 4, half tied to quarter, bar 1, beat 3, no chord'],
    [`line | E4 ~ ~ ~ ${'| ~ ~ ~ ~ '.repeat(4)}|`, 'E 4, whole, held into bar 5, bar 1, beat 1, no chord'],
    ['line | E4-F-~-~-~ . . . |', 'E 4, quintuplet sixteenth, bar 1, beat 1, no chord'],
  ])('%s', (rows, label) => expect(labels(rows)[0]!.slice(0, label.length)).toBe(label));

  test('in a triplet, and tied out of it', () => {
    expect(labels('line | . C4-D-E ~ . |').map((label) => label.replace(', no chord', ''))).toEqual([
      'C 4, triplet eighth, bar 1, beat 2',
      'D 4, triplet eighth, bar 1, the second third of beat 2',
      'E 4, triplet eighth tied to quarter, bar 1, the last third of beat 2',
    ]);
  });

  test('with its finding, and nothing of it in markup', () => {
    const [clash] = notes('key C major; over | Cmaj7 |; line | F4 C E G |');
    expect(clash!.label).toMatch(/^F 4, quarter, bar 1, beat 1, perfect eleventh of Cmaj7, avoid note, .*F lands on beat 1 over Cmaj7/);
    expect(clash!.lines[0]).toMatch(/^F4 is the 11 of Cmaj7/);
    for (const line of [clash!.label, ...clash!.lines]) expect(line).not.toMatch(/[`*]|\n/);
  });
});

describe('what is known of a note', () => {
  test('figure and role; none where no chord sounds', () => {
    expect(notes('key C major; over | Cmaj7 | N.C. |; line | E4 F C# D | C ~ ~ ~ |').map(({ figure, role }) => [figure, role])).toEqual([
      ['3', 'chord-tone'],
      ['11', 'avoid'],
      ['b9', 'outside'],
      ['9', 'tension'],
      [null, null],
    ]);
  });

  test('what it is over the chords it is held into, where a tied part of it starts', () => {
    const later = (rows: string): unknown[] => notes(rows).map((note) => note.later.map(({ part, figure, role }) => [part, figure, role]));
    expect(later('over | F7 | Gm7 |; line | C5 A F ~ | ~ ~ G ~ |')).toEqual([[], [], [[2, 'b7', 'chord-tone']], []]);
    // Nothing where no part starts over the chord.
    expect(later('over | Fmaj7 | Gm7 C7 | Fmaj7 |; line | . . . F4 | ~ ~ ~ ~ | ~ . . . |')).toEqual([
      [
        [2, 'b7', 'chord-tone'],
        [3, '1', 'chord-tone'],
      ],
    ]);
    expect(later('over | C F |; line | C4 ~ ~ ~ |')).toEqual([[]]);
    // Already heard against the chord that comes in.
    expect(later('over | Dm7 | G7 |; line | . . . A4-B | ~ . . . |')).toEqual([[], []]);
    // Each names a part that the picture has.
    const { musicXml, notes: all } = only(phrase('over | F7 | Gm7 C7 | Abmaj7 Dbmaj7 |; line | C5 A F ~ | ~ ~-F ~ ~ | ~-Eb ~ ~ Bb4 |'));
    all.forEach((note, i) => note.later.forEach(({ part }) => expect(musicXml).toContain(`id="n-0-${i}-${part}"`)));
    expect(all.flatMap((note) => note.later)).toHaveLength(4);
  });

  test('when it sounds, in quarters from bar 1', () => {
    expect(notes('line C4-D | E ~ F-G A |').map(({ onset, duration }) => [onset, duration])).toEqual([
      [-1, 0.5],
      [-0.5, 0.5],
      [0, 2],
      [2, 0.5],
      [2.5, 0.5],
      [3, 1],
    ]);
  });

  test('its place is the note’s text in the file, and so are the places where it is held', () => {
    const text = `// 🎷\nphrase "Before"\n  line | C4 |\n${phrase('over | Cmaj7 |; line | Bb4! ~ (G) ~-~ |')}`;
    const [first, second] = only(text).notes;
    expect(text.slice(first!.start, first!.end)).toBe('Bb4!');
    expect(first!.holds.map(({ start, end }) => [text.slice(start, end), start])).toEqual([['~', text.indexOf('~')]]);
    expect(text.slice(second!.start, second!.end)).toBe('(G)');
    expect(second!.holds).toHaveLength(2);
  });

  test('a note held into a clash is marked', () => {
    const found = notes('key C major; over | G7 | Cmaj7 |; line | B4 A G F | ~ ~ ~ ~ |');
    expect(found.map(({ finding }) => finding)).toEqual([null, null, null, 'warning']);
    expect(found[3]!.label).toContain('F is held into Cmaj7 on beat 1');
    expect(found[3]!.holds).toHaveLength(4);
  });

  test('information is marked, a hint is not', () => {
    expect(notes('key C major; over | Cmaj7 |; line | C5 F-C G E |').map(({ finding }) => finding)).toEqual([
      null,
      'information',
      null,
      null,
      null,
    ]);
    expect(notes('key C major; over | Cmaj7 |; line | F4-E G A G |').map(({ finding }) => finding)).toEqual([null, null, null, null, null]);
  });

  test('of a cell’s notes only the one that clashes is marked', () => {
    const text = `cell step = 1 2 4 1\n${phrase('over | Cmaj7 |; line | step |')}`;
    const found = only(text).notes;
    expect(found.map(({ finding }) => finding)).toEqual([null, null, 'warning', null]);
    expect(found.map(({ start, end }) => text.slice(start, end))).toEqual(['step', 'step', 'step', 'step']);
    expect(found.filter(({ label }) => label.includes('lands on')).length).toBe(1);
    // The bar is as wide as the cell; what is wrong with it is not wrong with a note.
    expect(only(`cell step = 1 2 4 1\n${phrase('over | Cmaj7 |; line | 4:step |')}`).notes.map(({ finding }) => finding)).not.toContain(
      'error',
    );
  });
});

describe('what is broken', () => {
  test.each([
    ['an unreadable note', 'over | C |; line | C4 E H ~ |', '“H” cannot be read here'],
    ['an unreadable chord', 'over | Xq | C |; line | C4 E G ~ | C ~ ~ ~ |', '“Xq” is no chord'],
    ['a bar that does not add up', 'over | C |; line | C4 E G |', 'Bar 1 holds 4 beats'],
    ['a row that is none', 'lin | C4 |; over | C |; line | C4 E G ~ |', 'There is no row called “lin”'],
    ['a cell nobody wrote', 'over | C |; line | rise G ~ |', 'rise'],
  ])('%s', (_, rows, message) =>
    expect(only(phrase(rows)).broken).toMatchObject({ severity: 'error', message: expect.stringContaining(message) as string }),
  );

  test.each([
    ['a wrong figure', 'over | C |; line | C4 E G ~ |; degrees | 1 3 b5 * |', 'G is not the b5 of C'],
    ['a refuted claim', 'over | C |; line | C4 E G ~ |; claim lands 5 at 1.1', '“lands 5 at 1.1” does not hold'],
    ['a claim that is none', 'over | C |; line | C4 E G ~ |; claim foo', '“foo” cannot be checked'],
    ['a level that is none', 'level 9; over | C |; line | C4 E G ~ |', 'A level is a number from 1'],
    ['a tempo that is none', 'tempo fast; over | C |; line | C4 E G ~ |', 'A tempo is'],
    ['a clash', 'key C major; over | Cmaj7 |; line | F4 C E G |', 'F lands on beat 1'],
  ])('not %s', (_, rows, message) => {
    const { broken, findings } = only(phrase(rows));
    expect(broken).toBeNull();
    expect(findings).toMatchObject([{ message: expect.stringContaining(message) as string }]);
  });

  test('not a title without its closing quote', () => {
    expect(scoreAt(opened('phrase "A\n  over | C |\n  line | C4 E G ~ |\n'), 0, DEFAULT_THEORY, PHRASE).phrases).toMatchObject([
      { broken: null, findings: [{ severity: 'error' }] },
    ]);
  });

  test('what cannot be read in a definition that the phrase uses, and in no other', () => {
    const definitions = 'changes bad = | Xq7 | C |\nchanges good = | C | F |\ncell off = 1 h\n';
    const rows = '; line | C4 E G ~ | A ~ ~ ~ |';
    const found = only(`${definitions}${phrase(`over bad${rows}`)}`);
    expect(found).toMatchObject({ findings: [], broken: { message: expect.stringContaining('Xq7') as string } });
    expect((definitions + phrase('')).slice(found.broken!.start, found.broken!.end)).toBe('Xq7');
    expect(only(`${definitions}${phrase(`over good${rows}`)}`).broken).toBeNull();
    expect(only(`${definitions}${phrase('over good; line | off G ~ | A ~ ~ ~ |')}`).broken).not.toBeNull();
  });

  describe('of what waits the score is silent', () => {
    const waiting = (text: string): ScorePhrase =>
      only(text, { ...PHRASE, waiting: findingsOf(opened(text), DEFAULT_THEORY).map(({ rule, start, end }) => ({ rule, start, end })) });

    test.each([
      ['an unreadable note', phrase('over | C |; line | C4 E H ~ |'), true],
      ['a bar that is not full: its notes are all there', phrase('over | C |; line | C4 E G |'), false],
      ['a wrong figure', phrase('over | C |; line | C4 E G ~ |; degrees | 1 3 b5 * |'), false],
      ['what cannot be read in a definition', `changes bad = | Xq7 |\n${phrase('over bad; line | C4 E G ~ |')}`, true],
    ])('%s', (_, text, unfinished) => {
      expect(waiting(text)).toMatchObject({ broken: null, findings: [], unfinished });
      expect(only(text)).toMatchObject({ unfinished: false });
      expect(only(text).broken !== null || only(text).findings.length > 0).toBe(true);
    });

    test.each([
      ['a note', phrase('key C major; over | Cmaj7 |; line | F4 C E G |')],
      ['a note of a cell', `cell step = 1 2 4 1\n${phrase('over | Cmaj7 |; line | step |')}`],
    ])('about %s, too', (_, text) => {
      expect(only(text).notes.some(({ finding }) => finding === 'warning')).toBe(true);
      expect(waiting(text).notes.map(({ finding }) => finding)).toEqual([null, null, null, null]);
      expect(waiting(text).notes.some(({ label }) => label.includes('lands on'))).toBe(false);
    });
  });

  test('findings are those of the phrase, in the order of the text, without information and hints', () => {
    const bad = 'phrase "Other"\n  over | C |\n  line | H |\n';
    const { findings } = only(`${bad}${phrase('key C major; over | Cmaj7 | Xq |; line | F4 C E G | C F-E C E |')}`);
    expect(findings.map(({ severity }) => severity)).toEqual(['error', 'warning']);
    expect(findings[0]!.start).toBeLessThan(findings[1]!.start);
  });
});

test('the walk-through comes as paragraphs of plain text: the whole, bar by bar, in numbers; without notes there is none', () => {
  const { walkthrough } = only(phrase('key C major; over | Dm7 | G7 |; line | D4 F A C5 | G4 ~ D ~ |'));
  expect(walkthrough[0]!.sentences[0]!.text).toMatch(/^2 bars in C major/);
  expect(walkthrough.map(({ head }) => head).filter((head) => head !== '')).toEqual(['Bar 1', 'Bar 2']);
  expect(walkthrough[1]!.sentences[0]!.notes).toEqual([0, 1, 2, 3]);
  expect(JSON.stringify(walkthrough)).toContain('Suggested level');
  expect(only(phrase('key C major; over | Dm7 |')).walkthrough).toEqual([]);
});

test('a warning is said once: in the list, not in the walk-through below it', () => {
  const { findings, walkthrough } = only(phrase('key C major; over | Cmaj7 |; line | F4 ~ ~ ~ |'));
  expect(findings.map(({ severity }) => severity)).toEqual(['warning']);
  expect(JSON.stringify(walkthrough)).not.toContain(findings[0]!.message);
});

describe('which phrases', () => {
  const LESSON =
    'lesson "By the river"\n\nphrase "A"\n  over | C |\n  line | C4 E G ~ |\nphrase "B"\n  over | F |\n  line | F4 A C ~ |\ncell climb = 1-2\n';
  const at = (offset: number, scope: ScoreOptions['scope']): Score => scoreAt(opened(LESSON), offset, DEFAULT_THEORY, { ...PHRASE, scope });
  const names = (offset: number, scope: ScoreOptions['scope'] = 'phrase'): string[] => at(offset, scope).phrases.map(({ name }) => name);

  test('the one at the offset, from its keyword on, or all of the lesson', () => {
    expect(names(LESSON.indexOf('E G'))).toEqual(['A']);
    expect(names(LESSON.indexOf('phrase "B"') - 1)).toEqual(['A']);
    expect(names(LESSON.indexOf('phrase "B"'))).toEqual(['B']);
    expect(names(0, 'lesson')).toEqual(['A', 'B']);
    expect(at(0, 'lesson')).toMatchObject({ here: 0, version: 1, lesson: 'By the river' });
    expect(at(0, 'phrase').lesson).toBe(null);
    expect(at(LESSON.indexOf('phrase "B"'), 'lesson').here).toBe(1);
    expect(at(LESSON.indexOf('F4'), 'phrase').here).toBe(0);
  });

  test('between phrases the next one, after the last one that, in an empty file none', () => {
    expect(at(3, 'phrase')).toMatchObject({ here: 0, count: 2, phrases: [{ name: 'A' }] });
    expect(at(LESSON.indexOf('1-2'), 'phrase')).toMatchObject({ here: 0, phrases: [{ name: 'B' }] });
    expect(at(LESSON.indexOf('1-2'), 'lesson').here).toBe(1);
    // A definition that begins right after a phrase is none of it.
    expect(at(LESSON.indexOf('cell climb'), 'lesson').here).toBe(1);
    const between = 'phrase "A"\n  line | C4 |\nchanges turn = | C |\nphrase "B"\n  line | D4 |\n';
    expect(scoreAt(opened(between), between.indexOf('changes'), DEFAULT_THEORY, PHRASE).phrases.map(({ name }) => name)).toEqual(['B']);
    expect(scoreAt(opened(between), between.indexOf('turn'), DEFAULT_THEORY, { ...PHRASE, scope: 'lesson' }).here).toBe(1);
    expect(scoreAt(opened(''), 0, DEFAULT_THEORY, PHRASE)).toEqual({ version: 1, here: null, lesson: null, count: 0, phrases: [] });
  });

  test('a phrase that only moved keeps its revision; one that changed does not', () => {
    const before = opened(LESSON);
    const revisions = (text: string): number[] =>
      scoreAt(openSnapshot('', 2, text, before), 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }).phrases.map(
        ({ revision }) => revision,
      );
    const [a, b] = scoreAt(before, 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'written' }).phrases.map(({ revision }) => revision);
    const moved = revisions(LESSON.replace('C4 E G ~', 'C4 E G E'));
    expect(moved[0]).not.toBe(a);
    expect(moved[1]).toBe(b);
    const [, shifted] = scoreAt(openSnapshot('', 2, LESSON.replace('By', 'Far by'), before), 0, DEFAULT_THEORY, {
      scope: 'lesson',
      pitch: 'written',
    }).phrases;
    expect(shifted!.revision).toBe(b);
    expect(shifted!.notes[0]!.start).toBe(LESSON.indexOf('F4') + 4);
  });

  test('a phrase says its heading, bars and devices', () => {
    const { heading, tempo, bars, devices, start, end } = only(
      phrase('key F major; meter 3/4; tempo 144 swing; part alto-sax; level 2; over | Gm7 | C7 |; line E4 | Bb4-A G-F E | G ~ ~ |'),
    );
    expect(heading).toBe('F major (written in D major), 3/4, 144 swing, alto saxophone, level 2');
    expect(tempo).toBe(144);
    expect(bars).toEqual([
      { number: 0, from: -1, to: 0 },
      { number: 1, from: 0, to: 3 },
      { number: 2, from: 3, to: 6 },
    ]);
    expect(devices.find(({ name }) => name === 'scale run')).toMatchObject({ from: 1, to: 5 });
    expect([start, end]).toEqual([0, expect.any(Number)]);
  });

  test('the pitch of the music is the part’s or as it sounds, and what is said of it too; places are the text’s', () => {
    const text = phrase('part alto-sax; over | C |; line | C4 E G ~ |');
    const [written, concert] = [only(text), only(text, { ...PHRASE, pitch: 'concert' })];
    const steps = ({ musicXml }: ScorePhrase): (string | undefined)[] =>
      [...musicXml.matchAll(/<step>(.)<\/step>/g)].map(([, step]) => step);
    expect([steps(written), steps(concert)]).toEqual([
      ['A', 'C', 'E'],
      ['C', 'E', 'G'],
    ]);
    expect([written, concert].map(({ notes }) => notes[0]!.label.slice(0, 3))).toEqual(['A 4', 'C 4']);
    const places = ({ notes }: ScorePhrase): unknown =>
      notes.map(({ start, end, holds, figure, role }) => [start, end, holds, figure, role]);
    expect(places(written)).toEqual(places(concert));
    expect(written.musicXml).toContain('id="n-0-2"');
  });
});

describe('what the writer wrote stays text', () => {
  test.each([
    ['markup', '<script>alert(1)</script> & <b>'],
    ['long', 'la '.repeat(2_000).trim()],
    ['right to left', 'שלום \u202Eעולם'],
    ['emoji', '🎷🎷 e\u0301'],
  ])('%s', (_, written) => {
    const text = `lesson "${written}"\nphrase "${written}"\n  over | C |\n  line | C4 E G ~ |\n  say "${written}"\n`;
    const { phrases } = scoreAt(opened(text), text.indexOf('over'), DEFAULT_THEORY, PHRASE);
    const [{ name, says, musicXml }] = phrases as [ScorePhrase];
    expect({ name, says }).toEqual({ name: written, says: [written] });
    expect(musicXml).toContain(
      `<work-title>${written.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')}</work-title>`,
    );
    expect(musicXml).not.toMatch(/<script|<b>/);
  });

  test('a word for a chord, too', () => {
    const { musicXml, broken } = only(phrase('over | <script> | C |; line | C4 E G ~ | C ~ ~ ~ |'));
    expect(musicXml).not.toContain('<script');
    expect(broken).not.toBeNull();
  });
});

test('a cursor inside a word finds its phrase', () => {
  const { snapshot, at } = atCursor('phrase "A"\n  over | Cm¦aj7 |\n  line | C4 E G ~ |\n');
  expect(scoreAt(snapshot, at, DEFAULT_THEORY, PHRASE).phrases).toHaveLength(1);
});

test('a sentence a note, where that is asked for', () => {
  const snapshot = openSnapshot('', 1, 'phrase "A"\n  key C major\n  over | Dm7 | G7 |\n  line | D4 F A C5 | B4 ~ . . |\n');
  const { walkthrough } = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch: 'written', length: 'notes' }).phrases[0]!;
  const sentences = walkthrough.flatMap((paragraph) => paragraph.sentences).filter(({ notes }) => notes.length > 0);
  expect(sentences.map(({ notes }) => notes)).toEqual([[0], [1], [2], [3], [4]]);
  expect(sentences[1]!.text).toMatch(/^Beat 2: F, the third of Dm7 \(.*arpeggio.*\)\.$/);
});

test('what stands in the score of a transposing part speaks of the notes that it reads; at concert pitch of those that sound', () => {
  const snapshot = openSnapshot(
    '',
    1,
    'phrase "A"\n  key C major\n  part tenor-sax\n  over | Cmaj7 | G7 |\n  line | F4 ~ ~ ~ | B4 G F D |\n',
  );
  const at = (pitch: 'written' | 'concert') => scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'phrase', pitch }).phrases[0]!;
  const [written, concert] = [at('written'), at('concert')];
  expect(concert.findings[0]!.message).toMatch(/^F lands on beat 1 over Cmaj7/);
  expect(written.findings[0]!.message).toMatch(/^G lands on beat 1 over Dmaj7/);
  expect(written.notes[0]!.label).toMatch(/^G 5,/);
  expect(concert.notes[0]!.label).toMatch(/^F 4,/);
  expect(JSON.stringify(written.walkthrough)).toContain('A7');
  expect(JSON.stringify(written.walkthrough)).not.toContain('G7');
  // Places are those of the text.
  expect(written.notes.map(({ start, end }) => [start, end])).toEqual(concert.notes.map(({ start, end }) => [start, end]));
  expect(written.findings.map(({ start, end }) => [start, end])).toEqual(concert.findings.map(({ start, end }) => [start, end]));
});
