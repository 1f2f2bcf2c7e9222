/** What may be written at the cursor, and where nothing is offered. */
import { describe, expect, test } from 'vitest';
import { LESSON } from '../../../client/src/lesson-template';
import { formatText } from '../../../grammar/printer';
import { DEFAULT_THEORY } from '../../../server/src/analysis/read';
import { completionsAt, opensAtBlank } from '../../../server/src/features/completion/index';
import { plainText, snippetText } from '../../../server/src/features/completion/template';
import { itemTemplate, SYSTEM_TEMPLATE } from '../../../server/src/features/completion/templates';
import { atCursor, edited, opened } from './cursor';

const labels = (marked: string): string[] => {
  const { snapshot, at } = atCursor(marked);
  return completionsAt(snapshot, at, DEFAULT_THEORY).map(({ label }) => label);
};

/** The text after the completion of that label. */
const completed = (marked: string, label: string): string => {
  const { snapshot, at } = atCursor(marked);
  const found = completionsAt(snapshot, at, DEFAULT_THEORY).find((one) => one.label === label);
  if (found === undefined) throw new Error(`“${label}” is not offered.`);
  return edited(snapshot.text, [{ start: found.start, end: found.end, text: plainText(found.template) }, ...found.besides]);
};

const NAMES = 'changes turn = | Gm7 C7 | Fmaj7 |\ncell climb = 1-2 3-5\n';

describe('keywords', () => {
  test('in a phrase its rows come first, then what may start a block', () => {
    expect(labels('phrase "A"\n  ¦').slice(0, 3)).toEqual(['over', 'line', 'degrees']);
    expect(labels('phrase "A"\n  ov¦')).toContain('phrase');
  });
  test('a lesson takes no music', () => {
    expect(labels('lesson "A"\n¦')).toContain('about');
    expect(labels('lesson "A"\n¦')).not.toContain('line');
  });
  test('a file has one lesson', () => {
    expect(labels('¦')).toEqual(['phrase', 'changes', 'cell', 'lesson']);
    expect(labels('lesson "A"\nphrase "B"\n¦')).not.toContain('lesson');
  });
  test('what was typed is replaced', () => expect(completed('phrase "A"\n  degr¦', 'degrees')).toBe('phrase "A"\n  degrees '));
  test('what is written stands in its column, unless something follows', () => {
    expect(completed('phrase "A"\n  cl¦', 'claim')).toBe('phrase "A"\n  claim   ');
    expect(completed('lesson "A"\nta¦', 'tag')).toBe('lesson "A"\ntag    ');
    expect(completed('phrase "A"\n  ke¦ Bb major', 'key')).toBe('phrase "A"\n  key Bb major');
  });
  test('a phrase begun within a lesson stands after its rows', () => {
    const marked = 'lesson "A"\nphr¦\nabout  "B"\n// it goes on\nlevel  2\n\n// next\nphrase "C"\n';
    expect(completed(marked, 'phrase')).toMatch(
      /^lesson "A"\nabout {2}"B"\n\/\/ it goes on\nlevel {2}2\n\nphrase "Name"\n[^]* line {4}\| E4 G C E \|\n\n\n\/\/ next\nphrase "C"\n$/,
    );
    expect(opened(completed(marked, 'phrase')).problems).toEqual([]);
    expect(completed(marked.replaceAll('\n', '\r\n'), 'phrase')).toMatch(/^lesson "A"\r\nabout {2}"B"\r\n/);
  });
  test('a word that has been begun is the one that is meant', () => {
    const meant = (text: string) =>
      opened(text).problems.find(({ problem }) => problem.rule === 'unknown-keyword')?.problem.facts['suggestions'];
    expect(meant('lesson "A"\nphr\nabout "B"\n')).toBe('phrase');
    expect(meant('phrase "A"\n  clai\n')).toBe('claim');
    expect(meant('phrase "A"\n  ovr | C |\n')).toBe('over');
  });
});

describe('properties', () => {
  test.each([
    ['key ¦', 'Bb', 'major'],
    ['key Bb ¦', 'minor', 'Bb'],
    ['meter ¦', '6/8', 'swing'],
    ['tempo 140 ¦', 'straight', '140'],
    ['part ¦', 'tenor-sax', 'C'],
    ['level ¦', '3', '6'],
  ])('%s', (row, offered, not) => {
    expect(labels(`phrase "A"\n  ${row}`)).toContain(offered);
    expect(labels(`phrase "A"\n  ${row}`)).not.toContain(not);
  });
  test('tags of the file, those of the row left out', () =>
    expect(labels('phrase "A"\n  tag blues minor\nphrase "B"\n  tag blues ¦')).toEqual(['minor']));
});

