/** The harmonic setting of a phrase: the main one of its progressions (THEORY, section 7), and how people write them. */
import { formatKey } from '../theory/key';
import { chroma, formatNoteName, soundClass } from '../theory/pitch';
import { formatScale, scale as scaleOn } from '../theory/scale';
import type { NoteName, ScaleName } from '../theory/types';
import { heardKey } from './heard-key';
import { colourOf, heardMode } from './modes';
import { BLUES_FORMS, progressionsOf, type Progression, type ProgressionId } from './progressions';
import type { Reading } from './types';

export type Setting = ProgressionId | 'free';

/** How people write each progression. */
export const SETTING_WORDS: Readonly<Record<ProgressionId, string>> = {
  'short-ii-v-i-major': 'short ii–V–I in major',
  'short-ii-v-i-minor': 'short ii–V–i in minor',
  'long-ii-v-i-major': 'long ii–V–I in major',
  'long-ii-v-i-minor': 'long ii–V–i in minor',
  'short-ii-v': 'short ii–V',
  'long-ii-v': 'long ii–V',
  'chromatic-ii-v': 'ii–V a half step above the next',
  'v-i-major': 'V–I in major',
  'v-i-minor': 'V–i in minor',
  turnaround: 'turnaround',
  backdoor: 'backdoor cadence (iv–bVII7–I)',
  'tritone-substitute': 'tritone substitute',
  'i-iv-v-i': 'I–IV–V–I',
  cycle: 'cycle of dominants',
  'passing-diminished': 'passing diminished chord',
  'line-cliche': 'line cliché',
  blues: 'blues',
  'blues-with-substitutes': 'blues with substitutes',
  'minor-blues': 'minor blues',
  'major-vamp': 'major vamp',
  'minor-vamp': 'minor vamp',
  'dominant-vamp': 'dominant vamp',
  'suspended-vamp': 'suspended vamp',
  'modal-vamp': 'modal vamp',
};

/** A blues, else the progression that ends last on the tonic, else the longest; of two alike the longer one, then the later one. Null where there is none. */
export function mainProgression(progressions: readonly Progression[]): Progression | null {
  const bars = ({ from, to }: Progression): number => to - from;
  const [main] = [...progressions].sort((a, b) => {
    if (BLUES_FORMS.has(a.id) !== BLUES_FORMS.has(b.id)) return BLUES_FORMS.has(a.id) ? -1 : 1;
    if (a.comesHome !== b.comesHome) return a.comesHome ? -1 : 1;
    const later = a.comesHome ? b.to - a.to : 0;
    return later || bars(b) - bars(a) || b.numerals.length - a.numerals.length || b.to - a.to;
  });
  return main ?? null;
}

/** Null where no chord is written. */
export function settingOf(reading: Reading): Setting | null {
  if (reading.context.harmonies.every(({ chord }) => chord === null)) return null;
  return mainProgression(progressionsOf(reading))?.id ?? 'free';
}

/** The bars of the shortest form of a blues. */
const SHORTEST_BLUES = 8;

/** `I7 and IV7, as in a blues`, with other chords beside them `chords of a blues`: what a few bars of one are, which have not its form; null where they have, where two bars come back to I7, and of anything else. */
export function chordsOfBlues({ id, numerals, from, to }: Progression): string | null {
  const own = [...new Set(numerals)];
  const comesBack = to - from < 2 && numerals.length > own.length;
  if (id !== 'blues' || to - from + 1 >= SHORTEST_BLUES || comesBack || own.length < 2) return null;
  const named = own.map((numeral) => `${numeral}7`);
  return own.every((numeral) => /^(?:I|IV|iv|V)$/.test(numeral))
    ? `${named.slice(0, -1).join(', ')} and ${named[named.length - 1]!}, as in a blues`
    : 'chords of a blues';
}

/**
 * `turnaround (I–vi–ii–V)`, `long ii–V–I in major`; the key, `long ii–V–I in F major`, of one that is at home elsewhere than the phrase, and of
 * each that names its mode where the progressions are of several keys, or nothing else says the key.
 */
