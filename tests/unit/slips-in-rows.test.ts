/** One slip of a whole row is one finding, with the fix that mends it: bar lines with nothing between, a text over two lines, a meter that is another, values of rows. */
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer';
import { sliceFile } from '../../grammar/slices';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { openSnapshot, whileWritten } from '../../server/src/model/snapshot';
import { findingsOf, type Finding } from '../../server/src/rules/findings';
import { only } from './only-finding';

const found = (text: string): readonly Finding[] => findingsOf(openSnapshot('file:///a.phrase', 1, text), DEFAULT_THEORY);
const phraseOf = (text: string) => openSnapshot('file:///a.phrase', 1, text).phrases[0]!.phrase;

describe('bar lines with nothing between them', () => {
  const text = (over: string, line: string, more = ''): string => `phrase "A"\n  key C major\n  over ${over}\n  line ${line}\n${more}`;
  const heard = (one: string): unknown => phraseOf(one).notes.map(({ bar, onset, midi, span }) => [bar, onset.toFraction(), midi, span]);

  test.each([
    [
      'in chords',
      text('| Cmaj7 | | G7 |', '| C4 E G E | D4 F G B |'),
      text('| Cmaj7 | G7 |', '| C4 E G E | D4 F G B |'),
      'the line has no bar for it',
    ],
    [
      'before the first chord',
      text('| | Cmaj7 | G7 |', '| C4 E G E | D4 F G B |'),
      text('| Cmaj7 | G7 |', '| C4 E G E | D4 F G B |'),
      'the line has no bar for it',
    ],
    ['in a line', text('| Cmaj7 | G7 |', '| C4 E | | G |'), text('| Cmaj7 | G7 |', '| C4 E | G |'), 'the chords have no bar for it'],
    [
      'before the end',
      text('| Cmaj7 | G7 ||', '| C4 E G E | D4 F G B | ||'),
      text('| Cmaj7 | G7 ||', '| C4 E G E | D4 F G B ||'),
      'the chords have no bar for it',
    ],
    ['twice', text('| Cmaj7 | | G7 | |', '| C4 E G E | D4 F G B |'), text('| Cmaj7 | G7 |', '| C4 E G E | D4 F G B |'), 'Take 2 away'],
    [
      'after a pickup',
      text('| Cmaj7 | | G7 |', 'B3 | C4 E G E | D4 F G B |'),
      text('| Cmaj7 | G7 |', 'B3 | C4 E G E | D4 F G B |'),
      'the line has no bar for it',
    ],
  ])('%s, where the rows differ by just that, are one error, read as one', (_, wrong, right, words) => {
    const told = only(wrong);
    expect(told).toMatchObject({ rule: 'doubled-bar-line', message: expect.stringContaining(words) as string, after: [right] });
    expect(found(right)).toEqual([]);
    expect(heard(wrong)).toEqual(heard(right));
    expect(phraseOf(wrong).bars).toHaveLength(phraseOf(right).bars.length);
  });

  test('figures copied with them stay under their notes', () => {
    expect(only(text('| Cmaj7 | G7 |', '| C4 E G E | | D4 F G B |', '  degrees | 1 3 5 3 | | 5 7 1 3 |\n')).rule).toBe('doubled-bar-line');
  });

  test.each([
    [
      'in chords',
      text('| Cmaj7 | | G7 |', '| C4 E G E | G E C E | D4 F G B |'),
      'empty-chord-bar',
      'This bar holds no chord; the one before goes on. Write % if that is meant, or take one of its bar lines away.',
    ],
    [
      'in chords alone',
      'phrase "A"\n  over | Cmaj7 | | G7 |\n',
      'empty-chord-bar',
      'This bar holds no chord; the one before goes on. Write % if that is meant, or take one of its bar lines away.',
    ],
    [
      'in a line',
      text('| Cmaj7 | C6 | G7 |', '| C4 E G E | | D4 F G B |'),
      'bar-length',
      'Bar 2 holds nothing. Write a rest ( . ) for it, or take one of its bar lines away.',
    ],
    [
      'over one chord',
      text('| Cmaj7 |', '| C4 E G E | | C4 E G E |'),
      'bar-length',
      'Bar 2 holds nothing. Write a rest ( . ) for it, or take one of its bar lines away.',
    ],
    [
      'in a line that is longer by more',
      text('| Cmaj7 | G7 | C6 |', '| C4 E G E | | | D4 F G B |'),
      'bar-length',
      'Bar 2 holds nothing. Write a rest ( . ) for it, or take one of its bar lines away.',
    ],
  ])('%s else, are a bar that is empty', (_, wrong, rule, message) => {
    expect(found(wrong)[0]).toMatchObject({ rule, message });
    expect(found(wrong).every((one) => one.rule === rule)).toBe(true);
    expect(wrong.slice(found(wrong)[0]!.start, found(wrong)[0]!.end)).toBe('| |');
  });

  test('are a bar of chords while the line below is being written', () => {
    const wrong = text('| Cmaj7 | | G7 |', '| C4 E G E | D4 F A F |');
    const written = whileWritten(openSnapshot('file:///a.phrase', 1, wrong), [wrong.length - 1]);
    expect(findingsOf(written, DEFAULT_THEORY).map(({ rule }) => rule)).toContain('empty-chord-bar');
  });
});

