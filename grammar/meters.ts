/** The words of a `meter` row, and which meter is meant by others. */
import { writing, type Problems } from './problems';
import type { MeterRow, Range, Word } from './tree';
import { joined, textOf } from './words';

/** Reads them; what is no meter is reported with the one that may be meant, and read as that. */
export function readMeter(words: readonly Word[], range: Range, problems: Problems): MeterRow['meter'] {
  const written = words.length === 1 ? meterOf(words[0]!.text) : null;
  if (written !== null) return written;
  const meant = meterMeant(words.map(({ text }) => text).join(' '));
  const offered = meant === null ? '' : `${meant.beats}/${meant.unit}`;
  const place = joined(words)?.range ?? range;
  problems.report('bad-meter', place, { facts: { found: textOf(words), offered }, fixes: meant === null ? [] : [writing(place, offered)] });
  return meant;
}

function meterOf(text: string): MeterRow['meter'] {
  const match = /^(\d{1,2})\/(\d{1,2})$/.exec(text);
  const [beats, unit] = [Number(match?.[1]), Number(match?.[2])];
  return match !== null && beats >= 1 && beats <= 32 && [1, 2, 4, 8, 16].includes(unit)
    ? { beats, unit: unit as 1 | 2 | 4 | 8 | 16 }
    : null;
}

/** Whether a word is one, as it is written here. */
export function isMeter(text: string): boolean {
  return meterOf(text) !== null;
}

/** What a meter is called elsewhere. */
const METER_NAMES: Readonly<Record<string, string>> = {
  c: '4/4',
  common: '4/4',
  'common time': '4/4',
  cut: '2/2',
  'cut time': '2/2',
  'alla breve': '2/2',
  waltz: '3/4',
};

/** `3`, `3:4`, `3 / 4`, `signature 3/4`, `common time`. */
function meterMeant(said: string): MeterRow['meter'] {
  const text = said.slice(0, 40).toLowerCase();
  if (Object.hasOwn(METER_NAMES, text)) return meterOf(METER_NAMES[text]!);
  const [, beats, unit] = /^(?:[a-z]+ )*(\d{1,2})(?: ?[/:\\. -] ?(\d{1,2}))?$/.exec(text) ?? [];
  return beats === undefined ? null : meterOf(`${beats}/${unit ?? '4'}`);
}