export function progressionWords(progression: Progression, reading: Reading): string {
  const { id, key, numerals, from, to, leadsTo } = progression;
  const chords = chordsOfBlues(progression);
  if (chords !== null) return chords;
  // A bar or two go there and back; they have not the form.
  if (id === 'blues' && to - from < 2) return `blues vamp (${numerals.join('–')})`;
  const mode = id.endsWith('-vamp') ? modeOfVamp(reading) : null;
  if (mode !== null) return `${mode} vamp`;
  if (id === 'i-iv-v-i') return numerals.join('–');
  if (leadsTo !== null) return `${SETTING_WORDS[id]} to ${leadsTo}`;
  if (id === 'backdoor' && numerals.length === 2) return 'backdoor (iv–bVII7)';
  if (id === 'modal-vamp') {
    const two = numerals.slice(0, 2).join('–');
    return two === 'i–IV' ? `${formatNoteName(key.tonic)} dorian vamp (i–IV)` : `modal vamp (${two})`;
  }
  const words = id === 'turnaround' || id === 'tritone-substitute' ? `${SETTING_WORDS[id]} (${numerals.join('–')})` : SETTING_WORDS[id];
  const withoutMode = words.replace(/ in (?:major|minor)$/, '');
  const isOpen = isOfSeveralKeys(reading) || (reading.phrase.key === null && heardKey(reading) === null);
  const namesKey = isElsewhere(progression, reading) || (withoutMode !== words && isOpen);
  return namesKey ? `${withoutMode} in ${formatKey(key)}` : words;
}

function isElsewhere({ key }: Progression, { context }: Reading): boolean {
  return context.tonic !== null && chroma(context.tonic.tonic) !== chroma(key.tonic);
}

function isOfSeveralKeys(reading: Reading): boolean {
  return new Set(progressionsOf(reading).map(({ key }) => formatKey(key))).size > 1;
}

/** The mode of a vamp, where something says it. */
interface Mode {
  readonly root: NoteName;
  readonly name: ScaleName;
}

function modeOfVamp(reading: Reading): string | null {
  const mode = vampMode(reading);
  return mode === null ? null : formatScale(mode);
}

/**
 * `F lydian`, where something says it: a scale that is written, the chord's own #11, a key that is at home elsewhere, or the line: the 6 of
 * dorian and no b6, the #11 of lydian and no 11, all that tells mixolydian and no blue note.
 */
function vampMode({ phrase, scales, context }: Reading): Mode | null {
  const index = phrase.spans.findIndex(({ chord }) => chord !== null);
  const [span, scale] = [phrase.spans[index], scales[index]];
  if (span === undefined || span.chord === null || scale == null) return null;
  const isElsewhere = phrase.key !== null && context.vamp && chroma(phrase.key.tonic) !== chroma(scale.root);
  const isWritten =
    span.statedScale !== null || (span.chord.family.startsWith('major') && span.chord.tones.some(({ interval }) => interval === 6));
  if (isElsewhere || isWritten) return { root: scale.root, name: scale.name };
  const above = phrase.notes.map(({ pitch }) => soundClass(chroma(pitch) - chroma(scale.root)));
  const heard = context.vamp ? heardMode(above, scale.name) : null;
  return heard === null || isPassedThrough(above, scale.root, heard) ? null : { root: scale.root, name: heard };
}

/** Whether the notes that colour a mode are no more than those that lie outside it: half steps into chord tones tell no mode. */
function isPassedThrough(above: readonly number[], root: NoteName, mode: ScaleName): boolean {
  const colour = colourOf(mode);
  const { sounds } = scaleOn(root, mode);
  const outside = above.filter((one) => !sounds.has(soundClass(one + chroma(root)))).length;
  return colour !== null && outside > 0 && above.filter((one) => one === colour.above).length <= outside;
}

/** The mode of two chords that go there and back: a scale that is written over the first one, or dorian, of i and IV. */
function modeOfTwo(reading: Reading): Mode | null {
  const main = mainProgression(progressionsOf(reading));
  if (main?.id !== 'modal-vamp') return null;
  const isDorian = main.numerals.slice(0, 2).join('–') === 'i–IV';
  return isDorian ? { root: main.key.tonic, name: 'dorian' } : vampMode(reading);
}

/** The first note of the line that colours the mode of a vamp, by its index, and its degree in words; null where the mode is not told, or no note does. */
export function colourOfVamp(reading: Reading): { readonly note: number; readonly degree: string } | null {
  const mode = reading.context.vamp ? vampMode(reading) : modeOfTwo(reading);
  const colour = mode === null ? null : colourOf(mode.name);
  if (mode === null || colour === null) return null;
  const note = reading.phrase.notes.find(({ pitch }) => soundClass(chroma(pitch) - chroma(mode.root)) === colour.above);
  return note === undefined ? null : { note: note.index, degree: colour.degree };
}
