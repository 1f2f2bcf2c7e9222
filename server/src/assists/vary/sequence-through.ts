import { chroma, formatNoteName } from '../../theory/pitch';
import type { Assist, AssistContext } from '../assist';
import { lineText } from '../writing/kept-bars';
import { soundsOf, type Sound } from '../writing/score';
import { isWhole, replacing } from '../writing/whole-phrase';
import { carried, type Ground, type Step } from './carry';
import type { ChordSpan } from '../../model/types';

export const sequenceThrough: Assist = {
  id: 'sequence-through',
  kind: 'refactor.rewrite.sequence',
  what: 'Takes the selected notes through the changes: the same degrees at the same place over each chord that follows.',
  offers(context) {
    const { reading, selected } = context;
    const { phrase } = reading;
    const first = phrase.notes[selected[0] ?? -1];
    const last = phrase.notes[selected[selected.length - 1] ?? -1];
    if (selected.length < 2 || first === undefined || last === undefined || !isWhole(phrase)) return [];
    const home = first.span === null ? null : phrase.spans[first.span]!;
    const end = last.onset.add(last.duration);
    if (home === null || home.chord === null || first.bar === 0 || end.compare(home.end) > 0) return [];
    const span = end.sub(home.onset);
    const fits = (later: ChordSpan): boolean =>
      later.index > home.index && later.chord !== null && later.onset.add(span).compare(later.end) <= 0;
    const goals = phrase.spans.filter(fits);
    if (goals.length === 0) return [];
    const sounds = goals.reduce((line, goal) => placed(context, line, selected, home, goal), soundsOf(phrase));
    const names = selected.map((one) => formatNoteName(phrase.notes[one]!.pitch)).join('-');
    return replacing(
      context,
      lineText(context, sounds),
      `Take ${names} through the changes: ${goals.map(({ symbol }) => symbol).join(', ')}`,
    );
  },
};

/** The line with the stretch set over another chord, in place of what was there. */
function placed({ reading }: AssistContext, line: readonly Sound[], stretch: readonly number[], home: ChordSpan, goal: ChordSpan): Sound[] {
  const ground = (span: ChordSpan): Ground => ({ chord: span.chord!, scale: reading.scales[span.index] ?? null });
  const by = nearestMove(chroma(home.chord!.root), chroma(goal.chord!.root));
  const notes = stretch.map((one) => reading.phrase.notes[one]!);
  const pitches = carried(notes.map((note): Step => ({ pitch: note.pitch, by, from: ground(home), to: ground(goal) })));
  const shift = goal.onset.sub(home.onset);
  const fresh = notes.map(
    (note, i): Sound => ({ onset: note.onset.add(shift), end: note.onset.add(note.duration).add(shift), pitch: pitches[i]!, like: note }),
  );
  const from = fresh[0]!.onset;
  const to = fresh[fresh.length - 1]!.end;
  const kept = line.flatMap((sound): Sound[] => {
    if (sound.onset.compare(from) >= 0 && sound.onset.compare(to) < 0) return [];
    return [sound.onset.compare(from) < 0 && sound.end.compare(from) > 0 ? { ...sound, end: from } : sound];
  });
  return [...kept, ...fresh].sort((a, b) => a.onset.compare(b.onset));
}

/** The shorter way from one root to another, in half steps: up to six up, five down. */
function nearestMove(from: number, to: number): number {
  const up = (to - from + 12) % 12;
  return up > 6 ? up - 12 : up;
}
