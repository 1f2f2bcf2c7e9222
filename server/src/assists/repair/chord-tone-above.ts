import { formatNoteName } from '../../theory/pitch';
import type { Assist } from '../assist';
import { flaggedNote } from '../writing/flagged';
import { chordToneBeside } from '../writing/neighbours';
import { withPitch } from './with-pitch';

export const chordToneAbove: Assist = {
  id: 'chord-tone-above',
  kind: 'quickfix',
  what: 'Moves a flagged note up to the nearest chord tone.',
  offers(context) {
    const flagged = flaggedNote(context);
    const chord =
      flagged === null ? null : context.reading.phrase.spans[flagged.read.soundings[flagged.read.verdict!.sounding]!.placement.span]!.chord;
    if (flagged === null || chord === null) return [];
    const pitch = chordToneBeside(chord, flagged.note.midi, 'above');
    return pitch === null
      ? []
      : withPitch(context, flagged, pitch, (name) => `Move ${formatNoteName(flagged.note.pitch)} up to the chord tone ${name}`);
  },
};