describe('a line that is longer than its chords', () => {
  const text = (over: string, line: string): string => `phrase "A"\n  key C major\n  over ${over}\n  line ${line}\n`;
  const WORDS = ' If each chord is to last a bar, write bar lines between them.';

  test.each([
    ['Cmaj7 Am7', '| C4 E G E | A4 G E C |', 'Cmaj7 | Am7'],
    ['| Cmaj7 Am7 |', '| C4 E G E | A4 G E C |', '| Cmaj7 | Am7 |'],
    ['Cmaj7 Am7 Cmaj7 Am7', '| C4 E G E | A4 G E C | E G C E | A G E C |', 'Cmaj7 | Am7 | Cmaj7 | Am7'],
  ])('over %s, whose chords are as many as its bars, offers a bar for each', (over, line, barred) => {
    const told = only(text(over, line));
    expect(told).toMatchObject({ rule: 'line-longer-than-chords', after: [text(barred, line)] });
    expect(told.message.endsWith(WORDS)).toBe(true);
    expect(found(told.after[0]!)).toEqual([]);
    // What the chords are meant for is a guess: it is not done unasked.
    expect(found(text(over, line))[0]!.fixes[0]!.safe).toBe(false);
  });

  test.each([
    ['| Cmaj7 Am7 |', '| C4 E G E | A4 G E C | C E G E |'],
    ['| Cmaj7 / Am7 / |', '| C4 E G E | C4 E G E | C4 E G E | C4 E G E |'],
    ['| Cmaj7 Am7 | Cmaj7 |', '| C4 E G E | C4 E G E | C4 E G E |'],
  ])('over %s offers none', (over, line) => {
    expect(only(text(over, line))).toMatchObject({ rule: 'line-longer-than-chords', after: [] });
  });
});

