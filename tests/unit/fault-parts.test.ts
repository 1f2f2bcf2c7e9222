/** A part of a feature that throws costs only itself, and is told once: the parts of hovers, scores, walk-throughs, completions and the rest, each in turn. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { devicesOf } from '../../server/src/analysis/devices/read';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { walkthroughText } from '../../server/src/explain/walkthrough';
import { actionsAt } from '../../server/src/features/code-actions';
import { codeLenses } from '../../server/src/features/code-lenses';
import { completionsAt } from '../../server/src/features/completion/index';
import { hoverAt } from '../../server/src/features/hover/index';
import { inlayHints } from '../../server/src/features/inlay-hints';
import { DEFAULT_SETTINGS } from '../../server/src/features/options';
import { scoreAt } from '../../server/src/features/score/index';
import { documentSymbols, type Symbol } from '../../server/src/features/symbols';
import { onFault, onceEach } from '../../server/src/model/faults';
import { openSnapshot, type Snapshot } from '../../server/src/model/snapshot';
import { takeOf } from '../../server/src/performance/take';
import { DEFAULT_TAKE } from '../../server/src/performance/types';
import { findingsOf } from '../../server/src/rules/findings';

/** Names of functions that throw whatever they are asked. */
const { broken, breakable } = await vi.hoisted(async () => {
  const { breakable } = await import('./breakable');
  const broken = new Set<string>();
  return { broken, breakable: breakable((name) => broken.has(name)) };
});
vi.mock('../../server/src/features/hover/words', breakable);
vi.mock('../../server/src/features/names', breakable);
vi.mock('../../server/src/features/hover/note', breakable);
vi.mock('../../server/src/features/completion/templates', breakable);
vi.mock('../../server/src/features/fix-all', breakable);
vi.mock('../../server/src/rules/words', breakable);
vi.mock('../../server/src/rules/findings', breakable);
vi.mock('../../server/src/analysis/vocabulary', breakable);
vi.mock('../../server/src/analysis/excuse', breakable);
vi.mock('../../server/src/analysis/shown-figure', breakable);
vi.mock('../../server/src/analysis/setting', breakable);
vi.mock('../../server/src/analysis/bass-line', breakable);
vi.mock('../../server/src/analysis/role', breakable);
vi.mock('../../server/src/analysis/claims/check', breakable);
vi.mock('../../server/src/analysis/devices/read', breakable);
vi.mock('../../server/src/explain/device-words', breakable);
vi.mock('../../server/src/explain/guide-tones', breakable);
vi.mock('../../server/src/explain/level', breakable);
vi.mock('../../server/src/explain/one-line', breakable);
vi.mock('../../server/src/explain/whole-scale', breakable);
vi.mock('../../server/src/explain/telling/tell', breakable);
vi.mock('../../server/src/explain/telling/notes', breakable);
vi.mock('../../server/src/exports/musicxml', breakable);
vi.mock('../../server/src/handout/heading', breakable);
vi.mock('../../server/src/handout/picture-data', breakable);
vi.mock('../../server/src/handout/versions', breakable);
vi.mock('../../server/src/performance/voicings', breakable);
vi.mock('../../server/src/performance/bass', breakable);
vi.mock('../../server/src/performance/click', breakable);
vi.mock('../../server/src/theory/chord', breakable);
vi.mock('../../server/src/theory/key', breakable);
vi.mock('../../server/src/theory/roman', breakable);
vi.mock('../../grammar/systems', breakable);

afterEach(() => broken.clear());

