/** What the progressions of a phrase are called, for its first sentence and for the line above it. */
import { chordFormOf, SECTION, type ChordForm } from '../analysis/chord-form';
import { BLUES_FORMS, numeralsOf, progressionsOf, type Progression } from '../analysis/progressions';
import { chordsOfBlues, mainProgression, progressionWords, SETTING_WORDS } from '../analysis/setting';
import type { Reading } from '../analysis/types';
import { groupedBy } from '../model/grouped';
import { withArticle } from '../rules/words';
import { formatKey } from '../theory/key';
import { formatScale } from '../theory/scale';
import { listed } from './note-words';

/** More than that are told by their kinds. */
const MOST_PROGRESSIONS = 4;
/** Bars from which on a phrase is told by what fills most of it. */
export const LONG = 8;

/** `a long ii–V–I in major`; where there are several, or one is not the whole, with their bars: `short ii–V in F major (bar 3)`. Null where chords that are no progression are too many to be named. */
export function progressionsTold(reading: Reading): string | null {
  const all = progressionsOf(reading);
  const main = mainProgression(all);
  if (main === null) return freeChanges(reading);
  const whole = (one: Progression): boolean => one.from === 1 && one.to === lastBar(reading);
  if (all.length === 1 && whole(main)) return named(main, reading);
  const apart = toldApart(reading);
  if (apart.length === 1 && whole(apart[0]!)) return named(apart[0]!, reading);
  const form = chordFormOf(reading);
  const isLongForm = form !== null && (form.form !== 'AA' || apart.length > MOST_PROGRESSIONS);
  return isLongForm && !apart.some(({ id }) => BLUES_FORMS.has(id)) ? formTold(reading, form, apart) : listTold(reading, apart);
}

/** `a blues`, `an AABA form`, `I–VI–ii–V`: what fills half of a long phrase or more, of a short one its main progression; null where nothing does. Length and mode are left out: the number of bars tells the one, the case of the numerals and the key the other. */
export function shortSetting(reading: Reading): string | null {
  const main = mainProgression(progressionsOf(reading));
  if (main === null) return null;
  const short = (one: Progression): string =>
    chordsOfBlues(one) ?? withArticle(SETTING_WORDS[one.id].replace(/^(?:short|long) /, '').replace(/ in (?:major|minor)$/, ''));
  const apart = toldApart(reading);
  const choruses = apart.filter(({ id }) => BLUES_FORMS.has(id));
  const bars = lastBar(reading);
  const isBlues = barCount(choruses) * 2 >= bars;
  if (isBlues && choruses.length > 1) return chorusesWords(choruses.length, short(main));
  if (bars < LONG || (isBlues && BLUES_FORMS.has(main.id))) return short(main);
  const form = chordFormOf(reading);
  if (form !== null && form.form !== 'AA') return `an ${form.form} form`;
  const [most] = [...groupedBy(apart, (one) => [groupOf(one)]).values()].sort((a, b) => barCount(b) - barCount(a));
  if (most === undefined || barCount(most) * 2 < bars) return null;
  if (most[0]!.id !== 'turnaround') return short(mainProgression(most)!);
  const turns = distinctTurns(most);
  return turns.length > 2 ? 'turnarounds' : listed(turns);
}

/** `two choruses of a blues`. */
function chorusesWords(count: number, blues: string): string {
  return `${['', '', 'two', 'three', 'four'][count] ?? count} choruses of ${blues}`;
}

function lastBar({ phrase: { bars } }: Reading): number {
  return bars[bars.length - 1]!.number;
}

/** Bars that some progressions fill together. */
function barCount(ones: readonly Progression[]): number {
  return new Set(ones.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i))).size;
}

/** So many chords are named. */
const FEW_CHORDS = 4;

/** Chords that are no progression: by the modes that are written at all of them, by their numerals, in no key by their symbols; null where they are too many to be named. */
function freeChanges(reading: Reading): string | null {
  const chords =
    writtenModes(reading) ??
    numeralsOf(reading) ??
    reading.context.harmonies.filter(({ chord }) => chord !== null).map(({ symbol }) => symbol);
  return chords.length < 2 || chords.length > FEW_CHORDS ? null : chords.join('–');
}

