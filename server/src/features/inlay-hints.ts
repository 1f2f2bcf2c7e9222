/** The degree after each note, as the writer wishes: none, those that clash, or all. */
import { readPhrase } from '../analysis/read';
import { devicesOf } from '../analysis/devices/read';
import { shownFigure } from '../analysis/shown-figure';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import { deviceWords } from '../explain/device-words';
import { roleWords } from './hover/words';
import type { Settings } from './options';

export interface InlayHint {
  /** Offset in the file, just after the note. */
  readonly offset: number;
  readonly label: string;
  readonly tooltip: string;
  /** A client may draw the one otherwise than the other. */
  readonly kind: 'degree' | 'device';
}

export function inlayHints(snapshot: Snapshot, start: number, end: number, settings: Settings): readonly InlayHint[] {
  const phrases = snapshot.phrases.filter(({ start: at, phrase }) => at <= end && at + phrase.text.length >= start);
  return [...degreeHints(phrases, settings), ...(settings.deviceHints ? deviceHints(phrases, settings) : [])];
}

/** A bracket word at the target of each device, or at its first note. */
function deviceHints(phrases: readonly PlacedPhrase[], { theory }: Settings): InlayHint[] {
  return phrases.flatMap(({ start, phrase }) => {
    const reading = readPhrase(phrase, theory);
    return devicesOf(reading).map((device): InlayHint => ({
      offset: start + phrase.notes[device.target ?? device.from]!.range.end,
      label: `[${device.kind.replaceAll('-', ' ')}]`,
      tooltip: deviceWords(device, reading),
      kind: 'device',
    }));
  });
}

function degreeHints(phrases: readonly PlacedPhrase[], { theory, degreeHints }: Settings): InlayHint[] {
  if (degreeHints === 'off') return [];
  return phrases
    .flatMap(({ start: at, phrase }) =>
      readPhrase(phrase, theory).notes.flatMap(({ note: index, placement, verdict }): InlayHint[] => {
        const note = phrase.notes[index]!;
        // A cell's notes share one place in the text, and a degree needs no hint of itself.
        const wanted = degreeHints === 'all' || verdict !== null;
        const itself = note.node.head.kind === 'degree' && verdict === null;
        if (placement === null || note.cell !== null || !wanted || itself) return [];
        const { symbol } = phrase.spans[placement.span]!;
        const figure = shownFigure({ phrase }, placement);
        return [{ offset: at + note.range.end, label: figure, tooltip: `${figure} of ${symbol}: ${roleWords(placement.role)}`, kind: 'degree' }];
      }),
    );
}
