/** What the reader of a score chose, read from where it was kept or from the page: nothing of it is taken on trust. */
import { asRecord, listed } from '../kept';
import { DEFAULT_OPTIONS, PIANO_VOICES, type PianoVoice, type ViewOptions, type Voice } from './messages';

/** What is missing, unknown or out of range is as it was at first. */
export function readOptions(raw: unknown): ViewOptions {
  const given = asRecord(raw);
  const levels = asRecord(given['levels']);
  const level = (voice: Voice): number => between(levels[voice], 0, 1) ?? DEFAULT_OPTIONS.levels[voice];
  const flag = (name: 'degrees' | 'devices' | 'walkthrough' | 'loop' | 'lineMuted'): boolean =>
    typeof given[name] === 'boolean' ? given[name] : DEFAULT_OPTIONS[name];
  return {
    scope: oneOf(given['scope'], ['phrase', 'lesson']) ?? DEFAULT_OPTIONS.scope,
    pitch: oneOf(given['pitch'], ['written', 'concert']) ?? DEFAULT_OPTIONS.pitch,
    degrees: flag('degrees'),
    devices: flag('devices'),
    walkthrough: flag('walkthrough'),
    size: between(given['size'], 0.5, 3) ?? DEFAULT_OPTIONS.size,
    loop: flag('loop'),
    countIn: between(given['countIn'], 0, 4) ?? DEFAULT_OPTIONS.countIn,
    ratio: between(given['ratio'], 1, 4),
    step: between(given['step'], 1, 40) ?? DEFAULT_OPTIONS.step,
    rise: between(given['rise'], 1, 200) ?? DEFAULT_OPTIONS.rise,
    order: oneOf(given['order'], ['cycle', 'half-steps']) ?? DEFAULT_OPTIONS.order,
    levels: { line: level('line'), chords: level('chords'), bass: level('bass'), click: level('click') },
    lineMuted: flag('lineMuted'),
    piano: readPiano(given['piano']) ?? DEFAULT_OPTIONS.piano,
  };
}

/** The voices that a list names; null for what is no list. */
export function readPiano(raw: unknown): readonly PianoVoice[] | null {
  return Array.isArray(raw) ? listed(raw, PIANO_VOICES) : null;
}

function oneOf<T extends string>(value: unknown, words: readonly T[]): T | null {
  return words.find((word) => word === value) ?? null;
}

function between(value: unknown, low: number, high: number): number | null {
  return typeof value === 'number' && value >= low && value <= high ? value : null;
}
