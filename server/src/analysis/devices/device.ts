/** What a device is, and what a finder of devices answers. */
import type { Study } from './study';

export const DEVICE_KINDS = [
  'enclosure', 'double-chromatic', 'suspension', 'retardation', 'anticipation', 'appoggiatura', 'approach', 'neighbour-tone', 'passing-tone',
  'escape-tone', 'chromatic-run', 'arpeggio', 'scale-run', 'turn', 'mordent', 'triplet-arpeggio', 'pentatonic-line', 'blues-line', 'bebop-line',
  'guide-tone-resolution', 'cell', 'sequence',
] as const;
export type DeviceKind = (typeof DEVICE_KINDS)[number];

export interface Match {
  readonly kind: DeviceKind;
  /** The notes that the device is made of, without its target. */
  readonly notes: readonly number[];
  readonly target: number | null;
  /** What kind of it, in words: `above–below, diatonic`. Empty where there is nothing to add. */
  readonly detail: string;
}

/** A device as the reading of a phrase names it. */
export interface Device extends Match {
  /** Unique in the phrase: `enclosure-1`. */
  readonly id: string;
  readonly from: number;
  readonly to: number;
}

export interface Finder {
  readonly kinds: readonly DeviceKind[];
  /** Ornaments share no notes; figures may. */
  readonly layer: 'ornament' | 'figure';
  /** All valid matches, those to prefer first. */
  find(study: Study): readonly Match[];
}
