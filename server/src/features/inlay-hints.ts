/** The degree after each note, as the writer wishes: none, those that clash, or all. */
import type { Range } from '../../../grammar/tree';
import { readPhrase } from '../analysis/read';
import { devicesOf } from '../analysis/devices/read';
import { shownFigure } from '../analysis/shown-figure';
import { guarded } from '../model/faults';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import { deviceWords } from '../explain/device-words';
import { roleWords } from './hover/words';
import type { Settings } from './options';
import type { WaitingFinding } from './score/types';

export interface InlayHint {
  /** Offset in the file, just after the note. */
  readonly offset: number;
  readonly label: string;
  readonly tooltip: string;
  /** A client may draw the one otherwise than the other. */
  readonly kind: 'degree' | 'device';
}

/** `waiting` are findings that are not told yet: where degrees stand above notes that clash alone, none tells of them. */
export function inlayHints(
  snapshot: Snapshot,
  start: number,
  end: number,
  settings: Settings,
  waiting: readonly WaitingFinding[] = [],
): readonly InlayHint[] {
  const phrases = snapshot.phrases.filter(({ start: at, phrase }) => at <= end && at + phrase.text.length >= start);
  const perPhrase = (of: string, hints: (placed: PlacedPhrase) => InlayHint[]): InlayHint[] =>
    phrases.flatMap((placed) => guarded(of, [], () => hints(placed)));
  return [
    ...(settings.degreeHints === 'off' ? [] : perPhrase('the degrees above notes', (placed) => degreeHints(placed, settings, waiting))),
    ...(settings.deviceHints ? perPhrase('the device words after notes', (placed) => deviceHints(placed, settings)) : []),
  ];
}

/** A bracket word at the target of each device, or at its first note. */
function deviceHints({ start, phrase }: PlacedPhrase, { theory }: Settings): InlayHint[] {
  const reading = readPhrase(phrase, theory);
  return devicesOf(reading).map(
    (device): InlayHint => ({
      offset: start + phrase.notes[device.target ?? device.from]!.range.end,
      label: `[${device.kind.replaceAll('-', ' ')}]`,
      tooltip: guarded(`the words of the device “${device.kind.replaceAll('-', ' ')}”`, '', () => deviceWords(device, reading)),
      kind: 'device',
    }),
  );
}

function degreeHints(
  { start: at, phrase }: PlacedPhrase,
  { theory, degreeHints: which }: Settings,
  waiting: readonly WaitingFinding[],
): InlayHint[] {
  const waits = ({ start, end }: Range): boolean => waiting.some((one) => one.start === at + start && one.end === at + end);
  return readPhrase(phrase, theory).notes.flatMap(({ note: index, placement, verdict }): InlayHint[] => {
    const note = phrase.notes[index]!;
    // A cell's notes share one place in the text, and a degree needs no hint of itself.
    const wanted = which === 'all' || (verdict !== null && !waits(note.range));
    const itself = note.node.head.kind === 'degree' && verdict === null;
    if (placement === null || note.cell !== null || !wanted || itself) return [];
    const { symbol } = phrase.spans[placement.span]!;
    const figure = shownFigure({ phrase }, placement);
    return [
      { offset: at + note.range.end, label: figure, tooltip: `${figure} of ${symbol}: ${roleWords(placement.role)}`, kind: 'degree' },
    ];
  });
}