describe('claims', () => {
  const PHRASE = 'phrase "A"\n  key F major\n  over | Gm7 C7 | Fmaj7 |\n  line | Bb4-A G-D E-C Bb-G | A ~ . . |\n';
  test('those that hold, with their places', () => {
    expect(labels(`${PHRASE}  claim ¦`)).toEqual(
      expect.arrayContaining(['diatonic', 'no clash', 'resolves 7 to 3', 'lands 3 at 2.1', 'enclosure of 3 at 2.1', 'range G3 to Bb4']),
    );
    expect(labels(`${PHRASE}  claim ¦`)).not.toContain('chord-tones');
    expect(new Set(labels(`${PHRASE}  claim ¦`)).size).toBe(labels(`${PHRASE}  claim ¦`).length);
  });
  // What lessons name: guide tones, tensions that fall, leading tones, suspensions (common practice); not that one degree happens to come after another.
  test('such as a teacher would make', () => {
    const offered = (over: string, line: string): string[] =>
      labels(`phrase "A"\n  key F major\n  over ${over}\n  line ${line}\n  claim ¦`);
    const plain = offered('| Gm7 C7 | Fmaj7 |', '| Bb4-D F-A G-E Db-C | A ~ . . |');
    expect(plain.filter((claim) => claim.startsWith('resolves'))).toEqual(['resolves b9 to 1']);
    expect(plain.filter((claim) => claim.startsWith('lands'))).toEqual(['lands b3 at 1.1', 'lands 5 at 1.3', 'lands 3 at 2.1']);
    expect(offered('| C7 | Fmaj7 |', '| G4 Bb Db E | F ~ A ~ |')).toContain('resolves 3 to 1');
    expect(offered('| Gm7 | C7 | Fmaj7 |', '| D4 G Bb F5 | ~ E ~ . | F ~ ~ ~ |')).toContain('resolves 11 to 3');
  });
  test('none of a note that is flagged, nor the scale of one chord for all', () => {
    const offered = labels('phrase "A"\n  key C major\n  over | Dm7 G7 | Cmaj7 |\n  line | D4-F A-C5 B4-A G-E | F ~ ~ . |\n  claim ¦');
    expect(offered).not.toContain('lands 11 at 2.1');
    expect(offered).toContain('diatonic');
    expect(offered.filter((claim) => claim.startsWith('scale'))).toEqual([]);
    expect(labels('phrase "A"\n  over | Dm7 | % |\n  line | D4 E F G | A B C5 D |\n  claim ¦')).toContain('scale D dorian');
  });
  test('what was written of a claim is replaced, all of it', () =>
    expect(completed(`${PHRASE}  claim lands 3 a¦`, 'lands 3 at 2.1')).toBe(`${PHRASE}  claim lands 3 at 2.1`));
  test('one that is made, or whole, is not offered', () => {
    expect(labels(`${PHRASE}  claim diatonic\n  claim ¦`)).not.toContain('diatonic');
    expect(labels(`${PHRASE}  claim lands 3 at 2.1¦`)).toEqual([]);
  });
  test('a phrase without notes is told how claims are written', () => {
    expect(labels('phrase "A"\n  claim ¦')).toEqual(expect.arrayContaining(['diatonic', 'lands', 'no clash']));
    expect(completed('phrase "A"\n  claim la¦', 'lands')).toBe('phrase "A"\n  claim lands 3 at 2.1');
  });
});

describe('chords', () => {
  test('a root takes the usual qualities', () => {
    expect(labels('phrase "A"\n  over | Eb¦')).toEqual(expect.arrayContaining(['Ebmaj7', 'Ebm7', 'Eb7alt']));
    expect(completed('phrase "A"\n  over | Eb¦ | C |', 'Ebm7')).toBe('phrase "A"\n  over | Ebm7 | C |');
  });
  test('after a colon the scales that hold the chord', () => {
    const scales = labels('phrase "A"\n  over | Gm7:¦');
    expect(scales).toEqual(expect.arrayContaining(['dorian', 'aeolian', 'phrygian']));
    expect(scales).not.toContain('ionian');
    expect(completed('phrase "A"\n  over | C7:lyd¦ |', 'lydian-dominant')).toBe('phrase "A"\n  over | C7:lydian-dominant |');
  });
  test('numerals need a key, and scales of a numeral are those of its chord there', () => {
    expect(labels('phrase "A"\n  key F major\n  over | ii¦')).toEqual(expect.arrayContaining(['ii', 'ii7']));
    expect(labels('phrase "A"\n  over | i¦')).toEqual([]);
    expect(labels('phrase "A"\n  key F major\n  over | V7:¦')).toContain('mixolydian');
    expect(labels('phrase "A"\n  key F major\n  over | V7:¦')).not.toContain('ionian');
  });
  test('names of changes only as the whole row', () => {
    expect(labels(`${NAMES}phrase "A"\n  over ¦`)).toContain('turn');
    expect(labels(`${NAMES}phrase "A"\n  over | ¦`)).not.toContain('turn');
  });
  test('a row that goes on below is the same row', () =>
    expect(labels('phrase "A"\n  over | C |\n  // a comment\n       | D¦')).toContain('Dm7'));
  test('a definition takes chords after its sign', () => {
    expect(labels('changes turn = | G¦')).toContain('Gm7');
    expect(labels('changes G¦')).toEqual([]);
  });
});

