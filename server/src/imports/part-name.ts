/** Which part of the language a part of a score is: by its name, by its instrument sound, or by a transposition that only one has. */
import { partByName, PARTS } from '../theory/part';
import type { Shift } from '../theory/interval';
import type { PartName } from '../theory/types';
import type { ScorePart } from './document';

/** Names of the standard sounds (W3C MusicXML 4.0, sounds.xml; from memory). */
const SOUNDS: Readonly<Record<string, PartName>> = {
  'wind.flutes.flute': 'flute',
  'wind.reed.clarinet.bflat': 'clarinet',
  'wind.reed.saxophone.soprano': 'soprano-sax',
  'wind.reed.saxophone.alto': 'alto-sax',
  'wind.reed.saxophone.tenor': 'tenor-sax',
  'wind.reed.saxophone.baritone': 'baritone-sax',
  'brass.trumpet.bflat': 'trumpet',
  'brass.trombone': 'trombone',
  'brass.trombone.tenor': 'trombone',
  'keyboard.piano': 'piano',
  'keyboard.piano.grand': 'piano',
};

/** Null where it is none of them, or not to be told. `toSounding` is what the file adds to the written notes. */
export function partNamed({ name, sound }: Pick<ScorePart, 'name' | 'sound'>, toSounding: Shift): PartName | null {
  const plain = name
    .replace(/\s+in\s+[A-G][b♭]?$/i, '')
    .replace(/^[BE][b♭]\s+/i, '')
    .replace(/\s+\d+$/, '');
  const named = partByName(plain)?.name ?? (sound === null ? null : SOUNDS[sound]) ?? null;
  const moves = (part: PartName): boolean => isTransposition(part, toSounding);
  if (named !== null && (moves(named) || toSounding.chromatic === 0)) return named;
  const only = PARTS.filter((part) => toSounding.chromatic % 12 !== 0 && moves(part.name));
  return only.length === 1 ? only[0]!.name : null;
}

function isTransposition(name: PartName, { chromatic }: Shift): boolean {
  const { transpose } = PARTS.find((part) => part.name === name)!;
  return transpose.chromatic + 12 * transpose.octaves === chromatic;
}
