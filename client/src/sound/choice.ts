/** What a sound file holds, as chosen last: read from where it was kept, nothing of it on trust. */
import { asRecord, listed } from '../kept';
import type { PianoVoice, PlayedTake, Practice, Sound, Voice } from '../score/messages';
import { readPiano } from '../score/options';

export interface Choice {
  readonly what: 'phrase' | 'lesson';
  /** In the order of `VOICES`; at least one. */
  readonly voices: readonly Voice[];
  /** Bars of clicks before each phrase, 0 to 4; they are there whether or not the click goes on with the music. */
  readonly countIn: number;
  /** The share of the written tempo, 0.25 to 2. */
  readonly tempo: number;
  readonly keys: 'written' | 'all';
  /** The voices that the piano plays. */
  readonly piano: readonly PianoVoice[];
}

export const VOICES: readonly Voice[] = ['line', 'chords', 'bass', 'click'];

export const DEFAULT_CHOICE: Choice = {
  what: 'phrase',
  voices: ['line', 'chords', 'bass'],
  countIn: 1,
  tempo: 1,
  keys: 'written',
  piano: ['chords'],
};

export function readChoice(raw: unknown): Choice {
  const given = asRecord(raw);
  const voices = listed(given['voices'], VOICES);
  const between = (name: 'countIn' | 'tempo', low: number, high: number): number => {
    const value = given[name];
    return typeof value === 'number' && value >= low && value <= high ? value : DEFAULT_CHOICE[name];
  };
  return {
    what: given['what'] === 'lesson' ? 'lesson' : DEFAULT_CHOICE.what,
    voices: voices.length === 0 ? DEFAULT_CHOICE.voices : voices,
    countIn: Math.round(between('countIn', 0, 4)),
    tempo: between('tempo', 0.25, 2),
    keys: given['keys'] === 'all' ? 'all' : DEFAULT_CHOICE.keys,
    piano: readPiano(given['piano']) ?? DEFAULT_CHOICE.piano,
  };
}

export function practiceOf({ keys }: Choice, order: 'cycle' | 'half-steps'): Practice {
  return keys === 'all' ? { kind: 'keys', order } : { kind: 'plain' };
}

/** The sounds of a take that go into the file. */
export function soundsOf({ sounds, countIn }: Pick<PlayedTake, 'sounds' | 'countIn'>, { voices }: Pick<Choice, 'voices'>): Sound[] {
  return sounds.filter(({ voice, at }) => voices.includes(voice) || (voice === 'click' && at < countIn));
}

/** A voice that was chosen is heard, be its slider at nothing. */
export function levelsOf(levels: Readonly<Record<Voice, number>>, usual: Readonly<Record<Voice, number>>): Record<Voice, number> {
  const level = (voice: Voice): number => (levels[voice] > 0 ? levels[voice] : usual[voice]);
  return { line: level('line'), chords: level('chords'), bass: level('bass'), click: level('click') };
}

const VOICE_WORDS: Readonly<Record<Voice, string>> = { line: 'line', chords: 'chords', bass: 'bass', click: 'click' };

/** `line, chords and bass`; without the line it says what that is for. */
export function voicesWords(voices: readonly Voice[]): string {
  const words = voices.map((voice) => VOICE_WORDS[voice]);
  const listed = words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
  return voices.includes('line') ? listed : `${listed}, to play along`;
}

export function pianoWords(piano: readonly PianoVoice[]): string {
  return piano.length === 0 ? 'nothing: all is synthesized' : piano.map((voice) => VOICE_WORDS[voice]).join(' and ');
}

export function countInWords(bars: number): string {
  return bars === 0 ? 'none' : bars === 1 ? '1 bar' : `${bars} bars`;
}

export function tempoWords(share: number): string {
  return share === 1 ? 'as written' : `${Math.round(share * 100)}% of what is written`;
}

/** What tells files of one lesson apart: `-play-along`, `-twelve-keys`. */
export function endingOf({ voices, keys, tempo }: Choice): string {
  return `${voices.includes('line') ? '' : '-play-along'}${keys === 'all' ? '-twelve-keys' : ''}${tempo === 1 ? '' : `-${Math.round(tempo * 100)}`}`;
}
