/** Name the device: brackets with numbers; every device that the analysis finds on just these notes is a right answer. */
import { devicesOf, matchesOf } from '../analysis/devices/read';
import type { Match } from '../analysis/devices/device';
import { layerOf } from '../analysis/devices/table';
import { deviceName } from '../explain/device-words';
import { pictureData } from '../handout/picture-data';
import type { PictureDevice } from '../picture/types';
import type { Make } from './exercise';

export const nameDevice: Make = ({ placed, reading }, random) => {
  // What happens to a note in the harmony is told by words, not by a shape that a bracket shows.
  const told = devicesOf(reading)
    .filter(({ kind }) => layerOf(kind) !== 'event')
    .map((device) => ({ ...spanOf(device), kind: device.kind }));
  const spans = [...new Map(told.map((span) => [`${span.from} ${span.to}`, span])).values()];
  if (spans.length === 0) return null;
  const chosen = variedFirst(random.shuffled(spans))
    .slice(0, MOST)
    .sort((a, b) => a.from - b.from || a.to - b.to);
  const names = chosen.map(({ from, to }) => [
    ...new Set(
      matchesOf(reading)
        .filter((match) => spanOf(match).from === from && spanOf(match).to === to)
        .map(({ kind }) => deviceName(kind)),
    ),
  ]);
  const data = pictureData(reading, []);
  const withNames = (name: (i: number) => string): readonly PictureDevice[] =>
    chosen.map(({ from, to }, i) => ({ from, to, name: name(i) }));
  return {
    kind: 'name-device',
    phrase: placed.phrase.name,
    prompt:
      chosen.length === 1
        ? 'Name the device that the bracket shows, its last note included.'
        : 'Name the device that each bracket shows, its last note included.',
    asked: [{ reading, data: { ...data, devices: withNames((i) => `${i + 1} ${LINE}`) }, options: { degrees: false, devices: true } }],
    answered: [
      {
        reading,
        data: { ...data, devices: withNames((i) => `${i + 1} ${names[i]!.join(' or ')}`) },
        options: { degrees: true, devices: true },
      },
    ],
    answer: `${names.map((all, i) => `${i + 1}: ${all.join(' or ')}`).join('; ')}.`,
  };
};

const MOST = 3;
/** To write a name on. */
const LINE = '_'.repeat(22);

/** One of each kind before a second of any: three times the same name is no exercise. */
function variedFirst<T extends { readonly kind: string }>(spans: readonly T[]): T[] {
  const isFirst = (span: T): boolean => spans.find(({ kind }) => kind === span.kind) === span;
  return [...spans.filter(isFirst), ...spans.filter((span) => !isFirst(span))];
}

function spanOf({ notes, target }: Pick<Match, 'notes' | 'target'>): { readonly from: number; readonly to: number } {
  const all = target === null ? notes : [...notes, target];
  return { from: Math.min(...all), to: Math.max(...all) };
}