/** Clashes, devices, a cell, claims, a bass that falls, a part that transposes. */
const TEXT = `cell climb = 1-2 3-5

changes turn = | Dm7 G7 |

phrase "Slipway"
  key C major
  part alto-sax
  over | Dm7 G7/D | Cmaj7 | Am/G F/F# | G7/F C/E |
  line | D4-F A-C5 B4-D5 F-Ab | G-F# F-E D#-D E ~ | climb F4 ~ | F4 A G B |
  degrees | 1-b3 5-b7 3-5 b7-b9 |
  claim diatonic
  claim range C3 to C7

phrase "Waltz"
  key C major
  over | C/C D/B | Am/A |
  line | C4 E G B | A ~ . . |
`;
const FIGURED = 'phrase "A"\n  key C major\n  over | Cmaj7 |\n  line | C4 E G B |\n  degrees | 1 3 5 6 |\n';
let versions = 0;
/** Read whole before anything is broken. */
function read(text: string): Snapshot {
  const snapshot = openSnapshot('file:///a.phrase', (versions += 1), text);
  findingsOf(snapshot, DEFAULT_THEORY);
  for (const { phrase } of snapshot.phrases) devicesOf(readPhrase(phrase, DEFAULT_THEORY));
  return snapshot;
}
/** The offset of the nth occurrence of a word. */
const at = (word: string, nth = 1, text = TEXT): number => {
  let offset = -1;
  for (let i = 0; i < nth; i += 1) offset = text.indexOf(word, offset + 1);
  expect(offset, word).toBeGreaterThanOrEqual(0);
  return offset;
};

interface Asked {
  readonly text: string;
  /** All that a feature says, fact by fact. */
  readonly facts: (snapshot: Snapshot) => string[];
}

const of = (facts: Asked['facts'], text = TEXT): Asked => ({ text, facts });
const hover = (offset: number, text = TEXT): Asked =>
  of((snapshot) => hoverAt(snapshot, offset, DEFAULT_THEORY)?.markdown.split('\n\n') ?? [], text);
const NUMERALS = 'changes turn = | ii7 V7 |\n\nphrase "A"\n  key C major\n  over turn\n  line | D4 F G B |\n';
/** At the end of a row that is being written. */
const completion = (row: string): Asked => {
  const text = `${TEXT.slice(0, TEXT.indexOf('phrase "Waltz"'))}${row}`;
  return of(
    (snapshot) =>
      completionsAt(snapshot, text.length, DEFAULT_THEORY).map(
        ({ label, kind, detail, template }) => `${kind} ${label}: ${detail}${template.length > 1 ? ' …' : ''}`,
      ),
    text,
  );
};
const outline = (all: readonly Symbol[]): string[] =>
  all.flatMap(({ name, detail, kind, start, children }) => [
    `${start} ${kind} ${name}`,
    `${start} detail: ${detail}`,
    ...outline(children),
  ]);
const score = (pitch: 'written' | 'concert'): Asked =>
  of((snapshot) =>
    scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'lesson', pitch }).phrases.flatMap(({ notes, revision: _, ...phrase }) => [
      ...Object.entries(phrase).map(([key, value]) => `${phrase.name} ${key}: ${JSON.stringify(value)}`),
      ...notes.flatMap((note, i) =>
        Object.entries(note).flatMap(([key, value]) =>
          key === 'lines'
            ? (value as string[]).map((line) => `${phrase.name} note ${i} says ${line}`)
            : [`${phrase.name} note ${i} ${key}: ${JSON.stringify(value)}`],
        ),
      ),
    ]),
  );

