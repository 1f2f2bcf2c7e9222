/** What the model says of a text: which sounds there are, and when. */
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import { openSnapshot } from '../../server/src/model/snapshot';
import { takeOf } from '../../server/src/performance/take';
import { DEFAULT_TAKE, type Take, type TakeOptions } from '../../server/src/performance/types';

export const FOOTBRIDGE = `phrase "Footbridge"
  key     F major
  tempo   132 swing
  over    | Gm7       C7           | Fmaj7     |
  line    | Bb4-A G-D E-C-G Bb-A   | A-~ C5 . A |
`;

/** The takes of a text, at a share of the written tempo. */
export function modelled(text: string, share = 1, options: Partial<TakeOptions> = {}): Take[] {
  return openSnapshot('', 1, text).phrases.map(({ phrase }) =>
    takeOf(readPhrase(phrase, DEFAULT_THEORY), { ...DEFAULT_TAKE, countIn: 1, tempo: share * phrase.tempo.bpm, ...options }),
  );
}
