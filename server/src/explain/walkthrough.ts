/** The walk-through of a phrase: what a teacher says about it, bar by bar. */
import { devicesOf } from '../analysis/devices/read';
import type { Device } from '../analysis/devices/device';
import { SETTING_WORDS, settingOf } from '../analysis/setting';
import { checkClaims } from '../analysis/claims/check';
import type { NoteReading, Reading } from '../analysis/types';
import { problemsAbout } from '../rules/findings';
import { ruleById } from '../rules/registry';
import { formatKey } from '../theory/key';
import { formatNoteName, formatPitch } from '../theory/pitch';
import { degreeWords } from './degree-words';
import { deviceWords } from './device-words';
import { levelOf } from './level';
import { summaryOf } from './summary';

export interface Walkthrough {
  readonly title: string;
  /** One sentence on the whole. */
  readonly setting: string;
  /** One paragraph a bar. */
  readonly bars: readonly string[];
  readonly claims: readonly string[];
  /** The phrase in numbers, and the suggested level with its reasons. */
  readonly summary: readonly string[];
}

export function walkthrough(reading: Reading): Walkthrough {
  const { phrase } = reading;
  const setting = settingOf(reading);
  return {
    title: phrase.name === '' ? 'A phrase without a name' : phrase.name,
    setting: `${settingClause(reading, setting === null ? null : SETTING_WORDS[setting])}.`,
    bars: barParagraphs(reading),
    claims: checkClaims(reading).map(({ claim, status, because }) => `“${claim.text}” ${{ holds: 'holds', refuted: 'does not hold', impossible: 'cannot be checked' }[status]}: ${because}.`),
    summary: summaryLines(reading),
  };
}

/** `2 bars in F major, over a blues`; `setting` is the harmonic setting in words. */
export function settingClause({ phrase }: Reading, setting: string | null): string {
  const parts = [phrase.key === null ? null : `in ${formatKey(phrase.key)}`, setting === null ? null : `over ${withArticle(setting)}`].filter((part) => part !== null);
  return `${plural(phrase.bars.filter((bar) => bar.number > 0).length, 'bar')}${parts.length === 0 ? '' : ` ${parts.join(', ')}`}`;
}

/** A numeral is read as a number: `a ii–V–I`. */
function withArticle(words: string): string {
  return words === 'free changes' ? words : `${/^[aeiou](?!i–)/.test(words) ? 'an' : 'a'} ${words}`;
}

export function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

function barParagraphs(reading: Reading): string[] {
  const barOf = (note: number): number => reading.phrase.notes[note]!.bar;
  const devices = byBar(devicesOf(reading), ({ from }) => barOf(from));
  const bars = [...byBar(reading.notes, ({ note }) => barOf(note))];
  return bars.map(([bar, notes], i) => {
    const here = devices.get(bar) ?? [];
    const sentences = [`${opening(bar, notes, reading)} ${degreesSentence(notes, reading, i === bars.length - 1)}`, ...deviceSentences(here, reading), ...findingSentences(notes, reading)];
    return sentences.join(' ');
  });
}

/** Things by the bar they begin in, in one pass: a phrase may have thousands of bars. */
function byBar<T>(things: readonly T[], barOf: (thing: T) => number): ReadonlyMap<number, readonly T[]> {
  const bars = new Map<number, T[]>();
  for (const thing of things) {
    const bar = bars.get(barOf(thing));
    if (bar === undefined) bars.set(barOf(thing), [thing]);
    else bar.push(thing);
  }
  return bars;
}

function opening(bar: number, notes: readonly NoteReading[], { phrase }: Reading): string {
  const chords = [...new Set(notes.flatMap(({ placement }) => (placement === null ? [] : [phrase.spans[placement.span]!.symbol])))];
  const over = chords.length === 0 ? '' : `, over ${chords.join(' and ')}`;
  return `${bar === 0 ? 'The pickup' : `Bar ${bar}`}${over}:`;
}

