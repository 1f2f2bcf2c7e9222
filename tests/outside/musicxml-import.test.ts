/**
 * Scores brought in, against the reading of the engraving library verovio, which shares no code with ours: which pitch sounds when and how
 * long, with its repeats and endings played, and where the chord symbols stand. (It plays no D.C. or D.S.; those are in the unit tests.)
 */
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { importMusicXml } from '../../server/src/imports/import';
import { openSnapshot } from '../../server/src/model/snapshot';
import { always, RUN } from '../property/arbitrary';
import { attributes, bothWays, chord, DOUBLE, note, repeat, utf8 } from '../unit/imports/scores';

const DIVISIONS = 12;
/** Rhythms of one or two quarters: type, duration in divisions, dots, tuplet. */
type Value = readonly [type: string, duration: number, dots?: number, tuplet?: string];
const RHYTHMS: readonly (readonly [quarters: number, values: readonly Value[]])[] = [
  [1, [['quarter', 12]]],
  [
    1,
    [
      ['eighth', 6],
      ['eighth', 6],
    ],
  ],
  [
    1,
    [
      ['eighth', 4, 0, '3:2'],
      ['eighth', 4, 0, '3:2'],
      ['eighth', 4, 0, '3:2'],
    ],
  ],
  [
    1,
    [
      ['eighth', 9, 1],
      ['16th', 3],
    ],
  ],
  [
    1,
    [
      ['16th', 3],
      ['eighth', 6],
      ['16th', 3],
    ],
  ],
  [2, [['half', 24]]],
  [
    2,
    [
      ['quarter', 18, 1],
      ['eighth', 6],
    ],
  ],
  [
    2,
    [
      ['quarter', 8, 0, '3:2'],
      ['quarter', 8, 0, '3:2'],
      ['quarter', 8, 0, '3:2'],
    ],
  ],
  [
    2,
    [
      ['eighth', 6],
      ['quarter', 12],
      ['eighth', 6],
    ],
  ],
];
const PITCHES = ['C4', 'Eb4', 'F#4', 'G4', 'Bb4', 'B4', 'D5', 'E5', 'Ab5'] as const;

interface Slot {
  readonly value: Value;
  readonly pitch: string;
  readonly symbol: string;
}
type Bar = readonly Slot[];

const slotOf = (value: Value): fc.Arbitrary<Slot> =>
  fc.record({
    value: fc.constant(value),
    pitch: fc.oneof({ weight: 5, arbitrary: fc.constantFrom(...PITCHES) }, { weight: 1, arbitrary: fc.constantFrom('r', 'tie') }),
    symbol: fc.constantFrom('', '', '', 'D minor-seventh', 'Bb dominant'),
  });
const bar: fc.Arbitrary<Bar> = fc
  .constantFrom([1, 1, 1, 1], [2, 1, 1], [1, 2, 1], [2, 2])
  .chain((shape) =>
    fc.tuple(
      ...shape.map((quarters) =>
        fc.constantFrom(...RHYTHMS.filter(([size]) => size === quarters)).chain(([, values]) => fc.tuple(...values.map(slotOf))),
      ),
    ),
  )
  .map((groups) => groups.flat());
type Section = { readonly kind: 'plain' | 'repeat' | 'endings'; readonly bars: readonly Bar[] };
const section = (kinds: readonly Section['kind'][]): fc.Arbitrary<Section> =>
  fc.record({ kind: fc.constantFrom(...kinds), bars: fc.array(bar, { minLength: 3, maxLength: 4 }) });

/** The measures of some sections. Each written note has an id: `n-` and the number of the note that sounds, with `-t` and a number where it is tied to the one before. */
function measuresOf(sections: readonly Section[]): string[] {
  let sounding = 0;
  let part = 0;
  const texts = sections.flatMap(({ kind, bars }) => {
    const written = bars.map((slots, b) => {
      const words = slots.map((slot, i) => ({
        ...slot,
        pitch: slot.pitch === 'tie' && (i === 0 || (kind !== 'plain' && b === 0)) ? 'G4' : slot.pitch,
      }));
      let previous = 'r';
      let inTuplet = 0;
      return words
        .map(({ value: [type, duration, dots = 0, tuplet], pitch, symbol }, i) => {
          const isTied = pitch === 'tie' && previous !== 'r';
          const own = pitch === 'tie' ? (isTied ? previous : 'C5') : pitch;
          const isHeld = own !== 'r' && words[i + 1]?.pitch === 'tie';
          if (isTied) part += 1;
          else if (own !== 'r') [sounding, part] = [sounding + 1, 1];
          previous = own;
          const tie = isTied && isHeld ? 'both' : isTied ? 'stop' : isHeld ? 'start' : undefined;
          // Tuplets are three notes each.
          if (tuplet !== undefined) inTuplet += 1;
          const edge = tuplet === undefined || inTuplet % 3 === 2 ? '' : `<tuplet type="${inTuplet % 3 === 1 ? 'start' : 'stop'}"/>`;
          const text = note(own, duration, {
            type,
            dots,
            notations: edge,
            ...(tuplet === undefined ? {} : { tuplet }),
            ...(tie === undefined ? {} : { tie }),
          });
          const [root, chordKind] = symbol.split(' ');
          return (
            (symbol === '' ? '' : chord(root!, chordKind!)) +
            (own === 'r' ? text : text.replace('<note>', `<note id="n-${sounding}${part > 1 ? `-t${part}` : ''}">`))
          );
        })
        .join('');
    });
    const last = written.length - 1;
    if (kind === 'plain') return written.map((text, i) => text + (i === last ? DOUBLE : ''));
    if (kind === 'repeat')
      return written.map((text, i) => (i === 0 ? repeat('forward') : '') + text + (i === last ? repeat('backward') : ''));
    const ending = (number: number, type: string): string => `<ending number="${number}" type="${type}"/>`;
    return written.map(
      (text, i) =>
        (i === 0
          ? repeat('forward')
          : i === last - 1
            ? `<barline location="left">${ending(1, 'start')}</barline>`
            : i === last
              ? `<barline location="left">${ending(2, 'start')}</barline>`
              : '') +
        text +
        (i === last - 1
          ? repeat('backward', '', ending(1, 'stop'))
          : i === last
            ? `<barline location="right">${ending(2, 'stop')}</barline>`
            : ''),
    );
  });
  return texts.map((text, i) => (i === 0 ? attributes({ divisions: DIVISIONS }) : '') + text);
}

