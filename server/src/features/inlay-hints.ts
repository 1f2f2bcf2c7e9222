/** The degree after each note, as the writer wishes: none, those that clash, or all. */
import { readPhrase } from '../analysis/read';
import { devicesOf } from '../analysis/devices/read';
import { shownFigure } from '../analysis/shown-figure';
import { guarded } from '../model/faults';
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
  const perPhrase = (of: string, hints: (placed: PlacedPhrase, settings: Settings) => InlayHint[]): InlayHint[] => phrases.flatMap((placed) => guarded(of, [], () => hints(placed, settings)));
  return [
    ...(settings.degreeHints === 'off' ? [] : perPhrase('the degrees above notes', degreeHints)),
    ...(settings.deviceHints ? perPhrase('the device words after notes', deviceHints) : []),
  ];
}

/** A bracket word at the target of each device, or at its first note. */
function deviceHints({ start, phrase }: PlacedPhrase, { theory }: Settings): InlayHint[] {
  const reading = readPhrase(phrase, theory);
  return devicesOf(reading).map((device): InlayHint => ({
    offset: start + phrase.notes[device.target ?? device.from]!.range.end,
    label: `[${device.kind.replaceAll('-', ' ')}]`,
    tooltip: guarded(`the words of the device “${device.kind.replaceAll('-', ' ')}”`, '', () => deviceWords(device, reading)),
    kind: 'device',
  }));
}

function degreeHints({ start: at, phrase }: PlacedPhrase, { theory, degreeHints: which }: Settings): InlayHint[] {
  return readPhrase(phrase, theory).notes.flatMap(({ note: index, placement, verdict }): InlayHint[] => {
    const note = phrase.notes[index]!;
    // A cell's notes share one place in the text, and a degree needs no hint of itself.
    const wanted = which === 'all' || verdict !== null;
    const itself = note.node.head.kind === 'degree' && verdict === null;
    if (placement === null || note.cell !== null || !wanted || itself) return [];
    const { symbol } = phrase.spans[placement.span]!;
    const figure = shownFigure({ phrase }, placement);
    return [{ offset: at + note.range.end, label: figure, tooltip: `${figure} of ${symbol}: ${roleWords(placement.role)}`, kind: 'degree' }];
  });
}
