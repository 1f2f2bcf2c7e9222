/** Lessons made of scores: every feature on a tune of its own, part by part and measure by measure. */
import { describe, expect, test } from 'vitest';
import { openSnapshot } from '../../../server/src/model/snapshot';
import { problemOfChords, withoutOption } from '../../../server/src/imports/given-chords';
import { attributes, brought, chord, degree, DOUBLE, line, note, repeat, rows, sign, words, type Measure, type ScoreText } from './scores';

const said = ({ report }: ReturnType<typeof brought>): string[] => report.map(({ text }) => text);
const tune = (...parts: (Measure | string)[]): ScoreText => ({ parts: [parts] });
const FOUR = 'C4 D4 E4 F4';

test('a whole tune: title, credits, key, meter, tempo, feel, part, pickup, chords', () => {
  const result = brought({
    title: 'Gulls &amp; “gables”',
    name: 'Tenor Saxophone',
    head: '<identification><creator type="composer">A. Writer</creator><rights>Free to copy</rights></identification>',
    parts: [
      [
        {
          number: '0',
          implicit: true,
          content:
            attributes({
              divisions: 2,
              key: '<key><fifths>2</fifths><mode>major</mode></key>',
              more: '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose>',
            }) +
            '<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>144</per-minute></metronome></direction-type><sound tempo="144"/></direction>' +
            words('Medium Swing', ' font-weight="bold"') +
            line('A4 B4'),
        },
        chord('E', 'minor-seventh') + line('D5:2 E5 F#5 G5:4'),
        chord('A', 'dominant', { text: '7' }) + line('A5:3 G5 E5:4'),
        chord('D', 'major-seventh') + line('D5:8'),
      ],
    ],
  });
  expect(result.text).toBe(
    [
      'lesson "Gulls & \\“gables\\”"',
      'about  "Composer: A. Writer. Rights: Free to copy"',
      '',
      'phrase "Gulls & \\“gables\\”"',
      '  key     C major',
      '  tempo   144 swing',
      '  part    tenor-sax',
      '  over         | Dm7       | G7        | Cmaj7 |',
      '  line    G3-A | C D-E F ~ | G ~-F D ~ | C     |',
      '',
    ].join('\n'),
  );
  expect(said(result)).toEqual(['measure 0: left out: the words “Medium Swing”']);
});

describe('rhythm', () => {
  const lineOf = (measures: readonly string[], time = '4/4', divisions = 1): string[] =>
    rows(brought(tune(attributes({ divisions, time }) + measures[0]!, ...measures.slice(1))).text, 'line');

  test('ties within a bar and over bar lines, dots', () => {
    expect(
      lineOf(
        [
          note('C4', 6, { type: 'quarter', dots: 1 }) + note('D4', 2) + note('E4', 8, { tie: 'start' }),
          note('E4', 4, { tie: 'stop' }) + note('F4', 7, { dots: 2 }) + note('G4', 1) + note('r', 4),
        ],
        '4/4',
        4,
      ),
    ).toEqual(['| C4 ~-D E ~ | ~ F ~-~-~-G . |']);
  });

  test('triplets of eighths and of quarters, quintuplets, what divisions round', () => {
    const three = (type: string, duration: number): string =>
      ['C4', 'D4', 'E4'].map((pitch) => note(pitch, duration, { type, tuplet: '3:2' })).join('');
    expect(lineOf([three('eighth', 4) + three('quarter', 8) + note('G4', 12)], '4/4', 12)).toEqual(['| C4-D-E 2:C-D-E G |']);
    // A file of 10 divisions a quarter rounds a triplet to 3, 3 and 4.
    const rounded = [3, 3, 4].map((duration, i) => note(['C4', 'D4', 'E4'][i]!, duration, { type: 'eighth', tuplet: '3:2' })).join('');
    expect(lineOf([rounded + note('F4', 30)], '4/4', 10)).toEqual(['| C4-D-E F ~ ~ |']);
    const five = ['C4', 'D4', 'E4', 'F4', 'G4'].map((pitch) => note(pitch, 4, { type: '16th', tuplet: '5:4' })).join('');
    expect(lineOf([five + note('r', 60)], '4/4', 20)).toEqual(['| C4-D-E-F-G . . . |']);
  });

  test('beats are kept apart where no tuplet crosses them', () => {
    expect(lineOf([line('C4:3 D4:5'), line('E4 F4:2 G4:2 A4:3')], '4/4', 2)).toEqual(['| C4 ~-D ~ ~ | E-F ~-G ~-A ~ |']);
    expect(lineOf([line('C4:2 D4:2 E4:2')], '6/8', 2)).toEqual(['| C4-~-D ~-E-~ |']);
  });

  test('compound meters count dotted beats', () => {
    expect(lineOf([line('C4 D4 E4 F4:2 G4')], '6/8', 2)).toEqual(['| C4-D-E F-~-G |']);
  });

  test('a measure rest fills any meter; forward is silence', () => {
    expect(
      lineOf(
        [
          '<note><rest measure="yes"/><duration>4</duration><voice>1</voice></note>',
          `<forward><duration>1</duration></forward>${line('D4 E4')}`,
        ],
        '3/4',
      ),
    ).toEqual(['| . | . D4 E |']);
  });

  test('octaves are written where they are needed', () => {
    expect(lineOf([line('C4 C5 C4 C6'), line('F#5 C5 Gb5 A4')])).toEqual(['| C4 /C \\C C6 | \\F# \\C Gb \\A |']);
  });
});