describe('lines', () => {
  test('cells are offered, notes are not', () => {
    expect(labels(`${NAMES}phrase "A"\n  line | ¦`)).toEqual(['climb']);
    expect(labels(`${NAMES}phrase "A"\n  line | C¦`)).toEqual([]);
    expect(labels(`${NAMES}phrase "A"\n  line | 5¦`)).toEqual([]);
  });
  test('a weight and a direction stay', () =>
    expect(completed(`${NAMES}phrase "A"\n  line | 2:/cl¦`, 'climb')).toBe(`${NAMES}phrase "A"\n  line | 2:/climb`));
});

describe('templates', () => {
  test('are aligned as the formatter aligns them, and so is the lesson that the editor begins', () => {
    const none = opened('').definitions;
    const rows = `phrase "A"\n  key     C major\n${plainText(SYSTEM_TEMPLATE)}\n`;
    for (const text of [
      ...['lesson', 'phrase'].map((keyword) => plainText(itemTemplate(keyword, none)!)),
      ...['changes', 'cell'].map((keyword) => `${plainText(itemTemplate(keyword, none)!)}\n`),
      rows,
      LESSON.replace(/\$\{\d:(.*?)\}/g, '$1'),
    ]) {
      expect(text).not.toContain('$');
      expect(formatText(text)).toBe(text);
    }
  });

  const KEYED = 'phrase "A"\n  key F major\n';
  const kinds = (marked: string): string[] => {
    const { snapshot, at } = atCursor(marked);
    return completionsAt(snapshot, at, DEFAULT_THEORY)
      .filter(({ kind }) => kind === 'template')
      .map(({ label }) => label);
  };

  test.each<[string, readonly string[]]>([
    ['¦', ['phrase', 'changes', 'cell', 'lesson']],
    ['phrase¦', ['phrase']],
    ['lesson "A"\n¦', ['phrase', 'changes', 'cell']],
    ['lesson "A"\n¦\nphrase "B"\n', ['phrase', 'changes', 'cell']],
    // Rows of the lesson follow, which a phrase puts above itself: another item here would cut it in two.
    ['lesson "A"\n¦\nabout "B"\n', ['phrase']],
    [`${KEYED}  ¦`, ['over and line', 'phrase', 'changes', 'cell', 'lesson']],
    [`${KEYED}  ¦\n  say "B"`, ['over and line']],
    [`${KEYED}  ¦\n\n// next\nphrase "B"`, ['over and line', 'phrase', 'changes', 'cell', 'lesson']],
    [`${KEYED}  ¦ | C |`, []],
    [`${KEYED}  over ¦`, ['ii-V-I', 'ii-V-I short']],
    [`${KEYED}  over | F | ii¦`, ['ii-V-I', 'ii-V-I short']],
    [`${KEYED.replace('major', 'minor')}  over | ¦`, ['ii-V-i', 'ii-V-i short']],
    // Not inside a bar, not before another chord, not without a key, in no other row.
    [`${KEYED}  over | F ¦`, []],
    [`${KEYED}  over | ¦ F |`, []],
    ['phrase "A"\n  over | ¦', []],
    [`${KEYED}changes turn = | ¦`, []],
    [`${KEYED}  line | ¦`, []],
    [`${KEYED}  line | ii¦`, []],
    [`${KEYED}  degrees | ¦`, []],
    [`${KEYED}  key ¦`, []],
    [`${KEYED}  tag ¦`, []],
    [`${KEYED}  line | C4 D E F |\n  claim ¦`, []],
    [`${KEYED}  say ¦`, []],
    ['ii¦', ['phrase', 'changes', 'cell', 'lesson']],
  ])('in %j', (marked, expected) => expect(kinds(marked)).toEqual(expected));

  test('an item begins at the start of its line, wherever its keyword was typed', () => {
    expect(completed('phrase "A"\n  line | C4 |\n  phr¦', 'phrase')).toMatch(/\|\nphrase "Name"\n {2}key {5}C major\n/);
    expect(completed('phrase "A"\n ov¦', 'over and line')).toMatch(
      /^phrase "A"\n {2}over {4}\| Dm7 {5}G7 {6}\| Cmaj7 {3}\|\n {2}line {4}\|/,
    );
  });
  test('bar lines that are there are not written twice', () => {
    expect(completed(`${KEYED}  over ¦`, 'ii-V-I')).toBe(`${KEYED}  over | ii7 | V7 | Imaj7 |`);
    expect(completed(`${KEYED}  over | i¦ | C7 |`, 'ii-V-I short')).toBe(`${KEYED}  over | ii7 V7 | Imaj7 | C7 |`);
  });
  test('a name that the file has is not given again', () => {
    expect(completed(`${NAMES}ce¦`, 'cell')).toBe(`${NAMES}cell    climb2 = 1-2 3-5`);
    expect(completed(`${NAMES}ch¦`, 'changes')).toBe(`${NAMES}changes turn2 = | Gm7 C7 | Fmaj7 |`);
  });
  test('what they write has no finding, whatever is chosen', () => {
    const texts = [
      completed('¦', 'phrase'),
      completed('¦', 'changes'),
      completed('¦', 'cell'),
      completed('¦', 'lesson'),
      completed('phrase "A"\n  ¦', 'over and line'),
      completed(`${KEYED}  over ¦`, 'ii-V-I'),
      completed('phrase "A"\n key C minor\n over ¦', 'ii-V-i'),
    ];
    for (const text of [...texts, texts[0]!.replace('major', 'minor')])
      expect(opened(text).problems.filter(({ problem }) => problem.severity !== 'information')).toEqual([]);
  });
  test('fields are numbered, a choice is one, and signs of the syntax are escaped', () => {
    expect(snippetText(['a $x} \\ ', ['C'], ' ', ['major', 'mi,nor|']])).toBe('a \\$x\\} \\\\ ${1:C} ${2|major,mi\\,nor\\||}$0');
  });
});

