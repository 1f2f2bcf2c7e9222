/** The walk-through of a phrase: what a teacher says about it, bar by bar. */
import { colourOfVamp, settingOf } from '../analysis/setting';
import { devicesOf } from '../analysis/devices/read';
import { checkClaims } from '../analysis/claims/check';
import type { Reading } from '../analysis/types';
import { claimSentence } from '../rules/claim-words';
import { guarded } from '../model/faults';
import { groupedBy } from '../model/grouped';
import { meterText } from '../model/time';
import type { Phrase } from '../model/types';
import { formatKey } from '../theory/key';
import { bassLine, bassMove } from '../analysis/bass-line';
import { isConcert } from '../theory/part';
import { formatNoteName } from '../theory/pitch';
import { formatScale } from '../theory/scale';
import { chordClauses } from './chord-words';
import { withAdded } from './device-words';
import { guideTones } from './guide-tones';
import { heardKey } from '../analysis/heard-key';
import { formSentence, highestSentence, rhythmSentence } from './form';
import { wholeMinor } from './minor-scales';
import { levelOf } from './level';
import { movingVoice } from './moving-voice';
import { noteName, noteNames, plural, scaleInWords } from './note-words';
import { progressionsTold } from './setting-words';
import { wholeScale } from './whole-scale';
import { tellNotes } from './telling/notes';
import type { Sentence } from './telling/drafts';
import { tell } from './telling/tell';

/** How much is told: a sentence or two a bar, or one a note. */
export type Length = 'bars' | 'notes';

export interface Walkthrough {
  readonly title: string;
  /** What is said of the whole: where it is, its form, and its highest note. What breaks off, through a fault of ours, is empty, here and below. */
  readonly setting: string;
  readonly telling: readonly Sentence[];
  readonly claims: readonly string[];
  /** The suggested level with its reasons. */
  readonly level: string;
}

const memory: Readonly<Record<Length, WeakMap<Reading, Walkthrough>>> = { bars: new WeakMap(), notes: new WeakMap() };

/** Told once of each reading: the score, a text of its own and some actions ask for it. */
export function walkthrough(reading: Reading, length: Length = 'bars'): Walkthrough {
  const told = memory[length].get(reading) ?? toldAfresh(reading, length);
  memory[length].set(reading, told);
  return told;
}

function toldAfresh(reading: Reading, length: Length): Walkthrough {
  const { phrase } = reading;
  return {
    title: phrase.name === '' ? 'A phrase without a name' : phrase.name,
    setting: settingSentence(reading),
    telling: guarded('the walk-through of the line', [], () => (length === 'notes' ? tellNotes(reading) : tell(reading))),
    claims: guarded('the claims in the walk-through', [], () => claimSentences(reading)),
    level: guarded('the suggested level', '', () => levelSentence(reading)),
  };
}

/** A clause that breaks off is missing; where it is the first, the sentence is. */
function settingSentence(reading: Reading): string {
  const setting = guarded('the setting in the walk-through', '', () =>
    settingClause(reading, settingOf(reading) === null ? null : progressionsTold(reading)),
  );
  if (setting === '') return '';
  const more = [
    guarded('the colour of a mode in the walk-through', '', () => colourClause(reading)),
    guarded('the scale of a whole line', '', () => scaleClause(reading)),
    guarded('the bass in the walk-through', '', () => bassClause(reading)),
    guarded('the line hidden in the line', '', () => voiceClause(reading)),
    guarded('what a chord does in the walk-through', '', () => functionClause(reading)),
    guarded('the guide tones of the line', '', () => guideClause(reading)),
  ];
  const form = [
    guarded('the form in the walk-through', '', () => formSentence(reading)),
    guarded('the rhythm in the walk-through', '', () => rhythmSentence(reading)),
    guarded('the highest note in the walk-through', '', () => highestSentence(reading)),
  ].filter((sentence) => sentence !== '');
  return [`${setting}${more.join('')}.`, ...form].join(' ');
}

function claimSentences(reading: Reading): string[] {
  return checkClaims(reading).map(({ claim, ...answer }) => claimSentence(claim.text, answer));
}

function levelSentence(reading: Reading): string {
  const { level, reasons } = levelOf(reading);
  return `Suggested level: ${level} (${reasons.join('; ')}).`;
}

/** `2 bars in F major, over a blues`; `setting` is the harmonic setting in words, with its article. */
export function settingClause(reading: Reading, setting: string | null): string {
  const { phrase } = reading;
  const heard = heardKey(reading);
  const home =
    phrase.key !== null
      ? `in ${formatKey(phrase.key)}`
      : heard !== null
        ? `heard in ${heard.mode === 'major' ? formatNoteName(heard.tonic) : formatKey(heard)}`
        : null;
  // The score of a part is told as the part reads it; elsewhere all is as it sounds.
  const sounding = home === null || isConcert(phrase.part) || phrase.part.transpose.chromatic === 0 ? home : `${home} at concert pitch`;
  const parts = [isConcert(phrase.part) ? null : `for ${phrase.part.label}`, sounding, setting === null ? null : `over ${setting}`].filter(
    (part) => part !== null,
  );
  return `${plural(phrase.bars.filter((bar) => bar.number > 0).length, 'bar')}${meterClause(phrase)}${parts.length === 0 ? '' : ` ${parts.join(', ')}`}`;
}