describe('a text in quotes over several lines', () => {
  const text = (say: string): string => `phrase "A"\n  over | Cmaj7 |\n  ${say}\n  line | C4 E G E |\n`;

  test.each([
    [
      'say "Breathe before\n  the second bar."',
      'say "Breathe before the second bar."',
      'This text goes on in the next line, and a text in quotes stands in one. Join the lines.',
    ],
    [
      'say "Breathe\n    line by line,   \n    over and over."',
      'say "Breathe line by line, over and over."',
      'This text goes on in the next 2 lines, and a text in quotes stands in one. Join the lines.',
    ],
    [
      'say "\n  Breathe.\n  "',
      'say "Breathe."',
      'This text goes on in the next 2 lines, and a text in quotes stands in one. Join the lines.',
    ],
    [
      'say “Breathe\r\n  twice.”',
      'say “Breathe twice.”',
      'This text goes on in the next line, and a text in quotes stands in one. Join the lines.',
    ],
    [
      'say "Breathe before\n  the second bar.',
      'say "Breathe before the second bar."',
      'This text goes on in the next line and has no closing quote, and a text in quotes stands in one. Join the lines.',
    ],
  ])('%j is one error, read as the text that is meant', (wrong, right, message) => {
    const told = only(text(wrong));
    expect(told).toMatchObject({ rule: 'unclosed-string', message, after: [text(right)] });
    expect(found(text(right))).toEqual([]);
    expect(phraseOf(text(wrong)).says).toEqual(phraseOf(text(right)).says);
    // The writer's lines are kept.
    expect(formatText(text(wrong)).replace(/\s+/g, ' ')).toContain(wrong.replace(/\s+/g, ' '));
  });

  test.each([
    ['say "Play the\n  phrase twice, then sing it.', 'say "Play the phrase twice, then sing it."'],
    [
      'say "Hear how the\n  changes lead the ear, and the\n  phrase breathes."',
      'say "Hear how the changes lead the ear, and the phrase breathes."',
    ],
    ['say "In this\n  lesson we climb.', 'say "In this lesson we climb."'],
    ['say "Each\n  cell is built\n  from the third."', 'say "Each cell is built from the third."'],
    [
      'say "What the old\n  phrase asks for at its end and the\n  cell answers it',
      'say "What the old phrase asks for at its end and the cell answers it"',
    ],
    ['say "A\n  lyne of thought\n  phrase by phrase, and no more.', 'say "A lyne of thought phrase by phrase, and no more."'],
  ])('%j begins a line with the word of an item, and is one error all the same', (wrong, right) => {
    const told = only(text(wrong));
    expect(told).toMatchObject({ rule: 'unclosed-string', after: [text(right)] });
    expect(phraseOf(text(wrong)).says).toEqual(phraseOf(text(right)).says);
  });

  test.each([
    'phrase "Two"\n  line | C4 E G E |\n',
    'phrase Two\n  line | C4 E G E |\n',
    'phrase\n  line | C4 E G E |\n',
    'phrase two\n  line | C4 E G E |\n',
    'changes turn = | C7 |\n',
    'changes turn C7 F7\n',
    'cell climb = 1-2\n',
    'cell climb 1-2\n',
    'cell climb\n',
    'lesson "Two"\n',
  ])('an item below an open text stays one: %j', (item) => {
    const open = 'phrase "A"\n  say "Breathe\n';
    expect(sliceFile(`${open}${item}`).map((slice) => slice.text)).toEqual([open, item]);
  });

  test('the names of phrases and lessons', () => {
    expect(only('phrase "A long\n  title"\n  over | C |\n').after).toEqual(['phrase "A long title"\n  over | C |\n']);
    expect(phraseOf('phrase "A long\n  title"\n  over | C |\n').name).toBe('A long title');
    expect(only('lesson "Two\nlines"\n').after).toEqual(['lesson "Two lines"\n']);
  });

  test.each([
    ['rows of music', 'phrase "A\n  over | Cmaj7 |\n  line | C4 E G E |\n  say "Play."\n'],
    ['a row of words', 'phrase "A\n  key C major\n  over | Cmaj7 |\n'],
    ['a row mistyped', 'phrase "A"\n  say "Breathe\n  lyne | C4 E G E |\n'],
    ['another text', 'phrase "A"\n  say "Breathe\n  say "Play."\n'],
    ['another text that ends with a backslash', 'phrase "A"\n  say "Breathe\n  say "Up \\\\ and down \\\\"\n'],
    ['a blank line', 'phrase "A"\n  say "Breathe\n\n  twice."\n'],
  ])('does not take up %s', (_, wrong) => {
    expect(found(wrong).find(({ rule }) => rule === 'unclosed-string')!.message).toBe(
      'This text has no closing quote. Close it before the end of the line.',
    );
  });
});

