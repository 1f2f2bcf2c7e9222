/** Devices in the words of a lesson. */
import type { Device, DeviceKind } from '../analysis/devices/device';
import type { Reading } from '../analysis/types';
import { formatNoteName } from '../theory/pitch';
import { degreeWords } from './degree-words';

/** A device in a sentence: its notes (`F-D`), its target (`E, the third of C7`; empty where it has none), its detail in brackets (or empty). */
interface Said {
  readonly notes: string;
  readonly target: string;
  readonly detail: string;
}

/** What is said of each device, as a clause. */
const CLAUSES: Readonly<Record<DeviceKind, (said: Said) => string>> = {
  enclosure: ({ notes, target, detail }) => `${target}, is wrapped by ${notes}${detail}`,
  'double-chromatic': ({ notes, target }) => `${notes} leads by half steps into ${target}`,
  suspension: ({ notes, target }) => `${notes} is kept from the chord before and falls to ${target} (suspension)`,
  retardation: ({ notes, target }) => `${notes} is kept from the chord before and rises to ${target} (retardation)`,
  anticipation: ({ notes }) => `${notes} sounds the next chord early (anticipation)`,
  appoggiatura: ({ notes, target }) => `${notes} leans on ${target} (appoggiatura)`,
  approach: ({ notes, target, detail }) => `${notes} approaches ${target}${detail}`,
  'neighbour-tone': ({ notes, target, detail }) => `${notes} is a neighbour tone of ${target}${detail}`,
  'passing-tone': ({ notes, target, detail }) => `${notes} passes to ${target}${detail}`,
  'escape-tone': ({ notes }) => `${notes} escapes by leap (escape tone)`,
  'chromatic-run': ({ notes, target }) => `${notes} runs by half steps into ${target}`,
  arpeggio: ({ notes, detail }) => `${notes} is an arpeggio${detail}`,
  'scale-run': ({ notes, detail }) => `${notes} is a scale run${detail}`,
  turn: ({ notes, detail }) => `${notes} is a turn${detail}`,
  mordent: ({ notes, detail }) => `${notes} is a mordent${detail}`,
  'triplet-arpeggio': ({ notes, detail }) => `${notes} is a triplet arpeggio${detail}`,
  'pentatonic-line': ({ notes, detail }) => `${notes} is a pentatonic line${detail}`,
  'blues-line': ({ notes, detail }) => `${notes} is a blues line${detail}`,
  'bebop-line': ({ notes, detail }) => `${notes} is a bebop line${detail}`,
  'guide-tone-resolution': ({ notes, target, detail }) => `${notes} resolves to ${target} (guide tones, ${detail.slice(2, -1)})`,
  cell: ({ notes, detail }) => `${notes} is a cell${detail}`,
  sequence: ({ notes, detail }) => `${notes} is a sequence${detail}`,
};

/** A device as a clause: `E, the third of C7, is wrapped by F-D (above–below, diatonic)`. */
export function deviceWords({ kind, notes, target, detail }: Device, reading: Reading): string {
  return CLAUSES[kind]({
    notes: notes.map((note) => formatNoteName(reading.phrase.notes[note]!.pitch)).join('-'),
    target: target === null ? '' : targetWords(target, reading),
    detail: detail === '' ? '' : ` (${detail})`,
  });
}

function targetWords(note: number, reading: Reading): string {
  const { placement } = reading.notes[note]!;
  const name = formatNoteName(reading.phrase.notes[note]!.pitch);
  return placement === null ? name : `${name}, the ${degreeWords(placement.figure, placement.role)} of ${reading.phrase.spans[placement.span]!.symbol}`;
}

/** A kind of device as a name in a sentence: `passing tone`. */
export function deviceName(kind: DeviceKind): string {
  return kind.replaceAll('-', ' ');
}
