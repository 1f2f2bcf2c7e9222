/**
 * Scores as different programs write them, each with what it sounds, written down beforehand by hand. The music is made up for this table;
 * what each element means is said by the W3C MusicXML 4.0 reference (from memory).
 */
import { zipSync, type Zippable } from 'fflate';
import type { ImportOptions } from '../../../server/src/imports/import';

export interface WrittenScore {
  readonly what: string;
  readonly bytes: Uint8Array;
  readonly options?: ImportOptions;
  /** From the first sound or rest on, one after another: `C4` (a quarter), `Bb4:1/2`, `r:4`; `|` is skipped. Concert pitch. */
  readonly notes: string;
  /** `0 Dm7, 4 G7`: quarters from the start. A phrase says again what goes on, which is not listed. */
  readonly chords?: string;
  /** Key, meter and part rows in the order of the phrases, one that is said again not counted. */
  readonly keys?: readonly string[];
  readonly meters?: readonly string[];
  readonly parts?: readonly string[];
  /** What the report says; nothing unless told. */
  readonly told?: readonly string[];
}

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

function utf16(text: string, order: 'little' | 'big', mark: boolean): Uint8Array {
  const units = [...(mark ? [0xfeff] : []), ...Array.from({ length: text.length }, (_, i) => text.charCodeAt(i))];
  return Uint8Array.from(units.flatMap((unit) => (order === 'little' ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255])));
}

function alterOf(sign: string): number {
  return sign.startsWith('b') ? -sign.length : sign.length;
}

