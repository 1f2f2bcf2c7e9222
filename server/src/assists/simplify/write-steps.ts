import { applyEdits, formatText } from '../../../../grammar/printer';
import { parseSlice } from '../../../../grammar/parser';
import { DEVICE_KINDS, type DeviceKind } from '../../analysis/devices/table';
import { devicesAndPassingTones } from '../../analysis/devices/read';
import type { Reading } from '../../analysis/types';
import { deviceName } from '../../explain/device-words';
import { problemsOf } from '../../rules/findings';
import type { Assist, AssistContext } from '../assist';
import { copiesBefore } from '../writing/copies';
import { lineText } from '../writing/kept-bars';
import { isAtTitle } from '../writing/phrase-title';
import { isWhole, readText, sorted, wholeLine } from '../writing/whole-phrase';
import { adornment, others, skeletonNotes, without } from './reduction';

export const writeSteps: Assist = {
  id: 'write-steps',
  kind: 'refactor.rewrite.steps',
  what: 'Writes the steps by which a line grows, each as a phrase of its own before it: the skeleton, then all chord tones, then one kind of device after another.',
  offers(context) {
    const { reading } = context;
    if (!isAtTitle(context) || !isWhole(reading.phrase) || reading.phrase.spans.length === 0) return [];
    const steps = stepsOf(reading);
    if (steps.length === 0) return [];
    const texts = steps.map((step, i) => stepText(context, step, `step ${i + 1} of ${steps.length + 1}`));
    if (texts.some((text) => text === null)) return [];
    const names = [...steps.map(({ name }) => name), 'the finished line'];
    return [
      {
        title: `Write the steps of the line: ${names.join(', ')}`,
        edits: () =>
          copiesBefore(
            context,
            (texts as string[]).map((text) => formatText(text).trimEnd()),
          ),
        repairs: null,
        preferred: false,
      },
    ];
  },
};

interface Step {
  readonly name: string;
  readonly kept: ReadonlySet<number>;
}

/** From the skeleton on, every step keeps what the step before had; the finished line is the phrase itself. */
function stepsOf(reading: Reading): Step[] {
  const all = reading.phrase.notes.length;
  let kept: ReadonlySet<number> = skeletonNotes(reading);
  const steps: Step[] = [{ name: 'the skeleton', kept }];
  const add = (name: string, notes: readonly number[]): void => {
    const more = new Set([...kept, ...notes]);
    if (more.size === kept.size || more.size === all) return;
    kept = more;
    steps.push({ name, kept });
  };
  const adorned = new Set<number>();
  const kinds = new Map<DeviceKind, number[]>();
  for (const device of devicesAndPassingTones(reading)) {
    const notes = adornment(device, reading.phrase.notes);
    if (notes === null) continue;
    notes.forEach((note) => adorned.add(note));
    kinds.set(device.kind, [...(kinds.get(device.kind) ?? []), ...notes]);
  }
  add(
    'the chord tones',
    reading.notes.filter(({ note, placement }) => placement?.role === 'chord-tone' && !adorned.has(note)).map(({ note }) => note),
  );
  add(
    'the other notes',
    reading.notes.filter(({ note }) => !adorned.has(note)).map(({ note }) => note),
  );
  for (const kind of DEVICE_KINDS) add(`the ${deviceName(kind)}${kind.endsWith('ch') ? 'es' : 's'}`, kinds.get(kind) ?? []);
  return kept.size === 0 || steps[0]!.kept.size === all ? [] : steps;
}

/** A step as a phrase, not laid out yet: claims that are not true of it yet, and prose about the finished line, are left out. */
function stepText(context: AssistContext, { name, kept }: Step, count: string): string | null {
  const { reading } = context;
  const text = lineText(context, without(reading, others(reading, kept)));
  if (text === null) return null;
  const after = readText(context, text);
  if (after === null || !isWhole(after.phrase)) return null;
  const refuted = problemsOf(after)
    .filter(({ rule }) => rule === 'claim-refuted' || rule === 'claim-impossible')
    .map(({ range }) => range);
  const slice = parseSlice(text);
  if (slice.item.kind !== 'phrase') return null;
  const { rows, title, keyword } = slice.item;
  const gone = rows.filter(
    (row) =>
      row.kind === 'say' || (row.kind === 'claim' && refuted.some((range) => range.start <= row.range.end && range.end >= row.range.start)),
  );
  const said = `"${title === null ? 'Phrase' : title.value.replaceAll('"', '\\"')} (${count})"`;
  const titled =
    title === null ? { range: { start: keyword.range.end, end: keyword.range.end }, text: ` ${said}` } : { range: title.range, text: said };
  const bare = applyEdits(text, sorted([titled, ...gone.map(({ range }) => ({ range: wholeLine(text, range), text: '' }))]));
  return `${bare.slice(keyword.range.start).trimEnd()}\n  say     "Step: ${name}."\n`;
}