/** `D dorian`, `Eb dorian`: where every chord names its scale, each once where it goes on; null elsewhere. */
function writtenModes({ phrase, scales }: Reading): readonly string[] | null {
  const modes = phrase.spans.map(({ statedScale }, i) => {
    const scale = scales[i];
    return statedScale === null || scale == null ? null : formatScale(scale);
  });
  return modes.includes(null) ? null : modes.flatMap((mode, i) => (mode === null || mode === modes[i - 1] ? [] : [mode]));
}

// ── Which are told ─────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Without those that another one tells. A passing diminished chord of a long phrase is told where it stands. */
function toldApart(reading: Reading): readonly Progression[] {
  const all = progressionsOf(reading);
  const turnarounds = all.filter(({ id }) => id === 'turnaround');
  const forms = all.filter(({ id }) => BLUES_FORMS.has(id));
  // V–I is in every blues; ii–V–I in bar 9 and what turns round in bar 11 are in one with substitutes.
  const isOfForm = (one: Progression): boolean =>
    forms.some(
      ({ id, from, to }) =>
        (one.id.startsWith('v-i-') && one.comesHome && to - from >= LONG - 1 && from <= one.from && to >= one.from) ||
        (id === 'blues-with-substitutes' &&
          ((/-ii-v-i-/.test(one.id) && one.from === from + 8) || (isTurn(one) && one.from === from + 10))),
    );
  const apart = all
    .filter((one) => !turnarounds.some((turnaround) => isToldBy(turnaround, one)) && !isOfForm(one))
    .map((one) => (one.id === 'turnaround' ? broughtHome(one, all) : one));
  const isElsewhere = (one: Progression): boolean => one.id === 'passing-diminished' && lastBar(reading) >= LONG;
  return apart.every(isElsewhere) ? apart : apart.filter((one) => !isElsewhere(one));
}

/** Whether the first sentence names the passing diminished chords. */
export function namesPassing(reading: Reading): boolean {
  return toldApart(reading).some(({ id }) => id === 'passing-diminished');
}

/** A turnaround with the tonic that its ii–V leads to, where it comes there. */
function broughtHome(turnaround: Progression, all: readonly Progression[]): Progression {
  const home = all.find((one) => one.comesHome && one.to > turnaround.to && /ii-v-i-/.test(one.id) && isToldBy(turnaround, one));
  return home === undefined ? turnaround : { ...turnaround, to: home.to, numerals: [...turnaround.numerals, home.numerals.at(-1)!] };
}

/** A turnaround names a diminished chord in it by its numerals; where it comes home is told with it. */
function isToldBy({ from, to, numerals }: Progression, one: Progression): boolean {
  if (one.id === 'passing-diminished') return from <= one.from && to >= one.to && numerals.some((numeral) => numeral.endsWith('°'));
  return /^(?:short|long)-ii-v-i|^v-i/.test(one.id) && from <= one.from && to >= one.from;
}

// ── Lists ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function listTold(reading: Reading, apart: readonly Progression[]): string {
  const tag = tagOf(reading);
  const isOfTag = (one: Progression): boolean => tag !== null && one.to >= tag.from && !BLUES_FORMS.has(one.id);
  const told = apart.filter((one) => !isOfTag(one));
  const items = itemsOf(reading, told);
  return listed(tag === null ? items : [...items, `a tag (${tag.numerals.join('–')}, ${barsOf([tag])})`]);
}

/** Bars that a tag has at most. */
const LONGEST_TAG = 4;

/** The cadence home that fills the bars after the last chorus of a blues; null where there is none. */
function tagOf(reading: Reading): Progression | null {
  const all = progressionsOf(reading);
  const end = Math.max(0, ...all.filter(({ id }) => BLUES_FORMS.has(id)).map(({ to }) => to));
  const last = lastBar(reading);
  if (end === 0 || last <= end || last - end > LONGEST_TAG) return null;
  return all.find((one) => /-ii-v-i-|^v-i-/.test(one.id) && one.comesHome && one.from === end + 1 && one.to === last) ?? null;
}

