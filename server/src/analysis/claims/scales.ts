/** `diatonic`, `scale [TONIC] NAME`: all notes lie in a scale. */
import { chroma, formatNoteName, parseNoteName } from '../../theory/pitch';
import { formatKey } from '../../theory/key';
import { nearestScaleNames, SCALE_NAMES, scale, scaleNameFromText, scaleText } from '../../theory/scale';
import type { NoteName } from '../../theory/types';
import type { Reading } from '../types';
import { holds, impossible, refuted, type Answer, type ClaimKind } from './claim';
import { noteWords } from './place';

/** In minor, natural minor with the raised 6 and 7. */
export const diatonic: ClaimKind = (words, reading) => {
  if (words.length !== 1 || words[0] !== 'diatonic') return null;
  const { key } = reading.phrase;
  if (key === null) return impossible('the phrase has no key; write a key row');
  const names = key.mode === 'major' ? (['ionian'] as const) : (['aeolian', 'melodic minor'] as const);
  return allIn(
    reading,
    names.flatMap((name) => scale(key.tonic, name).tones.map((tone) => tone.name)),
    formatKey(key),
    [],
  );
};

export const inScale: ClaimKind = (words, reading) => {
  if (words[0] !== 'scale') return null;
  const written = parseNoteName(words[1] ?? '');
  const rest = words.slice(written === null ? 1 : 2).join('-');
  const name = scaleNameFromText(rest);
  const near = nearestScaleNames(rest);
  if (name === null)
    return impossible(
      rest === ''
        ? 'it names no scale'
        : `“${rest}” is no scale known here${near.length === 0 ? `; there are ${SCALE_NAMES.map(scaleText).join(', ')}` : ''}`,
      near.map((one) => ['scale', ...(written === null ? [] : [words[1]!]), scaleText(one)].join(' ')),
    );
  const tonic = written ?? reading.phrase.key?.tonic ?? vampRoot(reading);
  if (tonic === null) return impossible('it names no tonic, and the phrase has neither a key nor a single chord');
  return allIn(
    reading,
    scale(tonic, name).tones.map((tone) => tone.name),
    `${formatNoteName(tonic)} ${name}`,
    [],
  );
};

function vampRoot({ context }: Reading): NoteName | null {
  return context.vamp ? (context.harmonies.find(({ chord }) => chord !== null)?.chord?.root ?? null) : null;
}

function allIn(reading: Reading, tones: readonly NoteName[], name: string, instead: readonly string[]): Answer {
  const sounds = new Set(tones.map(chroma));
  const foreign = reading.phrase.notes.find((note) => !sounds.has(chroma(note.pitch)));
  if (foreign === undefined) return holds(`every note lies in ${name}`);
  return refuted(`${noteWords(foreign.index, reading)} is not in ${name}`, foreign.index, instead);
}