const ASKED: Readonly<Record<string, Asked>> = {
  'the hover of a note': hover(at('Ab')),
  'the hover of a note that clashes': hover(at('F4 ~')),
  'the hover of a chord': hover(at('G7/D')),
  'the hover of a figure': hover(at('1-b3')),
  'the hover of a claim': hover(at('claim range') + 1),
  'the hover of a title': hover(at('"Slipway') + 1),
  'the hover of a cell': hover(at('climb', 2)),
  'the hover of changes': hover(at('turn', 2, NUMERALS), NUMERALS),
  'the hover of a definition': hover(at('climb')),
  'the walk-through': of((snapshot) =>
    walkthroughText(readPhrase(snapshot.phrases[0]!.phrase, DEFAULT_THEORY)).split(/\n+|(?<=[a-z]); the bass/),
  ),
  'the walk-through note by note': of((snapshot) =>
    walkthroughText(readPhrase(snapshot.phrases[0]!.phrase, DEFAULT_THEORY), 'notes').split(/\n+/),
  ),
  'the score': score('concert'),
  'the score of a part': score('written'),
  'the lines above phrases': of((snapshot) =>
    codeLenses(snapshot, DEFAULT_SETTINGS).map(({ action, keyword, title }) => `${keyword} ${action}: ${title}`),
  ),
  'the hints': of((snapshot) =>
    inlayHints(snapshot, 0, TEXT.length, { ...DEFAULT_SETTINGS, degreeHints: 'all', deviceHints: true }).flatMap(
      ({ offset, kind, label, tooltip }) => [`${kind} at ${offset}: ${label}`, `${kind} at ${offset} means ${tooltip}`],
    ),
  ),
  'the outline': of((snapshot) => outline(documentSymbols(snapshot))),
  'the sound': of((snapshot) =>
    takeOf(readPhrase(snapshot.phrases[0]!.phrase, DEFAULT_THEORY), { ...DEFAULT_TAKE, countIn: 0 }).sounds.map(
      (sound) => `${sound.voice}: ${JSON.stringify(sound)}`,
    ),
  ),
  'the menu of fixes': of(
    (snapshot) =>
      actionsAt(snapshot, at('6 |', 1, FIGURED), at('6 |', 1, FIGURED), DEFAULT_SETTINGS, () => undefined, [
        'quickfix',
        'source.fixAll',
      ]).map(({ title }) => title),
    FIGURED,
  ),
  'the completion of a chord': completion('phrase "B"\n  key C major\n  over | C'),
  'the completion of a first chord': completion('phrase "B"\n  key C major\n  over '),
  'the completion of a numeral': completion('phrase "B"\n  key C major\n  over | i'),
  'the completion of items': completion('\n'),
};

interface Part {
  /** The function that throws. */
  readonly broken: string;
  readonly in: string;
  /** What is missing then. */
  readonly lost: RegExp;
  /** What is said in its place. */
  readonly instead?: readonly string[] | RegExp;
  readonly told: string | readonly string[];
}

