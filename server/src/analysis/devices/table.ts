/**
 * Every device there is. The order of the ornaments is their precedence, and that of THEORY's table. To add a device, write its finder
 * in a file of its own, give it a row here and one in THEORY; its words are in `explain/device-words.ts`, which does not compile without them.
 */
import { anticipation } from './anticipation';
import { appoggiatura } from './appoggiatura';
import { approach } from './approach';
import { arpeggio } from './arpeggio';
import { bebopLine } from './bebop-line';
import { blueThird } from './blue-third';
import { bluesLine } from './blues-line';
import { cell } from './cell';
import { chromaticRun } from './chromatic-run';
import { commonTone } from './common-tone';
import type { Find } from './device';
import { doubleChromatic } from './double-chromatic';
import { enclosure } from './enclosure';
import { escapeTone } from './escape-tone';
import { guideToneResolution } from './guide-tone-resolution';
import { heldOver } from './held-over';
import { leadingTone } from './leading-tone';
import { modalColour } from './modal-colour';
import { mordent } from './mordent';
import { neighbourTone } from './neighbour-tone';
import { passingTone } from './passing-tone';
import { pentatonicLine } from './pentatonic-line';
import { retardation } from './retardation';
import { scaleRun } from './scale-run';
import { sequence } from './sequence';
import { sideSlip } from './side-slip';
import { superimposedArpeggio } from './superimposed-arpeggio';
import { superimposedPentatonic } from './superimposed-pentatonic';
import { suspension } from './suspension';
import { tensionResolution } from './tension-resolution';
import { tripletArpeggio } from './triplet-arpeggio';
import { turn } from './turn';
import { upperStructure } from './upper-structure';

/**
 * `ornament`: a note belongs to one at most. `run`: a figure that goes untold where all its notes stand in a longer run.
 * `figure`: a figure that is always told. `event`: what happens to a note in the harmony, told beside the ornaments and figures.
 */
export type Layer = 'ornament' | 'run' | 'figure' | 'event';

interface Row {
  readonly id: string;
  readonly layer: Layer;
  readonly find: Find;
}

export const DEVICES = [
  { id: 'enclosure', layer: 'ornament', find: enclosure },
  { id: 'double-chromatic', layer: 'ornament', find: doubleChromatic },
  { id: 'suspension', layer: 'ornament', find: suspension },
  { id: 'retardation', layer: 'ornament', find: retardation },
  { id: 'anticipation', layer: 'ornament', find: anticipation },
  { id: 'appoggiatura', layer: 'ornament', find: appoggiatura },
  { id: 'approach', layer: 'ornament', find: approach },
  { id: 'neighbour-tone', layer: 'ornament', find: neighbourTone },
  { id: 'passing-tone', layer: 'ornament', find: passingTone },
  { id: 'escape-tone', layer: 'ornament', find: escapeTone },
  { id: 'chromatic-run', layer: 'run', find: chromaticRun },
  { id: 'arpeggio', layer: 'run', find: arpeggio },
  { id: 'scale-run', layer: 'run', find: scaleRun },
  { id: 'turn', layer: 'figure', find: turn },
  { id: 'mordent', layer: 'figure', find: mordent },
  { id: 'triplet-arpeggio', layer: 'figure', find: tripletArpeggio },
  { id: 'pentatonic-line', layer: 'run', find: pentatonicLine },
  { id: 'blues-line', layer: 'run', find: bluesLine },
  { id: 'bebop-line', layer: 'run', find: bebopLine },
  { id: 'guide-tone-resolution', layer: 'figure', find: guideToneResolution },
  { id: 'cell', layer: 'figure', find: cell },
  { id: 'sequence', layer: 'figure', find: sequence },
  { id: 'tension-resolution', layer: 'event', find: tensionResolution },
  { id: 'leading-tone', layer: 'event', find: leadingTone },
  { id: 'common-tone', layer: 'event', find: commonTone },
  { id: 'blue-third', layer: 'event', find: blueThird },
  { id: 'held-over', layer: 'event', find: heldOver },
  { id: 'upper-structure', layer: 'event', find: upperStructure },
  { id: 'superimposed-arpeggio', layer: 'event', find: superimposedArpeggio },
  { id: 'superimposed-pentatonic', layer: 'event', find: superimposedPentatonic },
  { id: 'modal-colour', layer: 'event', find: modalColour },
  { id: 'side-slip', layer: 'event', find: sideSlip },
] as const satisfies readonly Row[];

/** The hyphenated name of a device: claims, JSON and the manual use it. */
export type DeviceKind = (typeof DEVICES)[number]['id'];

export const DEVICE_KINDS: readonly DeviceKind[] = DEVICES.map(({ id }) => id);

const places = new Map<DeviceKind, number>(DEVICE_KINDS.map((kind, place) => [kind, place]));
const rows = new Map<DeviceKind, Row>(DEVICES.map((row) => [row.id, row]));
const layers = new Map<DeviceKind, Layer>(DEVICES.map(({ id, layer }) => [id, layer]));

/** The place of a device in the table; smaller goes first. */
export function precedenceOf(kind: DeviceKind): number {
  return places.get(kind)!;
}

export function layerOf(kind: DeviceKind): Layer {
  return layers.get(kind)!;
}

export function finderOf(kind: DeviceKind): Find {
  return rows.get(kind)!.find;
}
