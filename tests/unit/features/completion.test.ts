/** What may be written at the cursor, and where nothing is offered. */
import { describe, expect, test } from 'vitest';
import { completionsAt } from '../../../server/src/features/completion/index';
import { atCursor, edited } from './cursor';

const labels = (marked: string): string[] => {
  const { snapshot, at } = atCursor(marked);
  return completionsAt(snapshot, at).map(({ label }) => label);
};

/** The text after the completion of that label. */
const completed = (marked: string, label: string): string => {
  const { snapshot, at } = atCursor(marked);
  const found = completionsAt(snapshot, at).find((one) => one.label === label);
  if (found === undefined) throw new Error(`“${label}” is not offered.`);
  return edited(snapshot.text, [{ start: found.start, end: found.end, text: label }]);
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
  test('what was typed is replaced', () => expect(completed('phrase "A"\n  degr¦', 'degrees')).toBe('phrase "A"\n  degrees'));
});

describe('properties', () => {
  test.each([
    ['key ¦', 'Bb', 'major'], ['key Bb ¦', 'minor', 'Bb'], ['meter ¦', '6/8', 'swing'], ['tempo 140 ¦', 'straight', '140'], ['part ¦', 'tenor-sax', 'C'], ['level ¦', '3', '6'],
  ])('%s', (row, offered, not) => {
    expect(labels(`phrase "A"\n  ${row}`)).toContain(offered);
    expect(labels(`phrase "A"\n  ${row}`)).not.toContain(not);
  });
  test('tags of the file, those of the row left out', () => expect(labels('phrase "A"\n  tag blues minor\nphrase "B"\n  tag blues ¦')).toEqual(['minor']));
  test('kinds of claims and devices', () => {
    expect(labels('phrase "A"\n  claim ¦')).toEqual(expect.arrayContaining(['diatonic', 'no clash', 'passing-tone']));
    expect(new Set(labels('phrase "A"\n  claim ¦')).size).toBe(labels('phrase "A"\n  claim ¦').length);
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
    expect(labels('phrase "A"\n  key F major\n  over | i¦')).toContain('ii7');
    expect(labels('phrase "A"\n  over | i¦')).toEqual([]);
    expect(labels('phrase "A"\n  key F major\n  over | V7:¦')).toContain('mixolydian');
    expect(labels('phrase "A"\n  key F major\n  over | V7:¦')).not.toContain('ionian');
  });
  test('names of changes only as the whole row', () => {
    expect(labels(`${NAMES}phrase "A"\n  over ¦`)).toContain('turn');
    expect(labels(`${NAMES}phrase "A"\n  over | ¦`)).not.toContain('turn');
  });
  test('a row that goes on below is the same row', () => expect(labels('phrase "A"\n  over | C |\n  // a comment\n       | D¦')).toContain('Dm7'));
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
  test('a weight and a direction stay', () => expect(completed(`${NAMES}phrase "A"\n  line | 2:/cl¦`, 'climb')).toBe(`${NAMES}phrase "A"\n  line | 2:/climb`));
});

test.each(['phrase "A"\n  over¦', 'phrase "A"\n  key Eb major¦', 'phrase "A"\n  over | Dmaj7¦', 'phrase "A"\n  over | C7:mixolydian¦', 'phrase "A"\n  tempo 120 swing¦'])('a whole word needs nothing: %j', (marked) => {
  expect(labels(marked)).toEqual([]);
  expect(labels(marked.replace(/.¦/, '¦'))).not.toEqual([]);
});

test.each(['// ov¦', 'phrase "A"\n  say "the key¦', 'phrase "A"\n  over | C7 // D¦', 'phrase "li¦ne"', 'phrase "A"\n  bogus ¦'])('nothing is offered in %j', (marked) => {
  expect(labels(marked)).toEqual([]);
});