describe('what is whole, or a note, opens no list', () => {
  test.each([
    ...['C', 'B', 'Eb', 'F#'].map((key) => `key ${key}¦`),
    ...['G7', 'Gm7', 'CM7', 'C-7', 'Cø', 'C♭7', 'Am7b5', 'C7/E', 'ii7', 'V7b9', 'V7/ii', 'N.C.', '%'].map(
      (chord) => `key F major\n  over | ${chord}¦`,
    ),
    ...['C', 'Bb', 'E4', 'b3', 'n7', '#11', 'C-E', '5-b', 'C4 E G C', 'E ~', '2:', 'eb', '(C)', 'C!'].map((notes) => `line | ${notes}¦`),
    ...['b3', '1-b'].map((figures) => `degrees | ${figures}¦`),
  ])('%s', (row) => expect(labels(`cell down = 5-3 2-1\ncell bounce = 5-3 2-1\nphrase "A"\n  ${row}`)).toEqual([]));
  test('a root waits for its quality, and comes first itself', () => expect(labels('phrase "A"\n  over | Eb¦')[0]).toBe('Eb'));
});

test.each([
  'phrase "A"\n  over¦',
  'phrase "A"\n  key Eb major¦',
  'phrase "A"\n  over | D7b9¦',
  'phrase "A"\n  over | C7:mixolydian¦',
  'phrase "A"\n  tempo 120 swing¦',
])('a whole word needs nothing: %j', (marked) => {
  expect(labels(marked)).toEqual([]);
  expect(labels(marked.replace(/.¦/, '¦'))).not.toEqual([]);
});

describe('a blank opens a list', () => {
  const opens = (marked: string): boolean => {
    const { snapshot, at } = atCursor(marked);
    return opensAtBlank(snapshot, at);
  };
  const head = 'changes turn = | C |\ncell climb = 1-2\nphrase "A"\n  key F major\n  over turn\n  line | C4 E G C |\n  ';
  test.each(['claim ¦', 'claim   ¦', 'key ¦', 'over ¦', 'part ¦', 'meter ¦', 'level ¦', 'claim lands ¦'])(
    'at %j, with something in it',
    (row) => {
      expect(opens(head + row)).toBe(true);
      expect(labels(head + row)).not.toEqual([]);
    },
  );
  test.each(['line ¦', 'line | C ¦', 'over | C ¦', 'key F ¦', 'tempo ¦', 'say ¦', 'degrees | 1 ¦', '// claim ¦', '¦'])(
    'and not at %j',
    (row) => expect(opens(head + row)).toBe(false),
  );
});

test.each(['// ov¦', 'phrase "A"\n  say "the key¦', 'phrase "A"\n  over | C7 // D¦', 'phrase "li¦ne"', 'phrase "A"\n  bogus ¦'])(
  'nothing is offered in %j',
  (marked) => {
    expect(labels(marked)).toEqual([]);
  },
);
