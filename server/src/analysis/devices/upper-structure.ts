import { chroma, formatNoteName } from '../../theory/pitch';
import { isDominant } from '../vocabulary';
import type { Find } from './device';
import { aboveRoot, isTension } from './resolution';
import { runs, type Event } from './study';

const TRIADS = [{ name: 'major', above: [0, 4, 7] }, { name: 'minor', above: [0, 3, 7] }];

/** Three notes or more of a major or minor triad of which two are tensions and none is avoid or outside, over a dominant or lydian chord (common practice). */
export const upperStructure: Find = (study) => {
  if (!study.events.some(takesStructure)) return [];
  const all = Array.from({ length: 12 }, (_, root) => TRIADS.map(({ name, above }) => ({ name, root, sounds: new Set(above.map((one) => (root + one) % 12)) }))).flat();
  return all.flatMap(({ name, root, sounds }) => {
    const isIn = (event: Event): boolean => takesStructure(event) && (event.role === 'chord-tone' || event.role === 'tension') && sounds.has(chroma(event.note.pitch));
    return runs(study, 3, (from, to) => isIn(from) && isIn(to) && from.span === to.span).flatMap((run) => {
      const named = run.find((event) => chroma(event.note.pitch) === root);
      const different = new Set(run.map((event) => chroma(event.note.pitch)));
      const tensions = new Set(run.filter(isTension).map(aboveRoot));
      if (different.size < 3 || tensions.size < 2 || named === undefined) return [];
      return [{ notes: run.flatMap((event) => event.notes), target: null, detail: `${formatNoteName(named.note.pitch)} ${name}` }];
    });
  });
};

function takesStructure({ chord, scale }: Event): boolean {
  return chord !== null && (isDominant(chord) || scale?.name === 'lydian' || scale?.name === 'lydian augmented');
}