describe('a meter that is another', () => {
  const text = (meter: string, over: string, line: string): string =>
    `phrase "A"\n${meter === '' ? '' : `  ${meter}\n`}  over ${over}\n  line ${line}\n`;
  const OVER = '| C6 | C6 |';
  const FOUR = '| C4 E G E | G4 E D C |';
  const THREE = '| C4 E G | G4 E ~ |';

  test.each([
    [
      'meter 3/4',
      OVER,
      FOUR,
      'meter 3/4',
      'Each bar has 4 beats, and in 3/4 it holds 3. Write meter 4/4, or make each bar 3 beats long.',
      text('meter 4/4', OVER, FOUR),
    ],
    [
      '',
      OVER,
      THREE,
      'C4 E G',
      'Each bar has 3 beats, and without a meter row it holds 4. Write meter 3/4, or make each bar 4 beats long.',
      text('meter 3/4', OVER, THREE),
    ],
    [
      'meter 4/4',
      OVER,
      '| 2:C4 E | G4 2:E |',
      'meter 4/4',
      'Each bar has 3 beats, and in 4/4 it holds 4. Write meter 3/4, or make each bar 4 beats long.',
      text('meter 3/4', OVER, '| 2:C4 E | G4 2:E |'),
    ],
    [
      'meter 3/4',
      '| C6 / / F6 | C6 |',
      FOUR,
      'meter 3/4',
      'Each bar has 4 beats, and in 3/4 it holds 3. Write meter 4/4, or make each bar 3 beats long.',
      text('meter 4/4', '| C6 / / F6 | C6 |', FOUR),
    ],
    [
      '',
      OVER,
      '| C4 D E D C D E G | C4 D E D C D E G |',
      'C4 D E D C D E G',
      'Each bar has 8 groups, and a group lasts a beat: in 4/4 it holds 4. Join the notes that share a beat with hyphens: C4-D.',
      text('', OVER, '| C4-D E-D C-D E-G | C4-D E-D C-D E-G |'),
    ],
    [
      'meter 6/8',
      OVER,
      '| C4 D E G ~ E | C4 D E G E D |',
      'C4 D E G ~ E',
      'Each bar has 6 groups, and a group lasts a beat: in 6/8 it holds 2. Join the notes that share a beat with hyphens: C4-D-E.',
      text('meter 6/8', OVER, '| C4-D-E G-~-E | C4-D-E G-E-D |'),
    ],
  ])('%j over %s, %s is one error', (meter, over, line, at, message, after) => {
    const told = only(text(meter, over, line));
    expect(told).toMatchObject({ rule: 'other-meter', at, message });
    expect(told.after[0]).toBe(after);
    expect(found(after)).toEqual([]);
  });

  test('in 6/8, three groups may be three beats of either kind', () => {
    expect(only(text('meter 6/8', OVER, THREE)).after).toEqual([text('meter 9/8', OVER, THREE), text('meter 3/4', OVER, THREE)]);
  });

  test('one bar says nothing of the meter, nor do bars of several lengths', () => {
    expect(found(text('meter 3/4', OVER, '| C4 E G E | G4 E ~ |')).map(({ rule }) => rule)).toEqual(['bar-length']);
    expect(found(text('', OVER, '| C4 E G | G4 E D C E |')).map(({ rule }) => rule)).toEqual(['bar-length', 'bar-length']);
    expect(found(text('', '| C6 | C6 | C6 |', '| C4 E G E | G4 E G | C4 ~ E |')).filter(({ rule }) => rule === 'other-meter')).toEqual([]);
  });

  test.each(['time 3/4', 'time signature 3/4', 'time-signature 3/4', 'timesig 3/4', 'metre 3/4', 'Meter 3/4', '3/4'])(
    '%s is read as the meter that is meant',
    (row) => {
      const told = only(text(row, OVER, THREE));
      expect(told).toMatchObject({ rule: 'unknown-keyword', after: [text('meter 3/4', OVER, THREE)] });
      expect(phraseOf(text(row, OVER, THREE)).bars[0]!.meter.beatCount).toBe(3);
      expect(formatText(text(row, OVER, THREE))).toMatch(new RegExp(row.replace(/ /g, '\\s+')));
    },
  );

  test.each([
    ['3', '3/4'],
    ['3:4', '3/4'],
    ['3 / 4', '3/4'],
    ['3 4', '3/4'],
    ['3\\4', '3/4'],
    ['waltz', '3/4'],
    ['signature 3/4', '3/4'],
  ])('meter %s is told with meter %s, and read as it', (words, right) => {
    const told = only(text(`meter ${words}`, OVER, THREE));
    expect(told).toMatchObject({ rule: 'bad-meter', at: words, after: [text(`meter ${right}`, OVER, THREE)] });
    expect(told.message).toContain(`not “${words}”. Write ${right}.`);
  });

  test('meter 6/7 has no remedy but the message', () => {
    expect(only(text('meter 6/7', '| C6 |', '| C4 ~ ~ ~ |'))).toMatchObject({ rule: 'bad-meter', after: [] });
  });
});