const PARTS: readonly Part[] = [
  {
    broken: 'figureWords',
    in: 'the hover of a note',
    lost: /^\*\*Ab5?\*\* is the|^\*\*Ab/,
    told: 'what a hover says of the degree of a note',
  },
  { broken: 'beatWords', in: 'the hover of a note', lost: /^Bar 1/, told: 'what a hover says of the place of a note' },
  { broken: 'nextOther', in: 'the hover of a note', lost: /^It goes /, told: 'what a hover says of where a note goes' },
  { broken: 'deviceWords', in: 'the hover of a note', lost: /^\*\*[a-z -]+\*\*: /, told: 'what a hover says of the devices of a note' },
  { broken: 'chordTones', in: 'the hover of a chord', lost: /^\*\*G7\/D\*\*/, told: 'what a hover says of the tones of a chord' },
  {
    broken: 'roleOf',
    in: 'the hover of a chord',
    lost: /^Chord-scale|^Tensions| may borrow /,
    told: ['what a hover says of the chord-scale', 'what a hover says of where a chord falls'],
  },
  { broken: 'functionInKey', in: 'the hover of a chord', lost: /^In C major/, told: 'what a hover says of a chord in its key' },
  { broken: 'problemsOf', in: 'the hover of a figure', lost: /^Your figure/, told: 'whether a figure is right' },
  { broken: 'problemsOf', in: 'the hover of a title', lost: /^\d+ findings?\.$|^Nothing clashes/, told: 'how much is found in a phrase' },
  { broken: 'checkClaims', in: 'the hover of a claim', lost: /^\*\*Holds/, told: 'whether a claim holds' },
  { broken: 'levelOf', in: 'the hover of a title', lost: /^Suggested level/, told: 'the suggested level' },
  { broken: 'placesOfName', in: 'the hover of a definition', lost: /^Used /, told: 'how often a name is used' },
  { broken: 'shownFigure', in: 'the hover of a cell', lost: /^Here: /, told: 'what the notes of a cell are' },
  { broken: 'codeWord', in: 'the hover of changes', lost: /^Here: /, told: 'what the chords of changes are' },
  { broken: 'noteHover', in: 'the hover of a note', lost: /./, told: 'the hover of a phrase' },
  { broken: 'settingOf', in: 'the walk-through', lost: /^4 bars|^ falls|^ climbs/, told: 'the setting in the walk-through' },
  {
    broken: 'bassLine',
    in: 'the walk-through',
    lost: /^4 bars|^ falls|^ climbs|^Bar \d/,
    instead: /^4 bars/,
    told: ['the bass in the walk-through', 'the walk-through of the line'],
  },
  {
    broken: 'guideTones',
    in: 'the walk-through',
    lost: /^Bar \d/,
    told: ['the guide tones of the line', 'the walk-through of the line'],
  },
  { broken: 'tell', in: 'the walk-through', lost: /^Bar \d/, told: 'the walk-through of the line' },
  { broken: 'tellNotes', in: 'the walk-through note by note', lost: /^Bar \d/, told: 'the walk-through of the line' },
  { broken: 'checkClaims', in: 'the walk-through', lost: /^“/, told: 'the claims in the walk-through' },
  { broken: 'levelOf', in: 'the walk-through', lost: /^Suggested level/, told: 'the suggested level' },
  { broken: 'phraseHeading', in: 'the score', lost: / heading: /, instead: / heading: ""$/, told: 'the heading of a score' },
  { broken: 'pictureDevices', in: 'the score', lost: / devices: /, instead: / devices: \[\]$/, told: 'the devices of a score' },
  { broken: 'writeMusicXml', in: 'the score', lost: / musicXml: /, instead: / musicXml: ""$/, told: 'the notation of a score' },
  {
    broken: 'pictureNote',
    in: 'the score',
    lost: / note \d+ (?:figure|role|later|finding): /,
    instead: / (?:figure|role|finding): null$| later: \[\]$/,
    told: 'what is drawn of a note',
  },
  {
    broken: 'tell',
    in: 'the score',
    lost: / walkthrough: /,
    instead: / walkthrough: .*Suggested level/,
    told: 'the walk-through of the line',
  },
  {
    broken: 'levelOf',
    in: 'the score',
    lost: / walkthrough: /,
    instead: / walkthrough: .*Bar \d(?!.*Suggested level)/,
    told: 'the suggested level',
  },
  {
    broken: 'beatWords',
    in: 'the score',
    lost: / label: | says (?:Bar \d|In the pickup)| walkthrough: /,
    instead: / label: "[A-G]#?b?\d"$| walkthrough: /,
    told: ['the label of a note', 'the walk-through of the line', 'what a hover says of the place of a note'],
  },
  {
    broken: 'versionsOf',
    in: 'the score of a part',
    lost: /^Slipway (?:findings|says|walkthrough|broken|note \d+ (?:label|says))/,
    instead: /^Slipway (?:findings|says|walkthrough|broken|note \d+ (?:label|says))/,
    told: 'the score as a part reads it',
  },
  {
    broken: 'oneLine',
    in: 'the lines above phrases',
    lost: / explain: /,
    instead: / explain: Open the walk-through$/,
    told: 'the line above a phrase',
  },
  { broken: 'roleWords', in: 'the hints', lost: /^degree /, told: 'the degrees above notes' },
  { broken: 'devicesOf', in: 'the hints', lost: /^device /, told: 'the device words after notes' },
  { broken: 'formatKey', in: 'the outline', lost: / detail: C major/, instead: / detail: $/, told: 'what the outline says of a phrase' },
  { broken: 'isMusicRow', in: 'the outline', lost: / system | detail: bars? \d/, told: 'the systems in the outline' },
  { broken: 'chordSounds', in: 'the sound', lost: /^chords/, told: 'the sound of the chords' },
  { broken: 'bassSounds', in: 'the sound', lost: /^bass/, told: 'the sound of the bass' },
  { broken: 'clickSounds', in: 'the sound', lost: /^click/, told: 'the sound of the click' },
  { broken: 'fixAll', in: 'the menu of fixes', lost: /^Apply all/, told: 'the action that applies all safe fixes' },
  { broken: 'readChord', in: 'the completion of a chord', lost: /^chord /, told: 'the completion of chords' },
  { broken: 'readRoman', in: 'the completion of a numeral', lost: /^chord /, told: 'the completion of numerals' },
  {
    broken: 'itemTemplate',
    in: 'the completion of items',
    lost: /^template (?:lesson|phrase|changes|cell):/,
    instead: /^keyword (?:lesson|phrase|changes|cell):/,
    told: ['lesson', 'phrase', 'changes', 'cell'].map((word) => `the template “${word}”`),
  },
];

