import { formatNoteName } from '../../theory/pitch';
import { isDominant } from '../vocabulary';
import type { Find } from './device';
import { isTension } from './resolution';
import { runs, type Event } from './study';

const THIRDS = [
  { name: 'major', third: 4 },
  { name: 'minor', third: 3 },
];
/** By their roots, then major before minor. */
const TRIADS = Array.from({ length: 12 }, (_, root) =>
  THIRDS.map(({ name, third }) => ({ name, root, sounds: new Set([root, (root + third) % 12, (root + 7) % 12]) })),
).flat();

/** Three notes or more of a major or minor triad of which two are tensions and none is avoid or outside, over a dominant or lydian chord (common practice). */
export const upperStructure: Find = (study) => {
  // Few notes stand where there can be any: the triads are looked for among those.
  const stretches = runs(study.events, 3, (from, to) => takesStructure(from) && takesStructure(to) && from.span === to.span).filter(
    (stretch) => soundsOfTensions(stretch).size >= 2,
  );
  return TRIADS.flatMap(({ name, root, sounds }) =>
    stretches
      .flatMap((stretch) => runs(stretch, 3, (from, to) => sounds.has(from.sound) && sounds.has(to.sound)))
      .flatMap((run) => {
        const named = run.find(({ sound }) => sound === root);
        const different = new Set(run.map(({ sound }) => sound));
        if (different.size < 3 || soundsOfTensions(run).size < 2 || named === undefined) return [];
        return [{ notes: run.flatMap((event) => event.notes), target: null, detail: `${formatNoteName(named.note.pitch)} ${name}` }];
      }),
  );
};

function takesStructure({ chord, scale, role }: Event): boolean {
  return (
    chord !== null &&
    (role === 'chord-tone' || role === 'tension') &&
    (isDominant(chord) || scale?.name === 'lydian' || scale?.name === 'lydian augmented')
  );
}

function soundsOfTensions(run: readonly Event[]): ReadonlySet<number> {
  return new Set(run.filter(isTension).map(({ sound }) => sound));
}