describe('pickups and bars of other lengths', () => {
  test('a pickup of a beat and a half begins with a rest; the last bar is filled', () => {
    const { text, report } = brought(
      tune({ number: '0', implicit: true, content: attributes({ divisions: 2 }) + line('G4 A4 B4') }, line('C5:8'), line('D5:4 E5')),
    );
    expect(rows(text, 'line')).toEqual(['.-G4 A-B | C | D ~ E-. . |']);
    expect(report).toEqual([]);
  });

  test('a pickup with a chord of its own is written as a bar', () => {
    const { text } = brought(
      tune({ number: '0', implicit: true, content: attributes() + chord('G', 'dominant') + line('B4') }, chord('C', 'major') + line(FOUR)),
    );
    expect([rows(text, 'over'), rows(text, 'line')]).toEqual([['| N.C. / / G7 | C |'], ['| . . . B4 | \\C D E F |']]);
  });

  test('a pickup before a bar of another meter is written as a bar', () => {
    const { text } = brought(
      tune(
        { number: '0', implicit: true, content: attributes() + line('B4') },
        `<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>${line('C5 D5 E5')}`,
      ),
    );
    expect(rows(text, 'meter')).toEqual(['3/4']);
    expect(rows(text, 'line')).toEqual(['| . . . B4 |', '| C D E |']);
  });

  test('a pickup leads into what comes after a repeat sign, and comes again with a D.C.', () => {
    const mark = '<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>';
    const { text, report } = brought(
      tune(
        { number: '0', implicit: true, content: attributes() + line('G4') },
        repeat('forward') + mark + line(FOUR),
        line('E4:4') + repeat('backward'),
        line('A4:4') + words('D.C. al Fine'),
      ),
    );
    expect([rows(text, 'phrase'), rows(text, 'line')]).toEqual([
      ['"A"', '"A (2)"', '"Bar 5"', '"A (3)"', '"Bar 8"'],
      ['G4 | \\C D E F | E |', '| C4 D E F | E |', '| A4 |', 'G4 | \\C D E F | E |', '| A4 |'],
    ]);
    expect(report).toEqual([]);
  });

  test('over a bar of another meter the chord goes on', () => {
    const { text } = brought(
      tune(attributes() + chord('C', 'major') + line(FOUR), line(FOUR), line('C4 D4 E4 F4 G4'), line(FOUR), line(FOUR)),
    );
    expect(rows(text, 'over')).toEqual(['| C | % |', '| / |', '| / | / |']);
    expect(
      openSnapshot('', 1, text).phrases.map(({ phrase }) =>
        phrase.spans.map(({ symbol, onset, end }) => `${symbol} ${onset.toFraction()} ${end.toFraction()}`),
      ),
    ).toEqual([['C 0 21']]);
  });

  test('a bar split in two is one bar', () => {
    const { text } = brought(
      tune(attributes() + line(FOUR), line('C4 D4 E4'), { number: 'X1', implicit: true, content: line('F4') }, line(FOUR)),
    );
    expect(rows(text, 'line')).toEqual(['| C4 D E F | C D E F | C D E F |']);
  });

  test('where a double bar stands in a bar, what follows leads into a new phrase', () => {
    const { text } = brought(
      tune(attributes() + line(FOUR), line('C4 D4 E4') + DOUBLE, { number: 'X1', implicit: true, content: line('F4') }, line('G4:4')),
    );
    expect(rows(text, 'line')).toEqual(['| C4 D E F | C D E . |', 'F4 | G |']);
  });

  test('a bar that is too long keeps its length in a meter of its own', () => {
    const { text, report } = brought(tune(attributes() + line(FOUR), line('C4 D4 E4 F4 G4'), line('A4:4')));
    expect([rows(text, 'line'), rows(text, 'meter')]).toEqual([
      ['| C4 D E F |', '| C D E F G |', '| A |'],
      ['5/4', '4/4'],
    ]);
    expect(report).toEqual([{ kind: 'decided', text: 'measure 2: a bar that lasts 5 quarters is written 5/4' }]);
  });

  test('a bar that is too short is filled, and that is said', () => {
    const { text, report } = brought(tune(attributes() + line(FOUR), line('C4 D4'), line('A4:4')));
    expect(rows(text, 'line')).toEqual(['| C4 D E F | C D . . | /A |']);
    expect(report).toMatchObject([{ kind: 'decided' }]);
  });
});