describe('a part that throws', () => {
  test.each(PARTS.map((part) => [`${part.broken} in ${part.in}`, part] as const))(
    '%s',
    (_, { broken: name, in: feature, lost, instead, told }) => {
      const { text, facts } = ASKED[feature]!;
      const before = facts(read(text));
      expect(before.filter((fact) => lost.test(fact)).length).toBeGreaterThan(0);
      const heard: string[] = [];
      const end = onFault(onceEach((fault) => void heard.push(fault.of)));
      const snapshot = read(text);
      broken.add(name);
      const after = facts(snapshot);
      facts(snapshot);
      broken.clear();
      end();
      const isInstead = (fact: string): boolean => instead instanceof RegExp && instead.test(fact);
      expect(after.filter((fact) => !isInstead(fact))).toEqual(before.filter((fact) => !lost.test(fact) && !isInstead(fact)));
      if (instead !== undefined) expect(after.filter(isInstead).length).toBeGreaterThan(0);
      expect(heard.sort()).toEqual([told].flat().sort());
    },
  );
});

test('a phrase that cannot be read at all costs no other phrase its findings and its score', () => {
  const text = `${TEXT}\nphrase "Third"\n  key C major\n  over | Cmaj7 |\n  line | F4 A C5 E |\n`;
  const whole = read(text);
  const wanted = scoreAt(whole, 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'concert' });
  const heard: string[] = [];
  const end = onFault(onceEach((fault) => void heard.push(fault.of)));
  // Nothing of this version has been read.
  const snapshot = openSnapshot('file:///b.phrase', 1, text);
  const { phrase } = snapshot.phrases[1]!;
  Object.defineProperty(phrase, 'spans', {
    get: () => {
      throw new Error('no chords today');
    },
  });
  const of = (name: string, one: Snapshot): string[] => {
    const {
      start,
      phrase: { text: own },
    } = one.phrases.find(({ phrase: each }) => each.name === name)!;
    return findingsOf(one, DEFAULT_THEORY)
      .filter((finding) => finding.start >= start && finding.start < start + own.length)
      .map(({ message }) => message);
  };
  expect(of('Slipway', snapshot)).toEqual(of('Slipway', whole));
  expect(of('Third', snapshot)).toEqual(of('Third', whole));
  expect(of('Third', whole).length).toBeGreaterThan(0);
  const { phrases } = scoreAt(snapshot, 0, DEFAULT_THEORY, { scope: 'lesson', pitch: 'concert' });
  end();
  const plain = (one: object): string => JSON.stringify({ ...one, revision: 0 });
  expect([phrases[0]!, phrases[2]!].map(plain)).toEqual([wanted.phrases[0]!, wanted.phrases[2]!].map(plain));
  expect(phrases[1]!.revision).toBeGreaterThan(0);
  expect(phrases[1]!.broken?.message).toBe(
    'A fault of Phrasewright: the score of a phrase broke off: no chords today. Everything else goes on.',
  );
  expect(heard.sort()).toEqual(['the reading of a phrase', 'the score of a phrase']);
});
