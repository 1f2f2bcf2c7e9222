import { formatNoteName } from '../../theory/pitch';
import { move } from '../vocabulary';
import type { Find } from './device';
import { aboveRoot, isTension } from './resolution';
import { runs, type Event } from './study';

/** The seventh chords by their thirds, from the root up, in half steps. */
const SEVENTHS: Readonly<Record<string, string>> = { '4 3 4': 'maj7', '3 4 3': 'm7', '4 3 3': '7', '3 3 4': 'm7b5' };
const NOTES = 4;

/** Four notes in thirds one way that are another seventh chord, with two tensions and nothing avoid or outside, from a beat on (common practice). */
export const superimposedArpeggio: Find = (study) =>
  runs(
    study.events,
    NOTES,
    (from, to, run) =>
      isThird(from, to) &&
      from.span === to.span &&
      isIn(from) &&
      isIn(to) &&
      (run.length < 2 || Math.sign(move(run[0]!, run[1]!)) === Math.sign(move(from, to))),
  ).flatMap((run) => {
    const tensions = run.filter(isTension);
    const rising = move(run[0]!, run[1]!) > 0 ? run : [...run].reverse();
    const kind =
      SEVENTHS[
        rising
          .slice(1)
          .map((event, i) => move(rising[i]!, event))
          .join(' ')
      ];
    if (run.length !== NOTES || kind === undefined || new Set(tensions.map(aboveRoot)).size < 2 || !study.places.isOnBeat(run[0]!.onset))
      return [];
    return [{ notes: run.flatMap((event) => event.notes), target: null, detail: `${formatNoteName(rising[0]!.note.pitch)}${kind}` }];
  });

function isThird(from: Event, to: Event): boolean {
  return [3, 4].includes(Math.abs(move(from, to)));
}

function isIn({ chord, role }: Event): boolean {
  return chord !== null && (role === 'chord-tone' || role === 'tension');
}