describe('the order of play', () => {
  const played = (...measures: string[]): string => {
    const [first, ...rest] = measures;
    const { text, report } = brought(tune(attributes() + first!, ...rest));
    expect(report).toEqual([]);
    return rows(text, 'line')
      .flatMap((row) => row.split('|').map((bar) => bar.trim()[0] ?? ''))
      .join('');
  };
  const [A, B, C, D, E, F] = ['A4', 'B4', 'C5', 'D5', 'E5', 'F5'].map((pitch) => note(pitch, 4)) as [
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const ending = (number: string, type: 'start' | 'stop' | 'discontinue'): string => `<ending number="${number}" type="${type}"/>`;
  const first = (number: string): string => `<barline location="left">${ending(number, 'start')}</barline>`;

  test('repeats, with a sign at their start or from the beginning, and more often than twice', () => {
    expect(played(A, B + repeat('backward'), C)).toBe('ABABC');
    expect(played(A, repeat('forward') + B, C + repeat('backward'), D)).toBe('ABCBCD');
    expect(played(A + repeat('backward', ' times="3"'), B)).toBe('AAAB');
    expect(played(A + repeat('backward'), B + repeat('backward'), C)).toBe('AABBC');
  });

  test('endings', () => {
    expect(
      played(
        A,
        first('1') + B + repeat('backward', '', ending('1', 'stop')),
        `${first('2') + C}<barline location="right">${ending('2', 'discontinue')}</barline>`,
        D,
      ),
    ).toBe('ABACD');
    expect(
      played(
        repeat('forward') + A,
        first('1, 2') + B + repeat('backward', '', ending('1, 2', 'stop')),
        `${first('3') + C}<barline location="right">${ending('3', 'stop')}</barline>`,
      ),
    ).toBe('ABABAC');
    expect(
      played(
        A,
        first('1') + B,
        C + repeat('backward', '', ending('1', 'stop')),
        first('2') + D,
        `${E}<barline location="right">${ending('2', 'stop')}</barline>`,
        repeat('forward') + F + repeat('backward'),
      ),
    ).toBe('ABCADEFF');
    expect(
      played(
        A,
        first('1') + B + repeat('backward', '', ending('1', 'stop')),
        first('2') + C + repeat('backward', '', ending('2', 'stop')),
        first('3') + D,
      ),
    ).toBe('ABACAD');
  });

  test('D.C. al Fine, in words and in sound', () => {
    expect(played(A, B + words('Fine'), C, D + words('D.C. al Fine'))).toBe('ABCDAB');
    expect(
      played(
        A,
        `${B}<sound fine="yes"/>`,
        C,
        `${D}<direction><direction-type><words>Da Capo</words></direction-type><sound dacapo="yes"/></direction>`,
      ),
    ).toBe('ABCDAB');
  });

  test('D.S. al Coda, by signs, words and sound', () => {
    expect(played(A, sign('segno') + B, C + words('To Coda'), D + words('D.S. al Coda'), sign('coda') + E)).toBe('ABCDBCE');
    expect(played(A, sign('segno') + B, C + sign('coda'), D + words('D.S. al Coda'), sign('coda') + E)).toBe('ABCDBCE');
    expect(played(A, `<sound segno="x"/>${B}`, `${C}<sound tocoda="y"/>`, `${D}<sound dalsegno="x"/>`, `<sound coda="y"/>${E}`)).toBe(
      'ABCDBCE',
    );
  });

  test('after a jump no repeat is taken, and of endings the last', () => {
    expect(played(A + repeat('backward'), B + words('Fine'), C + words('D.C. al Fine'))).toBe('AABCAB');
    expect(
      played(
        A,
        first('1') + B + repeat('backward', '', ending('1', 'stop')),
        `${first('2') + C}<barline location="right">${ending('2', 'stop')}</barline>`,
        D + words('D.C. al Fine'),
        E,
      ),
    ).toBe('ABACDACDE');
  });

  test('a D.S. without a segno is told', () => {
    const { report } = brought(tune(attributes() + A, B + words('D.S.')));
    expect(report).toEqual([{ kind: 'left-out', text: 'measure 2: left out: a D.S. without a segno before it: it is taken for a D.C.' }]);
  });

  test('a tie into a second ending is one note', () => {
    const tied = note('A4', 4, { tie: 'start' });
    const { text } = brought(
      tune(
        attributes() + tied,
        first('1') + note('A4', 4, { tie: 'stop' }) + repeat('backward', '', ending('1', 'stop')),
        first('2') + note('A4', 2, { tie: 'stop' }) + note('C5', 2),
      ),
    );
    expect(rows(text, 'line').join(' ')).toBe('| A4 | ~ | | A4 | ~ ~ C ~ |');
  });
});

describe('phrases', () => {
  const bars = (count: number): string[] => Array.from({ length: count }, () => note('C5', 4));

  test('are cut at double bars and rehearsal marks, which name them', () => {
    const mark = (name: string): string => `<direction><direction-type><rehearsal>${name}</rehearsal></direction-type></direction>`;
    const { text } = brought(
      tune(attributes() + mark('A') + bars(1)[0]!, ...bars(3), mark('B') + bars(1)[0]!, bars(1)[0]! + DOUBLE, ...bars(2)),
    );
    expect(rows(text, 'phrase')).toEqual(['"A"', '"B"', '"Bars 7–8"']);
  });

  test('a second ending goes on with its phrase', () => {
    const ending = (number: number): string => `<ending number="${number}" type="start"/>`;
    const { text } = brought(
      tune(
        attributes() + line(FOUR),
        `<barline location="left">${ending(1)}</barline>${note('A4', 4)}${repeat('backward', '', '<ending number="1" type="stop"/>')}`,
        `<barline location="left">${ending(2)}</barline>${note('B4', 4)}`,
      ),
    );
    expect(rows(text, 'line')).toEqual(['| C4 D E F | A |', '| C4 D E F | B |']);
  });

  test('long passages are cut every eight bars; twelve stay whole; --bars says otherwise', () => {
    const cut = (count: number, every?: number): string[] =>
      rows(brought(tune(attributes() + bars(1)[0]!, ...bars(count - 1)), every === undefined ? {} : { bars: every }).text, 'phrase');
    expect(cut(12)).toEqual(['"Low water"']);
    expect(cut(20)).toEqual(['"Bars 1–8"', '"Bars 9–20"']);
    expect(cut(32)).toEqual(['"Bars 1–8"', '"Bars 9–16"', '"Bars 17–24"', '"Bars 25–32"']);
    expect(cut(12, 4)).toEqual(['"Bars 1–4"', '"Bars 5–8"', '"Bars 9–12"']);
    expect(cut(5, 4)).toEqual(['"Bars 1–4"', '"Bar 5"']);
  });

  test('a name where no phrase begins is told, and so is a chord after the end of its bar', () => {
    const late = brought(
      tune(
        attributes() + note('C5', 4, { tie: 'start' }),
        '<direction><direction-type><rehearsal>B</rehearsal></direction-type></direction>' +
          note('C5', 4, { tie: 'stop' }) +
          chord('C', 'major'),
      ),
    );
    expect(said(late)).toEqual([
      'measure 2: left out: the chord C, which is set after the end of its bar',
      'measure 2: left out: “B”, where no phrase begins',
    ]);
  });

  test('no cut goes through a note, but where the key changes', () => {
    const [from, to] = [note('C5', 4, { tie: 'start' }), note('C5', 4, { tie: 'stop' })];
    expect(rows(brought(tune(attributes() + from + DOUBLE, to)).text, 'line')).toEqual(['| C5 | ~ |']);
    const { text, report } = brought(
      tune(attributes() + from, `<attributes><key><fifths>-1</fifths><mode>major</mode></key></attributes>${to}`),
    );
    expect([rows(text, 'line'), rows(text, 'key')]).toEqual([
      ['| C5 |', '| C5 |'],
      ['C major', 'F major'],
    ]);
    expect(report).toMatchObject([{ kind: 'left-out' }]);
  });

  test('a new meter starts a phrase; the chord that goes on is said again', () => {
    const { text } = brought(
      tune(
        attributes() + chord('F', 'minor-seventh') + line(FOUR),
        `<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>${line('A4 B4 C5')}`,
      ),
    );
    expect([rows(text, 'meter'), rows(text, 'over')]).toEqual([['3/4'], ['| Fm7 |', '| Fm7 |']]);
  });
});

describe('chords', () => {
  const over = (content: string, time = '4/4', divisions = 2): ReturnType<typeof brought> =>
    brought(tune(attributes({ divisions, time }) + content));

  test.each([
    ['major', '', '', 'C'],
    ['minor', 'm', '', 'Cm'],
    ['dominant', '', '', 'C7'],
    ['major-seventh', 'Maj7', '', 'CMaj7'],
    ['minor-seventh', '-7', '', 'C-7'],
    ['half-diminished', '', '', 'Cm7b5'],
    ['diminished-seventh', '', '', 'Cdim7'],
    ['major-minor', '', '', 'Cm(maj7)'],
    ['augmented-seventh', '', '', 'C7#5'],
    ['suspended-fourth', '', degree(7, 0, 'add'), 'C7sus'],
    ['suspended-fourth', '7sus4', '', 'C7sus4'],
    ['dominant-13th', '', '', 'C13'],
    ['major-sixth', '', degree(9, 0, 'add'), 'C6/9'],
    ['dominant', '', degree(9, -1, 'add'), 'C7b9'],
    ['dominant', '7', degree(9, 1, 'alter') + degree(5, 1, 'alter'), 'C7#9#5'],
    ['dominant', '7alt', '', 'C7alt'],
    ['other', '7alt', '', 'C7alt'],
    ['major', '', degree(9, 0, 'add'), 'Cadd9'],
    ['minor-seventh', '', degree(5, -1, 'alter'), 'Cm7b5'],
    ['major-seventh', '', degree(11, 1, 'add'), 'Cmaj7#11'],
    ['power', '', '', 'C5'],
    ['dominant', '', degree(3, 0, 'subtract'), 'C7no3'],
  ])('kind %s “%s” %s is %s', (kind, text, degrees, symbol) => {
    const { text: lesson, report } = over(chord('C', kind, { ...(text === '' ? {} : { text }), degrees }) + line('C4:8'));
    expect(report).toEqual([]);
    expect(rows(lesson, 'over')).toEqual([`| ${symbol} |`]);
  });

  test.each(['Neapolitan', 'Italian', 'French', 'German', 'pedal', 'Tristan', 'other'])('kind %s is told, and never guessed', (kind) => {
    const { text, report } = over(chord('Bb', kind, { text: 'strange' }) + line('C4:8'));
    expect(rows(text, 'over')).toEqual(['| N.C. |']);
    expect(report).toEqual([
      {
        kind: 'left-out',
        text: `measure 1: left out: the chord Bbstrange of kind “${kind}”, which the language has no symbol for: N.C. stands in its place`,
      },
    ]);
  });

  test('a text that use-symbols makes complete is no symbol of its own', () => {
    expect(
      rows(
        over(`<harmony><root><root-step>F</root-step></root><kind use-symbols="yes" text="7">major-seventh</kind></harmony>${line('C4:8')}`)
          .text,
        'over',
      ),
    ).toEqual(['| Fmaj7 |']);
  });

  test('basses, no chord, chords within the bar and on half beats', () => {
    const content =
      chord('C', 'major-seventh', { bass: 'E' }) +
      line('C4:3') +
      chord('F', 'dominant') +
      line('D4:3') +
      '<harmony><root><root-step>C</root-step></root><kind text="N.C.">none</kind></harmony>' +
      line('E4:2');
    expect(rows(over(content).text, 'over')).toEqual(['| Cmaj7/E / / F7 / / N.C. / |']);
    expect(rows(over(chord('C', 'major') + chord('F', 'major', { offset: 4 }) + line('C4:8')).text, 'over')).toEqual(['| C F |']);
    expect(rows(over(chord('C', 'major') + line('C4:2') + chord('F', 'major') + line('C4:4'), '3/4').text, 'over')).toEqual(['| C F / |']);
  });

  test('what is between half beats goes to the nearest, and that is told', () => {
    const { text, report } = over(chord('C', 'major') + line('C4:7') + chord('F', 'major') + line('D4:9'), '4/4', 4);
    expect(rows(text, 'over')).toEqual(['| C F |']);
    expect(report).toMatchObject([{ text: 'measure 1: left out: the exact place of F: it is set to the nearest half beat' }]);
  });

  test('a chord that goes on needs no symbol', () => {
    const { text } = brought(
      tune(attributes() + chord('C', 'major') + line(FOUR), line(FOUR), line('C4:2') + chord('F', 'major') + line('D4:2'), line(FOUR)),
    );
    expect(rows(text, 'over')).toEqual(['| C | % | / F | / |']);
  });

  test('given chords take the place of those in the file', () => {
    const score = tune(attributes() + chord('C', 'major') + line(FOUR), line(FOUR), line(FOUR));
    expect(rows(brought(score, { chords: '| Dm7 G7 | Cmaj7 |' }).text, 'over')).toEqual(['| Dm7 G7 | Cmaj7 | Dm7 G7 |']);
    expect(rows(brought(score, { chords: 'ii7 | V7 | %' }).text, 'over')).toEqual(['| ii7 | V7 | V7 |']);
    expect(() => brought(score, { chords: '| Dq7 |' })).toThrow('--chords: “Dq7”');
    expect(() => brought(score, { chords: '| C D E |' })).toThrow('bar 1 has chords that share no bar of 4/4');
    expect(() => brought(score, { chords: '' })).toThrow('--chords');
  });

  test('what is wrong with given chords is said without the option where there is no command line', () => {
    expect(problemOfChords('| Dm7 / / G7 | % |')).toBeNull();
    expect(problemOfChords('')).toBe('The chords cannot be read. Write them bar by bar, | Dm7 | G7 | Cmaj7 | % |.');
    expect(problemOfChords('| % |')).toBe('There is no chord before the first sign of repeat.');
    expect(problemOfChords('| Dq7 |')).toMatch(/^“Dq7”: /);
    expect(withoutOption('this is no XML.')).toBe('this is no XML.');
  });
});

describe('keys', () => {
  const key = (inner: string, content = line('C4:4')): ReturnType<typeof brought> =>
    brought(tune(attributes({ key: `<key>${inner}</key>` }) + content));

  test('major, minor, none, other modes', () => {
    expect(rows(key('<fifths>-3</fifths><mode>minor</mode>').text, 'key')).toEqual(['C minor']);
    expect(rows(key('<fifths>6</fifths><mode>major</mode>').text, 'key')).toEqual(['F# major']);
    expect(rows(key('<fifths>0</fifths>').text, 'key')).toEqual([]);
    const dorian = key('<fifths>0</fifths><mode>dorian</mode>');
    expect([rows(dorian.text, 'key'), said(dorian)]).toEqual([
      [],
      ['measure 1: left out: the mode “dorian”: keys here are major or minor'],
    ]);
  });

  test('a signature without a mode is decided by the last chord, and that is told', () => {
    const minor = key('<fifths>-3</fifths>', chord('C', 'minor') + line('C4:4'));
    expect([rows(minor.text, 'key'), minor.report]).toEqual([
      ['C minor'],
      [{ kind: 'decided', text: 'key signatures without a mode are read as minor' }],
    ]);
    expect(rows(key('<fifths>-3</fifths>', chord('Eb', 'major') + line('C4:4')).text, 'key')).toEqual(['Eb major']);
  });

  test('a part that transposes sounds; its key is written with at most seven accidentals', () => {
    const written = brought({
      name: 'Trumpet in Bb',
      parts: [
        [
          attributes({
            key: '<key><fifths>-6</fifths><mode>major</mode></key>',
            more: '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>',
          }) +
            chord('Gb', 'major-seventh') +
            line('Gb4 Bb4 Db5 F5'),
        ],
      ],
    });
    expect([rows(written.text, 'key'), rows(written.text, 'part'), rows(written.text, 'over'), rows(written.text, 'line')]).toEqual([
      ['E major'],
      ['trumpet'],
      ['| Emaj7 |'],
      ['| E4 G# B D# |'],
    ]);
  });
});

describe('what is not kept is told', () => {
  test('grace notes, percussion, lyrics, slurs, other voices, lower notes, cues, slashes, dynamics, words', () => {
    const { text, report } = brought(
      tune(
        attributes({ divisions: 2 }) +
          note('B4', null, { before: '<grace slash="yes"/>' }) +
          note('C5', 2, { notations: '<slur type="start" number="1"/>' }) +
          note('D5', 2, { notations: '<slur type="stop" number="1"/><articulations><staccato/><accent/></articulations>' }) +
          note('E5', 2, { after: '<lyric><text>la</text></lyric>' }) +
          '<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>2</duration><voice>1</voice></note>' +
          '<backup><duration>8</duration></backup>' +
          note('E4', 8, { voice: 2 }),
        note('C5', 2) +
          note('E5', 2, { before: '<chord/>' }) +
          note('F5', 2, { before: '<cue/>' }) +
          note('G5', 4, { after: '<notehead>slash</notehead>' }) +
          '<direction><direction-type><dynamics><f/></dynamics></direction-type></direction>' +
          words('with a sigh'),
      ),
    );
    expect(rows(text, 'line')).toEqual(['| C5 D> E . | E . . . |']);
    expect(report.map(({ text: told }) => told)).toEqual([
      'measure 1: left out: grace notes',
      'measure 1: left out: slurs',
      'measure 1: left out: staccato marks',
      'measure 1: left out: lyrics',
      'measure 1: left out: percussion notes, which have no pitch: rests stand in their place',
      'measure 1: left out: voice 2',
      'measure 2: left out: notes under the highest of several at once',
      'measure 2: left out: cue notes',
      'measure 2: left out: rhythm slashes: rests stand in their place',
      'measure 2: left out: dynamics',
      'measure 2: left out: the words “with a sigh”',
    ]);
  });

  test('one line a kind, with its measures', () => {
    const graced = (pitch: string): string => note('B4', null, { before: '<grace/>' }) + note(pitch, 4);
    expect(said(brought(tune(attributes() + graced('C5'), graced('D5'), note('E5', 4), graced('F5'))))).toEqual([
      'measures 1, 2, 4: left out: grace notes',
    ]);
  });

  test('parts: the first unless told, by id, name or place', () => {
    const score: ScoreText = { name: 'Melody', parts: [[attributes() + line(FOUR)], [attributes() + chord('C', 'major') + line('G4:4')]] };
    const first = brought(score);
    expect([rows(first.text, 'line'), rows(first.text, 'over'), said(first)]).toEqual([
      ['| C4 D E F |'],
      ['| C |'],
      ['left out: the part Part 2', 'the chord symbols are those of the part Part 2'],
    ]);
    for (const part of ['P2', 'part 2', '2']) expect(rows(brought(score, { part }).text, 'line')).toEqual(['| G4 |']);
    expect(() => brought(score, { part: 'tuba' })).toThrow('there is no part “tuba”. The parts are P1 (Melody), P2 (Part 2).');
  });

  test('tempo and feel: beats as felt, swing by words or by its element', () => {
    const metronome = (inner: string): string => `<direction><direction-type><metronome>${inner}</metronome></direction-type></direction>`;
    const tempo = (content: string, time = '4/4'): string[] =>
      rows(brought(tune(attributes({ divisions: 2, time }) + content + note('C4', time === '6/8' ? 6 : 8))).text, 'tempo');
    expect(tempo(metronome('<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>80</per-minute>'), '6/8')).toEqual(['80']);
    expect(tempo(metronome('<beat-unit>half</beat-unit><per-minute>100</per-minute>'))).toEqual(['200 straight']);
    expect(tempo('<sound tempo="132"><swing><first>2</first><second>1</second><swing-type>eighth</swing-type></swing></sound>')).toEqual([
      '132 swing 2:1',
    ]);
    expect(tempo(words('Swing'))).toEqual(['120 swing']);
  });

  test('a measure that the numbers leave out is told', () => {
    expect(
      said(brought(tune(attributes() + line(FOUR), { number: '2', content: line(FOUR) }, { number: '5', content: line(FOUR) }))),
    ).toEqual(['measure 5: left out: the measures between 2 and 5, which the file does not have']);
  });
});
