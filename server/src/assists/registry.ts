/** Every code action there is. To add one, write its file and name it here. */
import { readPhrase } from '../analysis/read';
import type { TheoryOptions } from '../analysis/types';
import { faultOf } from '../model/faults';
import { finished, type Pieces } from '../model/pieces';
import { phraseAt, type Snapshot } from '../model/snapshot';
import { editsOfOffer, type Assist, type AssistContext, type Tries } from './assist';
import { anticipation } from './embellish/anticipation';
import { approach } from './embellish/approach';
import { eachOffers } from './embellish/each';
import { enclosure } from './embellish/enclosure';
import { neighbourTone } from './embellish/neighbour-tone';
import { ornament } from './embellish/ornament';
import { passingTone } from './embellish/passing-tone';
import { repeatedPickup } from './embellish/repeated-pickup';
import { suspension } from './embellish/suspension';
import { tripletArpeggio } from './embellish/triplet-arpeggio';
import { chordToneAbove } from './repair/chord-tone-above';
import { chordToneBelow } from './repair/chord-tone-below';
import { longBar } from './repair/long-bar';
import { markIntended } from './repair/mark-intended';
import { offTheBeat } from './repair/off-the-beat';
import { raiseEleventh } from './repair/raise-eleventh';
import { chordsInNumerals } from './rewrite/chords-in-numerals';
import { extractCell } from './rewrite/extract-cell';
import { extractChanges } from './rewrite/extract-changes';
import { fileLines } from './rewrite/file-lines';
import { inlineCell } from './rewrite/inline-cell';
import { inlineChanges } from './rewrite/inline-changes';
import { joinSystems } from './rewrite/join-systems';
import { lineInDegrees } from './rewrite/line-in-degrees';
import { lineInPitches } from './rewrite/line-in-pitches';
import { meterBars } from './rewrite/meter-bars';
import { numeralsInChords } from './rewrite/numerals-in-chords';
import { respell } from './rewrite/respell';
import { writeClaims } from './rewrite/write-claims';
import { writeDegrees } from './rewrite/write-degrees';
import { writeWalkthrough } from './rewrite/write-walkthrough';
import { simplify } from './simplify/simplify';
import { skeleton } from './simplify/skeleton';
import { writeSteps } from './simplify/write-steps';
import { displace } from './vary/displace';
import { harmonicRhythm } from './vary/harmonic-rhythm';
import { invertArpeggio } from './vary/invert-arpeggio';
import { majorMinor } from './vary/major-minor';
import { octave } from './vary/octave';
import { sequenceThrough } from './vary/sequence-through';
import { swapTension } from './vary/swap-tension';
import { transpose } from './vary/transpose';
import { twelveKeys } from './vary/twelve-keys';

/** In the order of the menu: repairs, embellishments, simpler and varied forms, other ways of writing. */
export const ASSISTS: readonly Assist[] = [
  chordToneBelow,
  chordToneAbove,
  raiseEleventh,
  offTheBeat,
  longBar,
  enclosure,
  markIntended,
  passingTone,
  approach,
  ornament,
  tripletArpeggio,
  neighbourTone,
  anticipation,
  suspension,
  repeatedPickup,
  swapTension,
  invertArpeggio,
  simplify,
  sequenceThrough,
  writeDegrees,
  writeClaims,
  writeWalkthrough,
  twelveKeys,
  writeSteps,
  skeleton,
  transpose,
  majorMinor,
  harmonicRhythm,
  octave,
  displace,
  respell,
  lineInDegrees,
  lineInPitches,
  chordsInNumerals,
  numeralsInChords,
  extractCell,
  inlineCell,
  extractChanges,
  inlineChanges,
  joinSystems,
  meterBars,
  fileLines,
];

export interface PlacedOffer {
  readonly assist: string;
  readonly kind: string;
  readonly title: string;
  /** What tells it from other forms of the same action; empty for nothing. */
  readonly detail: string;
  /** What it plants or does: `enclosure`, `double chromatic`, `transpose`. */
  readonly device: string;
  /** The shape of a device; empty for none. */
  readonly shape: string;
  /** Worked out when it is asked for. Offsets in the file. */
  edits(): readonly { readonly start: number; readonly end: number; readonly text: string }[];
  readonly repairs: string | null;
  readonly preferred: boolean;
}

/** What is asked for: by a selection, and, where a key or a command names them, by kinds. */
export interface Asked {
  readonly start: number;
  readonly end: number;
  /** Kinds named by the client; null for all. */
  readonly only: readonly string[] | null;
}

type OnError = (error: unknown) => void;

/** All that the assists offer for a selection. One that fails is reported and takes no other away. */
export function offersAt(snapshot: Snapshot, asked: Asked, options: TheoryOptions, onError: OnError): readonly PlacedOffer[] {
  return finished(offersInPieces(snapshot, asked, options, onError));
}

