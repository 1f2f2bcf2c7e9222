/** Devices in the words of a lesson. */
import type { Device } from '../analysis/devices/device';
import type { Reading } from '../analysis/types';
import { formatNoteName } from '../theory/pitch';
import { degreeWords } from './degree-words';

/** A device as a clause: `the E, the third of C7, is wrapped by F-D (above–below, diatonic)`. */
export function deviceWords(device: Device, reading: Reading): string {
  const notes = device.notes.map((note) => formatNoteName(reading.phrase.notes[note]!.pitch)).join('-');
  const detail = device.detail === '' ? '' : ` (${device.detail})`;
  const target = device.target === null ? null : targetWords(device.target, reading);
  switch (device.kind) {
    case 'enclosure':
      return `${target}, is wrapped by ${notes}${detail}`;
    case 'double-chromatic':
      return `${notes} leads by half steps into ${target}`;
    case 'suspension':
    case 'retardation':
      return `${notes} is kept from the chord before and ${device.kind === 'suspension' ? 'falls' : 'rises'} to ${target} (${device.kind})`;
    case 'anticipation':
      return `${notes} sounds the next chord early (anticipation)`;
    case 'appoggiatura':
      return `${notes} leans on ${target} (appoggiatura)`;
    case 'approach':
      return `${notes} approaches ${target}${detail}`;
    case 'neighbour-tone':
      return `${notes} is a neighbour tone of ${target}${detail}`;
    case 'passing-tone':
      return `${notes} passes to ${target}${detail}`;
    case 'escape-tone':
      return `${notes} escapes by leap (escape tone)`;
    case 'chromatic-run':
      return `${notes} runs by half steps into ${target}`;
    case 'guide-tone-resolution':
      return `${notes} resolves to ${target} (guide tones, ${device.detail})`;
    default:
      return `${notes} is ${article(device.kind)} ${device.kind.replaceAll('-', ' ')}${detail}`;
  }
}

function article(kind: string): string {
  return /^[aeiou]/.test(kind) ? 'an' : 'a';
}

function targetWords(note: number, reading: Reading): string {
  const { placement } = reading.notes[note]!;
  const name = formatNoteName(reading.phrase.notes[note]!.pitch);
  return placement === null ? name : `${name}, the ${degreeWords(placement.figure, placement.role)} of ${reading.phrase.spans[placement.span]!.symbol}`;
}

/** A kind of device as a name in a sentence: `passing tone`. */
export function deviceName(kind: Device['kind']): string {
  return kind.replaceAll('-', ' ');
}
