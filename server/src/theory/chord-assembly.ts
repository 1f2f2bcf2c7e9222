/** From what a symbol spells to the chord's tones: extensions imply those below, alterations replace, `add` only adds. */
import { figureInterval, figureName } from './figure';
import { kindOf } from './chord-kind';
import type { Chord, ChordFamily, ChordTone, Figure, NoteName } from './types';

/** What was written after the root, before it is made into tones. */
export interface Spelling {
  triad: 'major' | 'minor' | 'diminished' | 'augmented';
  majorSeventh: boolean;
  half: boolean;
  /** The leading figure (5, 6, 7, 9, 11, 13, 2), and 9 after a 6. */
  readonly numbers: number[];
  sus: 2 | 4 | null;
  readonly adds: { readonly number: number; readonly alter: number }[];
  readonly omits: number[];
  readonly alters: { readonly number: number; readonly alter: number }[];
  altered: boolean;
}

export function assembleChord(symbol: string, root: NoteName, bass: NoteName | null, spelling: Spelling): Chord {
  const figures = figuresOf(spelling);
  const family = familyOf(spelling, figures);
  const tones = figures
    .map(
      (figure): ChordTone => ({
        figure,
        name: figureName(root, figure),
        interval: figureInterval(figure),
        basic: isBasic(figure, spelling),
      }),
    )
    .sort((a, b) => a.figure.number - b.figure.number || a.figure.alter - b.figure.alter);
  const alterations = tones
    .map((tone) => tone.figure)
    .filter((figure) => figure.number >= 9 || (figure.number === 5 && spelling.alters.some((alter) => alter.number === 5)));
  return { symbol, root, bass, family, tones, alterations, kind: kindOf(family, figures) };
}

function figuresOf(spelling: Spelling): Figure[] {
  const top = spelling.numbers[0] ?? 0;
  if (spelling.altered) {
    return [
      [1, 0],
      [3, 0],
      [7, -1],
      [9, -1],
      [9, 1],
      [11, 1],
      [13, -1],
    ].map(([number, alter]) => figure(number!, alter!));
  }
  const figures: Figure[] = [figure(1, 0), ...thirds(spelling), ...fifths(spelling), ...sevenths(spelling), ...extensions(spelling, top)];
  for (const add of spelling.adds) figures.push(figure(addedNumber(add.number), add.alter));
  const omitted = new Set(spelling.omits);
  return distinct(figures.filter(({ number }) => !omitted.has(number)));
}

function figure(number: number, alter: number): Figure {
  return { number: number as Figure['number'], alter };
}

/** add2 and add4 are the 9 and the 11. */
function addedNumber(number: number): number {
  return number === 2 ? 9 : number === 4 ? 11 : number;
}

function distinct(figures: readonly Figure[]): Figure[] {
  const seen = new Set<string>();
  return figures.filter(({ number, alter }) => {
    const key = `${number} ${alter}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function thirds({ sus, numbers, triad }: Spelling): Figure[] {
  if (sus !== null) return [figure(sus, 0)];
  if (numbers[0] === 5) return [];
  return [figure(3, triad === 'minor' || triad === 'diminished' ? -1 : 0)];
}

function fifths({ triad, half, alters }: Spelling): Figure[] {
  const written = alters.filter(({ number }) => number === 5);
  if (written.length > 0) return written.map(({ alter }) => figure(5, alter));
  return [figure(5, triad === 'diminished' || half ? -1 : triad === 'augmented' ? 1 : 0)];
}

function sevenths({ numbers, triad, majorSeventh, half }: Spelling): Figure[] {
  const top = numbers[0];
  if (top === 6) return [figure(6, 0)];
  if (half) return [figure(7, -1)];
  if (top === undefined || top < 7) return [];
  if (majorSeventh) return [figure(7, 0)];
  return [figure(7, triad === 'diminished' ? -2 : -1)];
}

/** The 9, 11 and 13 that the top figure implies, altered where that is written. */
function extensions({ numbers, alters, triad, sus }: Spelling, top: number): Figure[] {
  const implied = new Set<number>(numbers.filter((number) => number === 9));
  if (top === 2) implied.add(9);
  if (top >= 9) implied.add(9);
  if (top >= 11) implied.add(11);
  if (top === 13) implied.add(13);
  // A natural 11 would clash with the major third of a 13 chord, and sus has its fourth already.
  const majorThird = sus === null && triad !== 'minor' && triad !== 'diminished';
  if ((top === 13 && majorThird) || sus === 4) implied.delete(11);
  if (sus === 2) implied.delete(9);
  const written = alters.filter(({ number }) => number !== 5);
  for (const { number } of written) implied.delete(number);
  return [...[...implied].map((number) => figure(number, 0)), ...written.map(({ number, alter }) => figure(number, alter))];
}

function isBasic({ number }: Figure, { sus }: Spelling): boolean {
  return [1, 3, 5, 6, 7].includes(number) || (sus !== null && number === sus);
}

function familyOf(spelling: Spelling, figures: readonly Figure[]): ChordFamily {
  const has = (number: number, alter: number): boolean => figures.some((f) => f.number === number && f.alter === alter);
  if (spelling.altered) return 'altered';
  if (spelling.sus !== null) return 'suspended';
  const seventh = figures.find((f) => f.number === 7)?.alter ?? null;
  if (spelling.numbers[0] === 5) return 'power';
  if (spelling.triad === 'minor' || spelling.triad === 'diminished') return minorFamily(seventh, has);
  if (seventh === -1) return has(5, 1) ? 'augmented-seventh' : 'dominant';
  if (seventh === 0) return has(5, 1) ? 'augmented-major-seventh' : 'major-seventh';
  if (has(6, 0)) return 'major-sixth';
  if (!has(3, 0) && !has(3, -1)) return 'power';
  return has(5, 1) ? 'augmented' : 'major';
}

function minorFamily(seventh: number | null, has: (number: number, alter: number) => boolean): ChordFamily {
  if (seventh === -2) return 'diminished-seventh';
  if (seventh === -1) return has(5, -1) ? 'half-diminished' : 'minor-seventh';
  if (seventh === 0) return 'minor-major-seventh';
  if (has(6, 0)) return 'minor-sixth';
  return has(5, -1) ? 'diminished' : 'minor';
}