/** ` of 3/4`; nothing in 4/4, and where the meter changes. */
function meterClause({ bars }: Phrase): string {
  const names = new Set(bars.map(({ meter }) => meterText(meter)));
  return names.size !== 1 || names.has('4/4') ? '' : ` of ${[...names].join()}`;
}

/** ` (C# is its colour)`: of a mode that the line tells, where no sentence will. */
function colourClause(reading: Reading): string {
  const note = colourOfVamp(reading);
  return note === null || settingOf(reading)?.endsWith('-vamp') !== true || devicesOf(reading).some(({ kind }) => kind === 'modal-colour')
    ? ''
    : ` (${noteName(reading, note.note)}, the ${note.degree}, is its colour)`;
}

/** `, all in D minor pentatonic`: the scale of the whole line, if it is told. */
function scaleClause(reading: Reading): string {
  const whole = wholeScale(reading);
  const minor = wholeMinor(reading);
  if (whole === null) return minor === null ? '' : `, all in ${formatScale(minor)}`;
  return `, all in ${scaleInWords(whole)}${withAdded(
    reading,
    reading.phrase.notes.map(({ index }) => index),
    whole,
  )}`;
}

/** `; the bass falls D-C-B-Bb-A`: slash chords whose lowest notes go by step one way, three or more; else nothing. */
function bassClause({ phrase: { spans } }: Reading): string {
  const line = bassLine(spans);
  return line.length === 0
    ? ''
    : `; the bass ${bassMove(line[0]!, line[1]!) > 0 ? 'climbs' : 'falls'} ${line.map(formatNoteName).join('-')}`;
}

/** `; the top notes fall by half steps, G-F#-F-E`: a line hidden in the line; else nothing. */
function voiceClause(reading: Reading): string {
  const voice = movingVoice(reading);
  return voice === null ? '' : `; the ${voice.at} notes ${voice.way} by half steps, ${noteNames(reading, voice.notes)}`;
}

function functionClause(reading: Reading): string {
  return chordClauses(reading)
    .map((words) => `; ${words}`)
    .join('');
}

/** `; all notes of the line are guide tones, in two voices`; else nothing. */
function guideClause(reading: Reading): string {
  const guide = guideTones(reading);
  if (guide === null) return '';
  return guide.where === 'on strong beats'
    ? '; on its strong beats the line has guide tones'
    : `; all notes of the line are guide tones${guide.voices.length === 2 ? ', in two voices' : ''}`;
}

/** One paragraph a bar that is told: `Bar 2: …`; bars that come again together are one: `Bars 9–14: …`. */
export function barParagraphs(sentences: readonly Sentence[]): readonly string[] {
  return inBars(sentences).map(({ head, sentences: told }) => `${head}: ${told.map(({ text }) => text).join(' ')}`);
}

/** A paragraph of a walk-through: what it begins with (empty: nothing), and its sentences with the notes they are about. */
export interface Paragraph {
  readonly head: string;
  readonly sentences: readonly Pick<Sentence, 'text' | 'notes'>[];
}

function inBars(sentences: readonly Sentence[]): readonly Paragraph[] {
  return [...groupedBy(sentences, ({ bar, through }) => [`${bar}–${through ?? bar}`]).values()].map((told) => {
    const [{ bar, through = bar }] = told as [Sentence];
    return {
      head: bar === 0 ? 'The pickup' : through > bar ? `Bars ${bar}–${through}` : `Bar ${bar}`,
      sentences: told.map(({ text, notes }) => ({ text, notes })),
    };
  });
}

/** The walk-through as Markdown; text of the file is escaped by the caller’s `escape`. */
export function walkthroughMarkdown(reading: Reading, escape: (text: string) => string, length: Length = 'bars'): string {
  const { title, setting, telling, claims, level } = walkthrough(reading, length);
  const list = (heading: string, items: readonly string[]): string =>
    items.length === 0 ? '' : `\n### ${heading}\n\n${items.map((item) => `* ${escape(item)}`).join('\n')}\n`;
  const head = [`## ${escape(title)}`, escape(setting), ...barParagraphs(telling).map(escape)].filter((text) => text !== '').join('\n\n');
  return `${head}\n${list('Claims', claims)}${level === '' ? '' : `\n${escape(level)}\n`}`;
}

/** The walk-through as paragraphs, without its title and its warnings, for where those stand already. */
export function walkthroughParagraphs(reading: Reading, length: Length = 'bars'): readonly Paragraph[] {
  const { setting, telling, claims, level } = walkthrough(reading, length);
  const plain = (text: string): Paragraph => ({ head: '', sentences: [{ text, notes: [] }] });
  const all = (texts: readonly string[]): Paragraph[] => texts.filter((text) => text !== '').map(plain);
  return [...all([setting]), ...inBars(telling.filter(({ kind }) => kind !== 'warning')), ...all([...claims, level])];
}

/** The walk-through as plain text. */
export function walkthroughText(reading: Reading, length: Length = 'bars'): string {
  const { title, setting, telling, claims, level } = walkthrough(reading, length);
  const block = (items: readonly string[]): string => (items.length === 0 ? '' : `\n${items.map((item) => `${item}\n`).join('')}`);
  return `${[title, setting]
    .filter((text) => text !== '')
    .map((text) => `${text}\n`)
    .join('')}${block(barParagraphs(telling))}${block(claims)}${block(level === '' ? [] : [level])}`;
}