interface Sound {
  readonly onset: number;
  readonly end: number;
  readonly pitch: number;
}

/** What sounds in a lesson whose phrases follow each other without pickups, in quarters from its start. */
function soundsBroughtIn(xml: string): Sound[] {
  const phrases = openSnapshot('', 1, importMusicXml(utf8(xml), 'file').text).phrases.map(({ phrase }) => phrase);
  let start = 0;
  return phrases.flatMap(({ notes, bars }) => {
    const from = start;
    start += bars.reduce((sum, { length }) => sum + Number(length.valueOf()), 0);
    return notes.map(({ onset, duration, midi }) => ({
      onset: from + Number(onset.valueOf()),
      end: from + Number(onset.add(duration).valueOf()),
      pitch: midi,
    }));
  });
}

describe('what verovio reads', () => {
  let toolkit: VerovioToolkit;
  beforeAll(async () => {
    toolkit = new VerovioToolkit(await createVerovioModule());
    toolkit.setOptions({ breaks: 'none', header: 'none', footer: 'none' });
  });

  function soundsRead(xml: string): Sound[] {
    expect(Boolean(toolkit.loadData(xml))).toBe(true);
    const sounds = new Map<string, { onset: number; end: number; pitch: number }>();
    for (const { qstamp, on, off } of toolkit.renderToTimemap({ includeMeasures: false, includeRests: false }) as {
      qstamp: number;
      on?: string[];
      off?: string[];
    }[]) {
      // The second playing of a note has an ending of its own: `-rend2`.
      const whole = (id: string): string => id.replace(/-t\d+/, '');
      for (const id of off ?? []) {
        const own = sounds.get(whole(id));
        if (own !== undefined) own.end = qstamp;
      }
      for (const id of on ?? [])
        if (!sounds.has(whole(id)))
          sounds.set(whole(id), {
            onset: qstamp,
            end: qstamp,
            pitch: (toolkit.getMIDIValuesForElement(id.replace(/-rend\d+$/, '')) as { pitch: number }).pitch,
          });
    }
    return [...sounds.values()].sort((a, b) => a.onset - b.onset);
  }

  function compare(sections: readonly Section[]): void {
    const xml = bothWays({ parts: [measuresOf(sections)] }).partwise;
    const round = (sounds: readonly Sound[]): string[] =>
      sounds.map(({ onset, end, pitch }) => `${onset.toFixed(2)} ${end.toFixed(2)} ${pitch}`);
    expect(round(soundsBroughtIn(xml)), xml).toEqual(round(soundsRead(xml)));
  }

  test('random tunes with ties, tuplets and rests', () => {
    always(fc.property(fc.array(section(['plain']), { minLength: 1, maxLength: 3 }), compare), {
      ...RUN,
      numRuns: Number(process.env['IMPORT_RUNS'] ?? 30),
    });
  }, 60_000);

  test('random tunes with repeats and endings', () => {
    always(fc.property(fc.array(section(['plain', 'repeat', 'endings']), { minLength: 1, maxLength: 4 }), compare), {
      ...RUN,
      numRuns: Number(process.env['IMPORT_RUNS'] ?? 30),
    });
  }, 60_000);

  test('chord symbols of random tunes: which, and on which beat', () => {
    always(
      fc.property(section(['plain']), (one) => {
        // Symbols between half beats are moved, which is told.
        const bars = one.bars.map((slots) =>
          slots.map((slot, i) => ({
            ...slot,
            symbol: slots.slice(0, i).reduce((sum, { value: [, duration] }) => sum + duration, 0) % 6 === 0 ? slot.symbol : '',
          })),
        );
        const xml = bothWays({ parts: [measuresOf([{ kind: 'plain', bars }])] }).partwise;
        expect(Boolean(toolkit.loadData(xml))).toBe(true);
        const read = [...toolkit.getMEI().matchAll(/<harm[^>]*tstamp="([\d.]+)"[^>]*>([^<]*)/g)].map(
          ([, at, text]) => `${Number(at)} ${text!.replaceAll('♭', 'b').replaceAll('♯', '#')}`,
        );
        const phrases = openSnapshot('', 1, importMusicXml(utf8(xml), 'file').text).phrases.map(({ phrase }) => phrase);
        const own = phrases.flatMap(({ spans }) =>
          spans.filter(({ symbol }) => symbol !== 'N.C.').map(({ onset, symbol }) => `${(Number(onset.valueOf()) % 4) + 1} ${symbol}`),
        );
        expect(own, xml).toEqual(read);
      }),
      { ...RUN, numRuns: 40 },
    );
  }, 60_000);
});