/** The same with a yield after each assist, and over several notes after each note. */
export function* offersInPieces(
  snapshot: Snapshot,
  asked: Asked,
  options: TheoryOptions,
  onError: OnError,
): Pieces<readonly PlacedOffer[]> {
  const context = contextAt(snapshot, asked, options);
  if (context === null) return [];
  const offers: PlacedOffer[] = [];
  for (const assist of assistsFor(asked)) {
    yield;
    offers.push(...(yield* offersOf(assist, context, asked, onError)));
  }
  return offers;
}

/**
 * What a menu with room for so many entries needs of them: an entry for each device of an assist, its likeliest form, as long as there is
 * room; and of one device two forms, if there are, by which the menu knows that it does not show all. What it would not show is not tried.
 */
export function* menuOffersInPieces(
  snapshot: Snapshot,
  asked: Asked,
  room: number,
  options: TheoryOptions,
  onError: OnError,
): Pieces<readonly PlacedOffer[]> {
  const context = contextAt(snapshot, asked, options);
  if (context === null) return [];
  const offers: PlacedOffer[] = [];
  for (const assist of assistsFor(asked)) {
    const entries = new Set(offers.map(entryOf));
    let hasMore = offers.length > entries.size;
    if (entries.size > room || (hasMore && entries.size >= room)) break;
    yield;
    const tries: Tries = (form, prove) => {
      const entry = entryOf({ assist: assist.id, device: form.device ?? deviceOf(assist) });
      const isShown = isWanted(form.repairs === null ? assist.kind : 'quickfix', asked.only);
      if (!isShown || (hasMore && entries.has(entry))) return [];
      const found = prove();
      if (found.length > 0) {
        hasMore ||= entries.has(entry);
        entries.add(entry);
      }
      return found;
    };
    offers.push(...(yield* offersOf(assist, { ...context, tries }, asked, onError)).filter(({ kind }) => isWanted(kind, asked.only)));
  }
  return offers;
}

/** Forms of one entry of a menu share it. */
export function entryOf({ assist, device }: Pick<PlacedOffer, 'assist' | 'device'>): string {
  return `${assist} ${device}`;
}

function assistsFor({ only }: Asked): readonly Assist[] {
  return ASSISTS.filter(({ kind }) => isWanted(kind, only) || isWanted('quickfix', only));
}

/** What one assist offers. Over several notes, what embellishes is offered for each of them at once. */
export function* offersOf(assist: Assist, context: AssistContext, { only }: Asked, onError: OnError): Pieces<readonly PlacedOffer[]> {
  const { start } = context.placed;
  try {
    const asked = { ...context, asked: only !== null && only.includes(assist.kind) };
    const offers = context.selected.length > 1 ? yield* eachOffers(assist, asked) : assist.offers(asked);
    return offers.map(
      (offer): PlacedOffer => ({
        assist: assist.id,
        kind: offer.repairs === null ? assist.kind : 'quickfix',
        title: offer.title,
        detail: offer.detail ?? '',
        device: offer.device ?? deviceOf(assist),
        shape: offer.shape ?? '',
        edits: () => editsOfOffer(offer).map(({ range, text }) => ({ start: start + range.start, end: start + range.end, text })),
        repairs: offer.repairs,
        preferred: offer.preferred,
      }),
    );
  } catch (error) {
    onError(faultOf(`the action “${assist.id}”`, error));
    return [];
  }
}

/** What an action is named after: `enclosure` of `refactor.rewrite.enclosure`; what only repairs, a repair. */
function deviceOf({ kind }: Assist): string {
  const [first, ...rest] = kind.split('.').slice(1);
  if (first === undefined) return 'repair';
  return (first === 'rewrite' ? rest : [first, ...rest]).join(' ').replaceAll('-', ' ');
}

/** A kind is wanted if it, or a kind it belongs to, is asked for: `refactor` takes in `refactor.rewrite.enclosure`. */
export function isWanted(kind: string, only: readonly string[] | null): boolean {
  return only === null || only.some((wanted) => wanted === '' || kind === wanted || kind.startsWith(`${wanted}.`));
}

/** What is known of the place that is asked for; null where no phrase is. */
export function contextAt(snapshot: Snapshot, asked: Asked, options: TheoryOptions): AssistContext | null {
  const placed = phraseAt(snapshot, asked.start);
  if (placed === null) return null;
  const selection = { start: asked.start - placed.start, end: asked.end - placed.start };
  const { start, end } = selection;
  const touched = placed.phrase.notes.filter((note) => note.range.start <= end && note.range.end >= start);
  // A selection takes in the notes it covers; one that it only touches at an edge is not meant.
  const covered = touched.filter((note) => note.range.start < end && note.range.end > start);
  const note = touched.find((one) => one.range.start <= start && start < one.range.end) ?? touched[0];
  return {
    snapshot,
    placed,
    reading: readPhrase(placed.phrase, options),
    options,
    selection,
    asked: false,
    note: note?.index ?? null,
    selected: start === end ? [] : covered.map(({ index }) => index),
  };
}