/** Each by its name where they are few, else by its kind. */
function itemsOf(reading: Reading, ones: readonly Progression[]): string[] {
  const turns = ones.filter(({ id }) => id === 'turnaround');
  const choruses = ones.filter(({ id }) => BLUES_FORMS.has(id));
  const name = (one: Progression): string => {
    if (choruses.length > 1 && BLUES_FORMS.has(one.id)) return chorusesWords(choruses.length, named(one, reading));
    return turns.length > 1 && isTurn(one) && !leadsBack(reading, one) ? one.numerals.join('–') : named(one, reading);
  };
  // One name for what comes twice.
  const each = (same: readonly Progression[]): string[] =>
    [...groupedBy(same, (one) => [name(one)])].map(([words, group]) =>
      withBars(pluralOf(words, group), BLUES_FORMS.has(group[0]!.id) && group.length > MOST_PLACES ? joinedBars(group) : group),
    );
  return ones.length <= MOST_PROGRESSIONS ? each(ones) : kindsOf(reading, ones, each);
}

/** Those of a kind together; `each` tells those that are of none. */
function kindsOf(
  reading: Reading,
  ones: readonly Progression[],
  each: (same: readonly Progression[]) => string[],
  isShort = false,
): string[] {
  return [...groupedBy(ones, (one) => [groupOf(one)]).values()].flatMap((group) => {
    const inner = group.filter((one) => !leadsBack(reading, one));
    if (isTurn(group[0]!) && (inner.length > 1 || (isShort && inner.length > 0)))
      return [...turnsTold(reading, inner), ...each(group.filter((one) => !inner.includes(one)))];
    const kind = KINDS.find(({ ids }) => ids.test(group[0]!.id));
    return kind === undefined || (group.length === 1 && !isShort) ? each(group) : [`${groupOf(group[0]!)} ${placesTold(group)}`];
  });
}

function named(one: Progression, reading: Reading): string {
  const words = progressionWords(one, reading);
  if (one.id === 'backdoor' && !one.comesHome) return `the ${words}`;
  return one.id === 'i-iv-v-i' || chordsOfBlues(one) !== null ? words : withArticle(words);
}

function isTurn({ id }: Progression): boolean {
  return id === 'turnaround';
}

/** Whether a turnaround is one by its place, too: it ends a phrase and leads back to its beginning. */
function leadsBack(reading: Reading, one: Progression): boolean {
  return isTurn(one) && one.from > 1 && one.to === lastBar(reading) && one.numerals.length === 4;
}

/** Of what a long line has several, told together: `ii–V in F major (bar 3) and Eb major (bar 4)`. */
const KINDS: readonly { readonly ids: RegExp; readonly words: string }[] = [
  { ids: /-ii-v-i-/, words: 'ii–V–I' },
  { ids: /^(?:short|long)-ii-v$/, words: 'ii–V' },
  { ids: /^v-i-/, words: 'V–I' },
];

/** `ii–V–I`, in minor keys `ii–V–i`; of all others the name of the kind. */
function groupOf({ id, key }: Progression): string {
  const words = KINDS.find(({ ids }) => ids.test(id))?.words ?? id;
  return key.mode === 'minor' ? words.replace(/–I$/, '–i') : words;
}

/** `in F major (bar 3) and Eb major (bar 4)`, `to Gm7 (bar 2) and in F major (bar 3)`. */
function placesTold(ones: readonly Progression[]): string {
  const [leading, others] = [ones.filter(({ leadsTo }) => leadsTo !== null), ones.filter(({ leadsTo }) => leadsTo === null)];
  const places = (word: string, some: readonly Progression[], placeOf: (one: Progression) => string): string[] =>
    some.length === 0
      ? []
      : [`${word} ${listed([...groupedBy(some, (one) => [placeOf(one)])].map(([place, same]) => withBars(place, same)))}`];
  return listed([...places('to', leading, ({ leadsTo }) => leadsTo!), ...places('in', others, ({ key }) => formatKey(key))]);
}

