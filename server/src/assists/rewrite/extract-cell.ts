import { chordWrittenAt } from '../../analysis/vocabulary';
import type { PlacedGroup } from '../../model/types';
import { writeDegree } from '../../theory/figure';
import { dressed } from '../../../../grammar/printer';
import type { Direction } from '../../../../grammar/tree';
import type { Assist, AssistContext } from '../assist';
import { definitionEdit, freshName } from '../writing/definitions';
import { isRewritable } from '../writing/plan';
import { keepsSound } from '../writing/same-sound';
import { directionTo } from '../writing/score';

export const extractCell: Assist = {
  id: 'extract-cell',
  kind: 'refactor.extract.cell',
  what: 'Makes a cell of the selected beat groups, in degrees, and uses it in their place.',
  offers(context) {
    const { snapshot, placed, reading, selected } = context;
    if (selected.length < 2) return [];
    const groups = selectedGroups(context);
    const first = groups[0];
    const last = groups[groups.length - 1];
    if (first === undefined || last === undefined || new Set(groups.map(({ bar }) => bar)).size !== 1) return [];
    const cell = groups.map((group) => groupInDegrees(context, group));
    if (cell.some((text) => text === null)) return [];
    const name = freshName(snapshot.definitions.cells, 'motif');
    const sign = signOf(reading.phrase.notes[selected[0]!]!.index === 0 ? null : leadingDirection(context, selected[0]!));
    const definition = definitionEdit(snapshot, `cell    ${name} = ${cell.join(' ')}`);
    const use = { range: { start: first.range.start, end: last.range.end }, text: sign + name };
    const edits = [{ range: { start: definition.at - placed.start, end: definition.at - placed.start }, text: definition.text }, use];
    return keepsSound(context, edits)
      ? [{ title: `Make a cell of ${cell.join(' ')}: ${name}`, edits, repairs: null, preferred: false }]
      : [];
  },
};

/** The groups that the selection takes in whole: every note of them is selected. */
function selectedGroups({ reading: { phrase }, selected }: AssistContext): PlacedGroup[] {
  const touched = phrase.groups.filter((group) =>
    group.slots.some(({ kind, note }) => kind === 'note' && note !== null && selected.includes(note)),
  );
  const whole = touched.every(
    (group) =>
      isRewritable(phrase, group) && group.slots.every(({ kind, note }) => kind !== 'note' || (note !== null && selected.includes(note))),
  );
  const adjoin = touched.every((group, i) => i === 0 || touched[i - 1]!.onset.add(touched[i - 1]!.duration).equals(group.onset));
  return whole && adjoin ? touched : [];
}

function groupInDegrees({ reading: { phrase }, selected }: AssistContext, group: PlacedGroup): string | null {
  const weight = phrase.text.slice(group.range.start, group.slots[0]!.range.start);
  const slots = group.slots.map((slot) => {
    if (slot.kind !== 'note' || slot.note === null) return slot.kind === 'hold' ? '~' : '.';
    const note = phrase.notes[slot.note]!;
    const chord = chordWrittenAt(phrase, note);
    if (chord === null) return null;
    // The first note takes its sign from where the cell is used.
    if (slot.note === selected[0]) return dressed({ ...note.node, direction: null }, writeDegree(chord, note.pitch));
    const direction = directionTo(note.pitch, phrase.notes[slot.note - 1]!.pitch);
    return direction === undefined ? null : dressed({ ...note.node, direction }, writeDegree(chord, note.pitch));
  });
  return slots.some((slot) => slot === null) ? null : weight + slots.join('-');
}

function leadingDirection({ reading: { phrase } }: AssistContext, note: number): Direction | null {
  return directionTo(phrase.notes[note]!.pitch, phrase.notes[note - 1]!.pitch) ?? null;
}

function signOf(direction: Direction | null): string {
  return direction === 'up' ? '/' : direction === 'down' ? '\\' : '';
}