describe('values of rows that are misspelt', () => {
  test.each([
    ['part tenr', ['tenor-sax']],
    ['part sax', ['soprano-sax', 'alto-sax', 'tenor-sax', 'baritone-sax']],
    ['part alt', ['alto-sax']],
    ['part bari', ['baritone-sax']],
    ['part trumpt', ['trumpet']],
    ['part vocals', ['voice']],
    ['part Bb', ['trumpet', 'tenor-sax', 'clarinet']],
    ['part barritone', ['baritone-sax']],
    ['part clarinett', ['clarinet']],
    ['part double bass', ['bass']],
    ['tempo 120 swng', ['120 swing']],
    ['tempo 120 Swing', ['120 swing']],
    ['tempo swing 120', ['120 swing']],
    ['tempo 96 straigt', ['96 straight']],
    ['tempo 96 even', ['96 straight']],
    ['tempo 120 bpm', ['120']],
    ['tempo 120bpm swing', ['120 swing']],
    ['tempo 120 swing 2/1', ['120 swing 2:1']],
    ['tempo 120 2:1', ['120 swing 2:1']],
    ['key C majr', ['C major']],
    ['key A minr', ['A minor']],
  ] as [string, string[]][])('%s', (row, offers) => {
    const [word] = row.split(' ') as [string];
    const told = only(`phrase "A"\n  ${row}\n  over | C6 |\n`);
    expect(told.after).toEqual(offers.map((one) => `phrase "A"\n  ${word} ${one}\n  over | C6 |\n`));
    expect(told.message).toContain(word === 'part' ? `Did you mean ${offers.join(', ')}?` : `write ${offers.join(' or ')}.`);
    for (const after of told.after) expect(found(after)).toEqual([]);
  });

  test('a part that is like none is told which there are', () => {
    expect(only('phrase "A"\n  part kazoophone\n').message).toBe(
      '“kazoophone” is no part known here. The parts are concert, piano, flute, clarinet, soprano-sax, alto-sax, tenor-sax, baritone-sax, trumpet, trombone, guitar, bass, voice.',
    );
  });

  test.each(['tempo fast', 'tempo 500', 'tempo 120 quickly', 'tempo 120 straight 2:1'])('%s has no telling', (row) => {
    expect(only(`phrase "A"\n  ${row}\n`)).toMatchObject({ rule: 'bad-tempo', after: [] });
  });

  test.each([
    ['tempoo 160', 'tempo 160'],
    ['bpm 160', 'tempo 160'],
    ['instrument tenor', 'part tenor'],
    ['Key F major', 'key F major'],
    ['kee F major', 'key F major'],
  ])('%s is read as %s', (row, right) => {
    const text = (one: string): string => `phrase "A"\n  ${one}\n  over | C7 |\n`;
    expect(only(text(row))).toMatchObject({ rule: 'unknown-keyword', after: [text(right)] });
    const { key, tempo, part } = phraseOf(text(row));
    expect({ key, tempo, part }).toEqual((({ key: k, tempo: t, part: p }) => ({ key: k, tempo: t, part: p }))(phraseOf(text(right))));
  });
});