/** A note of so many divisions: `Bb4:2`, a rest `r:4`. `inside` stands where the voice does, `first` before the pitch. */
function n(word: string, inside = '<voice>1</voice>', first = ''): string {
  const [, letter, sign, octave, length] = /^([A-Gr])(b*|#*)(\d?)(?::([\d.]+))?$/.exec(word)!;
  const pitch =
    letter === 'r'
      ? '<rest/>'
      : `<pitch><step>${letter}</step>${sign === '' ? '' : `<alter>${alterOf(sign!)}</alter>`}<octave>${octave}</octave></pitch>`;
  return `<note>${first}${pitch}<duration>${length ?? 1}</duration>${inside}</note>`;
}

const ns = (words: string, inside?: string): string =>
  words
    .split(' ')
    .map((word) => n(word, inside))
    .join('');
const grace = (word: string): string => n(word, '<voice>1</voice><type>eighth</type>', '<grace/>').replace(/<duration>.*?<\/duration>/, '');

const TIES = { start: '<tie type="start"/>', stop: '<tie type="stop"/>', both: '<tie type="stop"/><tie type="start"/>' } as const;
const tied = (word: string, how: keyof typeof TIES): string => n(word, `${TIES[how]}<voice>1</voice>`);

/** `more` stands after the kind: basses, degrees, offset. */
const h = (root: string, kind: string, more = '', text?: string): string =>
  `<harmony><root><root-step>${root[0]}</root-step>${root.length > 1 ? `<root-alter>${alterOf(root.slice(1))}</root-alter>` : ''}</root><kind${text === undefined ? '' : ` text="${text}"`}>${kind}</kind>${more}</harmony>`;
const bass = (name: string): string =>
  `<bass><bass-step>${name[0]}</bass-step>${name.length > 1 ? `<bass-alter>${alterOf(name.slice(1))}</bass-alter>` : ''}</bass>`;
const deg = (value: number, alter: number | string, type: string): string =>
  `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`;

const key = (fifths: number, mode = 'major'): string => `<key><fifths>${fifths}</fifths><mode>${mode}</mode></key>`;
const time = (beats: number | string, unit: number): string => `<time><beats>${beats}</beats><beat-type>${unit}</beat-type></time>`;
const attr = (divisions = 1, keyText = key(0), timeText = time(4, 4), more = ''): string =>
  `<attributes><divisions>${divisions}</divisions>${keyText}${timeText}${more}</attributes>`;
const bar = (location: 'left' | 'right' | 'middle', inside: string): string => `<barline location="${location}">${inside}</barline>`;
const BACK = '<repeat direction="backward"/>';
const FORWARD = bar('left', '<repeat direction="forward"/>');
const ending = (number: string, type: 'start' | 'stop' | 'discontinue'): string => `<ending number="${number}" type="${type}"/>`;
const dir = (inside: string, more = ''): string =>
  `<direction placement="above"><direction-type>${inside}</direction-type>${more}</direction>`;
const back = (duration: number): string => `<backup><duration>${duration}</duration></backup>`;

type Measures = readonly (string | { readonly attributes: string; readonly content: string })[];

const measure = (one: Measures[number], i: number, inner: (content: string) => string): string => {
  const { attributes, content } = typeof one === 'string' ? { attributes: `number="${i + 1}"`, content: one } : one;
  return `<measure ${attributes}>${inner(content)}</measure>`;
};
const list = (names: readonly string[], more = ''): string =>
  `<part-list>${names.map((name, i) => `<score-part id="P${i + 1}"><part-name>${name}</part-name>${more}</score-part>`).join('')}</part-list>`;

function partwise(measures: Measures, name = 'Voice', more = ''): string {
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?><score-partwise version="3.1"><movement-title>Reeds</movement-title>${list([name], more)}<part id="P1">${measures.map((one, i) => measure(one, i, (content) => content)).join('')}</part></score-partwise>`;
}

function timewise(...parts: readonly Measures[]): string {
  return `<?xml version='1.0'?><score-timewise>${list(parts.map((_, i) => `Staff ${i + 1}`))}${parts[0]!
    .map((one, i) =>
      measure(one, i, () =>
        parts
          .map((own, p) => {
            const content = own[i]!;
            return `<part id="P${p + 1}">${typeof content === 'string' ? content : content.content}</part>`;
          })
          .join(''),
      ),
    )
    .join('')}</score-timewise>`;
}

const zip = (files: Record<string, string>): Uint8Array =>
  zipSync(
    Object.fromEntries(
      Object.entries(files).map(([name, text]) => [name, [utf8(text), { level: name === 'mimetype' ? 0 : 6 }]]),
    ) as Zippable,
  );

const BAR = ns('C4 D4 E4 F4');
const TWO = partwise([attr() + h('D', 'minor-seventh') + BAR, h('G', 'dominant') + ns('G4:2 F4:2')]);
const TWO_HEARD = { notes: 'C4 D4 E4 F4 | G4:2 F4:2', chords: '0 Dm7, 4 G7', keys: ['C major'] } as const;

export const SCORES: readonly WrittenScore[] = [
  {
    what: 'two voices by backup and forward, the second one first in a later bar',
    bytes: utf8(
      partwise([
        attr(2) + h('F', 'major-seventh') + ns('A4:2 C5:2 E5:4') + back(8) + n('F4:8', '<voice>2</voice>'),
        n('E4:4', '<voice>2</voice>') +
          back(4) +
          ns('D5:1 C5:1 A4:2') +
          '<forward><duration>2</duration><voice>1</voice></forward>' +
          n('G4:2'),
      ]),
    ),
    notes: 'A4 C5 E5:2 | D5:1/2 C5:1/2 A4 r G4',
    chords: '0 Fmaj7',
    keys: ['C major'],
    told: ['measures 1, 2: left out: voice 2'],
  },
  {
    what: 'time-wise, two parts with divisions of their own, chord symbols in the second one',
    bytes: utf8(
      timewise(
        [attr(4, key(-1)) + ns('A4:6 Bb4:2 C5:8'), ns('D5:16')],
        [attr(1, key(-1)) + h('F', 'major') + n('F3:4'), n('r:2') + h('Bb', 'major-sixth') + n('D3:2')],
      ),
    ),
    notes: 'A4:3/2 Bb4:1/2 C5:2 | D5:4',
    chords: '0 F, 6 Bb6',
    keys: ['F major'],
    told: ['left out: the part Staff 2', 'the chord symbols are those of the part Staff 2'],
  },
  {
    what: 'all chord symbols of a bar before its notes, placed by offsets',
    bytes: utf8(
      partwise([
        attr(480) +
          h('D', 'minor-seventh', '<offset>0</offset>') +
          h('G', 'dominant', '<offset>960</offset>') +
          ns('F4:480 A4:480 B4:480 D5:480'),
        h('C', 'major-seventh') + h('A', 'dominant', '<offset sound="no">1440</offset>') + n('E5:1920'),
      ]),
    ),
    notes: 'F4 A4 B4 D5 | E5:4',
    chords: '0 Dm7, 2 G7, 4 Cmaj7, 7 A7',
    keys: ['C major'],
  },
  {
    what: 'chord symbols after their notes, with offsets back, and after a backup',
    bytes: utf8(
      partwise([
        attr(2) + ns('F4:4 A4:4') + h('D', 'minor-seventh', '<offset>-8</offset>') + h('G', 'dominant', '<offset>-4</offset>'),
        n('C5:8') +
          back(8) +
          h('C', 'major') +
          '<forward><duration>4</duration></forward>' +
          h('F', 'major') +
          '<forward><duration>4</duration></forward>',
      ]),
    ),
    notes: 'F4:2 A4:2 | C5:4',
    chords: '0 Dm7, 2 G7, 4 C, 6 F',
    keys: ['C major'],
  },
  {
    what: 'a chord symbol ahead of the beat and one within a held note',
    bytes: utf8(
      partwise([
        attr(2) + h('C', 'major') + ns('E4:3') + h('A', 'minor-seventh') + ns('G4:5'),
        h('D', 'minor-seventh') + ns('F4:8') + h('G', 'dominant', '<offset>-1</offset>'),
      ]),
    ),
    notes: 'E4:3/2 G4:5/2 | F4:4',
    chords: '0 C, 3/2 Am7, 4 Dm7, 15/2 G7',
    keys: ['C major'],
  },
  {
    what: 'cue notes take time, grace notes take none',
    bytes: utf8(
      partwise([
        attr(2) + grace('B4') + n('C5:2') + grace('D5') + grace('E5') + n('F5:2') + n('A4:2', '<voice>1</voice>', '<cue/>') + n('G5:2'),
      ]),
    ),
    notes: 'C5 F5 r G5',
    keys: ['C major'],
    told: ['measure 1: left out: grace notes', 'measure 1: left out: cue notes'],
  },
  {
    what: 'slash chords with altered basses, and no chord with and without a root',
    bytes: utf8(
      partwise([
        attr() + h('C', 'major', bass('Bb')) + ns('C4:2') + h('F#', 'half-diminished', bass('E')) + ns('E4:2'),
        '<harmony print-frame="no"><root><root-step text="">C</root-step></root><kind text="N.C.">none</kind></harmony>' +
          ns('G4:2') +
          '<harmony><kind text="no chord">none</kind></harmony>' +
          ns('F4:2'),
        h('E', 'minor-seventh', bass('B')) + ns('E4:4'),
      ]),
    ),
    notes: 'C4:2 E4:2 | G4:2 F4:2 | E4:4',
    chords: '0 C/Bb, 2 F#m7b5/E, 4 N.C., 8 Em7/B',
    keys: ['C major'],
  },
  {
    what: 'half-diminished chords by kind, by an altered fifth, and by signs',
    bytes: utf8(
      partwise([
        attr() + h('B', 'half-diminished', '', 'ø7') + n('A4:4'),
        h('B', 'minor-seventh', deg(5, -1, 'alter'), 'm7') + n('A4:4'),
        h('B', 'half-diminished', '', 'm7(♭5)') + n('A4:4'),
        h('B', 'half-diminished') + n('A4:4'),
        h('B', 'minor-seventh', deg(5, -1, 'alter'), 'm7b5') + n('A4:4'),
      ]),
    ),
    notes: 'A4:4 A4:4 A4:4 A4:4 A4:4',
    chords: '0 Bm7b5, 4 Bm7b5, 8 Bm7b5, 12 Bm7b5, 16 Bm7b5',
    keys: ['C major'],
  },
  {
    what: 'altered, suspended and added chords by kind and degrees',
    bytes: utf8(
      partwise([
        attr() +
          h('G', 'dominant', deg(9, -1, 'add') + deg(13, -1, 'add')) +
          n('B4:2') +
          h('G', 'suspended-fourth', deg(7, 0, 'add') + deg(9, 0, 'add')) +
          n('C5:2'),
        h('G', 'augmented-seventh', deg(9, 1, 'add')) + n('B4:2') + h('C', 'minor', deg(7, 1, 'add')) + n('Eb5:2'),
        h('C', 'major', deg(9, 0, 'add') + deg(3, 0, 'subtract')) + n('D5:2') + h('A', 'diminished') + n('C5:2'),
      ]),
    ),
    notes: 'B4:2 C5:2 | B4:2 Eb5:2 | D5:2 C5:2',
    chords: '0 G7b9b13, 2 G9sus4, 4 G7#5#9, 6 Cm(maj7), 8 Cadd9no3, 10 Adim',
    keys: ['C major'],
  },
  {
    what: 'alterations and durations as decimals',
    bytes: utf8(
      partwise([
        (attr(1) + h('Bb', 'dominant') + ns('Bb4:1.5 Ab4:0.5 F#4:2.0'))
          .replaceAll('<alter>-1<', '<alter>-1.0<')
          .replaceAll('<alter>1<', '<alter>1.00<')
          .replace('<root-alter>-1<', '<root-alter>-1.0<'),
      ]),
    ),
    notes: 'Bb4:3/2 Ab4:1/2 F#4:2',
    chords: '0 Bb7',
    keys: ['C major'],
  },
  {
    what: 'a tie over a repeat sign: into the next part it holds, back to the start it leads nowhere',
    bytes: utf8(
      partwise([FORWARD + attr() + ns('E4:4'), ns('F4:2') + tied('G4:2', 'start') + bar('right', BACK), tied('G4:2', 'stop') + ns('A4:2')]),
    ),
    notes: 'E4:4 | F4:2 G4:2 | E4:4 | F4:2 G4:4 A4:2',
    keys: ['C major'],
    told: ['measure 2: left out: a tie that leads to no note of the same pitch'],
  },
  {
    what: 'ties that are only drawn, through three bars',
    bytes: utf8(
      partwise([
        attr() + ns('C5:2') + n('G4:2', '<voice>1</voice><notations><tied type="start"/></notations>'),
        n('G4:4', '<voice>1</voice><notations><tied type="stop"/><tied type="start"/></notations>'),
        n('G4:1', '<voice>1</voice><notations><tied type="stop"/></notations>') + ns('A4:3'),
      ]),
    ),
    notes: 'C5:2 G4:7 A4:3',
    keys: ['C major'],
  },
  {
    what: 'three endings, the first for two passes and two bars long',
    bytes: utf8(
      partwise([
        FORWARD + attr() + n('C4:4'),
        bar('left', ending('1,2', 'start')) + n('D4:4'),
        n('E4:4') + bar('right', ending('1,2', 'stop') + BACK),
        bar('left', ending('3', 'start')) + n('F4:4') + bar('right', ending('3', 'discontinue')),
        n('G4:4'),
      ]),
    ),
    notes: 'C4:4 D4:4 E4:4 C4:4 D4:4 E4:4 C4:4 F4:4 G4:4',
    keys: ['C major'],
  },
  {
    what: 'a repeat inside a part that ends in a first and second ending',
    bytes: utf8(
      partwise([
        attr() + n('C4:4'),
        FORWARD + n('D4:4') + bar('right', BACK),
        FORWARD + n('E4:4'),
        bar('left', ending('1', 'start')) + n('F4:4') + bar('right', ending('1', 'stop') + BACK),
        bar('left', ending('2', 'start')) + n('G4:4') + bar('right', ending('2', 'stop')),
      ]),
    ),
    notes: 'C4:4 D4:4 D4:4 E4:4 F4:4 E4:4 G4:4',
    keys: ['C major'],
  },
  {
    what: 'D.S. al Coda with repeats, signs and sounds both, the way out in the middle',
    bytes: utf8(
      partwise([
        attr() + n('C4:4'),
        dir('<segno/>', '<sound segno="seg"/>') + FORWARD + n('D4:4'),
        n('E4:4') + bar('right', BACK),
        n('F4:4') + dir('<words>To Coda</words>', '<sound tocoda="cod"/>'),
        n('G4:4') + dir('<words>D.S. al Coda</words>', '<sound dalsegno="seg"/>'),
        dir('<coda/>', '<sound coda="cod"/>') + n('A4:4'),
      ]),
    ),
    notes: 'C4:4 D4:4 E4:4 D4:4 E4:4 F4:4 G4:4 D4:4 E4:4 F4:4 A4:4',
    keys: ['C major'],
  },
  {
    what: 'D.C. al Fine after endings: the last ending is taken',
    bytes: utf8(
      partwise([
        attr() + n('C4:4'),
        bar('left', ending('1', 'start')) + n('D4:4') + bar('right', ending('1', 'stop') + BACK),
        bar('left', ending('2', 'start')) +
          n('E4:4') +
          dir('<words font-style="italic">Fine</words>', '<sound fine="yes"/>') +
          bar('right', ending('2', 'stop')),
        n('F4:4') + dir('<words>D.C. al Fine</words>', '<sound dacapo="yes"/>'),
      ]),
    ),
    notes: 'C4:4 D4:4 C4:4 E4:4 F4:4 C4:4 E4:4',
    keys: ['C major'],
  },
  {
    what: 'key and meter change inside the tune',
    bytes: utf8(
      partwise([
        attr(2) + h('C', 'major') + n('E4:8'),
        `<attributes>${key(4)}${time(3, 4)}</attributes>${h('E', 'major')}${ns('G#4:2 B4:2 E5:2')}`,
        `<attributes>${key(-3, 'minor')}${time(6, 8)}</attributes>${h('C', 'minor')}${ns('Eb4:3 G4:3')}`,
      ]),
    ),
    notes: 'E4:4 | G#4 B4 E5 | Eb4:3/2 G4:3/2',
    chords: '0 C, 4 E, 7 Cm',
    keys: ['C major', 'E major', 'C minor'],
    meters: ['3/4', '6/8'],
  },
  {
    what: 'a pickup numbered 0, and the last bar that makes up for it, repeated',
    bytes: utf8(
      partwise([
        { attributes: 'number="0" implicit="yes"', content: attr(2, key(1)) + FORWARD + ns('D4:1 F#4:1') },
        { attributes: 'number="1"', content: h('G', 'major') + ns('G4:8') },
        { attributes: 'number="2"', content: h('D', 'dominant') + ns('A4:6') + bar('right', BACK) },
      ]),
    ),
    notes: 'D4:1/2 F#4:1/2 | G4:4 | A4:3 r | D4:1/2 F#4:1/2 | G4:4 | A4:3 r',
    chords: '1 G, 5 D7, 10 G, 14 D7',
    keys: ['G major'],
  },
  {
    what: 'a pickup in a bar numbered 1 that counts',
    bytes: utf8(partwise([attr(1, key(0), time(3, 4)) + n('G4'), h('C', 'major') + ns('E4:2 D4'), h('G', 'dominant') + ns('B4:3')])),
    notes: 'G4 | E4:2 D4 | B4:3',
    chords: '1 C, 4 G7',
    keys: ['C major'],
    meters: ['3/4'],
  },
  {
    what: 'a rest over several bars, written as bars of rest',
    bytes: utf8(
      partwise([
        attr() + n('C4:4'),
        '<attributes><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes><note><rest measure="yes"/><duration>4</duration><voice>1</voice></note>',
        '<note><rest measure="yes"/><duration>4</duration><voice>1</voice></note>',
        '',
        n('D4:4'),
      ]),
    ),
    notes: 'C4:4 r:12 D4:4',
    keys: ['C major'],
  },
  {
    what: 'a repeat sign within a bar, which is split in two measures',
    bytes: utf8(
      partwise([
        { attributes: 'number="0" implicit="yes"', content: attr() + n('G4') },
        { attributes: 'number="1"', content: n('C5:4') },
        { attributes: 'number="2"', content: n('D5:3') + bar('right', `<bar-style>light-heavy</bar-style>${BACK}`) },
        { attributes: 'number="X1" implicit="yes"', content: n('A4') },
        { attributes: 'number="3"', content: n('E5:4') },
      ]),
    ),
    notes: 'G4 | C5:4 | D5:3 r | G4 | C5:4 | D5:3 r | A4 | E5:4',
    keys: ['C major'],
  },
  {
    what: 'a trumpet part: key, notes and chord symbols sound a whole step lower',
    bytes: utf8(
      partwise(
        [
          attr(1, key(2), time(4, 4), '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>') +
            h('D', 'major-seventh') +
            ns('F#4 A4 C#5 D5'),
          h('F#', 'half-diminished', bass('A')) + ns('E5:4'),
        ],
        'Trumpet in Bb',
      ),
    ),
    notes: 'E4 G4 B4 C5 | D5:4',
    chords: '0 Cmaj7, 4 Em7b5/G',
    keys: ['C major'],
    parts: ['trumpet'],
  },
  {
    what: 'a tenor saxophone with its octave apart',
    bytes: utf8(
      partwise(
        [
          attr(1, key(0), time(4, 4), '<transpose><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose>') +
            h('C', 'dominant') +
            ns('C5:2 Bb4:2'),
        ],
        'Tenor Saxophone',
      ),
    ),
    notes: 'Bb3:2 Ab3:2',
    chords: '0 Bb7',
    keys: ['Bb major'],
    parts: ['tenor-sax'],
  },
  {
    what: 'an alto saxophone whose key changes',
    bytes: utf8(
      partwise(
        [
          attr(1, key(3), time(4, 4), '<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>') +
            h('A', 'major') +
            n('C#5:4'),
          `<attributes>${key(-2, 'minor')}</attributes>${h('G', 'minor-seventh')}${n('Bb4:4')}`,
        ],
        'Alto Sax',
      ),
    ),
    notes: 'E4:4 | Db4:4',
    chords: '0 C, 4 Bbm7',
    keys: ['C major', 'Bb minor'],
    parts: ['alto-sax'],
  },
  {
    what: 'a double bass an octave lower, a guitar clef that changes no pitch',
    bytes: utf8(
      partwise(
        [
          attr(
            1,
            key(0),
            time(4, 4),
            '<clef><sign>F</sign><line>4</line></clef><transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>',
          ) + ns('E3 G3 A3 C4'),
        ],
        'Low strings',
      ),
    ),
    notes: 'E2 G2 A2 C3',
    keys: ['C major'],
  },
  {
    what: 'a guitar clef and an 8va line: pitches stand as they sound',
    bytes: utf8(
      partwise([
        attr(1, key(0), time(4, 4), '<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>') +
          ns('C3 E3') +
          dir('<octave-shift type="down" size="8"/>') +
          ns('C6 E6') +
          dir('<octave-shift type="stop" size="8"/>'),
      ]),
    ),
    notes: 'C3 E3 C6 E6',
    keys: ['C major'],
  },
  {
    what: 'two staves: chord symbols over the upper one, the lower one in a voice of its own',
    bytes: utf8(
      partwise(
        [
          attr(1, key(0), time(4, 4), '<staves>2</staves><clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef>') +
            h('A', 'minor-seventh', '<staff>1</staff>') +
            ns('E5 D5 C5 A4', '<voice>1</voice><staff>1</staff>') +
            back(4) +
            n('A2:4', '<voice>5</voice><staff>2</staff>'),
          h('D', 'dominant', '<staff>1</staff>') +
            n('F#4:4', '<voice>1</voice><staff>1</staff>') +
            back(4) +
            n('D3:4', '<voice>5</voice><staff>2</staff>'),
        ],
        'Piano',
      ),
    ),
    notes: 'E5 D5 C5 A4 | F#4:4',
    chords: '0 Am7, 4 D7',
    keys: ['C major'],
    parts: ['piano'],
    told: ['measures 1, 2: left out: voice 5'],
  },
  {
    what: 'notes at once: the highest stays, with its own tie',
    bytes: utf8(
      partwise([
        attr() +
          n('E4:2') +
          n('G4:2', `${TIES.start}<voice>1</voice>`, '<chord/>') +
          n('C4:2') +
          n('A4:2', '<voice>1</voice>', '<chord/>') +
          n('F4:2', '<voice>1</voice>', '<chord/>'),
      ]),
    ),
    notes: 'G4:2 A4:2',
    keys: ['C major'],
    told: [
      'measure 1: left out: notes under the highest of several at once',
      'measure 1: left out: a tie that leads to no note of the same pitch',
    ],
  },
  {
    what: 'percussion and lyrics',
    bytes: utf8(
      partwise([
        attr() +
          '<note><unpitched><display-step>B</display-step><display-octave>4</display-octave></unpitched><duration>2</duration><voice>1</voice></note>' +
          n('G4:2', '<voice>1</voice><lyric number="1"><syllabic>single</syllabic><text>low</text></lyric>'),
      ]),
    ),
    notes: 'r:2 G4:2',
    keys: ['C major'],
    told: ['measure 1: left out: percussion notes, which have no pitch: rests stand in their place', 'measure 1: left out: lyrics'],
  },
  { what: 'UTF-16, the small end first, with its mark', bytes: utf16(TWO.replace('UTF-8', 'UTF-16'), 'little', true), ...TWO_HEARD },
  { what: 'UTF-16, the big end first, with its mark', bytes: utf16(TWO.replace('UTF-8', 'UTF-16'), 'big', true), ...TWO_HEARD },
  { what: 'UTF-16 without a mark', bytes: utf16(TWO.replace('UTF-8', 'UTF-16LE'), 'little', false), ...TWO_HEARD },
  {
    what: 'UTF-8 with a mark, a DOCTYPE, comments, CDATA and a style sheet',
    bytes: utf8(
      `\uFEFF${TWO.replace('<score-partwise', '<?xml-stylesheet href="x.xsl" type="text/xsl"?><!-- made by hand --><!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 3.1 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"><score-partwise xmlns:xlink="http://www.w3.org/1999/xlink"').replace('<step>C</step>', '<step><!-- low --><![CDATA[C]]></step>')}`,
    ),
    ...TWO_HEARD,
  },
  {
    what: 'compressed: a PDF is named first, the score lies in a folder',
    bytes: zip({
      mimetype: 'application/vnd.recordare.musicxml',
      'META-INF/container.xml':
        '<?xml version="1.0"?><container><rootfiles><rootfile full-path="out/page.pdf" media-type="application/pdf"/><rootfile full-path="out/my score.musicxml" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>',
      'out/page.pdf': '%PDF',
      'out/my score.musicxml': TWO,
    }),
    ...TWO_HEARD,
  },
  {
    what: 'compressed, without a container, beside the files that a file manager adds',
    bytes: zip({ '__MACOSX/._reeds.xml': '\u0000\u0005', 'reeds.xml': TWO }),
    ...TWO_HEARD,
  },
  {
    what: 'compressed, with a container that has a name space of its own',
    bytes: zip({
      'META-INF/container.xml':
        '<?xml version="1.0"?><c:container xmlns:c="urn:oasis:names:tc:opendocument:xmlns:container"><c:rootfiles><c:rootfile full-path="b.xml"/></c:rootfiles></c:container>',
      'a.xml': '<opus/>',
      'b.xml': TWO,
    }),
    ...TWO_HEARD,
  },
  {
    what: 'tuplets: triplets of quarters and eighths, a rest in them, a duplet in 6/8',
    bytes: utf8(
      partwise([
        attr(6) +
          [
            ['C4:2', 'eighth'],
            ['r:2', 'eighth'],
            ['E4:2', 'eighth'],
            ['F4:4', 'quarter'],
            ['G4:4', 'quarter'],
            ['A4:4', 'quarter'],
          ]
            .map(([word, type]) =>
              n(
                word!,
                `<voice>1</voice><type>${type}</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>`,
              ),
            )
            .join('') +
          n('B4:6'),
        `<attributes>${time(6, 8)}</attributes>` +
          ['C5:4.5', 'D5:4.5']
            .map((word) =>
              n(
                word,
                '<voice>1</voice><type>eighth</type><time-modification><actual-notes>2</actual-notes><normal-notes>3</normal-notes></time-modification>',
              ),
            )
            .join('') +
          n('E5:9'),
      ]),
    ),
    notes: 'C4:1/3 r:1/3 E4:1/3 F4:2/3 G4:2/3 A4:2/3 B4 | C5:3/4 D5:3/4 E5:3/2',
    keys: ['C major'],
    meters: ['6/8'],
  },
  {
    what: 'divisions that change inside the tune, and a tempo in halves',
    bytes: utf8(
      partwise([
        attr(1) +
          dir('<metronome><beat-unit>half</beat-unit><per-minute>90</per-minute></metronome>', '<sound tempo="180"/>') +
          ns('C4:2 E4:2'),
        `<attributes><divisions>4</divisions></attributes>${ns('G4:3 A4:1 B4:4 C5:8')}`,
      ]),
    ),
    notes: 'C4:2 E4:2 | G4:3/4 A4:1/4 B4 C5:2',
    keys: ['C major'],
  },
  {
    what: 'a sign that stands for the bar before: its music is not in the file',
    bytes: utf8(
      partwise([
        attr() + BAR,
        '<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes><note><rest measure="yes"/><duration>4</duration><voice>1</voice></note>',
        `<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>${n('C4:4')}`,
      ]),
    ),
    notes: 'C4 D4 E4 F4 | C4 D4 E4 F4 | C4:4',
    keys: ['C major'],
    told: ['measure 2: a sign that bars come again is written out'],
  },
  {
    what: 'a repeat in the middle of a measure',
    bytes: utf8(partwise([attr() + n('C4:4'), n('D4:2') + bar('middle', BACK) + n('E4:2'), n('F4:4')])),
    notes: 'C4:4 D4:2 r:2 | C4:4 D4:2 r:2 | E4:2 F4:4',
    keys: ['C major'],
  },
  {
    what: 'voices are named only in the bars that have two',
    bytes: utf8(
      partwise([
        attr() + ns('C5 B4 A4 G4', ''),
        ns('F4:2 E4:2', '<voice>1</voice>') + back(4) + n('C4:4', '<voice>2</voice>'),
        ns('D4:4', ''),
      ]),
    ),
    notes: 'C5 B4 A4 G4 | F4:2 E4:2 | D4:4',
    keys: ['C major'],
    told: ['measure 2: left out: voice 2'],
  },
  {
    what: 'two staves without voices',
    bytes: utf8(
      partwise([
        attr(1, key(0), time(4, 4), '<staves>2</staves>') + ns('C5:2 D5:2', '<staff>1</staff>') + back(4) + n('C3:4', '<staff>2</staff>'),
      ]),
    ),
    notes: 'C5:2 D5:2',
    keys: ['C major'],
    told: ['measure 1: left out: voice of staff 2'],
  },
  {
    what: 'a chord symbol that is set before its bar',
    bytes: utf8(partwise([attr(2) + h('D', 'minor-seventh') + n('F4:8'), h('G', 'dominant', '<offset>-1</offset>') + n('B4:8')])),
    notes: 'F4:4 | B4:4',
    chords: '0 Dm7, 4 G7',
    keys: ['C major'],
    told: ['measure 2: left out: the exact place of G7, which is set before its bar'],
  },
  {
    what: 'a repeat and a D.S. at the end of the same bar, the way out in the second ending',
    bytes: utf8(
      partwise([
        attr() + n('C4:4'),
        dir('<segno/>') + n('D4:4'),
        bar('left', ending('1', 'start')) + n('E4:4') + bar('right', ending('1', 'stop') + BACK),
        bar('left', ending('2', 'start')) + n('F4:4') + dir('<words>To Coda</words>') + bar('right', ending('2', 'stop')),
        FORWARD + n('G4:4') + dir('<words>D.S. al Coda</words>') + bar('right', BACK),
        dir('<words>Coda</words>') + n('A4:4'),
      ]),
    ),
    notes: 'C4:4 D4:4 E4:4 C4:4 D4:4 F4:4 G4:4 G4:4 D4:4 F4:4 A4:4',
    keys: ['C major'],
  },
  {
    what: 'pitches across the octave line and with two accidentals',
    bytes: utf8(partwise([attr(1, key(-6)) + ns('Cb5 Bb4 Fb4 Ebb4'), ns('B#3 E#4 F##4 G#4')])),
    notes: 'Cb5 Bb4 Fb4 Ebb4 | B#3 E#4 F##4 G#4',
    keys: ['Gb major'],
  },
  {
    what: '5/4, 12/8 and a meter of two groups',
    bytes: utf8(
      partwise([
        attr(2, key(0), time(5, 4)) + h('C', 'major') + ns('C4:6 E4:4'),
        `<attributes>${time(12, 8)}</attributes>${h('F', 'major')}${ns('A4:3 C5:3')}${h('G', 'dominant')}${ns('B4:2 D5:1 G4:3')}`,
        `<attributes>${time('3+2', 8)}</attributes>${h('C', 'major')}${ns('C5:3 G4:2')}`,
      ]),
    ),
    notes: 'C4:3 E4:2 | A4:3/2 C5:3/2 B4 D5:1/2 G4:3/2 | C5:3/2 G4',
    chords: '0 C, 5 F, 8 G7, 11 C',
    keys: ['C major'],
    meters: ['5/4', '12/8', '5/8'],
    told: ['measure 3: the meter 3+2/8 is written 5/8'],
  },
  {
    what: 'the part that is asked for, cut every two bars, with chords in place of its own',
    bytes: utf8(
      timewise(
        [attr() + n('C4:4'), n('D4:4'), n('E4:4'), n('F4:4')],
        [attr() + h('C', 'major') + n('C5:4'), n('D5:4'), n('E5:4'), n('F5:4')],
      ),
    ),
    options: { part: 'staff 2', bars: 2, chords: '| Am7 D7 | Gmaj7 |' },
    notes: 'C5:4 D5:4 | E5:4 F5:4',
    chords: '0 Am7, 2 D7, 4 Gmaj7, 8 Am7, 10 D7, 12 Gmaj7',
    keys: ['C major'],
    told: ['left out: the part Staff 1'],
  },
  {
    what: 'signs over two bars that come again',
    bytes: utf8(
      partwise([
        attr() + h('C', 'major') + n('C4:4'),
        h('F', 'major') + n('F4:4'),
        '<attributes><measure-style><measure-repeat type="start" slashes="2">2</measure-repeat></measure-style></attributes>',
        '',
        `<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>${h('C', 'major')}${n('E4:4')}`,
      ]),
    ),
    notes: 'C4:4 F4:4 C4:4 F4:4 E4:4',
    chords: '0 C, 4 F, 8 C, 12 F, 16 C',
    keys: ['C major'],
    told: ['measures 3, 4: a sign that bars come again is written out'],
  },
  {
    what: 'repeat signs back to back inside a measure',
    bytes: utf8(
      partwise([
        FORWARD + attr() + n('C4:4'),
        n('D4:2') + bar('middle', BACK) + bar('middle', '<repeat direction="forward"/>') + n('E4:2'),
        n('F4:4') + bar('right', BACK),
      ]),
    ),
    notes: 'C4:4 D4:2 r:2 | C4:4 D4:2 r:2 | E4:2 F4:4 | E4:2 F4:4',
    keys: ['C major'],
  },
];