/** `starts on the third (Bb), then the ninth and the root; over C7 the third and the root.` */
function degreesSentence(notes: readonly NoteReading[], reading: Reading, last: boolean): string {
  const groups: { chord: string | null; words: string[] }[] = [];
  notes.forEach(({ note, placement }, i) => {
    const chord = placement === null ? null : reading.phrase.spans[placement.span]!.symbol;
    const name = formatNoteName(reading.phrase.notes[note]!.pitch);
    const word = placement === null ? name : i === 0 || notes.length === 1 ? `the ${degreeWords(placement.figure, placement.role)} (${name})` : degreeWords(placement.figure, placement.role);
    const group = groups[groups.length - 1];
    if (group?.chord === chord) group.words.push(word);
    else groups.push({ chord, words: [word] });
  });
  const verb = last && notes.length === 1 ? 'lands on' : 'starts on';
  const [first, ...rest] = groups;
  if (first === undefined) return 'rests.';
  const [start, ...then] = first.words;
  const opened = `${verb} ${start}${then.length === 0 ? '' : `, then ${then.join(', ')}`}`;
  return `${[opened, ...rest.map(({ chord, words }) => `over ${chord ?? 'no chord'} ${words.join(', ')}`)].join('; ')}.`;
}

function deviceSentences(devices: readonly Device[], reading: Reading): string[] {
  return devices.map((device) => {
    const words = deviceWords(device, reading);
    return `${words[0]!.toUpperCase()}${words.slice(1)}.`;
  });
}

function findingSentences(notes: readonly NoteReading[], reading: Reading): string[] {
  const problems = notes.flatMap(({ note }) => problemsAbout(reading, note)).filter(({ severity }) => severity !== 'hint');
  return problems.map(({ rule, facts }) => ruleById(rule)!.message(facts));
}

function summaryLines(reading: Reading): string[] {
  const summary = summaryOf(reading);
  const { all, strong } = summary;
  const level = levelOf(reading);
  const lines: string[] = [];
  if (all.notes > 0) {
    lines.push(`Of ${plural(all.notes, 'note')}, ${all.chordTones} are chord tones and ${plural(all.tensions, 'tension')}${all.blue > 0 ? `, ${all.blue} blue` : ''}${all.avoidNotes + all.outside > 0 ? `; ${all.avoidNotes} avoid, ${all.outside} outside` : ''}.`);
    if (strong.notes > 0) lines.push(`On strong places ${strong.chordTones} of ${strong.notes} are chord tones.`);
  }
  if (summary.lowest !== null) lines.push(`It lies between ${summary.lowest} and ${summary.highest}; its largest leap is ${plural(summary.largestLeap, 'half step')}; it has ${summary.density} notes a beat.`);
  const last = reading.notes[reading.notes.length - 1];
  if (last?.placement != null) lines.push(`It ends on ${formatPitch(reading.phrase.notes[last.note]!.pitch)}, the ${degreeWords(last.placement.figure, last.placement.role)} of ${reading.phrase.spans[last.placement.span]!.symbol}.`);
  lines.push(`Suggested level: ${level.level} (${level.reasons.join('; ')}).`);
  return lines;
}

/** The walk-through as Markdown; text of the file is escaped by the caller’s `escape`. */
export function walkthroughMarkdown(reading: Reading, escape: (text: string) => string): string {
  const { title, setting, bars, claims, summary } = walkthrough(reading);
  const list = (heading: string, items: readonly string[]): string => (items.length === 0 ? '' : `\n### ${heading}\n\n${items.map((item) => `* ${escape(item)}`).join('\n')}\n`);
  return `## ${escape(title)}\n\n${escape(setting)}\n\n${bars.map(escape).join('\n\n')}\n${list('Claims', claims)}${list('In numbers', summary)}`;
}

/** The walk-through as paragraphs, without its title, for where that stands already. */
export function walkthroughParagraphs(reading: Reading): readonly string[] {
  const { setting, bars, claims, summary } = walkthrough(reading);
  return [setting, ...bars, ...claims, ...summary];
}

/** The walk-through as plain text. */
export function walkthroughText(reading: Reading): string {
  const { title, setting, bars, claims, summary } = walkthrough(reading);
  const block = (items: readonly string[]): string => (items.length === 0 ? '' : `\n${items.map((item) => `${item}\n`).join('')}`);
  return `${title}\n${setting}\n${block(bars)}${block(claims)}${block(summary)}`;
}
