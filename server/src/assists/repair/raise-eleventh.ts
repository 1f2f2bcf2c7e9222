import { chordOfPlacement } from '../../analysis/vocabulary';
import { figureName } from '../../theory/figure';
import { formatNoteName, nearestOctave } from '../../theory/pitch';
import type { Assist } from '../assist';
import { flaggedNote } from '../writing/flagged';
import { withPitch } from './with-pitch';

export const raiseEleventh: Assist = {
  id: 'raise-eleventh',
  kind: 'quickfix',
  what: 'Raises a flagged 11 to the #11, where the chord has a major third: the lydian sound.',
  offers(context) {
    const flagged = flaggedNote(context);
    if (flagged === null) return [];
    const { placement } = flagged.read.soundings[flagged.read.verdict!.sounding]!;
    const chord = chordOfPlacement(context.reading, placement);
    const isEleventh = placement.figure.number === 11 && placement.figure.alter === 0;
    if (chord === null || !isEleventh || !chord.tones.some((tone) => tone.interval === 4)) return [];
    const pitch = nearestOctave(figureName(chord.root, { number: 11, alter: 1 }), flagged.note.midi);
    return withPitch(context, flagged, pitch, (name) => `Raise ${formatNoteName(flagged.note.pitch)} to ${name}, the #11 (lydian)`);
  },
};