/** `I–VI–ii–V, iii–VI–ii–V (bars 1–4)`, `I–VI–ii–V (bars 1–2 and 7–8) and iii–VI–ii–V (bars 3–4)`: those that follow one another all the time are told together; without the tonic that they come to. */
function turnsTold(reading: Reading, turns: readonly Progression[]): string[] {
  const written = progressionsOf(reading).flatMap((one) => {
    const told = isTurn(one) ? turns.find(({ from }) => from === one.from) : undefined;
    return told === undefined ? [] : { ...one, to: Math.min(one.to, told.to) };
  });
  const joined = joinedBars(written);
  const names = distinctTurns(written);
  const within = ({ from, to }: Pick<Progression, 'from' | 'to'>): string =>
    distinctTurns(written.filter((one) => one.from >= from && one.to <= to)).join();
  if (joined.every((part) => within(part) === names.join())) return [withBars(names.join(', '), joined)];
  return [...groupedBy(written, (one) => distinctTurns([one]))].map(([name, same]) => withBars(name, joinedBars(same)));
}

/** Those that follow one another as one. */
function joinedBars(ones: readonly Progression[]): readonly Pick<Progression, 'from' | 'to'>[] {
  const joined: Pick<Progression, 'from' | 'to'>[] = [];
  for (const { from, to } of ones) {
    const before = joined[joined.length - 1];
    if (before !== undefined && before.to + 1 >= from) joined[joined.length - 1] = { from: before.from, to };
    else joined.push({ from, to });
  }
  return joined;
}

function distinctTurns(turns: readonly Progression[]): string[] {
  return [...new Set(turns.map(({ numerals }) => numerals.slice(0, 4).join('–')))];
}

/** `passing diminished chords`: each of several is one chord. */
function pluralOf(name: string, ones: readonly Progression[]): string {
  return ones.length > 1 && ones.every(({ id }) => id === 'passing-diminished') ? name.replace(/^a /, '').replace('chord', 'chords') : name;
}

/** `turnaround (I–vi–ii–V, bars 1–2)`. */
function withBars(name: string, ones: readonly Pick<Progression, 'from' | 'to'>[]): string {
  return name.endsWith(')') ? `${name.slice(0, -1)}, ${barsOf(ones)})` : `${name} (${barsOf(ones)})`;
}

/** More places are counted. */
const MOST_PLACES = 4;

/** `bar 3`, `bars 1–2 and 3–4`, `6 times`. */
function barsOf(progressions: readonly Pick<Progression, 'from' | 'to'>[]): string {
  if (progressions.length > MOST_PLACES) return `${progressions.length} times`;
  const bars = progressions.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`));
  return `${bars.length === 1 && !bars[0]!.includes('–') ? 'bar' : 'bars'} ${listed(bars)}`;
}

// ── Forms ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

/** `an AABA form: the A section has …, the bridge …`; each section once, however often it comes, and what it has by kinds. */
function formTold(reading: Reading, { form, closesAlike }: ChordForm, apart: readonly Progression[]): string {
  const section = (index: number): string => {
    // What leads into the next section is told of the one that it ends.
    const ones = apart
      .filter(({ from }) => Math.ceil(from / SECTION) === index)
      .map((one) => ({ ...one, to: Math.min(one.to, index * SECTION) }));
    return listed(kindsOf(reading, ones, (same) => itemsOf(reading, same), true));
  };
  const told = SECTIONS[form].flatMap(([words, index]) => (section(index) === '' ? [] : [`${words}${section(index)}`]));
  const head =
    form === 'AA' ? `eight bars of chords that come again${closesAlike ? '' : ' with another close'} in bars 9–16` : `an ${form} form`;
  return told.length === 0 ? head : `${head}: ${told.join('; ')}`;
}

/** Sections from 1, by what is said of them. */
const SECTIONS: Readonly<Record<ChordForm['form'], readonly (readonly [string, number])[]>> = {
  AA: [['', 1]],
  AABA: [
    ['the A section has ', 1],
    ['the bridge ', 3],
  ],
  ABAC: [
    ['the A section has ', 1],
    ['the B section ', 2],
    ['the C section ', 4],
  ],
};
