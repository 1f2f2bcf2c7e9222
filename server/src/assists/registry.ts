/** Every code action there is. To add one, write its file and name it here. */
import { readPhrase } from '../analysis/read';
import type { TheoryOptions } from '../analysis/types';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import type { Assist, AssistContext } from './assist';
import { approach } from './approach';
import { chordToneAbove } from './chord-tone-above';
import { chordToneBelow } from './chord-tone-below';
import { enclosure } from './enclosure';
import { chordsInNumerals } from './chords-in-numerals';
import { lineInDegrees } from './line-in-degrees';
import { lineInPitches } from './line-in-pitches';
import { markIntended } from './mark-intended';
import { numeralsInChords } from './numerals-in-chords';
import { offTheBeat } from './off-the-beat';
import { ornament } from './ornament';
import { passingTone } from './passing-tone';
import { raiseEleventh } from './raise-eleventh';
import { tripletArpeggio } from './triplet-arpeggio';
import { twelveKeys } from './twelve-keys';
import { writeClaims } from './write-claims';
import { writeDegrees } from './write-degrees';
import { writeWalkthrough } from './write-walkthrough';

/** In the order of the menu: repairs first. */
export const ASSISTS: readonly Assist[] = [chordToneBelow, chordToneAbove, raiseEleventh, offTheBeat, enclosure, markIntended,
  passingTone, approach, ornament, tripletArpeggio, writeDegrees, writeClaims, writeWalkthrough, twelveKeys,
  lineInDegrees, lineInPitches, chordsInNumerals, numeralsInChords,
];

export interface PlacedOffer {
  readonly assist: string;
  readonly kind: string;
  readonly title: string;
  /** Offsets in the file. */
  readonly edits: readonly { readonly start: number; readonly end: number; readonly text: string }[];
  readonly repairs: string | null;
  readonly preferred: boolean;
}

/** What the assists offer for a selection. One that fails is reported and takes no other away. */
export function offersAt(snapshot: Snapshot, start: number, end: number, options: TheoryOptions, onError: (error: unknown) => void): readonly PlacedOffer[] {
  const placed = snapshot.phrases.find((one) => start >= one.start && start <= one.start + one.phrase.text.length);
  if (placed === undefined) return [];
  const context = contextAt(snapshot, placed, start - placed.start, end - placed.start, options);
  return ASSISTS.flatMap((assist) => {
    try {
      return assist.offers(context).map((offer): PlacedOffer => ({
        assist: assist.id,
        kind: offer.repairs === null ? assist.kind : 'quickfix',
        title: offer.title,
        edits: offer.edits.map(({ range, text }) => ({ start: placed.start + range.start, end: placed.start + range.end, text })),
        repairs: offer.repairs,
        preferred: offer.preferred,
      }));
    } catch (error) {
      onError(error);
      return [];
    }
  });
}

function contextAt(snapshot: Snapshot, placed: PlacedPhrase, start: number, end: number, options: TheoryOptions): AssistContext {
  const { phrase } = placed;
  const touched = phrase.notes.filter((note) => note.range.start <= end && note.range.end >= start);
  const note = touched.find((one) => one.range.start <= start && start < one.range.end) ?? touched[0];
  return { snapshot, placed, reading: readPhrase(phrase, options), options, selection: { start, end }, note: note?.index ?? null };
}
